#include "plant/legionella.hpp"
#include "plant/mixing.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::number_of;

namespace {

Outputs evaluate_mixing(const Arguments& a) {
    const Mixture mixture{celsius(a, "tm"), celsius(a, "th"), celsius(a, "tc")};
    const auto share = hot_share(mixture);
    if (!share) return tl::unexpected(share.error());
    std::vector<Output> all{{"x", "", *share}};
    if (is_given(a, "V")) {
        const auto volume = mixed_volume(units::litres(number_of(a, "V")), mixture);
        if (!volume) return tl::unexpected(volume.error());
        all.push_back({"V_m", "L", volume->si() * 1e3});
    }
    return all;
}

Outputs evaluate_scald(const Arguments& a) {
    const auto water = celsius(a, "T");
    const auto times = scald_times(water);
    if (!times) return tl::unexpected(times.error());
    if (!*times)
        return std::vector<Output>{{"t2", "s", std::monostate{}}, {"t3", "s", std::monostate{}}};
    constexpr double end_of_table = 60.0;
    if (number_of(a, "T") > end_of_table)
        return std::vector<Output>{{"t2", "", std::string{"under 3 s"}},
                                   {"t3", "", std::string{"under 5 s"}}};
    return std::vector<Output>{{"t2", "s", (*times)->second_degree.si()},
                               {"t3", "s", (*times)->full_thickness.si()}};
}

Outputs evaluate_burn(const Arguments& a) {
    return burn_time(celsius(a, "T")).map([](units::Time t) {
        return std::vector<Output>{{"t1", "s", t.si()}};
    });
}

Outputs evaluate_legionella(const Arguments& a) {
    const auto water = celsius(a, "T");
    const auto once = decimal_reduction_time(water);
    if (!once) return tl::unexpected(once.error());
    return hold_time(water, number_or(a, "n", 1.0)).map([&](units::Time hold) {
        return std::vector<Output>{{"D", "min", once->si() / 60.0}, {"t", "min", hold.si() / 60.0}};
    });
}

}  // namespace

std::vector<units::Computation> hygiene_computations() {
    return {
        {.name = "mixing",
         .title = "Share of hot water in a mixture",
         .on_site = "Setting and checking the mixing valve.",
         .equation = "(Mixed - cold) over (hot - cold).",
         .source = "Enthalpy balance",
         .range = "The mixture between cold and hot.",
         .inputs = {needs("tm", "°C", "the mixed temperature"),
                    needs("th", "°C", "the hot temperature"),
                    needs("tc", "°C", "the cold temperature"),
                    may("V", "L", "the volume of the store, for V_m")},
         .outputs = {needs("x", "", "share of hot water"),
                     needs("V_m", "L", "litres at the mixed temperature")},
         .evaluate = evaluate_mixing},
        {.name = "scald-time",
         .title = "Time to a scald, adult skin",
         .on_site = "Why 60 °C at a tap is not acceptable. Children and old people burn in a "
                    "fraction of it.",
         .equation = "Straight in the logarithm between the rows of a published table.",
         .source = "Moritz & Henriques 1947, Am. J. Pathol. 23:695-720 (secondary source)",
         .range =
             "None below 45 °C; above 60 °C under the times of 60 °C. Never a promise of safety.",
         .inputs = {needs("T", "°C", "the water temperature", "0 to 100")},
         .outputs = {needs("t2", "s", "time to a second-degree burn"),
                     needs("t3", "s", "time to a full-thickness burn")},
         .evaluate = evaluate_scald},
        {.name = "burn-integral",
         .title = "Time to irreversible damage of skin, by its rate equation",
         .on_site = "For comparison only, never alone: not conservative below 55 °C.",
         .equation = "Exponential of activation energy over temperature.",
         .source = "Henriques 1947, Arch. Pathol. 43:489 (from memory)",
         .range = "44 °C to 55 °C.",
         .inputs = {needs("T", "°C", "the temperature of the skin", "44 to 55")},
         .outputs = {needs("t1", "s", "time to irreversible damage")},
         .evaluate = evaluate_burn},
        {.name = "legionella-time",
         .title = "Decimal reduction and hold time of legionella",
         .on_site = "Does the heater's set point disinfect, and how long to hold. A minimum: "
                    "biofilm protects.",
         .equation = "Straight in the logarithm between published values, times the decades.",
         .source = "Sanden, Fields, Barbaree & Feeley 1989, Current Microbiology 18:61-65",
         .range = "45 °C to 66 °C; to 20 decades.",
         .inputs = {needs("T", "°C", "the water temperature", "45 to 66"),
                    may("n", "", "the decades; 1 if left out")},
         .outputs = {needs("D", "min", "decimal reduction time"), needs("t", "min", "hold time")},
         .evaluate = evaluate_legionella},
    };
}

}  // namespace wm::plant::tables
