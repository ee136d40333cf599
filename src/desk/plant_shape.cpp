#include "desk/plant_shape.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "checklist/words.hpp"

namespace wm::desk {

namespace {

using checklist::Facts;
using figures::Covering;

std::optional<figures::LoopKind> loop_of(const Facts& facts) {
    const auto kind = facts.word("sys.kind");
    if (kind == "direct") return figures::LoopKind::Direct;
    if (kind == "indirect") return figures::LoopKind::Indirect;
    return std::nullopt;
}

std::optional<figures::FeedKind> feed_of(const Facts& facts) {
    const auto feed = facts.word("sys.feed");
    if (feed == "vented") return figures::FeedKind::Vented;
    if (feed == "mains-pressure") return figures::FeedKind::Mains;
    return std::nullopt;
}

std::optional<figures::StorePlace> store_of(const Facts& facts) {
    const auto geometry = facts.word("sys.geometry");
    if (geometry == "raised") return figures::StorePlace::Raised;
    if (geometry == "close-coupled") return figures::StorePlace::CloseCoupled;
    return std::nullopt;
}

std::optional<figures::Fitting> controller_of(const Facts& facts) {
    const auto controller = facts.word("sys.controller");
    if (!controller) return std::nullopt;
    return *controller == "none" ? figures::Fitting::Absent : figures::Fitting::Fitted;
}

/// What has no pattern of its own is a plain line with its word.
Covering covering_of(std::string_view word) {
    if (word == "clay-tile" || word == "concrete-tile") return Covering::Tile;
    if (word == "slate") return Covering::Slate;
    if (word == "metal-sheet") return Covering::MetalSheet;
    if (word == "flat-concrete") return Covering::FlatSlab;
    return Covering::Other;
}

/// The word that stands for a check; none while two people answer it differently.
std::string answer_of(const record::JobState& state, std::string_view id) {
    const auto* check = state.check(id);
    if (check == nullptr || !check->conflicts.empty()) return {};
    const auto* reading = check->standing_at("");
    return reading == nullptr ? std::string{} : checklist::lower_case(checklist::trimmed(record::shown(reading->taken.text)));
}

}  // namespace

figures::PlantShape plant_shape(const Facts& facts, const record::JobState& state) {
    figures::PlantShape shape;
    shape.loop = loop_of(facts);
    shape.feed = feed_of(facts);
    shape.store = store_of(facts);
    shape.controller = controller_of(facts);
    shape.roof_word = facts.word("roof.covering").value_or("");
    shape.covering = covering_of(shape.roof_word);
    std::replace(shape.roof_word.begin(), shape.roof_word.end(), '-', ' ');
    shape.relief_valve = shape.feed == figures::FeedKind::Mains;
    shape.expansion_vessel = answer_of(state, "expansion-room") == "vessel";
    // No set goes without one, so it is drawn as planned until somebody saw that it is not there.
    shape.mixing_valve = answer_of(state, "tempering-fitted") != "missing";
    return shape;
}

}  // namespace wm::desk
