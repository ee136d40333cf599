// Every screen on the panels crews carry: keys big enough for gloves, apart, no word cut off or too small to be read.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>

#include "screens/complaints_sample.hpp"
#include "screens/plan_sample.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

// Sizes of the glass from the diagonal and the ratio of the sides: 10.1 inch 16:10 is 217.5 x 136.0 mm,
// 15.6 inch 16:9 is 345.4 x 194.3 mm. Three densities of each.
struct Panel {
    std::string name;
    float width_px, height_px, width_mm;
};
const Panel panels[] = {
    {"10 inch standing, coarse", 800, 1280, 136.0F}, {"10 inch standing", 1200, 1920, 136.0F},
    {"10 inch standing, dense", 1600, 2560, 136.0F}, {"10 inch lying, coarse", 1280, 800, 217.5F},
    {"10 inch lying", 1920, 1200, 217.5F},           {"10 inch lying, dense", 2560, 1600, 217.5F},
    {"15 inch laptop, coarse", 1366, 768, 345.4F},   {"15 inch laptop", 1920, 1080, 345.4F},
    {"15 inch laptop, dense", 3840, 2160, 345.4F},
};

struct View {
    std::string name;
    std::function<void(Glass&)> open;
};

std::function<void(Glass&)> at_check(const char* id, RunMode mode = RunMode::Reading) {
    return [id, mode](Glass& glass) {
        glass.open_check(id);
        glass.drafts.run.mode = mode;
    };
}

void fill_in(Glass& glass, const char* text, measure::Outcome outcome, std::vector<std::string> warnings) {
    RunDraft& run = glass.drafts.run;
    run.value = text;
    (void)glass.frame();
    if (!run.asked) return;
    desk::Preview preview;
    preview.outcome = outcome;
    preview.why = "23.4 N·m lies above the upper limit of 22.0 N·m, by more than the doubt of the wrench.";
    preview.value = 23.4;
    preview.warnings = std::move(warnings);
    preview.needs_sure = !preview.warnings.empty();
    glass.world.preview = PreviewOf{*run.asked, preview};
}

std::function<void(Glass&)> with_complaints(ComplaintMode mode) {
    return [mode](Glass& glass) {
        glass.drafts.screen = Screen::Jobs;
        glass.world.complaints = testing::some_complaints("A-0116");
        auto& draft = glass.drafts.jobs.complaint;
        draft.is_open = true;
        draft.job = "A-0116";
        draft.mode = mode;
        draft.take.symptom = "burst";
        draft.close.complaint = "C-1A2B-00123";
        draft.close.visit = "A-0119";
    };
}

void run_a_series(Glass& glass) {
    SeriesRun run;
    run.job = glass.world.job->row.job;
    run.check = "test-hold";
    run.title = "Pressure holds for ten minutes";
    run.started_s = glass.world.moment.epoch_s - 260;
    run.every_s = 120;
    run.duration_s = 600;
    run.rows = {{5, {"478"}}, {126, {"478"}}};
    run.extras = {{"water start", "18.2"}, {"water end", ""}};
    glass.drafts.series = {run};
    glass.open_check("test-hold");
}

std::function<void(Glass&)> on(Screen screen) {
    return [screen](Glass& glass) { glass.drafts.screen = screen; };
}

/// Persons with PINs; `at_work` empty = locked.
void give_pins(Glass& glass, std::string at_work) {
    glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}, {"Ode Brannick", "installer", 0}, {"Sella Marrow", "lead", 0}};
    glass.world.lock.person = std::move(at_work);
}

void on_bench(Glass& glass, WorkshopPage page) {
    glass.world.registers = std::pair{desk::Register::Checklists, desk::RegisterTable{}};
    glass.world.list_draft = testing::list_draft();
    ++glass.world.list_draft_looks;
    glass.drafts.screen = Screen::Settings;
    glass.drafts.registers.shown = desk::Register::Checklists;
    glass.drafts.registers.workshop.list = "commissioning";
    glass.drafts.registers.workshop.page = page;
}

/// The pressure with three words that are said by saving it, and one part more.
void say_more(Glass& glass) {
    for (auto& check : glass.world.job->checks) {
        if (check.id != "test-pressure") continue;
        desk::PlaceView whole;
        whole.form = desk::EntryForm::Number;
        whole.unit = "kPa";
        check.places = {whole};
        for (const char* said : {"the roof is dry", "no ice on it", "no thunder about", ""}) {
            desk::PlaceView part;
            part.name = *said == '\0' ? "neutral-earth" : said + 3;
            part.question = "Is it so?";
            part.form = desk::EntryForm::YesNo;
            part.required = false;
            part.said = said;
            check.places.push_back(part);
        }
    }
    glass.open_check("test-pressure");
}

const View views[] = {
    {"a figure that says more", [](Glass& glass) { say_more(glass); }},
    {"a figure that says more, typed", [](Glass& glass) {
         say_more(glass);
         glass.drafts.run.value = "470";
     }},
    {"a figure that says more, asked about", [](Glass& glass) {
         say_more(glass);
         glass.drafts.run.value = "470";
         glass.drafts.run.said_asked = true;
     }},
    {"handed over", [](Glass& glass) {
         glass.world.job->signatures = {{"crew", "Tindo Quellaby", "2027-03-04T11:02:00+02:00", ""}, {"customer", "Ansa Velmorrin", "", "wants to wait"}};
         glass.world.job->handed_over_at = "2027-03-04 11:04";
         glass.world.report_file = "/home/crew/.local/share/witnessmark/reports/" + glass.world.job->row.job + ".pdf";
         glass.drafts.screen = Screen::SignOff;
     }},
    {"lock", [](Glass& glass) { give_pins(glass, ""); }},
    {"lock with letters", [](Glass& glass) {
         give_pins(glass, "");
         glass.drafts.lock.board.shown = true;
     }},
    {"lock that waits, beside a series", [](Glass& glass) {
         run_a_series(glass);
         give_pins(glass, "");
         glass.drafts.lock.name = "Ode Brannick";
         glass.drafts.lock.pin = "123456";
         glass.world.lock.people[1].not_before_s = glass.world.moment.epoch_s + 30;
     }},
    {"wipe lock with PINs", [](Glass& glass) {
         give_pins(glass, "Tindo Quellaby");
         glass.drafts.locked = true;
     }},
    {"workshop, form and text", [](Glass& glass) { on_bench(glass, WorkshopPage::Lines); }},
    {"workshop, the form alone", [](Glass& glass) { on_bench(glass, WorkshopPage::Form); }},
    {"workshop, checks", [](Glass& glass) { on_bench(glass, WorkshopPage::Checks); }},
    {"workshop, as it is seen", [](Glass& glass) { on_bench(glass, WorkshopPage::Seen); }},
    {"workshop, changes", [](Glass& glass) { on_bench(glass, WorkshopPage::Changes); }},
    {"workshop, the past", [](Glass& glass) { on_bench(glass, WorkshopPage::Past); }},
    {"PINs", [](Glass& glass) {
         give_pins(glass, "Tindo Quellaby");
         glass.drafts.screen = Screen::Settings;
         glass.drafts.access.shown = true;
     }},
    {"role of a person", [](Glass& glass) {
         give_pins(glass, "Tindo Quellaby");
         glass.drafts.screen = Screen::Settings;
         glass.drafts.access = {.shown = true, .step = AccessStep::Role, .name = "Orla Finch"};
     }},
    {"a new PIN", [](Glass& glass) {
         give_pins(glass, "Tindo Quellaby");
         glass.drafts.screen = Screen::Settings;
         glass.drafts.access = {.shown = true, .step = AccessStep::NewPin, .name = "Orla Finch", .role = "lead", .unequal = true};
     }},
    {"taking over", [](Glass& glass) {
         glass.open_check("test-pressure");
         glass.world.job->with = "Orla Finch";
     }},
    {"confirm", at_check("fall-protection")},
    {"choice that failed", at_check("discharge-pipe")},
    {"positions", at_check("anchor-torque")},
    {"quantity", at_check("test-pressure")},
    {"quantity with a value", [](Glass& glass) {
         glass.open_check("test-pressure");
         fill_in(glass, "1023.4", measure::Outcome::DoesNotConform, {});
     }},
    {"quantity with a warning", [](Glass& glass) {
         glass.open_check("anchor-torque");
         fill_in(glass, "234", measure::Outcome::DoesNotConform,
                 {"234 N·m is about ten times what is expected here, near 20 N·m: is the point in its place?"});
     }},
    {"quantity without a limit", at_check("coll-tilt")},
    {"put off", at_check("outlet-temp")},
    {"series before its start", at_check("test-hold")},
    {"series that runs", run_a_series},
    {"beside a running series", [](Glass& glass) {
         run_a_series(glass);
         glass.open_check("fall-protection");
     }},
    {"text", at_check("goods-scan")},
    {"photo", at_check("nut-marks")},
    {"nothing to enter", at_check("open-items")},
    {"signature", [](Glass& glass) {
         auto sign = testing::check("sign-customer", "O", "The customer signs", desk::EntryForm::Signature);
         glass.world.job->checks.push_back(sign);
         glass.open_check("sign-customer");
     }},
    {"conflict", [](Glass& glass) { testing::open_conflict(glass); }},
    {"correcting a choice", at_check("discharge-pipe", RunMode::Correcting)},
    {"correcting a number", at_check("coll-tilt", RunMode::Correcting)},
    {"picture for a reading", at_check("anchor-torque", RunMode::Photo)},
    {"more", at_check("roof-clear", RunMode::More)},
    {"parts from the store", [](Glass& glass) {
         desk::PickListView list;
         list.job = "A-0117";
         list.rows = {{.part = "fluid", .check = "kit-fluid", .check_title = "Antifreeze",
                       .name = "Inhibited propylene glycol, ready mixed, freezing at -18 °C or below", .note = "Sealed, in date, batch noted.",
                       .amount = "12.4 L", .how = {"content of the collector = 2 L"}, .missing = {}, .sources = {"S16"}},
                      {.part = "fixings", .check = "kit-fixings", .check_title = "Brackets and fixings", .name = "Brackets and fixings, stainless",
                       .note = "", .amount = "", .how = {}, .missing = {"design resistance of one fixing (sys.fix_kn)"}, .sources = {"S8"}}};
         list.instruments = {{"two-channel thermometer", {}}};
         glass.world.parts = list;
         at_check("roof-clear", RunMode::Parts)(glass);
     }},
    {"the days ahead", [](Glass& glass) {
         glass.drafts.screen = Screen::Jobs;
         const std::string today = glass.world.moment.now.substr(0, 10);
         glass.drafts.jobs.plan = {.is_open = true, .first = today, .asked = today};
         glass.world.plan = testing::a_day_plan(today);
     }},
    {"facts of the house", [](Glass& glass) {
         glass.world.job->unknown_facts = {{"customer.vulnerable", "", "small children, old or disabled people", false, "", {"yes", "no"}},
                                           {"sys.fix_kn", "", "design resistance of one fixing", false, "kN", {}}};
         at_check("roof-clear", RunMode::House)(glass);
     }},
    {"one fact of the house", [](Glass& glass) {
         glass.world.job->unknown_facts = {{"roof.covering", "", "covering of the roof", false, "", {"clay-tile", "concrete-tile", "slate"}}};
         at_check("roof-clear", RunMode::House)(glass);
         glass.drafts.run.house_fact = "roof.covering";
     }},
    {"one more instrument", at_check("anchor-torque", RunMode::Instrument)},
    {"a check that waits", [](Glass& glass) {
         for (auto& check : glass.world.job->checks)
             if (check.id == "test-pressure") check.waits_for = {"fall-protection", "power-locked"};
         at_check("test-pressure", RunMode::Reading)(glass);
     }},
    {"a number from before", [](Glass& glass) {
         at_check("anchor-torque", RunMode::Reading)(glass);
         glass.drafts.run.value = "19.5";
         glass.drafts.run.from_earlier = true;
     }},
    {"putting off", at_check("roof-clear", RunMode::Deferring)},
    {"conceding", at_check("roof-clear", RunMode::Conceding)},
    {"a missing fact", at_check("coll-tilt", RunMode::Facts)},
    {"near miss", at_check("roof-clear", RunMode::NearMiss)},
    {"leaving", at_check("roof-clear", RunMode::Leaving)},
    {"stages", at_check("roof-clear", RunMode::Stages)},
    {"plant", at_check("roof-clear", RunMode::Plant)},
    {"plant, two marks to choose from", [](Glass& glass) {
         at_check("roof-clear", RunMode::Plant)(glass);
         glass.drafts.run.plant.nearby = {"test-pressure", "test-hold"};
     }},
    {"why and how, with a sketch", at_check("anchor-torque", RunMode::Help)},
    {"what was entered", [](Glass& glass) {
         desk::ReadingView failed;
         failed.text = "12.5 N·m";
         failed.place = "1";
         failed.why = "Demanded is at least 20 N·m; that is less by 7.5 N·m.";
         failed.by = "Tindo Quellaby";
         failed.at = "2026-11-25 09:10";
         failed.done = "tightened again with the wrench of the second crew";
         for (auto& check : glass.world.job->checks)
             if (check.id == "anchor-torque") check.readings = {failed, failed};
         glass.open_check("anchor-torque");
         glass.drafts.run.mode = RunMode::Record;
     }},
    {"why and how, in words", at_check("roof-clear", RunMode::Help)},
    {"letters", [](Glass& glass) {
         glass.open_check("goods-scan");
         glass.drafts.board.shown = true;
     }},
    {"letters while correcting", [](Glass& glass) {
         glass.open_check("discharge-pipe");
         glass.drafts.run.mode = RunMode::Correcting;
         glass.drafts.board.shown = true;
     }},
    {"letters while putting off", [](Glass& glass) {
         glass.open_check("roof-clear");
         glass.drafts.run.mode = RunMode::Deferring;
         glass.drafts.board.shown = true;
     }},
    {"letters in the search", [](Glass& glass) {
         glass.drafts.screen = Screen::Jobs;
         glass.drafts.board.shown = true;
     }},
    {"letters while signing", [](Glass& glass) {
         glass.drafts.screen = Screen::SignOff;
         glass.drafts.board.shown = true;
     }},
    {"why a key is blocked", [](Glass& glass) {
         glass.open_check("fall-protection");
         glass.drafts.attention.why = "Wanted are cause and its words, what is done, by whom and by when.";
         glass.drafts.attention.why_until_s = glass.world.moment.monotonic_s + why_s;
     }},
    {"why a key is blocked, beside a running series", [](Glass& glass) {
         run_a_series(glass);
         glass.open_check("fall-protection");
         glass.drafts.attention.why = "Nothing failed here, so there is nothing to put right.";
         glass.drafts.attention.why_until_s = glass.world.moment.monotonic_s + why_s;
     }},
    {"photo with a picture chosen", [](Glass& glass) {
         glass.open_check("nut-marks");
         glass.drafts.run.photo_path = "pictures/090.jpg";
         glass.drafts.run.caption = "gutter clear";
     }},
    {"photo, the pictures in their turn", [](Glass& glass) {
         glass.open_check("nut-marks");
         glass.drafts.run.look_asked.shows_pictures = true;
     }},
    {"signs beside a running series", [](Glass& glass) {
         run_a_series(glass);
         glass.drafts.screen = Screen::SignOff;
     }},
    {"only looked at", [](Glass& glass) {
         glass.world.job->with = "Orla Finch";
         glass.world.lock.person = "Ode Brannick";
         glass.drafts.only_looked_at = "A-0117 by Ode Brannick";
         glass.open_check("test-pressure");
     }},
    {"number beside a running series", [](Glass& glass) {
         run_a_series(glass);
         glass.open_check("test-pressure");
     }},
    {"a problem", [](Glass& glass) {
         glass.open_check("anchor-torque");
         glass.world.problem = Problem{"The reading was not saved: the disk is full.", "data/journal",
                                       "Free some space, then save again."};
     }},
    {"locked", [](Glass& glass) { glass.drafts.locked = true; }},
    {"jobs", on(Screen::Jobs)},
    {"a customer calls", [](Glass& glass) {
         glass.drafts.screen = Screen::Jobs;
         glass.drafts.jobs.mode = JobsMode::Calling;
     }},
    {"calls from a house", with_complaints(ComplaintMode::Reading)},
    {"taking a call", with_complaints(ComplaintMode::Taking)},
    {"closing a complaint", with_complaints(ComplaintMode::Closing)},
    {"calls in the week", [](Glass& glass) {
         glass.drafts.screen = Screen::Week;
         glass.world.week->complaints = {{.job = "A-0116", .complaint = "C-1A2B-00123", .symptom = "no-water", .symptom_words = "No water comes",
                                          .told_on = "2027-03-03", .air = "-6 °C", .survey = "", .commissioning = "A-0116", .is_open = true,
                                          .age_days = 1, .unproved = {{"A-0116", "frost-cold-feed", "", "never read", 0, "Cold feed cannot freeze"}}}};
         glass.world.complaints = testing::some_complaints("A-0116");
         glass.drafts.week.complaint.is_open = true;
         glass.drafts.week.complaint.job = "A-0116";
     }},
    {"new job", [](Glass& glass) {
         glass.drafts.screen = Screen::Jobs;
         glass.drafts.jobs.mode = JobsMode::New;
     }},
    {"crew signs", on(Screen::SignOff)},
    {"customer does not sign", [](Glass& glass) {
         glass.drafts.screen = Screen::SignOff;
         glass.drafts.sign.role = desk::Signer::Customer;
         glass.drafts.sign.mode = SignMode::Refusing;
     }},
    {"outbox", on(Screen::Outbox)},
    {"week", on(Screen::Week)},
    {"a part of the week", [](Glass& glass) {
         glass.drafts.screen = Screen::Week;
         glass.drafts.week.filter.is_open = true;
         auto& choices = glass.world.week->choices;
         choices.crews = {{"Tindo Quellaby", "Tindo Quellaby"}, {"Jorvane Pellish", "Jorvane Pellish"}};
         choices.batches = {{"relief valve RV-K17", "relief valve RV-K17"}};
         choices.checks = {{"ins-ends", "Pipe ends closed against weather and birds"}};
     }},
    {"what stands on a tool", [](Glass& glass) {
         glass.drafts.screen = Screen::Week;
         glass.drafts.week.trace.is_open = true;
         glass.drafts.week.trace.asked.instrument = "PG-4";
         desk::TraceView trace;
         trace.kind = "instrument";
         trace.subject = "PG-4";
         trace.sentence = "41 readings in 39 jobs stand on PG-4.";
         trace.rows = {{"A-0110", "Upper Sill 3", "", "test-pressure", "Pressure of the test", "", "480 kPa", "2027-02-01", "conforms", true, "H"}};
         trace.jobs = {{"A-0110", "Upper Sill 3", "Ansa Velmorrin", "handed over", 2, 1, "A letter.", ""}};
         glass.world.trace = trace;
     }},
    {"settings", on(Screen::Settings)},
    {"a register", [](Glass& glass) {
         glass.drafts.screen = Screen::Settings;
         glass.drafts.registers.shown = desk::Register::Instruments;
         glass.drafts.registers.opened = "PG-1";
         glass.world.registers = std::pair{
             desk::Register::Instruments,
             desk::RegisterTable{{"instrument", "type", "state", "calibrated", "due", "jobs"},
                                 {{{"PG-1", "pressure gauge", "out of date since 2026-10-01", "2025-10-01", "2026-10-01", "12"},
                                   {"calibrated 2025-10-01, due 2026-10-01, certificate OC-PG-1; 12 jobs since J-BF1E-0001"}}}}};
     }},
    {"signing by name only", [](Glass& glass) {
         glass.drafts.screen = Screen::SignOff;
         glass.drafts.sign.role = desk::Signer::Customer;
         glass.drafts.sign.mode = SignMode::NameOnly;
     }},
    {"no job yet", [](Glass& glass) {
         glass.drafts.screen = Screen::Jobs;
         glass.world.jobs.clear();
         ++glass.world.jobs_look;
     }},
};

float least_mm(SpotKind kind) {
    switch (kind) {
        case SpotKind::Digit:
        case SpotKind::Answer:
            return 20.0F;
        case SpotKind::Key:
        case SpotKind::Field:
        case SpotKind::Pad:
            return 14.0F;
        case SpotKind::Pin:
            return 0.0F;
    }
    return 0.0F;
}

bool is_key(const Spot& spot) {
    return spot.kind != SpotKind::Pin && spot.reachable && spot.seen.w > 1.0F && spot.seen.h > 1.0F;
}

/// The wider of the two distances across and down; negative where the rectangles lie over each other.
float apart(const Rect& a, const Rect& b) {
    const float across = std::max(a.x - b.right(), b.x - a.right());
    const float down = std::max(a.y - b.bottom(), b.y - a.bottom());
    return std::max(across, down);
}

/// What is wrong with a frame, in words; the px of a millimetre are those of the panel, not those
/// the window shrank to.
std::vector<std::string> faults(Glass& glass, float px_per_mm) {
    std::vector<std::string> wrong;
    const float pixel = 1.0F / px_per_mm;
    const auto& spots = glass.probe.spots;
    const auto say = [&](const std::string& name, const char* what, float mm) {
        wrong.push_back(name + " " + what + " " + std::to_string(mm));
    };
    for (auto a = spots.begin(); a != spots.end(); ++a) {
        const Rect& at = a->second.rect;
        const float side = std::min(at.w, at.h) / px_per_mm;
        if (side < least_mm(a->second.kind) - pixel) say(a->first, "is too small, mm:", side);
        if (!is_key(a->second)) continue;
        const ImVec2 display = ImGui::GetIO().DisplaySize;
        if (a->second.seen.x < -1.0F || a->second.seen.right() > display.x + 1.0F ||
            a->second.seen.bottom() > display.y + 1.0F)
            say(a->first, "leaves the glass, mm:", at.right() / px_per_mm);
        for (auto b = std::next(a); b != spots.end(); ++b) {
            if (!is_key(b->second)) continue;
            const float gap = apart(a->second.seen, b->second.seen) / px_per_mm;
            if (gap < 3.0F - pixel) say(a->first + " and " + b->first, "stand too close, mm:", gap);
        }
    }
    for (const std::string& path : glass.probe.twice) wrong.push_back(path + " is there twice");
    for (const std::string& path : glass.probe.cut_off) wrong.push_back(path + " is cut off");
    return wrong;
}

bool is_question(const World& world, const std::string& words) {
    return world.job && std::any_of(world.job->checks.begin(), world.job->checks.end(),
                                    [&](const desk::CheckView& check) { return check.question == words; });
}

/// Words a task cannot be done without: the name of the check, what is asked, required and warned of, answers, the value, what
/// it would mean.
bool is_task_text(const Lettering& letters, const World& world) {
    for (const char* part : {"/title", "/answers/", "/value", "/meaning", "/yes", "/no"})
        if (letters.path.find(part) != std::string::npos) return true;
    if (!letters.path.ends_with("/check/about")) return false;
    for (const char* begin : {"Required", "If saved: ", "To do now: ", "Waits for ", "Cannot be judged yet: ", "⚠ "})
        if (letters.words.starts_with(begin)) return true;
    return is_question(world, letters.words);
}

float capital_mm(float size_px, float px_per_mm) {
    // DejaVu: line 1.164 em; capitals 1493 of 2048 units of the em.
    return size_px / 1.164F * 1493.0F / 2048.0F / px_per_mm;
}

/// Lettering that may be smaller than 2 mm capitals, and why.
struct Small {
    std::string_view path, words, why;  ///< parts of the path and the words; empty words are any
};
constexpr Small may_be_small[] = {
    {"/plant", "", "the plant in outline: to the scale of the drawing; the list beside it says the same"},
    {"/sheet", "", "the same drawing on a sheet of its own"},
    {"/help/", "", "sketches: to their scale; the words beneath say the same"},
    {"", "?", "the sign inside the shape of an outcome, whose word stands beside it"},
};

bool may_be_smaller(const Lettering& letters) {
    if (!letters.in_figure) return false;
    return std::any_of(std::begin(may_be_small), std::end(may_be_small), [&](const Small& one) {
        return letters.path.find(one.path) != std::string::npos && (one.words.empty() || letters.words == one.words);
    });
}

/// Sizes of the words of a view, by path and words; the least where they were drawn more than once.
using Sizes = std::map<std::pair<std::string, std::string>, float>;

Sizes sizes_of(const Probe& probe) {
    Sizes sizes;
    for (const Lettering& letters : probe.letters) {
        // Figures (scale, chart, plan of the plant) have the room that the words leave, and their own scale.
        if (letters.words.empty() || letters.in_figure) continue;
        const auto [at, is_new] = sizes.try_emplace({letters.path, letters.words}, letters.size_px);
        if (!is_new) at->second = std::min(at->second, letters.size_px);
    }
    return sizes;
}

/// What is too small, one line each, so that a run tells all of it at once.
struct TooSmall {
    std::set<std::string> lines;
    void add(const View& view, const std::string& path, const std::string& words, float mm, float least_mm) {
        lines.insert(fmt::format("{}: {} \"{}\": capitals {:.2f} mm, wanted {:.2f}", view.name, path, words, mm, least_mm));
    }
    [[nodiscard]] std::string told() const {
        std::string all;
        for (const std::string& line : lines) all += "\n" + line;
        return all;
    }
};

void look_at_letters(const Glass& glass, const View& view, float px_per_mm, TooSmall& too_small) {
    // Sizes of faces are whole pixels.
    const float pixel = 1.0F / px_per_mm;
    for (const Lettering& letters : glass.probe.letters) {
        if (letters.words.empty()) continue;
        const float mm = capital_mm(letters.size_px, px_per_mm);
        if (is_task_text(letters, glass.world) && mm < 4.4F - pixel) too_small.add(view, letters.path, letters.words, mm, 4.4F);
        // The least size is no whole pixel.
        if (mm < 2.0F - 0.01F && !may_be_smaller(letters)) too_small.add(view, letters.path, letters.words, mm, 2.0F);
    }
}

}  // namespace

TEST_CASE("on every panel, at every text size, every key of every view keeps its millimetres and no word is cut off") {
    for (const Panel& panel : panels) {
        const float px_per_mm = panel.width_px / panel.width_mm;
        std::map<std::string, Sizes> plain;
        for (const int percent : {100, 150, 200}) {
            CAPTURE(panel.name);
            CAPTURE(percent);
            Glass glass{panel.width_px, panel.height_px, {.px_per_mm = px_per_mm, .text_percent = percent}};
            CHECK(glass.dress.metrics.px_per_mm == doctest::Approx(px_per_mm).epsilon(0.001));
            const World sample = glass.world;
            TooSmall too_small;
            int compared = 0;
            int questions = 0;
            for (const View& view : views) {
                CAPTURE(view.name);
                glass.world = sample;
                glass.drafts = {};
                view.open(glass);
                (void)glass.frame();
                (void)glass.frame();
                for (const std::string& fault : faults(glass, px_per_mm)) {
                    CAPTURE(fault);
                    CHECK(fault.empty());
                }
                look_at_letters(glass, view, px_per_mm, too_small);
                const Sizes sizes = sizes_of(glass.probe);
                if (percent == 100) plain[view.name] = sizes;
                for (const auto& [words, size] : sizes) {
                    const auto before = plain[view.name].find(words);
                    if (percent == 100 || before == plain[view.name].end()) continue;
                    ++compared;
                    const bool asked = percent == 200 && words.first.ends_with("/check/about") && is_question(glass.world, words.second);
                    questions += asked ? 1 : 0;
                    // What is asked stands in prose, which scrolls: it really is twice as large. On a key that is full at 100 % larger
                    // letters break otherwise and may come a step or two lower; more would be a defect.
                    const float least = before->second * (asked ? 1.9F : 0.74F);
                    if (size < least - 0.5F)
                        too_small.add(view, words.first, words.second, capital_mm(size, px_per_mm), capital_mm(least, px_per_mm));
                }
            }
            CHECK_MESSAGE(too_small.lines.empty(), too_small.told());
            if (percent != 100) CHECK(compared > 500);
            if (percent == 200) CHECK(questions > 10);
        }
    }
}

TEST_CASE("in a window smaller than all keys need nothing lies over anything, and a sentence says how large the keys are") {
    constexpr float px_per_mm = 1280.0F / 217.5F;
    struct Small {
        float width_mm, height_mm;
        std::string says;  ///< 14 mm by what is there of 135 mm across or 200 mm along; empty where there is enough
    };
    for (const auto& [width_mm, height_mm, says] :
         {Small{217.5F, 120.0F, "Small window: keys of 12.4 mm."}, Small{217.5F, 100.0F, "Small window: keys of 10.4 mm."},
          Small{345.4F, 110.0F, "Small window: keys of 11.4 mm."}, Small{120.0F, 217.5F, "Small window: keys of 12.4 mm."},
          Small{108.0F, 170.0F, "Small window: keys of 11.2 mm."}, Small{217.5F, 135.2F, ""}}) {
        for (const int percent : {100, 200}) {
            CAPTURE(width_mm);
            CAPTURE(height_mm);
            CAPTURE(percent);
            Glass glass{std::round(width_mm * px_per_mm), std::round(height_mm * px_per_mm), {.px_per_mm = px_per_mm, .text_percent = percent}};
            const World sample = glass.world;
            for (const View& view : views) {
                CAPTURE(view.name);
                glass.world = sample;
                glass.drafts = {};
                view.open(glass);
                (void)glass.frame();
                (void)glass.frame();
                // In what a millimetre has become here. That keys are small is what the sentence says; upright, where eight stand
                // in a row that wants 135 mm, words may be cut off as well.
                for (const std::string& fault : faults(glass, glass.dress.metrics.px_per_mm)) {
                    if (fault.find(" is too small, mm: ") != std::string::npos || (width_mm < height_mm && fault.ends_with(" is cut off"))) continue;
                    CAPTURE(fault);
                    CHECK(fault.empty());
                }
            }
            glass.world = sample;
            glass.drafts = {};
            for (const Screen screen : {Screen::Jobs, Screen::Run, Screen::SignOff, Screen::Settings}) {
                glass.drafts.screen = screen;
                (void)glass.frame();
                (void)glass.frame();
                CHECK(glass.says(says.empty() ? "Kettlemark Row 12" : says));
                CHECK(glass.says("Small window") == !says.empty());
            }
            CHECK(glass.says("everything in it shrank") == !says.empty());
        }
    }
}
