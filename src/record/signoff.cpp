#include "record/signoff.hpp"

#include <fmt/format.h>

namespace wm::record {
namespace {

using measure::Outcome;

bool is_deferred_properly(const CheckStanding& check) {
    return check.deferral && !check.deferral->owner.empty() && !check.deferral->until.empty();
}

std::string missing_of(const CheckStanding& check) {
    if (!check.deferral) return "It is deferred, but nobody said until when and who sees to it.";
    if (check.deferral->owner.empty())
        return "It is deferred, but nobody owns it. Name who sees to it.";
    return "It is deferred without a date. Say until when.";
}

std::string with_reason(std::string sentence, const CheckStanding& check) {
    return check.why.empty() ? sentence : fmt::format("{} {}", sentence, check.why);
}

/// Why a hold point is in the way. It conforms, or the work does not go on; the one exception is
/// a hold point whose deferral restricts the handover instead.
std::optional<std::string> hold_in_the_way(const CheckStanding& check) {
    switch (check.outcome) {
        case Outcome::Conforms:
        case Outcome::NotApplicable:
            return std::nullopt;
        case Outcome::Open:
            return with_reason("This hold point is open.", check);
        case Outcome::DoesNotConform:
            return with_reason("This hold point does not conform.", check);
        case Outcome::Inconclusive:
            return with_reason("This hold point is inconclusive.", check);
        case Outcome::Deferred:
            if (!check.restricts) return std::string{"This hold point cannot be deferred."};
            return is_deferred_properly(check) ? std::nullopt : std::optional{missing_of(check)};
    }
    return std::nullopt;
}

/// Why any other check is in the way.
std::optional<std::string> check_in_the_way(const CheckStanding& check) {
    switch (check.outcome) {
        case Outcome::Conforms:
        case Outcome::NotApplicable:
            return std::nullopt;
        case Outcome::Open:
            if (!check.core) return std::nullopt;
            return with_reason("This check is still open.", check);
        case Outcome::Deferred:
            return is_deferred_properly(check) ? std::nullopt : std::optional{missing_of(check)};
        case Outcome::DoesNotConform:
        case Outcome::Inconclusive:
            if (check.conceded && check.severity != 'H') return std::nullopt;
            if (check.conceded) {
                return std::string{
                    "A check that can hurt someone cannot be conceded. Put it right."};
            }
            return with_reason(
                check.outcome == Outcome::DoesNotConform
                    ? "This check does not conform: correct it, defer it or have it conceded."
                    : "This check is inconclusive: measure again, defer it or have it conceded.",
                check);
    }
    return std::nullopt;
}

std::optional<std::string> in_the_way(const CheckStanding& check) {
    if (!check.applies) return std::nullopt;
    if (check.in_conflict) {
        return std::string{"Two devices recorded it differently. Decide which reading stands."};
    }
    if (auto why = check.hold ? hold_in_the_way(check) : check_in_the_way(check)) return why;
    if (check.outcome == Outcome::Conforms && check.failures_without_correction > 0) {
        return std::string{
            "A reading failed and nothing says what was done. Record the correction, or undo a "
            "slip."};
    }
    return std::nullopt;
}

}  // namespace

std::vector<Blocker> blockers(const std::vector<CheckStanding>& checks) {
    std::vector<Blocker> all;
    for (const CheckStanding& check : checks) {
        if (auto why = in_the_way(check)) all.push_back({check.id, check.outcome, std::move(*why)});
    }
    return all;
}

std::vector<std::string> restrictions(const std::vector<CheckStanding>& checks) {
    std::vector<std::string> ids;
    for (const CheckStanding& check : checks) {
        if (check.applies && check.restricts && check.outcome == Outcome::Deferred)
            ids.push_back(check.id);
    }
    return ids;
}

Result<SignableJob> ready_to_sign(std::string_view job, const std::vector<CheckStanding>& checks) {
    const std::vector<Blocker> blocking = blockers(checks);
    if (blocking.empty()) return SignableJob{std::string{job}, restrictions(checks)};
    std::vector<std::string> ids;
    for (const Blocker& blocker : blocking) ids.push_back(blocker.check);
    return refused({.what = fmt::format("{} of the checks stand in the way of signing: {}.",
                                        blocking.size(), fmt::join(ids, ", ")),
                    .where = fmt::format("job {}", job),
                    .what_to_do =
                        "Take each reading, record what was corrected, or defer it with an "
                        "owner and a date.",
                    .kind = ProblemKind::Refused});
}

}  // namespace wm::record
