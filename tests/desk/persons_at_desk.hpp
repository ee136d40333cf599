// A desk that a person with a PIN has opened, and a reading that anybody may take.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "desk/testing.hpp"

namespace wm::desk::testing {

inline Desk opened_by(const Folder& folder, const Clock& clock, std::optional<store::Person> person, const char* seed) {
    auto setup = setup_in(folder.path() / "data", clock, seed);
    setup.person = std::move(person);
    auto desk = Desk::open(std::move(setup));
    REQUIRE(desk);
    return std::move(*desk);
}

inline TakeReading ladder(const std::string& job) {
    return {.job = job, .check = "ladder-set", .place = "", .text = "70°", .instrument = "", .photo = std::nullopt,
            .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = false};
}

}  // namespace wm::desk::testing
