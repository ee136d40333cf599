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
    std::vector<bool> is_read(index_.size());
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto range = columns.results_of(job);
        if (!commissioning || columns.codes(job).kind != *commissioning || range.first == range.last) continue;
        const auto at = known.try_emplace({columns.codes(job).system, columns.card(job).frost_class}, groups_.size()).first->second;
        if (at == groups_.size()) groups_.push_back({0, std::vector<std::size_t>(index_.size())});
        group_of_[job] = at;
        auto& group = groups_[at];
        ++group.homes;
        std::fill(is_read.begin(), is_read.end(), false);
        for (auto row = range.first; row < range.last; ++row)
            if (const auto check = of_check[columns.results().check[row]]; check != nowhere) is_read[check] = true;
        for (std::size_t check = 0; check < is_read.size(); ++check) group.read[check] += is_read[check] ? 1 : 0;
    }
}

bool HomesAlike::is_asked(std::size_t job, Code check) const {
    const auto at = index_.find(check);
    if (at == index_.end() || group_of_[job] == nowhere) return false;
    const auto& group = groups_[group_of_[job]];
    return group.homes >= least_alike && group.read[at->second] * 10 >= group.homes * asked_in_ten;
}

std::optional<std::string_view> outcome_on(const Columns& columns, std::size_t job, const CheckOnDay& asked) {
    std::optional<std::string_view> outcome;
    const auto range = columns.results_of(job);
    for (auto row = range.first; row < range.last; ++row)
        if (columns.results().check[row] == asked.check && is_there(columns, job, row, asked.day))
            outcome = columns.names().outcome.text(columns.results().outcome[row]);
    return outcome;
}

std::vector<std::vector<Proof>> proofs_of(const Columns& columns, const std::vector<CheckOnDay>& asked) {
    std::vector<std::vector<Proof>> proofs(asked.size(), std::vector<Proof>(columns.job_count(), Proof::NotAsked));
    std::set<Code> checks;
    std::vector<std::vector<std::size_t>> wanted(columns.names().check.size());
    for (std::size_t i = 0; i < asked.size(); ++i) {
        checks.insert(asked[i].check);
        if (asked[i].check < wanted.size()) wanted[asked[i].check].push_back(i);
    }
    const HomesAlike alike{columns, checks};
    const auto commissioning = columns.names().kind.find("commissioning");
    const auto said = said_by(columns.names().outcome);
    std::vector<bool> is_read(asked.size());
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        if (!commissioning || columns.codes(job).kind != *commissioning) continue;
        std::fill(is_read.begin(), is_read.end(), false);
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row)
            for (const auto i : wanted[columns.results().check[row]]) {
                if (!is_there(columns, job, row, asked[i].day)) continue;
                is_read[i] = true;
                if (const auto says = said[columns.results().outcome[row]]; says != Proof::NotAsked) proofs[i][job] = says;
            }
        for (std::size_t i = 0; i < asked.size(); ++i)
            if (!is_read[i] && alike.is_asked(job, asked[i].check)) proofs[i][job] = Proof::Unproved;
    }
    return proofs;
}

}  // namespace wm::audit
