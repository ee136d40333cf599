#include "demo/drawn_season.hpp"

#include <fmt/format.h>

#include <array>

#include "demo/season_complaints.hpp"
#include "units/calendar.hpp"

namespace wm::demo {

namespace {

enum class Where { Everywhere, Indirect, Frost, Hooks, Drilled, ClearDay };
struct Drawn {
    CheckShape shape;
    Where where = Where::Everywhere;
};

// What a job of the season has results of, by the commissioning list (invented jobs, no source).
constexpr std::array<Drawn, 71> drawn_checks = {{
    {{"air-purged", true}}, {{"anchor-pull", true, 4}, Where::Drilled}, {{"anchor-torque", true, 4}},
    {{"bonding-pipes", true}}, {{"clock-checked", true}}, {{"cold-failure", true}}, {{"coll-azimuth", true}},
    {{"coll-clamps", true, 4}}, {{"coll-cross-rise", true}}, {{"coll-tilt", true}}, {{"collector-covered"}},
    {{"covering-back"}}, {{"customer-shown"}}, {{"cutout-works"}}, {{"discharge-pipe"}}, {{"drain-low"}},
    {{"earth-continuity", true}}, {{"earth-loop", true, 2}}, {{"element-res", true}}, {{"fall-protection"}},
    {{"fill-order"}, Where::Indirect}, {{"fluid-id"}, Where::Indirect}, {{"flush-fill"}},
    {{"frost-cold-feed"}, Where::Frost}, {{"goods-scan"}}, {{"heater-filled"}}, {{"hole-flashed"}},
    {{"hook-gap", true, 4}, Where::Hooks}, {{"hot-pipe-material"}}, {{"ins-ends", false, 4}}, {{"ins-uv"}},
    {{"ins-wall", true, 2}}, {{"insulation-res", true}}, {{"jacket-relief"}, Where::Indirect},
    {{"joints-dry", false, 9}}, {{"loop-freeze-point", true}, Where::Indirect}, {{"loop-joints"}},
    {{"loop-rise", true, 2}}, {{"loop-test-hold"}, Where::Indirect}, {{"loop-test-pressure", true}, Where::Indirect},
    {{"members-found", false, 4}}, {{"non-return"}}, {{"nut-marks"}}, {{"outlet-temp", true, 3}},
    {{"power-locked", true}}, {{"pressure-limit-set", true}}, {{"rcd-trip", true}}, {{"rcd-trip-5", true}},
    {{"relief-capacity", true}}, {{"relief-lever"}}, {{"relief-rating", true}}, {{"relief-unblocked"}},
    {{"rescue-plan"}}, {{"roof-as-surveyed"}}, {{"roof-clear"}}, {{"site-weather", true}},
    {{"sun-window"}, Where::ClearDay}, {{"tank-level", true}}, {{"tank-over-coll", true}}, {{"tank-ports"}},
    {{"tap-retest", true, 3}}, {{"temp-rise"}, Where::ClearDay}, {{"tempering-fitted"}}, {{"test-hold"}},
    {{"test-pressure", true}}, {{"thermostat-60", true}}, {{"tp-relief"}}, {{"vacuum-break"}}, {{"valve-order"}},
    {{"water-off"}}, {{"ladder-set", true}},
}};

bool is_there(Where where, const Visit& visit) {
    switch (where) {
        case Where::Everywhere: return true;
        case Where::Indirect: return !visit.house.direct;
        case Where::Frost: return visit.house.frost_class != "none";
        case Where::Hooks: return visit.house.mount == "roof hook";
        case Where::Drilled: return visit.house.mount == "drilled";
        case Where::ClearDay: return visit.clear || !visit.forgotten;
    }
    return false;
}

audit::JobCard card_of(const Visit& visit, std::size_t number) {
    const auto& house = visit.house;
    audit::JobCard card;
    card.job = fmt::format("D-{:04}", number + 1);
    card.crew = demo_crews()[static_cast<std::size_t>(visit.crew)].lead;
    card.street = house.street;
    card.roof = house.covering;
    card.system = house.direct ? "direct" : "indirect";
    card.vulnerable = house.vulnerable;
    card.day = visit.day;
    card.week = units::week_of(visit.day).value_or("");
    card.batches = {{"relief valve", house.relief_batch}, {"limiting valve", house.limit_batch},
                    {"tempering valve", house.tempering_batch}, {"roof hook", house.hook_batch}};
    if (!house.direct) {
        card.batches.emplace("fluid", house.fluid_batch);
        card.batches.emplace("fluid kind", house.fluid);
    }
    card.kind = "commissioning";
    card.frost_class = house.frost_class;
    return card;
}

// `photo` is the last one the crew took, and becomes the one of this job.
audit::JobTrace drawn_trace(const Visit& visit, std::size_t job, std::string& photo, Dice& dice) {
    audit::JobTrace trace{.job = job, .entries = 100, .hasty = 0, .alike = {}, .photos = {}};
    // A pause of 14 s, spread 0.5 in the logarithm, is under 4 s in 0.6 % of cases.
    trace.hasty = dice.poisson(0.6);
    bool again = false;
    if (visit.written_not_measured) {
        trace.hasty += 3;
        trace.alike.push_back("anchor-torque");
        again = dice.happens(0.06);
    }
    if (!again || photo.empty()) photo = fmt::format("{}", job);
    trace.photos.push_back({"nut-marks", photo});
    return trace;
}

void add_deferrals(audit::AuditTable& table, const Visit& visit, std::size_t job) {
    if (visit.clear) return;
    for (const char* id : {"sun-window", "temp-rise"})
        table.deferrals.push_back({.job = job, .check = id, .owner = table.jobs[job].crew, .since = visit.day,
                                   .until = units::day_after(visit.day, 13).value_or(""),
                                   .closed = visit.forgotten ? "" : units::day_after(visit.day, 9).value_or("")});
}

}  // namespace

audit::AuditTable drawn_season(const SeasonPlan& plan) {
    Dice dice{plan.seed * 104729 + 71};
    audit::AuditTable table;
    std::array<std::string, 6> last_photo;
    const auto visits = visits_of(plan);
    for (const auto& visit : visits) {
        const std::size_t job = table.jobs.size();
        table.jobs.push_back(card_of(visit, job));
        for (const auto& check : drawn_checks) {
            if (!is_there(check.where, visit)) continue;
            const bool late = check.where == Where::ClearDay && !visit.clear;
            const bool failed = dice.happens(first_try_chance(check.shape, visit, plan.planted));
            if (visit.feed_left_out && check.shape.id == "frost-cold-feed") continue;
            table.results.push_back({.job = job, .check = std::string{check.shape.id}, .failed = failed,
                                     .inconclusive = false, .corrected = failed, .outcome = "conforms",
                                     .day = late ? units::day_after(visit.day, 9).value_or("") : visit.day});
        }
        table.gauges.push_back({.job = job, .check = "pressure-limit-set",
                                .instrument = demo_crews()[static_cast<std::size_t>(visit.crew)].pressure,
                                .kpa = pressure_shown(visit, plan.planted, dice), .day = visit.day,
                                .calibrated = gauge_calibrated_on(visit, plan)});
        add_deferrals(table, visit, job);
        table.traces.push_back(drawn_trace(visit, job, last_photo[static_cast<std::size_t>(visit.crew)], dice));
    }
    for (const auto& call : calls_of(plan, visits)) {
        table.complaints.push_back({.job = call.visit, .complaint = fmt::format("C-{:04}", table.complaints.size() + 1), .symptom = call.symptom,
                                    .day = call.day, .air = fmt::format("{} °C", call.air_c), .frost = call.air_c <= 0,
                                    .closed = call.cure ? call.cure->day : "", .cause = call.cure ? call.cure->cause : ""});
        // What was never read is read at the cure; of all else the first reading counts.
        if (call.cure && call.cure->check == "frost-cold-feed" && visits[call.visit].feed_left_out)
            table.results.push_back({.job = call.visit, .check = call.cure->check, .failed = false, .inconclusive = false, .corrected = false,
                                     .outcome = "conforms", .day = call.cure->day});
    }
    return table;
}

audit::SymptomLinks drawn_links() {
    // failures.toml as far as these checks go.
    return {
        {"no-hot-water", "loop-rise", false}, {"no-hot-water", "coll-cross-rise", false},
        {"no-hot-water", "air-purged", false}, {"no-hot-water", "temp-rise", false}, {"lukewarm", "loop-rise", false},
        {"lukewarm", "coll-cross-rise", false}, {"lukewarm", "air-purged", false}, {"lukewarm", "temp-rise", false},
        {"noise", "loop-rise", false}, {"noise", "coll-cross-rise", false}, {"noise", "air-purged", false},
        {"noise", "temp-rise", false}, {"no-hot-water", "tank-ports", false}, {"lukewarm", "tank-ports", false},
        {"bill", "tank-ports", false}, {"bill", "temp-rise", false}, {"cold-by-morning", "tank-over-coll", true},
        {"lukewarm", "tank-over-coll", true}, {"bill", "tank-over-coll", true}, {"lukewarm", "coll-tilt", false},
        {"lukewarm", "coll-azimuth", false}, {"bill", "coll-tilt", false}, {"bill", "coll-azimuth", false},
        {"moved", "members-found", false}, {"moved", "anchor-torque", false}, {"wet", "members-found", false},
        {"wet", "anchor-torque", false}, {"moved", "nut-marks", false}, {"noise", "anchor-torque", false},
        {"noise", "nut-marks", false}, {"wet", "hook-gap", false}, {"wet", "hole-flashed", false},
        {"wet", "covering-back", false}, {"runs-outside", "discharge-pipe", false}, {"too-hot", "discharge-pipe", false},
        {"burst", "relief-unblocked", false}, {"burst", "relief-lever", false}, {"runs-outside", "pressure-limit-set", false},
        {"runs-outside", "relief-lever", false}, {"wet", "pressure-limit-set", false}, {"wet", "relief-lever", false},
        {"water-bill", "pressure-limit-set", false}, {"water-bill", "relief-lever", false}, {"moved", "vacuum-break", false},
        {"wet", "vacuum-break", false}, {"fluid", "fill-order", false}, {"wet", "fill-order", false},
        {"runs-outside", "jacket-relief", false}, {"runs-outside", "customer-shown", false}, {"fluid", "jacket-relief", false},
        {"fluid", "customer-shown", false}, {"too-hot", "jacket-relief", false}, {"too-hot", "customer-shown", false},
        {"burst", "loop-freeze-point", true}, {"wet", "loop-freeze-point", true}, {"no-hot-water", "loop-freeze-point", true},
        {"no-water", "frost-cold-feed", true}, {"no-water", "drain-low", true}, {"no-water", "ins-ends", true},
        {"burst", "frost-cold-feed", true}, {"burst", "drain-low", true}, {"burst", "ins-ends", true},
        {"wet", "frost-cold-feed", true}, {"wet", "drain-low", true}, {"wet", "ins-ends", true},
        {"lukewarm", "ins-ends", true}, {"covering", "ins-ends", true}, {"cold-by-morning", "ins-ends", true},
        {"covering", "ins-uv", false}, {"lukewarm", "ins-uv", false}, {"too-hot", "tempering-fitted", false},
        {"too-hot", "outlet-temp", false}, {"too-hot", "tap-retest", false}, {"burst", "hot-pipe-material", false},
        {"wet", "hot-pipe-material", false}, {"no-hot-water", "thermostat-60", false}, {"no-hot-water", "cutout-works", false},
        {"electric", "thermostat-60", false}, {"electric", "cutout-works", false}, {"no-hot-water", "heater-filled", false},
        {"no-hot-water", "power-locked", false}, {"no-hot-water", "element-res", false}, {"electric", "heater-filled", false},
        {"electric", "power-locked", false}, {"electric", "element-res", false}, {"electric", "earth-continuity", false},
        {"electric", "bonding-pipes", false}, {"electric", "insulation-res", false}, {"electric", "rcd-trip", false},
        {"lukewarm", "thermostat-60", false}, {"wet", "test-hold", false}, {"wet", "joints-dry", false},
        {"wet", "loop-test-hold", false}, {"water-bill", "test-hold", false}, {"water-bill", "joints-dry", false},
        {"water-bill", "loop-test-hold", false},
    };
}

audit::CheckCards drawn_cards() {
    audit::CheckCards cards;
    for (const auto& check : drawn_checks) cards.emplace(std::string{check.shape.id}, audit::CheckCard{});
    return cards;
}

}  // namespace wm::demo
