#include "audit/finding_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "audit/likeness.hpp"

namespace wm::audit {

namespace {

std::string grouped(long long number) {
    auto digits = std::to_string(number);
    for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3)
        digits.insert(static_cast<std::size_t>(at), 1, ',');
    return digits;
}

std::string figures(const Question& question) {
    return fmt::format("in {} of {} jobs; the others in {} of {}", question.own.failed, question.own.tries,
                       question.others.failed, question.others.tries);
}

std::string alike_in_words(const Question& question) {
    if (question.kind == QuestionKind::Material)
        return question.only_later
                   ? "Same crews; but all these jobs are later than the others, so the season may be behind it."
                   : "Same crews.";
    if (question.kind == QuestionKind::Deferral) return "Same check.";
    if (question.kind == QuestionKind::Complaint)
        return fmt::format("Same streets, same kinds; all were done before the first of these calls, on {}.", question.since);
    const auto likeness = likeness_of(question.check);
    std::vector<std::string_view> kept;
    const auto add = [&](bool yes, std::string_view text) {
        if (yes) kept.push_back(text);
    };
    add(question.kind == QuestionKind::Recent, "crews");
    add(likeness.roof, "roofs");
    add(likeness.system, "kinds");
    add(likeness.household, "households");
    add(question.kind != QuestionKind::Recent && !materials_behind(question.check).empty(), "batches");
    return kept.empty() ? "All jobs side by side." : fmt::format("Same {}.", fmt::join(kept, ", same "));
}

}  // namespace

std::string_view kind_in_words(QuestionKind kind) {
    switch (kind) {
        case QuestionKind::Material: return "batch and check";
        case QuestionKind::Crew: return "crew and check";
        case QuestionKind::Household: return "crew, check and household";
        case QuestionKind::Recent: return "recent weeks and check";
        case QuestionKind::Deferral: return "crew and deferrals";
        case QuestionKind::Drift: return "instrument drift";
        case QuestionKind::Complaint: return "complaints and check";
    }
    return "";
}

std::string chance_in_words(double p) {
    if (p < 1e-6) return "less than 1 in 1,000,000";
    return "about 1 in " + grouped(std::llround(1.0 / p));
}

std::string sentence_of(const Question& question, const CheckCards& cards, double p) {
    const auto title = title_of(cards, question.check);
    std::string who;
    switch (question.kind) {
        case QuestionKind::Material:
            who = fmt::format("With {}, jobs failed \"{}\" {}", question.subject, title, figures(question));
            break;
        case QuestionKind::Crew:
            who = fmt::format("Crew {} failed \"{}\" {}", question.subject, title, figures(question));
            break;
        case QuestionKind::Household:
            who = fmt::format("In {}, crew {} failed \"{}\" {}; in all other homes the same crew in {} of {}",
                              question.narrowed, question.subject, title, figures(question), question.elsewhere.failed,
                              question.elsewhere.tries);
            break;
        case QuestionKind::Recent:
            who = fmt::format("In the last eight weeks \"{}\" failed in {} of {} jobs; before, in {} of {}", title,
                              question.own.failed, question.own.tries, question.others.failed, question.others.tries);
            break;
        case QuestionKind::Deferral:
            who = fmt::format("Crew {} put off \"{}\" {} times, and {} were still open after 14 days; of the others' {}, {}",
                              question.subject, title, question.own.tries, question.own.failed,
                              question.others.tries, question.others.failed);
            break;
        case QuestionKind::Complaint:
            who = fmt::format("Of {} homes where \"{}\" had not been proved {} called about what it guards against; of {} where it had, {}",
                              question.own.tries, title, question.own.failed, question.others.tries, question.others.failed);
            break;
        case QuestionKind::Drift: break;  // worded from its readings
    }
    return fmt::format("{}. Chance alone: {}. {}", who, chance_in_words(p), alike_in_words(question));
}

std::string sentence_of(const GaugeDrift& drift, const CheckCards& cards) {
    const auto from = drift.differences.begin() + static_cast<std::ptrdiff_t>(drift.onset);
    const auto n = static_cast<double>(drift.differences.end() - from);
    const double mean = std::accumulate(from, drift.differences.end(), 0.0) / n;
    return fmt::format("Gauge {} read {:.0f} kPa {} than the other gauges in the same streets from {} to {} ({:.0f} "
                       "readings of \"{}\"), where single readings scatter by {:.0f} kPa. Chance alone: {}.",
                       drift.instrument, std::abs(mean), mean >= 0.0 ? "higher" : "lower", drift.days[drift.onset], drift.days.back(), n,
                       title_of(cards, "pressure-limit-set"), drift.deviation, chance_in_words(drift.p));
}

namespace {

constexpr std::string_view nothing_left = "Nothing to ";

std::string advice_for_batch(const Question& question, const BatchStanding& batch) {
    const std::string caveat = question.only_later ? "; the season may be behind it as well" : "";
    if (batch.is_in_use)
        return question.only_later ? fmt::format("Ask what changed with {}, and hold the rest of it back until you know{}. Check the jobs that have it.",
                                                 question.subject, caveat)
                                   : fmt::format("Hold the rest of {} back. Tell the supplier, and check the jobs that have it.", question.subject);
    if (batch.waiting == 0)
        return fmt::format("{}hold back: none of {} was fitted after {}, and none of its jobs waits. Tell the supplier.", nothing_left,
                           question.subject, batch.last_fitted);
    return fmt::format("Trace {}: none was fitted after {}, and {} still {}{}. Tell the supplier.", question.subject, batch.last_fitted,
                       batch.waiting == 1 ? "1 of its jobs" : fmt::format("{} of its jobs", batch.waiting), batch.waiting == 1 ? "waits" : "wait", caveat);
}

}  // namespace

bool is_order(std::string_view advice) { return !advice.starts_with(nothing_left); }

std::string advice_for(const Question& question, const BatchStanding& batch) {
    switch (question.kind) {
        case QuestionKind::Material: return advice_for_batch(question, batch);
        case QuestionKind::Crew: return "Hear the crew, look at two of these jobs together, and agree what to do differently.";
        case QuestionKind::Household:
            return "Hear the crew, and measure again in these homes first: the people in them are hurt sooner.";
        case QuestionKind::Recent: return "Ask all crews what changed: material, season, tool, checklist.";
        case QuestionKind::Complaint:
            return question.alike.empty() ? "See at these homes what was left out, and make it a hold point where it is none."
                                          : fmt::format("Look at the homes with the same gap before they call: {}.", fmt::join(question.alike, ", "));
        case QuestionKind::Drift: return "";
        case QuestionKind::Deferral: return "Go through the open ones with the crew and set a day and an owner for each.";
    }
    return "";
}

std::string advice_for(const GaugeDrift& drift, const GaugeStanding& gauge) {
    const bool is_calibrated = !gauge.calibrated_since.empty();
    const std::string off = drift.days.empty() ? "" : fmt::format("from {} to {}", drift.days[drift.onset], drift.days.back());
    if (gauge.is_set_aside)
        return fmt::format("{}trace any more: what {} read {} counts as proof no more.{}", nothing_left, drift.instrument, off,
                           is_calibrated ? "" : " Keep it out of use until it is calibrated.");
    if (is_calibrated)
        return fmt::format("Trace what stands on {}: it read off {}, and was calibrated on {} since. Read in the certificate how far off it was "
                           "found; if by more than its uncertainty, record it as bad for these days and repeat the pressure tests that hang on it.",
                           drift.instrument, off, gauge.calibrated_since);
    if (!gauge.is_in_use)
        return fmt::format("Trace what stands on {}: it read off {}, and was not read since. Find it, and hold it beside a second gauge before it is "
                           "read again.",
                           drift.instrument, off);
    return fmt::format("Hold {} beside a second gauge at one tap today. If they differ by more than its uncertainty, take "
                       "it out of use and repeat the pressure tests that hang on it.",
                       drift.instrument);
}

}  // namespace wm::audit
