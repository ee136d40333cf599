// A house with a call that is open and one that is closed.
#pragma once

#include <string>

#include "desk/complaint_view.hpp"

namespace wm::screens::testing {

inline desk::ComplaintSheetView some_complaints(const std::string& job) {
    const desk::CatchView feed{.check = "frost-cold-feed", .title = "Cold feed cannot freeze", .job = job, .state = "never read",
                               .words = "Cold feed cannot freeze: never read in " + job};
    const desk::CatchView drain{.check = "drain-low", .title = "Drain at the lowest point", .job = job, .state = "conforms",
                                .words = "Drain at the lowest point: conforms in " + job, .read_since = true};
    desk::ComplaintView open;
    open.complaint = "C-1A2B-00123";
    open.job = job;
    open.symptom = "no-water";
    open.symptom_words = "No water comes";
    open.at_once = "Leave the taps shut. Look for water outside and in the attic, and shut the main if something is wet.";
    open.words = "Nothing came out this morning, at noon it drips behind the shed";
    open.told_at = "2027-03-03T08:10:00+02:00";
    open.since = "2027-03-02";
    open.air = "-6 °C";
    open.age_days = 1;
    open.causes = {{.failure = "frost-cold-feed", .mode = "Frost burst the cold feed or the discharge",
                    .looks_like = "No water in the morning, and a drip at noon when it thaws.",
                    .cause = "A pipe lies bare, or holds water where it should have drained.", .share = 0.8,
                    .reasons = {"met 3 times where the rarest of the list is met once (common practice, no source)",
                                "× 4: \"Cold feed cannot freeze\" in " + job + " was never read (common practice, no source)"},
                    .checks = {feed, drain}, .look_also = "Three jobs at the coldest addresses."},
                   {.failure = "joint-weeps", .mode = "A joint weeps that passed its test", .looks_like = "Drops at a joint.",
                    .cause = "The gauge read wrongly.", .share = 0.2, .reasons = {}, .checks = {drain}, .look_also = ""}};
    open.repeat = {feed, drain};
    desk::ComplaintView closed;
    closed.complaint = "C-1A2B-00101";
    closed.job = job;
    closed.symptom = "wet";
    closed.symptom_words = "Something is wet, drips or has a stain";
    closed.told_at = "2027-01-03T08:10:00+02:00";
    closed.is_open = false;
    closed.found = "A vase fell over.";
    return {.job = job, .place = "Upper Sill", .customer = "Ansa Velmorrin",
            .symptoms = {{"no-water", "No water comes", open.at_once},
                         {"burst", "Something burst, or water sprays", "Shut the main, switch the electric heater off at its breaker, and keep away."},
                         {"cold-by-morning", "Warm in the evening, cold by the morning", ""},
                         {"moved", "The set, a pipe or a tile has moved or sags", "Let nobody stand below that edge of the roof."},
                         {"other", "Something else", ""}},
            .complaints = {open, closed},
            .weights = "The weights stand in failures.toml, version 1 of 2026-11-27: common practice, no source."};
}

}  // namespace wm::screens::testing
