#include "audit/findings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

#include "audit/discoveries.hpp"
#include "audit/drift.hpp"
#include "audit/finding_words.hpp"
#include "audit/questions.hpp"

namespace wm::audit {

namespace {

constexpr auto drift_kind = static_cast<std::size_t>(QuestionKind::Drift);
// In the order of QuestionKind.
constexpr std::array<double, 7> error_shares = {0.28, 0.23, 0.19, 0.05, 0.15, 0.05, 0.05};

bool has_tries_enough(const Question& question, const FindingRule& rule) {
    // A check that is left out is left out seldom: few homes on the one side are all there ever will be.
    if (question.kind == QuestionKind::Complaint) return question.own.tries + question.others.tries >= rule.least_tries;
    return question.own.tries >= rule.least_tries && question.others.tries >= rule.least_tries;
}

struct Asked {
    std::vector<Question> questions;
    std::vector<GaugeDrift> drifts;
    std::vector<Hypothesis> hypotheses;  ///< of the questions, then of the drifts
};

Asked ask_all(const Columns& columns, const FindingRule& rule, std::vector<GaugeDrift> drifts) {
    Asked asked;
    auto questions = questions_of(columns, {.first_day = rule.first_day, .last_day = rule.last_day, .links = rule.links, .spread = rule.spread});
    std::erase_if(questions, [&](const Question& question) { return !has_tries_enough(question, rule); });
    std::vector<std::optional<ExactTest>> tests(questions.size());
    at_once(rule.spread, questions.size(), [&](std::size_t i) {
        if (auto test = stratified_exact(questions[i].strata)) tests[i] = *test;
    });
    for (std::size_t i = 0; i < questions.size(); ++i) {
        if (!tests[i]) continue;
        asked.hypotheses.push_back({.p = tests[i]->greater,
                                    .least_p = std::min(tests[i]->least_greater, tests[i]->greater),
                                    .kind = static_cast<std::size_t>(questions[i].kind)});
        asked.questions.push_back(std::move(questions[i]));
    }
    asked.drifts = std::move(drifts);
    for (const auto& drift : asked.drifts) asked.hypotheses.push_back({.p = drift.p, .least_p = 0.0, .kind = drift_kind});
    return asked;
}

Finding drift_finding(const GaugeDrift& drift, const CheckCards& cards, const GaugeStanding& standing, double q) {
    const auto after = drift.differences.size() - drift.onset;
    return {.kind = "instrument drift",
            .subject = drift.instrument,
            .check = "pressure-limit-set",
            .sentence = sentence_of(drift, cards),
            .p = drift.p,
            .q = q,
            .own = {static_cast<std::int64_t>(after), static_cast<std::int64_t>(drift.differences.size())},
            .others = {},
            .jobs = {drift.jobs.begin() + static_cast<std::ptrdiff_t>(drift.onset), drift.jobs.end()},
            .what_to_do = advice_for(drift, standing)};
}

// What a narrower or an earlier cause explains already.
bool is_told(const Question& question, const std::vector<const Question*>& found) {
    return std::any_of(found.begin(), found.end(), [&](const Question* other) {
        if (other == &question) return false;
        // Checks put off at one visit are forgotten together: the first of them is enough.
        if (question.kind == QuestionKind::Deferral)
            return other->kind == question.kind && other->subject == question.subject && other < &question;
        if (other->check != question.check) return false;
        if (question.kind == QuestionKind::Crew)
            return other->kind == QuestionKind::Household && other->subject == question.subject;
        return question.kind == QuestionKind::Recent && other->kind == QuestionKind::Material;
    });
}

}  // namespace

std::vector<Finding> findings_of(const Columns& columns, const CheckCards& cards, const FindingRule& rule) {
    return findings_of(columns, cards, rule, gauge_drifts(columns.rest(), rule.first_day, rule.last_day));
}

std::vector<Finding> findings_of(const Columns& columns, const CheckCards& cards, const FindingRule& rule,
                                 std::vector<GaugeDrift> drifts) {
    const auto asked = ask_all(columns, rule, std::move(drifts));
    std::vector<Finding> findings;
    if (asked.hypotheses.empty()) return findings;
    const auto q = discoveries(asked.hypotheses, error_shares, rule.level);
    if (!q) return findings;

    std::vector<const Question*> found;
    for (std::size_t i = 0; i < asked.questions.size(); ++i)
        if ((*q)[i] <= rule.level) found.push_back(&asked.questions[i]);
    for (std::size_t i = 0; i < asked.questions.size(); ++i) {
        const auto& question = asked.questions[i];
        if ((*q)[i] > rule.level || is_told(question, found)) continue;
        // One call is a story; the list of complaints says where it leads.
        if (question.kind == QuestionKind::Complaint && question.own.failed < 2) continue;
        const double p = asked.hypotheses[i].p;
        auto sentence = sentence_of(question, cards, p);
        if (p >= rule.p_clear)
            sentence += fmt::format(" Weaker than the usual 1 in {:.0f}: {}.", 1.0 / rule.p_clear, look_first);
        const auto batch = question.kind == QuestionKind::Material ? standing_of(columns, question, rule.last_day) : BatchStanding{};
        findings.push_back({.kind = std::string{kind_in_words(question.kind)},
                            .subject = question.subject,
                            .check = question.check,
                            .sentence = std::move(sentence),
                            .p = p,
                            .q = (*q)[i],
                            .own = question.own,
                            .others = question.others,
                            .jobs = question.jobs,
                            .what_to_do = advice_for(question, batch)});
    }
    for (std::size_t i = 0; i < asked.drifts.size(); ++i)
        if (const double own_q = (*q)[asked.questions.size() + i]; own_q <= rule.level)
            findings.push_back(drift_finding(asked.drifts[i], cards, standing_of(columns, asked.drifts[i], rule.last_day), own_q));
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& a, const Finding& b) { return a.q != b.q ? a.q < b.q : a.p < b.p; });
    return findings;
}

}  // namespace wm::audit
