// Handling time of a run by the keystroke-level model, from what a hand really did in the window.
//
// Operators and times: Card, Moran and Newell, The keystroke-level model for user performance time with interactive systems,
// Communications of the ACM 23 (1980) 396: M = 1.35 s to prepare a step, K = 0.28 s for the stroke of a person who is no
// typist; M stands once for each check, since a figure is an argument and what follows at the same check is expected (rules 0
// to 2 there). The way of the finger to a target: Card, Moran and Newell, The psychology of human-computer interaction (1983),
// Fitts's law with the slow end of its range, 120 ms a bit, as I_M log2(D/S + 0.5); both from memory. A drag counts as two
// ways. Waiting for water, sun and clock, reading the question and doing the work on the roof are no handling.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "app/window_person.hpp"

namespace wm::app::testing {

struct Handling {
    int checks = 0, core_checks = 0;
    int observations = 0, readings = 0;  ///< of the core run
    double all_s = 0.0, core_s = 0.0;
    std::vector<std::string> excess;     ///< checks where an observation took more than one tap, or a reading more than digits and one
};

inline double way_s(const Deed& from, const Deed& to) {
    constexpr double a_bit = 0.12;
    const double distance = std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    const double size = std::max(1.0F, to.across_mm);
    return std::max(0.0, a_bit * std::log2(distance / size + 0.5));
}

[[nodiscard]] inline Handling handling_of(const desk::JobView& job, const std::vector<Deed>& deeds) {
    constexpr double prepare = 1.35, stroke = 0.28;
    struct At {
        double seconds = 0.0;
        int given = 0, digits = 0, others = 0;
    };
    std::map<std::string, At> at;
    const Deed* before = nullptr;
    for (const Deed& deed : deeds) {
        auto& here = at[deed.check];
        const bool first_here = before == nullptr || before->check != deed.check;
        const bool digit = deed.what.find("/keypad/") != std::string::npos && !deed.what.ends_with("/save");
        const bool gives = deed.what.ends_with("/save") || deed.what.starts_with("run/check/answers/") || deed.what == "run/check/yes" ||
                           deed.what == "run/check/no";
        if (digit) ++here.digits;
        else if (gives) ++here.given;
        else ++here.others;
        if (first_here) here.seconds += prepare;
        here.seconds += stroke;
        if (deed.kind == Deed::Kind::Tap && before != nullptr && before->kind == Deed::Kind::Tap) here.seconds += way_s(*before, deed);
        if (deed.kind == Deed::Kind::Drag) here.seconds += 2.0 * 1.1;
        before = &deed;
    }
    Handling told;
    for (const auto& [id, spent] : at) told.all_s += spent.seconds;
    for (const auto& check : job.checks) {
        if (!check.applies) continue;
        ++told.checks;
        const auto found = at.find(check.id);
        if (found == at.end() || !check.core) continue;
        ++told.core_checks;
        told.core_s += found->second.seconds;
        const bool number = found->second.digits > 0;
        (number ? told.readings : told.observations) += found->second.given;
        if (found->second.others > 0 && !check.deferral && (check.form == desk::EntryForm::YesNo || check.form == desk::EntryForm::Choice ||
                                         check.form == desk::EntryForm::Number))
            told.excess.push_back(fmt::format("{} ({} beside {} given)", check.id, found->second.others, found->second.given));
    }
    return told;
}

}  // namespace wm::app::testing
