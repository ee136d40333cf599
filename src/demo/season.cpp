#include "demo/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "units/reading.hpp"

namespace wm::demo {

namespace {

constexpr std::array<double, 6> jobs_a_week = {2.2, 2.0, 2.0, 1.9, 1.7, 1.9};
// Shares of tile, sheet, slab, slate.
constexpr std::array<std::array<double, 4>, 6> roof_mix = {{{60, 30, 10, 0},
                                                            {50, 40, 10, 0},
                                                            {50, 40, 10, 0},
                                                            {40, 40, 20, 0},
                                                            {35, 10, 0, 55},
                                                            {50, 40, 10, 0}}};
constexpr std::array<const char*, 5> streets = {"Kettlemark Row", "Upper Sill", "Lower Sill", "Dovetail Steps",
                                               "Millpond Hollow"};
constexpr std::array<const char*, 12> first_names = {"Ansa", "Borel", "Cissy", "Dunna", "Edrik", "Fennah",
                                                     "Goran", "Hesper", "Ivo", "Jessa", "Kolm", "Lune"};
constexpr std::array<const char*, 10> last_names = {"Velmorrin", "Tasker-Oon", "Brumwell", "Ostrander", "Quill",
                                                    "Haverstock", "Pennifold", "Murrow", "Sandiway", "Thrale"};

struct Visit {
    int week = 1;   ///< of the season, from 1
    int crew = 0;   ///< from 0
    House house;
    bool clear = true;
    bool unlucky_home = false;  ///< one bad delivery: seven failures, no pattern
};

double zone_pressure(int street, Dice& dice) {
    const double mean = street < 2 ? 310.0 : street < 4 ? 420.0 : 540.0;
    return std::round(dice.normal(mean, 12.0));
}

bool is_entry_like(const desk::CheckView& check) {
    return check.form != desk::EntryForm::None && check.form != desk::EntryForm::Signature;
}

House house_for(int number, int week, int crew, const SeasonPlan& plan, int& hollow_misread, Dice& dice) {
    House house;
    const auto street = static_cast<std::size_t>(dice.next() % streets.size());
    house.street = streets[street];
    const bool hollow = street == 4;
    house.serial = fmt::format("{:04}", number);
    house.customer = fmt::format("{} {}", first_names[dice.next() % first_names.size()], last_names[dice.next() % last_names.size()]);
    house.email = fmt::format("home{}@example.org", number);
    house.vulnerable = dice.happens(0.30);
    house.static_kpa = zone_pressure(static_cast<int>(street), dice);
    house.t_min_c = hollow ? -17.0 : -13.0;
    house.household = 2 + static_cast<int>(dice.next() % 4);
    const auto roof = dice.pick({roof_mix[static_cast<std::size_t>(crew)].begin(), roof_mix[static_cast<std::size_t>(crew)].end()});
    house.covering = std::array{"clay-tile", "metal-sheet", "flat-concrete", "slate"}[roof];
    house.mount = std::array{"roof hook", "seam clamp", "drilled", "roof hook"}[roof];
    house.slab = roof == 2;
    house.controller = std::array{"none", "temperature", "temperature-and-timer"}[dice.pick({40, 25, 35})];
    house.direct = dice.happens(0.15);
    house.frost_class = house.direct ? "none" : "regular";
    // Six homes of the cold hollow were surveyed as free of frost, and got the direct kind.
    if (plan.planted && hollow && week <= 6 && hollow_misread < 6 && dice.happens(0.7)) {
        ++hollow_misread;
        house.direct = true;
        house.frost_class = "none";
    }
    if (house.direct && house.frost_class == "none") house.t_min_c = hollow ? -17.0 : 2.0;
    house.fluid = week >= 14 ? "concentrate" : "premix";
    house.fluid_batch = week >= 14 ? "PGC-0777" : "PG-0412";
    house.relief_batch = week >= 11 && week <= 17 && dice.happens(0.6) ? "RV-K17" : "RV-J04";
    return house;
}

// The chance that a check fails at the first try.
double chance_of(const desk::CheckView& check, const Visit& visit, const SeasonPlan& plan) {
    const std::string& id = check.id;
    const bool planted = plan.planted;
    const int crew = visit.crew + 1;
    double chance = check.form == desk::EntryForm::Number ? 0.020 : 0.010;
    if (!check.places.empty() && check.kind == "positions") {
        const auto n = std::count_if(check.places.begin(), check.places.end(), [](const auto& p) { return p.required; });
        chance = 1.0 - std::pow(1.0 - 0.004, static_cast<double>(n));
    }
    if (id == "ins-ends") chance = planted && crew == 3 ? 0.32 : 0.05;
    if (id == "coll-tilt") chance = 0.03;
    if (id == "coll-azimuth" || id == "pressure-limit-set" || id == "frost-cold-feed") chance = 0.04;
    if (id == "relief-lever") chance = planted && visit.house.relief_batch == "RV-K17" ? 0.20 : 0.015;
    if (id == "loop-freeze-point") chance = planted && visit.week >= 14 && crew != 1 ? 0.20 : 0.03;
    if (id == "outlet-temp") chance = planted && crew == 2 && visit.house.vulnerable ? 0.55 : 0.03;
    if (id == "covering-back") chance = visit.house.covering == "slate" ? 0.15 : 0.03;
    if (visit.unlucky_home && (id == "hook-gap" || id == "coll-cross-rise" || id == "tank-level" || id == "ins-wall" ||
                               id == "air-purged" || id == "element-res" || id == "drain-low"))
        chance = 1.0;
    // Nobody climbs a roof in a storm or works on a live heater: those stay as they should be.
    if (id == "site-weather" || id == "power-locked" || id == "fall-protection") chance = 0.002;
    return chance;
}

// Wanted by the fast run, and what carries the patterns.
bool is_done(const desk::CheckView& check) {
    return check.core || check.hold || check.id == "frost-cold-feed" || check.id == "hook-gap" ||
           check.id == "element-res" || check.id == "drain-low" || check.id == "ins-wall";
}

struct Work {
    desk::Desk& desk;
    DemoClock& clock;
    const SeasonPlan& plan;
    Dice& dice;
    SeasonDone done;
    std::uint64_t pictures = 0;
};

std::string with_drift(const std::string& text, double drift) {
    const auto entered = units::read_any_amount(text, "");
    if (!entered) return text;
    return fmt::format("{} kPa", units::print_number(entered->value + drift, 0));
}

std::vector<desk::TakeReading> readings_for(Work& work, const std::string& job, const desk::CheckView& check,
                                            const Visit& visit, Wish wish) {
    std::vector<desk::TakeReading> readings;
    const bool written_not_measured = work.plan.planted && visit.crew == 5 && visit.week >= 9 && visit.week <= 20 &&
                                      visit.house.serial.back() < '4';
    for (auto& entry : entries_for(check, wish, work.dice)) {
        if (written_not_measured && check.id == "anchor-torque") entry.text = "20.0 N·m";
        // PG-4 reads more and more too high; it was put right in week 22.
        if (work.plan.planted && visit.crew == 3 && visit.week >= 8 && visit.week < 22 &&
            check.instrument_type == "pressure gauge" && check.form == desk::EntryForm::Number && wish == Wish::Right)
            entry.text = with_drift(entry.text, 2.5 * (visit.week - 7) * 0.2);
        const double pause = written_not_measured && check.id == "anchor-torque"
                                 ? 1000.0 + 2000.0 * work.dice.uniform()
                                 : 14000.0 * std::exp(work.dice.normal(0.0, 0.5));
        work.clock.pass(static_cast<std::int64_t>(pause));
        readings.push_back({.job = job, .check = check.id, .place = entry.place, .text = entry.text, .instrument = "",
                            .photo = std::nullopt, .photo_name = "", .caption = "",
                            .read_at = desk::text_of(work.clock.now()), .by = "", .sure = true});
        // A season of photographs would only fill the disk; where the photo itself is the answer, a small one.
        if (check.kind == "photo") {
            const bool again = written_not_measured && work.dice.happens(0.3);
            readings.back().photo = picture_of(check.id, again ? 1 : ++work.pictures);
            readings.back().photo_name = check.id + ".jpg";
        }
    }
    return readings;
}

Result<void> settle(Work& work, const std::string& job, const desk::CheckView& check, const Visit& visit) {
    const double fate = work.dice.uniform();
    if (fate > 0.95 && check.severity != "H" && !check.hold) {
        if (fate > 0.97) {
            if (auto ok = work.desk.carry_out(desk::ConcedeCheck{job, check.id, "Odrun Vassamy", "Accepted for this house"}); !ok)
                return tl::unexpected(ok.error());
        }
        return {};
    }
    work.clock.pass(300'000);
    for (const auto& reading : readings_for(work, job, check, visit, Wish::Right)) {
        const auto answer = work.desk.carry_out(desk::CorrectFault{reading, "Put right and measured again"});
        // Only the failed place has something to correct.
        if (!answer && answer.error().kind != ProblemKind::Refused) return tl::unexpected(answer.error());
    }
    return {};
}

Result<void> do_check(Work& work, const std::string& job, const desk::CheckView& check, const Visit& visit) {
    const bool sun = check.id == "sun-window" || check.id == "temp-rise";
    if (check.id == "day-after" || (sun && !visit.clear)) {
        if (check.defer_reasons.empty()) return {};
        const auto until = desk::day_after(desk::day_of(work.clock.now()), check.id == "day-after" ? 6 : 13).value_or("");
        if (auto ok = work.desk.carry_out(desk::DeferCheck{job, check.id, until, demo_crews()[static_cast<std::size_t>(visit.crew)].lead,
                                                           "No clear sky today"});
            !ok)
            return tl::unexpected(ok.error());
        return {};
    }
    const Wish wish = work.dice.happens(chance_of(check, visit, work.plan)) ? Wish::Wrong : Wish::Right;
    bool failed = false;
    for (const auto& reading : readings_for(work, job, check, visit, wish)) {
        const auto answers = work.desk.carry_out(reading);
        if (!answers) return tl::unexpected(answers.error());
        ++work.done.readings;
        for (const auto& answer : *answers) {
            failed = failed || answer.place_outcome == desk::Outcome::DoesNotConform;
            work.done.failed += answer.place_outcome == desk::Outcome::DoesNotConform ? 1 : 0;
            work.done.inconclusive += answer.place_outcome == desk::Outcome::Inconclusive ? 1 : 0;
        }
    }
    if (failed) return settle(work, job, check, visit);
    return {};
}

Result<void> do_visit(Work& work, const Visit& visit) {
    const auto crew = demo_crews()[static_cast<std::size_t>(visit.crew)];
    const auto job = work.desk.carry_out(desk::OpenJob{.checklist = "commissioning",
                                                       .facts_text = facts_text(visit.house, crew),
                                                       .facts_name = "season facts", .after = "", .practice = false});
    if (!job) return tl::unexpected(job.error());
    ++work.done.jobs;
    const auto view = work.desk.job_view(*job);
    if (!view) return tl::unexpected(view.error());
    for (const auto& check : view->checks) {
        const bool sun = check.id == "temp-rise";
        if ((!check.applies && !sun) || !is_entry_like(check) || !is_done(check)) continue;
        if (auto ok = do_check(work, *job, check, visit); !ok) return ok;
    }
    // Deferrals that somebody looks after are closed within two weeks; one crew forgets many.
    if (!visit.clear) {
        const double forgotten = work.plan.planted && visit.crew == 4 ? 0.40 : 0.05;
        if (!work.dice.happens(forgotten)) {
            work.clock.pass(9LL * 86400 * 1000);
            auto later = visit;
            later.clear = true;
            for (const char* id : {"sun-window", "temp-rise"}) {
                const auto now = work.desk.job_view(*job);
                if (!now) return tl::unexpected(now.error());
                for (const auto& check : now->checks)
                    if (check.id == id)
                        if (auto ok = do_check(work, *job, check, later); !ok) return ok;
            }
        }
    }
    return {};
}

}  // namespace

Result<SeasonDone> make_season(desk::Desk& desk, DemoClock& clock, const SeasonPlan& plan,
                               const std::function<void(int week)>& progress) {
    Dice dice{plan.seed * 7919 + 17};
    Work work{desk, clock, plan, dice, {}, 1000};
    int number = 100;
    int hollow_misread = 0;
    for (int week = 1; week <= plan.weeks; ++week) {
        progress(week);
        const auto monday = desk::day_after(plan.first_monday, 7 * (week - 1)).value_or(plan.first_monday);
        int in_week = 0;
        const double clear_share = 0.80 - 0.30 * (week - 1) / 25.0;
        for (int crew = 0; crew < 6; ++crew) {
            int visits = dice.poisson(jobs_a_week[static_cast<std::size_t>(crew)]);
            for (; visits > 0; --visits) {
                if (week == 10 && in_week >= 3) continue;  // the festival
                ++in_week;
                Visit visit{.week = week, .crew = crew, .house = house_for(++number, week, crew, plan, hollow_misread, dice),
                            .clear = dice.happens(clear_share), .unlucky_home = week == 5 && crew == 0 && in_week == 1};
                const auto day = desk::day_after(monday, static_cast<int>(dice.next() % 5)).value_or(monday);
                const auto start = desk::read_moment(day + "T08:00:00+05:00");
                clock.set({start->wall_ms + static_cast<std::int64_t>(dice.next() % 18'000'000), 300});
                if (auto ok = do_visit(work, visit); !ok) return tl::unexpected(ok.error());
            }
        }
    }
    work.done.first_week = desk::week_of(plan.first_monday).value_or("");
    work.done.last_week = desk::week_of(desk::day_after(plan.first_monday, 7 * (plan.weeks - 1)).value_or("")).value_or("");
    return work.done;
}

}  // namespace wm::demo
