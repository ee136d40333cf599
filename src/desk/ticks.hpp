// What was ticked of the parts of a job, at the store and at the van.
//
// A tick is a fact of the job under a key of its own, "part.pipe-loop.van", with "there, 11 m", "missing", "changed" or "open"
// behind it: a later one replaces it, both stay on record, and every earlier program reads it as a fact it does not know.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"
#include "record/state.hpp"

namespace wm::desk {

struct PickListView;
struct PickRow;

enum class TickPlace { Store, Van };
[[nodiscard]] std::string_view in_words(TickPlace place);  ///< "store"
[[nodiscard]] std::optional<TickPlace> tick_place_named(std::string_view word);

enum class Ticked { There, Missing, Changed };
[[nodiscard]] std::string_view in_words(Ticked said);  ///< "there"

/// What was said last of a part at one place.
struct Tick {
    Ticked said = Ticked::There;
    std::string counted{};  ///< "11 m", as entered, else what was needed when it was ticked; "" while that was not known
    std::string words{};    ///< what came instead, or why it is missing
    std::string at{};       ///< stamp of the journal

    friend bool operator==(const Tick&, const Tick&) = default;
};

[[nodiscard]] bool is_tick(std::string_view key);
[[nodiscard]] std::string tick_key(std::string_view part, TickPlace place);

/// Nothing where nobody ticked it, or where the tick was taken back.
[[nodiscard]] std::optional<Tick> standing_tick(const record::JobState& job, std::string_view part, TickPlace place);

/// The later of the two; of the same moment that of the van, where it is seen last.
[[nodiscard]] const Tick* last_tick(const PickRow& row);

/// What the journal keeps of one tick. `text` is "there", "there, 11 m", "missing", "missing: words", "changed: words" or
/// "open", which takes a tick back. Unreadable: a part that is not on the list, a place that is none, an amount that does not
/// fit the part, a change without words. The words are locked for the customer.
[[nodiscard]] Result<std::vector<record::FactStated>> stated_tick(const PickListView& list, const std::string& key, std::string_view text);

/// Fewer or less counted than is needed now: the need may have grown since.
[[nodiscard]] bool is_short(const PickRow& row, const Tick& tick);

}  // namespace wm::desk
