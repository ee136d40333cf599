// Whether a job may be signed and handed over: what blocks, what restricts, and the proof.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "measure/outcome.hpp"
#include "problem/result.hpp"
#include "record/entry.hpp"

namespace wm::record {

/// What the rule needs to know of a deferral.
struct DeferralStanding {
    std::string until;  ///< date; empty = none
    std::string owner;  ///< empty = none
};

/// How one check stands. Only the checklist knows the first half, only the state the second.
struct CheckStanding {
    std::string id;
    bool hold = false;
    char severity = 'P';  ///< H, D, P or R
    bool core = false;
    bool applies = true;
    bool restricts = false;  ///< deferring it restricts the handover
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;  ///< of the outcome
    std::optional<DeferralStanding> deferral;
    bool conceded = false;
    bool in_conflict = false;
    int failures_without_correction = 0;  ///< failed readings that nothing was done about
};

/// Why a job may not be signed yet: one line of the list a person is shown.
struct Blocker {
    std::string check;
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;
    friend bool operator==(const Blocker&, const Blocker&) = default;
};

/// Everything in the way of signing, in the order of the checks. The rule: every hold point that
/// applies conforms, or is one whose deferral restricts the handover, with owner and date; every
/// core check is answered; whatever failed was corrected and now conforms, or is deferred with
/// owner and date, or conceded; nothing of severity H is conceded; no conflict.
[[nodiscard]] std::vector<Blocker> blockers(const std::vector<CheckStanding>& checks);

/// Checks whose deferral restricts the handover.
[[nodiscard]] std::vector<std::string> restrictions(const std::vector<CheckStanding>& checks);

/// Proof that nothing blocks. Only ready_to_sign() can make one.
class SignableJob {
public:
    [[nodiscard]] const std::string& job() const { return job_; }
    [[nodiscard]] HandoverKind handover() const {
        return restricted_by_.empty() ? HandoverKind::Full : HandoverKind::Restricted;
    }
    [[nodiscard]] const std::vector<std::string>& restricted_by() const { return restricted_by_; }

private:
    friend Result<SignableJob> ready_to_sign(std::string_view job,
                                             const std::vector<CheckStanding>& checks);
    SignableJob(std::string job, std::vector<std::string> restricted_by)
        : job_{std::move(job)}, restricted_by_{std::move(restricted_by)} {}
    std::string job_;
    std::vector<std::string> restricted_by_;
};

/// The proof, or a Problem of kind Refused that names what blocks.
[[nodiscard]] Result<SignableJob> ready_to_sign(std::string_view job,
                                                const std::vector<CheckStanding>& checks);

}  // namespace wm::record
