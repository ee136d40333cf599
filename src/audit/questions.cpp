#include "audit/questions.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>
#include <unordered_map>

#include "audit/complaints.hpp"
#include "audit/try_counts.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

/// Groups side by side within strata, as counts.
class Groups {
public:
    void add(Code group, Code stratum, const TryCell& cell) {
        if (cell.tries == 0) return;
        const auto g = place_of(group, groups_);
        const auto s = place_of(stratum, strata_);
        if (g >= sides_.size()) sides_.resize(g + 1);
        auto& side = sides_[g];
        if (s >= side.cells.size()) side.cells.resize(s + 1);
        side.cells[s].tries += cell.tries;
        side.cells[s].failed += cell.failed;
        side.first = std::min(side.first, cell.first);
        side.last = std::max(side.last, cell.last);
    }
    void add_job(Code group, const std::string& job) {
        const auto found = groups_.find(group);
        if (found == groups_.end()) return;
        auto& jobs = sides_[found->second].jobs;
        if (jobs.empty() || jobs.back() != job) jobs.push_back(job);
    }

    /// The groups that have tries, by name.
    [[nodiscard]] std::vector<std::pair<std::string, std::size_t>> named(const Names& names) const {
        std::vector<std::pair<std::string, std::size_t>> all;
        for (const auto& [group, place] : groups_) all.emplace_back(names.text(group), place);
        std::sort(all.begin(), all.end());
        return all;
    }

    [[nodiscard]] std::optional<Question> question(std::size_t group) const {
        Question question;
        Day last_of_others = 0;
        question.strata.resize(strata_.size());
        for (std::size_t g = 0; g < sides_.size(); ++g) {
            const auto& side = sides_[g];
            for (std::size_t s = 0; s < side.cells.size(); ++s) {
                auto& into = g == group ? question.strata[s].first : question.strata[s].second;
                into.tries += side.cells[s].tries;
                into.failed += side.cells[s].failed;
            }
            if (g != group) last_of_others = std::max(last_of_others, side.last);
        }
        for (const auto& stratum : question.strata) {
            question.own.tries += stratum.first.tries;
            question.own.failed += stratum.first.failed;
            question.others.tries += stratum.second.tries;
            question.others.failed += stratum.second.failed;
        }
        if (question.own.tries == 0 || question.others.tries == 0) return std::nullopt;
        question.jobs = sides_[group].jobs;
        question.only_later = sides_[group].first > last_of_others;
        return question;
    }
    [[nodiscard]] std::optional<Question> question_of(Code group) const {
        const auto found = groups_.find(group);
        return found == groups_.end() ? std::nullopt : question(found->second);
    }

private:
    struct Side {
        std::vector<Tally> cells;
        std::vector<std::string> jobs;
        Day first = 0xFFFFFFFF, last = 0;
    };
    using Places = std::unordered_map<Code, std::size_t>;
    static std::size_t place_of(Code code, Places& places) { return places.try_emplace(code, places.size()).first->second; }

    Places groups_, strata_;
    std::vector<Side> sides_;
};

void ask(std::vector<Question>& all, const Groups& groups, const Names& names, QuestionKind kind, const std::string& check,
         std::string_view before_subject, std::string_view narrowed) {
    for (const auto& [name, place] : groups.named(names)) {
        auto question = groups.question(place);
        if (!question) continue;
        question->kind = kind;
        question->subject = std::string{before_subject} + name;
        question->check = check;
        question->narrowed = narrowed;
        all.push_back(*std::move(question));
    }
}

// The same jobs on both sides, and the same of them failed.
bool divides_alike(const Question& one, const Question& other) {
    return one.own == other.own && one.others == other.others && one.jobs == other.jobs;
}

void add_new(std::vector<Question>& found, std::vector<Question>&& asked) {
    for (auto& question : asked)
        if (std::none_of(found.begin(), found.end(), [&](const Question& f) { return divides_alike(f, question); }))
            found.push_back(std::move(question));
}

/// Asks about one check, from its counts.
class Asker {
public:
    Asker(const Columns& columns, const CheckCounts& counts)
        : columns_{columns}, counts_{counts}, kin_{*counts.kin}, check_{columns.names().check.text(counts.check)} {}

    void materials(std::vector<Question>& all) const {
        std::vector<Question> found;
        for (std::size_t m = 0; m < counts_.materials.size(); ++m) {
            Groups groups;
            for_each_cell([&](const Kindred& kindred, const TryCell& cell, bool) {
                if (kindred.batches[m] != no_batch) groups.add(kindred.batches[m], kindred.crew, cell);
            });
            for (const auto& one : counts_.failed) groups.add_job(kin_[one.kindred].batches[m], columns_.card(one.job).job);
            std::vector<Question> asked;
            ask(asked, groups, columns_.names().batch, QuestionKind::Material, check_, std::string{counts_.materials[m]} + " ", "");
            add_new(found, std::move(asked));
        }
        std::move(found.begin(), found.end(), std::back_inserter(all));
    }

    void crews(std::vector<Question>& all) const {
        const bool by_household = asked_by_household(check_);
        Groups crews;
        Groups in_vulnerable_homes;
        std::map<std::string, Tally> elsewhere;
        for_each_cell([&](const Kindred& kindred, const TryCell& cell, bool) {
            crews.add(kindred.crew, kindred.stratum, cell);
            if (!by_household) return;
            if (kindred.vulnerable) {
                in_vulnerable_homes.add(kindred.crew, kindred.stratum, cell);
            } else {
                auto& tally = elsewhere[columns_.names().crew.text(kindred.crew)];
                tally.tries += cell.tries;
                tally.failed += cell.failed;
            }
        });
        for (const auto& one : counts_.failed) {
            crews.add_job(kin_[one.kindred].crew, columns_.card(one.job).job);
            if (kin_[one.kindred].vulnerable) in_vulnerable_homes.add_job(kin_[one.kindred].crew, columns_.card(one.job).job);
        }
        ask(all, crews, columns_.names().crew, QuestionKind::Crew, check_, "", "");
        const auto first_of_homes = all.size();
        ask(all, in_vulnerable_homes, columns_.names().crew, QuestionKind::Household, check_, "", "homes with vulnerable people");
        for (std::size_t i = first_of_homes; i < all.size(); ++i) all[i].elsewhere = elsewhere[all[i].subject];
    }

    void recent(std::vector<Question>& all) const {
        constexpr Code now = 1;
        Groups times;
        std::map<std::pair<Code, Code>, Code> strata;
        for_each_cell([&](const Kindred& kindred, const TryCell& cell, bool recent) {
            const auto stratum = strata.try_emplace({kindred.alike, kindred.crew}, static_cast<Code>(strata.size())).first->second;
            times.add(recent ? now : 0, stratum, cell);
        });
        for (const auto& one : counts_.failed)
            if (one.recent) times.add_job(now, columns_.card(one.job).job);
        auto question = times.question_of(now);
        if (!question) return;
        question->kind = QuestionKind::Recent;
        question->check = check_;
        all.push_back(*std::move(question));
    }

private:
    template <class Visit>
    void for_each_cell(Visit visit) const {
        for (std::size_t i = 0; i < kin_.size(); ++i) {
            visit(kin_[i], counts_.cells[2 * i], false);
            visit(kin_[i], counts_.cells[2 * i + 1], true);
        }
    }

    const Columns& columns_;
    const CheckCounts& counts_;
    const std::vector<Kindred>& kin_;
    const std::string& check_;
};

// A deferral counts once it is so old that it should be closed, whatever became of it since. Each
// check apart, and checks that are always put off and forgotten together once: the second is no
// further evidence.
void ask_deferrals(std::vector<Question>& all, const Columns& columns, const QuestionSpan& span) {
    std::map<std::string_view, Groups> checks;
    for (const auto& row : columns.rest().deferrals) {
        const auto due = units::day_after(row.since, span.forgotten_after_days);
        if (!due || row.since < span.first_day || *due > span.last_day) continue;
        const bool late = row.closed.empty() || row.closed > *due;
        const Day day = day_code(row.since);
        const Code crew = columns.codes(row.job).crew;
        checks[row.check].add(crew, 0, {1, late ? 1U : 0U, day, day});
        if (late) checks[row.check].add_job(crew, columns.card(row.job).job);
    }
    std::vector<Question> found;
    for (const auto& [check, crews] : checks) {
        std::vector<Question> asked;
        ask(asked, crews, columns.names().crew, QuestionKind::Deferral, std::string{check}, "", "");
        add_new(found, std::move(asked));
    }
    std::move(found.begin(), found.end(), std::back_inserter(all));
}

}  // namespace

std::vector<Question> questions_of(const Columns& columns, const QuestionSpan& span) {
    const auto first_recent = units::day_after(span.last_day, -7 * span.recent_weeks + 1).value_or("");
    const TryCounts counted{columns, {day_code(span.first_day), day_code(span.last_day), day_code(first_recent)}, span.spread};
    std::vector<Question> all;
    for (const auto& counts : counted.checks()) {
        const Asker asker{columns, counts};
        asker.materials(all);
        // Where nothing failed no comparison can say anything.
        if (counts.failed.empty()) continue;
        asker.crews(all);
        asker.recent(all);
    }
    ask_deferrals(all, columns, span);
    for (auto& question : complaint_questions(columns, span.links, span)) all.push_back(std::move(question));
    return all;
}

}  // namespace wm::audit
