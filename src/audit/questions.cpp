#include "audit/questions.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>

#include "audit/likeness.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

/// One try: who made it, what it must be compared within, and how it ended.
struct Try {
    const JobCard* job;
    std::string_view day;
    bool failed;
};

/// Names as small numbers, in the order they came.
class Codes {
public:
    std::size_t of(std::string_view name) {
        const auto [at, is_new] = codes_.emplace(std::string{name}, names_.size());
        if (is_new) names_.push_back(at->first);
        return at->second;
    }
    [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

private:
    std::map<std::string, std::size_t, std::less<>> codes_;
    std::vector<std::string> names_;
};

/// Groups side by side within strata: one pass over the tries answers the question for each group.
class Groups {
public:
    void add(std::string_view group, std::string_view stratum, const Try& one) {
        const auto g = groups_.of(group);
        const auto s = strata_.of(stratum);
        if (g >= by_group_.size()) by_group_.resize(g + 1);
        auto& own = by_group_[g];
        if (s >= own.cells.size()) own.cells.resize(s + 1);
        ++own.cells[s].tries;
        own.cells[s].failed += one.failed ? 1 : 0;
        if (one.failed && (own.jobs.empty() || own.jobs.back() != one.job->job)) own.jobs.push_back(one.job->job);
        if (own.first.empty() || one.day < own.first) own.first = one.day;
        if (one.day > own.last) own.last = one.day;
    }

    [[nodiscard]] const std::vector<std::string>& names() const { return groups_.names(); }

    [[nodiscard]] std::optional<Question> question(std::size_t group) const {
        Question question;
        std::string_view last_of_others;
        const std::size_t strata = strata_.names().size();
        question.strata.resize(strata);
        for (std::size_t g = 0; g < by_group_.size(); ++g) {
            const auto& side = by_group_[g];
            for (std::size_t s = 0; s < side.cells.size(); ++s) {
                auto& into = g == group ? question.strata[s].first : question.strata[s].second;
                into.tries += side.cells[s].tries;
                into.failed += side.cells[s].failed;
            }
            if (g != group && side.last > last_of_others) last_of_others = side.last;
        }
        for (const auto& stratum : question.strata) {
            question.own.tries += stratum.first.tries;
            question.own.failed += stratum.first.failed;
            question.others.tries += stratum.second.tries;
            question.others.failed += stratum.second.failed;
        }
        if (question.own.tries == 0 || question.others.tries == 0) return std::nullopt;
        question.jobs = by_group_[group].jobs;
        question.only_later = by_group_[group].first > last_of_others;
        return question;
    }

private:
    struct Side {
        std::vector<Tally> cells;
        std::vector<std::string> jobs;
        std::string_view first, last;
    };
    Codes groups_, strata_;
    std::vector<Side> by_group_;
};

void ask(std::vector<Question>& all, const Groups& groups, QuestionKind kind, std::string_view check,
         std::string_view before_subject, std::string_view narrowed) {
    for (std::size_t g = 0; g < groups.names().size(); ++g) {
        auto question = groups.question(g);
        if (!question) continue;
        question->kind = kind;
        question->subject = std::string{before_subject} + groups.names()[g];
        question->check = check;
        question->narrowed = narrowed;
        all.push_back(*std::move(question));
    }
}

std::string material_of(const JobCard& job, std::string_view check) {
    std::string all;
    for (const auto material : materials_behind(check))
        if (const auto found = job.batches.find(std::string{material}); found != job.batches.end()) all += found->second + "/";
    return all;
}

// The same jobs on both sides, and the same of them failed.
bool divides_alike(const Question& one, const Question& other) {
    return one.jobs == other.jobs && one.own == other.own && one.others == other.others;
}

void ask_materials(std::vector<Question>& all, std::string_view check, const std::vector<Try>& tries) {
    std::vector<Question> found;
    for (const auto material : materials_behind(check)) {
        Groups groups;
        for (const auto& one : tries)
            if (const auto batch = one.job->batches.find(std::string{material}); batch != one.job->batches.end())
                groups.add(batch->second, one.job->crew, one);
        std::vector<Question> asked;
        ask(asked, groups, QuestionKind::Material, check, std::string{material} + " ", "");
        for (auto& question : asked)
            if (std::none_of(found.begin(), found.end(), [&](const Question& f) { return divides_alike(f, question); }))
                found.push_back(std::move(question));
    }
    std::move(found.begin(), found.end(), std::back_inserter(all));
}

void ask_crews(std::vector<Question>& all, std::string_view check, const std::vector<Try>& tries) {
    const auto likeness = likeness_of(check);
    const bool by_household = asked_by_household(check);
    Groups crews;
    Groups in_vulnerable_homes;
    std::map<std::string_view, Tally> elsewhere;
    for (const auto& one : tries) {
        const auto stratum = stratum_of(*one.job, likeness) + "/" + material_of(*one.job, check);
        crews.add(one.job->crew, stratum, one);
        if (!by_household) continue;
        if (one.job->vulnerable) {
            in_vulnerable_homes.add(one.job->crew, stratum, one);
        } else {
            auto& tally = elsewhere[one.job->crew];
            ++tally.tries;
            tally.failed += one.failed ? 1 : 0;
        }
    }
    ask(all, crews, QuestionKind::Crew, check, "", "");
    const auto first_of_homes = all.size();
    ask(all, in_vulnerable_homes, QuestionKind::Household, check, "", "homes with vulnerable people");
    for (std::size_t i = first_of_homes; i < all.size(); ++i) all[i].elsewhere = elsewhere[all[i].subject];
}

void ask_recent(std::vector<Question>& all, std::string_view check, const std::vector<Try>& tries,
                std::string_view first_recent_day) {
    const auto likeness = likeness_of(check);
    Groups times;
    for (const auto& one : tries)
        times.add(one.day >= first_recent_day ? "recent" : "before",
                  stratum_of(*one.job, likeness) + "/" + one.job->crew, one);
    for (std::size_t g = 0; g < times.names().size(); ++g) {
        if (times.names()[g] != "recent") continue;
        auto question = times.question(g);
        if (!question) continue;
        question->kind = QuestionKind::Recent;
        question->check = check;
        all.push_back(*std::move(question));
    }
}

// A deferral counts once it is so old that it should be closed, whatever became of it since. Each
// check apart, and checks that are always put off and forgotten together once: the second is no
// further evidence.
void ask_deferrals(std::vector<Question>& all, const AuditTable& table, const QuestionSpan& span) {
    std::map<std::string_view, Groups> checks;
    for (const auto& row : table.deferrals) {
        const auto due = units::day_after(row.since, span.forgotten_after_days);
        if (!due || row.since < span.first_day || *due > span.last_day) continue;
        const bool forgotten = row.closed.empty() || row.closed > *due;
        checks[row.check].add(table.jobs[row.job].crew, "", {&table.jobs[row.job], row.since, forgotten});
    }
    std::vector<Question> found;
    for (const auto& [check, crews] : checks) {
        std::vector<Question> asked;
        ask(asked, crews, QuestionKind::Deferral, check, "", "");
        for (auto& question : asked)
            if (std::none_of(found.begin(), found.end(), [&](const Question& f) { return divides_alike(f, question); }))
                found.push_back(std::move(question));
    }
    std::move(found.begin(), found.end(), std::back_inserter(all));
}

}  // namespace

std::vector<Question> questions_of(const AuditTable& table, const QuestionSpan& span) {
    std::map<std::string_view, std::vector<Try>> by_check;
    for (const auto& result : table.results)
        if (result.day >= span.first_day && result.day <= span.last_day)
            by_check[result.check].push_back({&table.jobs[result.job], result.day, result.failed});
    for (auto& [check, tries] : by_check)
        std::stable_sort(tries.begin(), tries.end(), [](const Try& a, const Try& b) { return a.day < b.day; });
    const auto first_recent = units::day_after(span.last_day, -7 * span.recent_weeks + 1).value_or("");
    std::vector<Question> all;
    for (const auto& [check, tries] : by_check) {
        ask_materials(all, check, tries);
        // Where nothing failed no comparison can say anything.
        if (std::none_of(tries.begin(), tries.end(), [](const Try& one) { return one.failed; })) continue;
        ask_crews(all, check, tries);
        ask_recent(all, check, tries, first_recent);
    }
    ask_deferrals(all, table, span);
    return all;
}

}  // namespace wm::audit
