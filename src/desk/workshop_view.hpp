// What the lead's workshop shows of a changed checklist, and what is asked of it, as plain values.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "checklist/differences.hpp"

namespace wm::desk {

/// One reading that the changed checklist would judge otherwise than it was judged.
struct FlipView {
    std::string job, check, place, entry;
    std::string was, would_be;  ///< outcomes in words
    std::string why;            ///< of the new outcome
};

/// How many of so many readings do not conform, with the interval of that share (Wilson, 95 %; 0 to 1 without readings).
struct ReplayShare {
    std::int64_t failed = 0, results = 0;
    double low = 0.0, high = 1.0;
    [[nodiscard]] double share() const { return results > 0 ? static_cast<double>(failed) / static_cast<double>(results) : 0.0; }
};

/// A check that changed: what the whole list's share hides among the readings of all others.
struct ReplayCheck {
    std::string check;
    ReplayShare before, after;
};

struct ReplayView {
    std::string checklist;
    std::int64_t results = 0;           ///< readings that were taken and not undone or set aside
    std::int64_t judged_again = 0;      ///< of checks that the change touches
    std::vector<std::string> changed;   ///< ids of those checks
    std::vector<std::string> dropped;   ///< checks with readings that the new list no longer has
    std::vector<FlipView> flips;        ///< by job
    double share_before = 0.0, share_after = 0.0;  ///< of readings that do not conform
    ReplayShare before, after;                     ///< the same as counts
    std::vector<ReplayCheck> by_check;             ///< those that changed, by id, each with its own readings only
};

/// Something wrong or doubtful in the text, where it stands and what to do.
struct FaultView {
    int line = 0, column = 0;
    std::string check;  ///< id of the check it lies in; empty for the head of the list
    std::string what, what_to_do;
    bool is_error = true;
};

/// A check of the text, for the list beside the form.
struct DraftCheck {
    std::string id, title, stage;
    int faults = 0, differences = 0;
};

struct WorkshopView {
    std::string checklist;  ///< its name; empty where the text cannot be read that far
    int published = 0;      ///< version that jobs are opened with now; 0 = a list nobody has published
    std::vector<DraftCheck> checks;
    std::vector<FaultView> faults;                  ///< in the order of the text
    std::vector<checklist::Difference> differences; ///< to the published version
    std::optional<ReplayView> replay;               ///< when it was asked for and the text can be judged by, whatever its examples say
    std::string unready;    ///< why it cannot be published; empty = it can
};

/// One value of the check at hand, as a form shows it.
struct FormField {
    enum class Kind { Text, YesNo, Choice };
    std::string key;     ///< as the text writes it
    std::string label;   ///< as people say it
    std::string value;   ///< of a YesNo "yes" or "no"; empty = the text does not say it
    Kind kind = Kind::Text;
    std::vector<std::string> choices = {};
};

/// What is done to the draft of a list. `check` is the check at hand after it; empty for the first one.
struct DraftStep {
    enum class Deed {
        Look,      ///< the draft is taken up where it was left, or begun from the published text
        Value,     ///< `text` under `key` of the check
        Lines,     ///< `text` in the place of all lines of the check
        Past,      ///< all past readings are judged by the draft
        Anew,      ///< the draft is put aside; begun again from the published text
        Publish,   ///< `text` is the reason
    };
    std::string list, check;
    Deed deed = Deed::Look;
    std::string key, text;
};

struct ListDraftView {
    std::string list, check;
    WorkshopView about;             ///< what the draft would mean
    std::vector<FormField> form;    ///< of the check at hand
    std::string lines;              ///< its lines, as they are written
    std::string said;               ///< what came of the step, where it needs a word
};

}  // namespace wm::desk
