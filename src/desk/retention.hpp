// How long the records of a customer are kept, and what may be erased now.
//
// Periods are content and not code: assets/retention.toml, country by country, each with reason and source.
// Local law decides; the tool only counts.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

/// From which day a period counts: of the handover, or the last day of its year. A job that was never handed
/// over counts from its last entry.
enum class KeptFrom { Handover, EndOfYear };
/// What is said to an erasure before the end of the period.
enum class EarlyErasure { Warn, Refuse };

struct RetentionRule {
    std::string record;  ///< "mails about the job"
    int years = 0;       ///< 0 to 100
    KeptFrom from = KeptFrom::Handover;
    EarlyErasure early = EarlyErasure::Warn;
    std::string why, source;
};

struct RetentionRules {
    std::string country;  ///< "DE"; "none" where none is chosen
    std::string name;
    std::vector<RetentionRule> rules;
};

/// All countries of the text. Problem (kind Unreadable, with line) for a missing or unknown word.
[[nodiscard]] Result<std::vector<RetentionRules>> read_retention(std::string_view text, std::string_view file_name);
/// The country of that code, capitals aside; the problem lists the codes there are.
[[nodiscard]] Result<RetentionRules> rules_of(const std::vector<RetentionRules>& all, std::string_view country);

/// Until when a rule wants the records of one customer, and by which job.
struct KeptUntil {
    RetentionRule rule;
    std::string until;  ///< date, the last day on which they are kept
    std::string job;    ///< the one that keeps them longest
};

/// One customer who is not erased yet.
struct RetentionView {
    std::string customer;           ///< name, if the key is there
    std::vector<std::string> jobs;  ///< of this house, by number
    std::vector<KeptUntil> kept;    ///< one for each rule
    std::string until;              ///< the latest of them; empty without rules
    bool open = false;              ///< a job of it is not finished: nothing is due
    bool due = false;               ///< every period has ended: it may be erased now
};

/// The last day of a period that counts from `day`. Source of the count: the same day so many years later ends
/// it (BGB section 188 (2)); 29 February ends on the 28th in a year without it (as (3) says of months).
[[nodiscard]] std::string last_day_kept(std::string_view day, KeptFrom from, int years);

/// Every customer of the folder, the one whose periods end first at the head. Practice jobs are due at once.
[[nodiscard]] Result<std::vector<RetentionView>> retention(Desk& desk, const RetentionRules& rules);
/// Of the customer of a job. Refused for a job whose customer is erased.
[[nodiscard]] Result<RetentionView> retention_of(Desk& desk, const RetentionRules& rules, const std::string& job);

/// Sentences on what still wants the records, with reason and source; those that refuse first.
[[nodiscard]] std::vector<std::string> words_against(const RetentionView& view, std::string_view today);
/// Whether a rule that refuses has not ended.
[[nodiscard]] bool must_be_kept(const RetentionView& view, std::string_view today);

/// Erases although a period runs: why is kept, as words of the house. Leads and owners only.
[[nodiscard]] Result<void> note_early_erasure(Desk& desk, const std::string& job, const std::string& why);

}  // namespace wm::desk
