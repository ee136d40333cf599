// What a house may expect of its set, from its facts and from what was read today.
#pragma once

#include <string>

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"

namespace wm::desk {

/// The yearly estimate as a band over what is not known: 30 to 60 litres a person and day, the share
/// of bright sun 0.08 either way, and 20 % below what the correlation for pumped sets gives (common
/// practice, no source). What a missing fact makes impossible is left out and named. `date` is that
/// of the handover, "2027-03-04". What the evidence says of a check stays in the company's language.
[[nodiscard]] handover::Expectation expectation_of(const JobInHand& job, const JobView& view, const std::string& date,
                                                   const language::Language& say = {});

}  // namespace wm::desk
