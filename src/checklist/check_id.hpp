// The name of a check, unique over all checklists.
#pragma once

#include <compare>
#include <string>
#include <utility>

namespace wm::checklist {

/// "anchor-torque". A type of its own, so that an id and an answer cannot change places.
struct CheckId {
    std::string text;

    CheckId() = default;
    explicit CheckId(std::string id) : text{std::move(id)} {}

    friend auto operator<=>(const CheckId&, const CheckId&) = default;
    friend bool operator==(const CheckId&, const CheckId&) = default;
};

}  // namespace wm::checklist
