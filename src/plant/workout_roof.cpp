#include "plant/fasteners.hpp"
#include "plant/wind.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::kilograms;
using units::millimetres;
using units::number_of;

namespace {

Result<Terrain> terrain_of(const std::string& text) {
    if (text == "0") return Terrain::Sea;
    if (text == "I") return Terrain::Lakeside;
    if (text == "II") return Terrain::OpenCountry;
    if (text == "III") return Terrain::Suburb;
    if (text == "IV") return Terrain::City;
    return refused({"\"" + text + "\" is no terrain of the table.",
                    "work-out wind-pressure, terrain", "Write 0, I, II, III or IV.",
                    ProblemKind::Unreadable});
}

Outputs evaluate_peak(const Arguments& a) {
    const auto terrain = terrain_of(units::text_of(a, "terrain"));
    if (!terrain) return tl::unexpected(terrain.error());
    const auto wind = peak_wind(units::metres_per_second(number_or(a, "vb", 0.0)),
                                si<units::Length>(a, "z"), *terrain);
    if (!wind) return tl::unexpected(wind.error());
    std::vector<Output> all{
        {"c_e", "", wind->exposure}, {"ce", "", wind->exposure}, {"Iv", "", wind->turbulence}};
    if (is_given(a, "vb")) {
        all.push_back({"vm", "m/s", wind->mean_speed.si()});
        all.push_back({"qp", "Pa", wind->peak_pressure.si()});
    }
    return all;
}

Outputs evaluate_wind(const Arguments& a) {
    const bool peak = is_given(a, "z") && is_given(a, "terrain");
    const bool part = is_given(a, "z") || is_given(a, "terrain") || is_given(a, "vb");
    if ((part && !peak) || (!part && !is_given(a, "v")))
        return no_complete_form("wind-pressure",
                                "the gust v; or z and terrain, with vb for the pressure");
    std::vector<Output> all;
    if (is_given(a, "v")) {
        const auto pressure = gust_pressure(si<units::Speed>(a, "v"),
                                            units::Density::from_si(number_or(a, "rho", 1.226)));
        if (!pressure) return tl::unexpected(pressure.error());
        all.push_back({"q", "Pa", pressure->si()});
    }
    if (!peak) return all;
    auto more = evaluate_peak(a);
    if (!more) return more;
    all.insert(all.end(), more->begin(), more->end());
    return all;
}

Outputs evaluate_anchors(const Arguments& a) {
    Anchoring set{.suction_factor = number_of(a, "cp"),
                  .wind = si<units::PressureDifference>(a, "q"),
                  .area = si<units::Area>(a, "A"),
                  .mass = si<units::Mass>(a, "m"),
                  .roof_pitch = degrees(a, "beta"),
                  .anchor_tension = si<units::Force>(a, "Rt"),
                  .anchor_shear = si<units::Force>(a, "Rv")};
    set.wind_factor = number_or(a, "gamma_Q", set.wind_factor);
    set.favourable_weight_factor = number_or(a, "gamma_inf", set.favourable_weight_factor);
    set.unfavourable_weight_factor = number_or(a, "gamma_sup", set.unfavourable_weight_factor);
    if (is_given(a, "n_min")) {
        const auto least = whole(a, "n_min");
        if (!least) return tl::unexpected(least.error());
        set.least_anchors = *least;
    }
    return anchor_demand(set).map([](const AnchorDemand& demand) {
        return std::vector<Output>{{"F_n", "N", demand.across_roof.si()},
                                   {"F_t", "N", demand.along_roof.si()},
                                   {"n", "", static_cast<double>(demand.anchors)},
                                   {"interaction", "", demand.interaction}};
    });
}

Outputs evaluate_load(const Arguments& a) {
    const auto feet = whole(a, "n");
    if (!feet) return tl::unexpected(feet.error());
    return roof_load({.tank = si<units::Mass>(a, "m_tank"),
                      .store = units::litres(number_of(a, "V")),
                      .fill = celsius(a, "t_fill"),
                      .collector = si<units::Mass>(a, "m_col"),
                      .loop_fluid = si_or(a, "m_fluid", kilograms(0.0)),
                      .frame = si_or(a, "m_frame", kilograms(0.0)),
                      .plan_area = si<units::Area>(a, "A_plan"),
                      .feet = *feet,
                      .unevenness = number_or(a, "k_u", 1.3)})
        .map([](const RoofLoad& load) {
            return std::vector<Output>{{"m", "kg", load.mass.si()},
                                       {"p", "Pa", load.pressure.si()},
                                       {"F", "N", load.foot.si()}};
        });
}

Thread thread_of(const Arguments& a) {
    return {millimetres(number_of(a, "d")), millimetres(number_of(a, "P"))};
}

units::PressureDifference megapascals(const Arguments& a, std::string_view symbol) {
    return units::pascals(number_of(a, symbol) * 1e6);
}

Outputs evaluate_preload(const Arguments& a) {
    const auto area = stress_area(thread_of(a));
    if (!area) return tl::unexpected(area.error());
    std::vector<Output> all{{"As", "mm²", area->si() * 1e6}};
    if (!is_given(a, "T")) return all;
    TightenedBolt bolt{.thread = thread_of(a),
                       .torque = si<units::Torque>(a, "T"),
                       .k = number_or(a, "K", 0.20),
                       .yield = std::nullopt};
    if (is_given(a, "Rp")) bolt.yield = megapascals(a, "Rp");
    const auto preload = bolt_preload(bolt);
    if (!preload) return tl::unexpected(preload.error());
    all.push_back({"F", "N", preload->force.si()});
    if (preload->utilisation) all.push_back({"util", "", *preload->utilisation});
    return all;
}

Outputs evaluate_torque(const Arguments& a) {
    if (is_given(a, "D_K") != is_given(a, "muK"))
        return no_complete_form("bolt-torque", "D_K and muK together for the torque, or neither");
    AssembledBolt bolt{.thread = thread_of(a),
                       .yield = megapascals(a, "Rp"),
                       .thread_friction = number_of(a, "muG"),
                       .head = std::nullopt};
    if (is_given(a, "D_K"))
        bolt.head = HeadFriction{millimetres(number_of(a, "D_K")), number_of(a, "muK")};
    return bolt_assembly(bolt).map([](const Assembly& assembly) {
        std::vector<Output> all{{"F_M", "N", assembly.preload.si()}};
        if (assembly.torque) all.push_back({"M_A", "N·m", assembly.torque->si()});
        return all;
    });
}

}  // namespace

std::vector<units::Computation> roof_computations() {
    const auto diameter = needs("d", "mm", "the diameter of the thread");
    const auto pitch = needs("P", "mm", "the pitch of the thread");
    return {
        {.name = "wind-pressure",
         .title = "Wind pressure",
         .on_site =
             "Force per area from a gust, or from the basic wind of a region. Orientation only.",
         .equation = "Half the air density times speed squared; or mean wind by terrain and the "
                     "peak of its turbulence.",
         .source =
             "ASCE 7 metric velocity pressure; EN 1991-1-4:2005 eqs (4.3) to (4.8), Table 4.1",
         .range = "Gust to 100 m/s; basic wind (a 10-minute mean) to 60 m/s, height to 200 m.",
         .inputs = {may("v", "m/s", "the gust"),
                    may("rho", "kg/m³", "the air density with the gust; 1.226 if left out"),
                    may("vb", "m/s", "the basic wind, a 10-minute mean"),
                    may("z", "m", "the height"),
                    shaped(units::Shape::Text,
                           may("terrain", "", "the terrain: 0, I, II, III or IV"))},
         .outputs = {needs("q", "Pa", "pressure of the gust"), needs("c_e", "", "exposure"),
                     needs("ce", "", "exposure"), needs("Iv", "", "turbulence"),
                     needs("vm", "m/s", "mean wind"), needs("qp", "Pa", "peak pressure")},
         .evaluate = evaluate_wind},
        {.name = "anchor-count",
         .title = "Uplift and number of anchors",
         .on_site = "How many fixings of proven strength. The empty tank is the case.",
         .equation = "Suction less favourable weight across the roof, unfavourable weight along "
                     "it, over the strength of one.",
         .source = "EN 1990:2002 Table A1.2; EN 1991-1-4 section 7; least number common practice, "
                   "no source",
         .range = "Pitch 0° to 90°. A designer decides.",
         .inputs = {needs("cp", "", "the net suction factor"),
                    needs("q", "Pa", "the wind pressure"), needs("A", "m²", "the area"),
                    needs("m", "kg", "the mass of the empty set"),
                    needs("beta", "°", "the roof pitch"),
                    needs("Rt", "N", "the tension one anchor takes"),
                    needs("Rv", "N", "the shear one anchor takes"),
                    may("n_min", "", "the least number; 4 if left out"),
                    may("gamma_Q", "", "the factor on wind; 1.5 if left out"),
                    may("gamma_inf", "", "the factor on favourable weight; 0.9 if left out"),
                    may("gamma_sup", "", "the factor on unfavourable weight; 1.35 if left out")},
         .outputs = {needs("F_n", "N", "force across the roof, negative rests"),
                     needs("F_t", "N", "force along the roof"), needs("n", "", "number of anchors"),
                     needs("interaction", "", "tension and shear together, a warning above 1")},
         .evaluate = evaluate_anchors},
        {.name = "roof-load",
         .title = "Weight of the filled set",
         .on_site = "Can the roof carry it, and what stands on one foot.",
         .equation =
             "Sum of the weights, over the plan area, and over the feet with an unevenness.",
         .source = "Weights; EN 1991-1-1; unevenness 1.3 common practice, no source",
         .range = "Fill 0 °C to 350 °C; 1 to 100 feet.",
         .inputs = {needs("m_tank", "kg", "the mass of the dry tank"),
                    needs("V", "L", "the volume of the store"),
                    needs("t_fill", "°C", "the fill temperature"),
                    needs("m_col", "kg", "the mass of the collector"),
                    may("m_fluid", "kg", "the mass of the loop fluid; 0 if left out"),
                    may("m_frame", "kg", "the mass of the frame; 0 if left out"),
                    needs("A_plan", "m²", "the area seen from above"),
                    needs("n", "", "the number of feet"),
                    may("k_u", "", "the unevenness; 1.3 if left out")},
         .outputs = {needs("m", "kg", "mass"), needs("p", "Pa", "load on the roof"),
                     needs("F", "N", "load on one foot")},
         .evaluate = evaluate_load},
        {.name = "bolt-preload",
         .title = "Preload of a bolt from its torque",
         .on_site = "What a click of the torque wrench means; the factor scatters by 30 %.",
         .equation = "Torque over factor times diameter; stress area from flank and core diameter.",
         .source = "Short form of Motosh, e.g. Shigley (from memory); ISO 898-1:2013 clause 9",
         .range = "Metric coarse steel thread.",
         .inputs = {diameter, pitch, may("T", "N·m", "the torque"),
                    may("K", "", "the factor of friction; 0.2, dry zinc, if left out",
                        "0.05 to 0.6"),
                    may("Rp", "MPa", "the 0.2 % proof strength")},
         .outputs = {needs("As", "mm²", "stress area"), needs("F", "N", "preload"),
                     needs("util", "", "share of the yield")},
         .evaluate = evaluate_preload},
        {.name = "bolt-torque",
         .title = "Assembly preload and torque from friction",
         .on_site = "The long form behind tables of tightening torques.",
         .equation = "Tension and twist together at 90 % of yield.",
         .source = "VDI 2230-1:2003/2015 (from memory)",
         .range = "Metric coarse steel thread, friction 0.01 to 1.",
         .inputs = {diameter, pitch,
                    may("D_K", "mm", "the mean bearing diameter of the head, with muK"),
                    needs("Rp", "MPa", "the 0.2 % proof strength"),
                    needs("muG", "", "the friction of the thread"),
                    may("muK", "", "the friction under the head, with D_K")},
         .outputs = {needs("F_M", "N", "preload"), needs("M_A", "N·m", "torque")},
         .evaluate = evaluate_torque},
    };
}

}  // namespace wm::plant::tables
