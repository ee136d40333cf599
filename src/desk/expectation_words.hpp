// What a year in the sun brings, in the words of the household.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "desk/house_year.hpp"
#include "language/language.hpp"

namespace wm::desk {

inline constexpr std::array short_months{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

[[nodiscard]] std::string round_to(double value, double step);

/// "1100 to 1500 kWh", rounded so that nobody takes the band for exact.
[[nodiscard]] std::string in_words(const Band& band, std::string_view unit, const language::Language& say = {});

/// Money and carbon dioxide of the band in kWh; what cannot be said is named in left_out.
void add_money(handover::Expectation& out, const JobInHand& job, const Band& year, const language::Language& say = {});
void add_assumptions(handover::Expectation& out, const House& house, const language::Language& say = {});
[[nodiscard]] std::string lacking(const Known& known, const language::Language& say = {});

}  // namespace wm::desk
