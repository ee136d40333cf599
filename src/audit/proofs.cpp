#include "audit/proofs.hpp"

#include <algorithm>

namespace wm::audit {

namespace {

constexpr std::size_t least_alike = 8;
constexpr std::size_t asked_in_ten = 9;
constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

bool is_there(const Columns& columns, std::size_t job, std::size_t row, Day day) {
    const Day read = columns.results().day[row];
    return day == 0 || read < day || (read == day && read == columns.codes(job).first_day);
}

/// What each outcome says, by its number.
std::vector<Proof> said_by(const Names& outcomes) {
    std::vector<Proof> said(outcomes.size(), Proof::Unproved);
    if (const auto conforms = outcomes.find("conforms")) said[*conforms] = Proof::Proved;
    if (const auto left_out = outcomes.find("not applicable")) said[*left_out] = Proof::NotAsked;
    return said;
}

}  // namespace

HomesAlike::HomesAlike(const Columns& columns, const std::set<Code>& checks) : group_of_(columns.job_count(), nowhere) {
    for (const auto check : checks) index_.emplace(check, index_.size());
    std::vector<std::size_t> of_check(columns.names().check.size(), nowhere);
    for (const auto& [check, at] : index_)
        if (check < of_check.size()) of_check[check] = at;
    std::map<std::pair<Code, std::string_view>, std::size_t> known;
    const auto commissioning = columns.names().kind.find("commissioning");
    const auto& check_of = columns.results().check;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto range = columns.results_of(job);
        if (!commissioning || columns.codes(job).kind != *commissioning || range.first == range.last) continue;
        const auto at = known.try_emplace({columns.codes(job).system, columns.card(job).frost_class}, groups_.size()).first->second;
        if (at == groups_.size()) groups_.push_back({0, std::vector<std::size_t>(index_.size())});
        group_of_[job] = at;
        auto& group = groups_[at];
        ++group.homes;
        // A check has one result in a job.
        for (auto row = range.first; row < range.last; ++row)
            if (const auto check = of_check[check_of[row]]; check != nowhere) ++group.read[check];
    }
}

bool HomesAlike::is_asked(std::size_t job, Code check) const {
    return group_of_[job] != nowhere && is_asked_in(group_of_[job], check);
}

bool HomesAlike::is_asked_in(std::size_t group, Code check) const {
    const auto at = index_.find(check);
    return at != index_.end() && groups_[group].homes >= least_alike && groups_[group].read[at->second] * 10 >= groups_[group].homes * asked_in_ten;
}

std::optional<std::string_view> outcome_on(const Columns& columns, std::size_t job, const CheckOnDay& asked) {
    std::optional<std::string_view> outcome;
    const auto range = columns.results_of(job);
    for (auto row = range.first; row < range.last; ++row)
        if (columns.results().check[row] == asked.check && is_there(columns, job, row, asked.day))
            outcome = columns.names().outcome.text(columns.results().outcome[row]);
    return outcome;
}

std::vector<std::vector<Proof>> proofs_of(const Columns& columns, const std::vector<CheckOnDay>& asked, Day done_from) {
    std::vector<std::vector<Proof>> proofs(asked.size(), std::vector<Proof>(columns.job_count(), Proof::NotAsked));
    std::set<Code> checks;
    std::vector<std::vector<std::size_t>> wanted(columns.names().check.size());
    for (std::size_t i = 0; i < asked.size(); ++i) {
        checks.insert(asked[i].check);
        if (asked[i].check < wanted.size()) wanted[asked[i].check].push_back(i);
    }
    const HomesAlike alike{columns, checks};
    // By group of homes: the checks that are asked there.
    std::vector<std::vector<std::size_t>> asked_in(alike.groups());
    for (std::size_t group = 0; group < asked_in.size(); ++group)
        for (std::size_t i = 0; i < asked.size(); ++i)
            if (alike.is_asked_in(group, asked[i].check)) asked_in[group].push_back(i);
    const auto said = said_by(columns.names().outcome);
    const auto& rows = columns.results();
    constexpr std::size_t nobody = nowhere;
    std::vector<std::size_t> read_last_in(asked.size(), nobody);
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto group = alike.group_of(job);
        if (!group || columns.codes(job).day < done_from) continue;
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row)
            for (const auto i : wanted[rows.check[row]]) {
                if (!is_there(columns, job, row, asked[i].day)) continue;
                read_last_in[i] = job;
                if (const auto says = said[rows.outcome[row]]; says != Proof::NotAsked) proofs[i][job] = says;
            }
        for (const auto i : asked_in[*group])
            if (read_last_in[i] != job) proofs[i][job] = Proof::Unproved;
    }
    return proofs;
}

}  // namespace wm::audit
