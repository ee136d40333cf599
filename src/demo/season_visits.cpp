#include "demo/season_visits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

#include "units/calendar.hpp"

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

double zone_pressure(int street, Dice& dice) {
    const double mean = street < 2 ? 310.0 : street < 4 ? 420.0 : 540.0;
    return std::round(dice.normal(mean, 12.0));
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
    // Neighbours have one climate: only Dovetail Steps is free of frost, and every seventh home is direct.
    const bool sheltered = street == 3;
    house.direct = dice.happens(sheltered ? 0.75 : 0.0);
    house.frost_class = sheltered ? "none" : "regular";
    // Six homes of the cold hollow were surveyed as free of frost, and got the direct kind.
    if (plan.planted && hollow && week <= 6 && hollow_misread < 6 && dice.happens(0.7)) {
        ++hollow_misread;
        house.direct = true;
        house.frost_class = "none";
    }
    if (sheltered) house.t_min_c = 2.0;
    house.fluid = week >= 14 ? "concentrate" : "premix";
    house.fluid_batch = week >= 14 ? "PGC-0777" : "PG-0412";
    house.relief_batch = week >= 11 && week <= 17 && dice.happens(0.6) ? "RV-K17" : "RV-J04";
    return house;
}

}  // namespace

std::vector<Visit> visits_of(const SeasonPlan& plan) {
    Dice dice{plan.seed * 7919 + 17};
    std::vector<Visit> visits;
    // Dice of their own: what is left out moves nothing else of the season.
    Dice left_out{plan.seed * 6700417 + 41};
    int number = 100;
    int hollow_misread = 0;
    for (int week = 1; week <= plan.weeks; ++week) {
        const auto monday = units::day_after(plan.first_monday, 7 * (week - 1)).value_or(plan.first_monday);
        int in_week = 0;
        const double clear_share = 0.80 - 0.30 * (week - 1) / 25.0;
        for (int crew = 0; crew < 6; ++crew) {
            for (int left = dice.poisson(jobs_a_week[static_cast<std::size_t>(crew)]); left > 0; --left) {
                if (week == 10 && in_week >= 3) continue;  // the festival
                ++in_week;
                Visit visit;
                visit.week = week;
                visit.crew = crew;
                visit.house = house_for(++number, week, crew, plan, hollow_misread, dice);
                visit.clear = dice.happens(clear_share);
                visit.unlucky_home = week == 5 && crew == 0 && in_week == 1;
                visit.written_not_measured = dice.happens(0.4) && plan.planted && crew == 5 && week >= 9 && week <= 20;
                visit.forgotten = dice.happens(plan.planted && crew == 4 ? 0.40 : 0.05);
                visit.day = units::day_after(monday, static_cast<int>(dice.next() % 5)).value_or(monday);
                visit.ms_after_eight = static_cast<int>(dice.next() % 18'000'000);
                // 3 % of the summer's jobs; anyone forgets it now and then, in quiet seasons too (invented).
                visit.feed_left_out = visit.house.frost_class != "none" && left_out.happens(plan.planted && week < 12 ? 0.03 : 0.004);
                visits.push_back(std::move(visit));
            }
        }
    }
    std::stable_sort(visits.begin(), visits.end(), [](const Visit& a, const Visit& b) {
        return std::tie(a.day, a.ms_after_eight) < std::tie(b.day, b.ms_after_eight);
    });
    return visits;
}

double first_try_chance(const CheckShape& check, const Visit& visit, bool planted) {
    const auto id = check.id;
    const int crew = visit.crew + 1;
    double chance = check.number ? 0.020 : 0.010;
    if (check.positions > 0) chance = 1.0 - std::pow(1.0 - 0.004, static_cast<double>(check.positions));
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

double pressure_shown(const Visit& visit, bool planted, Dice& dice) {
    const double behind = std::min(visit.house.static_kpa, dice.normal(350.0, 12.0));
    const bool drifts = planted && visit.crew == 3 && visit.week >= 8 && visit.week < 22;
    return behind + dice.normal(0.0, 7.0) + (drifts ? 2.5 * (visit.week - 7) : 0.0);
}

std::string gauge_calibrated_on(const Visit& visit, const SeasonPlan& plan) {
    const auto crew = demo_crews()[static_cast<std::size_t>(visit.crew)];
    if (visit.crew != 3 || visit.week < 22) return crew.calibrated_on;
    return units::day_after(plan.first_monday, 7 * 21).value_or(crew.calibrated_on);
}

}  // namespace wm::demo
