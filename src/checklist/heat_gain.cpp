#include "checklist/heat_gain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checklist/conventions.hpp"
#include "plant/derived.hpp"
#include "units/reading.hpp"

namespace wm::checklist {

namespace {

// Common practice, no source: what a warm-up of an hour or two is doubted by.
constexpr double metal_j_per_kg_k = 480.0;   // steel, handbook, from memory
constexpr double metal_unknown_j_k = 20'000.0;
constexpr double loss_doubt = 0.33;          // as a share
constexpr double sun_doubt = 0.05;           // as a share: a hand-held meter of 10 % (k = 2)
constexpr double fluid_doubt_k = 2.0;

std::optional<double> fact(const Context& context, std::string_view key) {
    const auto amount = context.facts.number(key);
    return amount ? std::optional{amount->si} : std::nullopt;
}

double mean_of(const std::vector<units::Amount>& row) {
    double sum = 0.0;
    for (const auto& amount : row) sum += amount.si;
    return sum / static_cast<double>(row.size());
}

std::string words_of(const plant::Balance& balance, double least) {
    const auto percent = [](double share) { return units::print_number(std::round(100.0 * share), 0); };
    const std::string found = fmt::format(
        "The store took up {} W; this collector should give {} W. That is {} % of it, with a standard uncertainty of {} %.",
        units::print_number(balance.measured.si(), 0), units::print_number(balance.expected.si(), 0),
        percent(balance.ratio), percent(balance.uncertainty));
    switch (balance.verdict) {
        case plant::BalanceVerdict::Conforms:
            return found + fmt::format(" {} % is asked for.", percent(least));
        case plant::BalanceVerdict::DoesNotConform:
            return found + fmt::format(" {} % is asked for: the set gains too little.", percent(least));
        case plant::BalanceVerdict::Inconclusive:
            return found + fmt::format(" {} % is asked for, so these readings cannot tell: let it warm for longer.",
                                       percent(least));
    }
    return found;
}

std::vector<std::string> derivation_of_gain(const plant::SolarStore& store) {
    const auto text = [](double value, int decimals) { return units::print_number(value, decimals); };
    return {fmt::format("heat capacity of the store: {} kJ/K", text(store.capacity.si() / 1000.0, 0)),
            fmt::format("collector: {} m², optical efficiency {}, loss {} W/(m² K) and {} W/(m² K²)",
                        text(store.collector.si(), 2), text(store.curve.optical, 3), text(store.curve.loss.si(), 2),
                        text(store.curve.quadratic_loss.si(), 4)),
            fmt::format("heat loss of the store: {} W/K", text(store.loss.si(), 1)),
            "taken up = capacity × rise / time + loss × (mean store − air); should give = area × "
            "(optical × sun − losses of the collector at the mean store and half the loop's rise); equation and source: "
            "work-out heat-balance"};
}

}  // namespace

tl::expected<plant::SolarStore, Missing> solar_store_of(const Context& context) {
    Missing missing;
    for (const auto* key : {"sys.coll_m2", "sys.tank_l"})
        if (!context.facts.knows(key)) missing.facts.emplace_back(key);
    if (!missing.none()) return tl::unexpected(missing);
    const auto by = conventions_of(context.library);
    const auto dry = fact(context, "sys.tank_dry_kg");
    // A litre of water or mixture counts as one kilogram of water.
    const double litres = 1000.0 * (*fact(context, "sys.tank_l") + fact(context, "sys.coll_l").value_or(0.0) +
                                    fact(context, "sys.jacket_l").value_or(0.0));
    const auto capacity =
        plant::store_capacity(units::Mass::from_si(litres),
                              units::HeatCapacity::from_si(dry ? *dry * metal_j_per_kg_k : metal_unknown_j_k));
    if (!capacity) {
        missing.trouble = capacity.error().what;
        return tl::unexpected(missing);
    }
    // Losses belong to the optical efficiency of the same sheet: one alone is not mixed with a convention.
    const auto optical = fact(context, "sys.coll_eta0");
    const auto loss = fact(context, "sys.coll_a1");
    plant::CollectorCurve curve{by.collector_optical, by.collector_loss, by.collector_quadratic_loss};
    if (optical && loss)
        curve = {*optical, plant::LossCoefficient::from_si(*loss),
                 plant::QuadraticLossCoefficient::from_si(fact(context, "sys.coll_a2").value_or(0.0))};
    const auto ua = fact(context, "sys.ua_wk");
    return plant::SolarStore{.capacity = *capacity,
                             .collector = units::Area::from_si(*fact(context, "sys.coll_m2")),
                             .curve = curve,
                             .loss = ua ? units::Conductance::from_si(*ua) : by.store_loss,
                             .fluid_over_store = units::kelvins(0.0),
                             .sun = units::Irradiance::from_si(0.0),
                             .air = units::Temperature::celsius(20.0)};
}

tl::expected<std::optional<HeatGain>, Missing> heat_gain_of(const Check& check, const Answer& answer,
                                                            const Judged& rise, const Context& context) {
    if (std::find(check.works_out.begin(), check.works_out.end(), WorkedOut::HeatGain) == check.works_out.end())
        return std::nullopt;
    const auto sun = answer.extras.find("sun");
    const auto air = answer.extras.find("air");
    if (!check.series || !answer.points || !rise.measured || !rise.uncertainty || sun == answer.extras.end() ||
        air == answer.extras.end())
        return std::nullopt;
    const auto set = solar_store_of(context);
    if (!set) return tl::unexpected(set.error());
    const auto by = conventions_of(context.library);
    auto store = *set;
    store.sun = units::Irradiance::from_si(sun->second.si);
    store.air = units::Temperature::kelvin(air->second.si);
    const auto loop = plant::expected_loop_rise(store.sun, by);
    const auto trouble = [](const Problem& problem) {
        Missing missing;
        missing.trouble = problem.what;
        return tl::unexpected(missing);
    };
    if (!loop) return trouble(loop.error());
    store.fluid_over_store = *loop * 0.5;
    const auto& points = *answer.points;
    const double of_difference = *rise.uncertainty / 2.0;
    const auto balance = plant::heat_balance(
        {.store = store,
         .start = units::Temperature::kelvin(mean_of(points.rows.front())),
         .end = units::Temperature::kelvin(mean_of(points.rows.back())),
         .length = units::Time::from_si(points.times_s.back() - points.times_s.front()),
         // Two readings make the difference whose uncertainty is known.
         .uncertainty = {.temperature = units::kelvins(of_difference / std::sqrt(2.0)),
                         .capacity = store.capacity * capacity_doubt,
                         .loss = store.loss * loss_doubt,
                         .sun = store.sun * sun_doubt,
                         .fluid_over_air = units::kelvins(fluid_doubt_k)},
         .least_ratio = by.gain_least});
    if (!balance) return trouble(balance.error());
    return HeatGain{*balance, words_of(*balance, by.gain_least), derivation_of_gain(store)};
}

void weigh_gain(Judged& judged, const HeatGain& gain) {
    if (judged.outcome == Outcome::Open) return;
    if (gain.balance.verdict == plant::BalanceVerdict::DoesNotConform)
        judged.outcome = Outcome::DoesNotConform;
    else if (gain.balance.verdict == plant::BalanceVerdict::Inconclusive && judged.outcome == Outcome::Conforms)
        judged.outcome = Outcome::Inconclusive;
    if (!judged.why.empty()) judged.why += ' ';
    judged.why += gain.words;
    judged.limits.derivation.insert(judged.limits.derivation.end(), gain.derivation.begin(), gain.derivation.end());
}

}  // namespace wm::checklist
