// One job as it lies on the desk: its entries folded, its facts read, its checklist at hand.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "checklist/judge.hpp"
#include "checklist/model.hpp"
#include "record/signoff.hpp"
#include "record/state.hpp"

namespace wm::desk {

/// Facts and instruments of a job, read from the texts that were entered.
struct ReadFacts {
    checklist::Facts facts;
    std::vector<checklist::InstrumentInUse> instruments;
};

/// What was folded and read is shared with the desk, so that taking a job in hand costs nothing.
struct JobInHand {
    std::shared_ptr<const record::JobState> folded;  ///< never null
    std::shared_ptr<const ReadFacts> read;           ///< never null
    std::shared_ptr<const checklist::Library> library;  ///< the one the job pins
    const checklist::Checklist* list = nullptr;         ///< inside `library`
    std::shared_ptr<const JobInHand> earlier;           ///< the job named by `after`; may be null
    std::string today;
    std::vector<std::string> damaged;  ///< sentences on entries that could not be read

    [[nodiscard]] const record::JobState& state() const { return *folded; }
    [[nodiscard]] const checklist::Facts& facts() const { return read->facts; }
    [[nodiscard]] const std::vector<checklist::InstrumentInUse>& instruments() const { return read->instruments; }
};

/// Facts and instruments of the state, read from the texts that were entered.
[[nodiscard]] std::shared_ptr<const ReadFacts> facts_read(const record::JobState& state);

[[nodiscard]] const checklist::InstrumentInUse* instrument_named(const JobInHand& job, std::string_view id);

/// The instrument a reading is taken with: the one named; if none is named and just one of the
/// wanted type is registered, that one; else none.
[[nodiscard]] std::optional<checklist::InstrumentInUse> instrument_for(const JobInHand& job, const std::string& type,
                                                                      const std::string& named);

/// The latest reading of each place, as the judgement wants them.
[[nodiscard]] std::vector<checklist::ReadingInput> latest_readings(const JobInHand& job, const checklist::Check& check);

/// Whether a signature still speaks for the record: not taken back, and nothing changed since. Leave
/// that is given before the work begins stays given.
[[nodiscard]] bool counts(const JobInHand& job, const record::SignatureState& signature);

/// Whether the list begins with a signature of the customer: leave to be on the roof.
[[nodiscard]] bool asks_leave_first(const checklist::Checklist& list);

/// A refusal once the job is signed, handed over or left.
[[nodiscard]] Result<void> still_open(const JobInHand& job);

/// A refusal while part of the record cannot be read: nobody signs what is not there.
[[nodiscard]] Result<void> is_whole(const JobInHand& job);

/// How one check stands: by its readings, its applicability, or by a rule.
struct Standing {
    checklist::Applicability applies;
    checklist::NeededPlaces needed;
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;
    std::vector<std::string> missing_facts;
    std::vector<std::string> waits_for;          ///< hold points that do not conform yet
    std::optional<checklist::Judged> computed;   ///< of a computed check with an expression
};

/// How all checks of a job stand. Each is worked out once, when it is first asked for; checks that
/// ask for one another in a circle see each other as open.
class Assessment {
public:
    explicit Assessment(const JobInHand& job);
    Assessment(const Assessment&) = delete;
    Assessment& operator=(const Assessment&) = delete;

    [[nodiscard]] const JobInHand& job() const { return job_; }
    [[nodiscard]] const checklist::Context& context() const { return context_; }
    [[nodiscard]] const Standing& of(const checklist::Check& check);
    /// What stands against signing: hold points, core checks, failures nothing was done about.
    [[nodiscard]] std::vector<record::CheckStanding> standings();
    /// The same and the signatures that are hold points, but the verdict itself: what the verdict of a survey follows from.
    [[nodiscard]] std::vector<record::CheckStanding> survey_standings();

private:
    [[nodiscard]] Standing work_out(const checklist::Check& check);
    [[nodiscard]] Standing by_rule(const checklist::Check& check, checklist::ComputedRule rule, Standing standing);
    [[nodiscard]] Standing by_signature(const checklist::Check& check, Standing standing);
    [[nodiscard]] std::optional<units::Amount> value_of(const checklist::CheckId& id);

    const JobInHand& job_;
    checklist::Context context_;
    std::map<std::string, Standing> known_;
};

}  // namespace wm::desk
