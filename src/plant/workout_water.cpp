#include "plant/expansion.hpp"
#include "plant/glycol.hpp"
#include "plant/water.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::AbsolutePressure;
using units::GaugePressure;
using units::is_given;
using units::litres;
using units::number_of;
using units::Temperature;

namespace {

// Water is asked for in °C (t) or, as its own tables are printed, in kelvin (T); the answers then
// come in MPa and kJ as those tables do.
Result<Temperature> water_temperature(const Arguments& a, const std::string& name) {
    if (is_given(a, "t") == is_given(a, "T"))
        return no_complete_form(name, "either t (in °C) or T (in kelvin), not both");
    if (is_given(a, "t")) return celsius(a, "t");
    return Temperature::kelvin(number_of(a, "T"));
}

GaugePressure bar(const Arguments& a, std::string_view symbol) {
    return GaugePressure::pascals(number_of(a, symbol) * 1e5);
}

double in_bar(GaugePressure pressure) {
    return pressure.in_pascals() / 1e5;
}
double in_litres(units::Volume volume) {
    return volume.si() * 1e3;
}

Outputs evaluate_properties(const Arguments& a) {
    const auto t = water_temperature(a, "water-properties");
    if (!t) return tl::unexpected(t.error());
    const auto water = water_properties(*t, AbsolutePressure::pascals(number_of(a, "p")));
    if (!water) return tl::unexpected(water.error());
    const double cp = water->specific_heat.si();
    const bool in_kilojoule = is_given(a, "T");
    return std::vector<Output>{
        {"rho", "kg/m³", water->density.si()},
        {"v", "m³/kg", 1.0 / water->density.si()},
        {"cp", in_kilojoule ? "kJ/(kg K)" : "J/(kg K)", in_kilojoule ? cp / 1e3 : cp},
        {"beta", "1/K", water->expansivity.si()},
        {"kappa", "1/Pa", water->compressibility.si()}};
}

Outputs evaluate_saturation(const Arguments& a) {
    const auto t = water_temperature(a, "water-saturation");
    if (!t) return tl::unexpected(t.error());
    const auto pressure = boiling_pressure(*t);
    if (!pressure) return tl::unexpected(pressure.error());
    const double pascals = pressure->in_pascals();
    if (is_given(a, "T")) return std::vector<Output>{{"psat", "MPa", pascals / 1e6}};
    return std::vector<Output>{{"psat", "Pa", pascals}};
}

Outputs evaluate_viscosity(const Arguments& a) {
    const auto t = water_temperature(a, "water-viscosity");
    if (!t) return tl::unexpected(t.error());
    return water_viscosity(*t).map([](units::Viscosity v) {
        return std::vector<Output>{{"mu", "Pa s", v.si()}};
    });
}

Outputs evaluate_expansion(const Arguments& a) {
    return expansion_volume({litres(number_of(a, "V")), celsius(a, "t1"), celsius(a, "t2")})
        .map([](const Expansion& e) {
            return std::vector<Output>{{"dV", "L", in_litres(e.volume)}, {"e", "%", e.percent}};
        });
}

Outputs evaluate_loop_vessel(const Arguments& a) {
    return loop_vessel({.loop = {litres(number_of(a, "V_sys")), celsius(a, "t1"), celsius(a, "t2")},
                        .static_pressure = bar(a, "p_static"),
                        .relief = bar(a, "p_sv"),
                        .steam = litres(number_or(a, "V_steam", 0.0))})
        .map([](const LoopVessel& v) {
            return std::vector<Output>{{"Ve", "L", in_litres(v.expansion)},
                                       {"Vwr", "L", in_litres(v.reserve)},
                                       {"p0", "bar(g)", in_bar(v.pre_charge)},
                                       {"pe", "bar(g)", in_bar(v.end_pressure)},
                                       {"Vn", "L", in_litres(v.least_volume)}};
        });
}

Outputs evaluate_cold_vessel(const Arguments& a) {
    return cold_vessel({litres(number_of(a, "Ve")), bar(a, "pset"), bar(a, "pe")})
        .map([](const ColdVessel& v) {
            return std::vector<Output>{{"f", "", v.usable_fraction},
                                       {"Vn", "L", in_litres(v.least_volume)}};
        });
}

Outputs evaluate_glycol_freezing(const Arguments& a) {
    return glycol_freezing_point(number_of(a, "phi")).map([](Temperature t) {
        return std::vector<Output>{{"t_f", "°C", t.in_celsius()}};
    });
}

Outputs evaluate_glycol_properties(const Arguments& a) {
    const double x = number_of(a, "x");
    if (!is_given(a, "t"))
        return glycol_freezing_point_by_mass(x).map([](Temperature t) {
            return std::vector<Output>{{"t_f", "°C", t.in_celsius()}};
        });
    return glycol_properties(x, celsius(a, "t")).map([](const GlycolProperties& g) {
        std::vector<Output> all{{"t_f", "°C", g.freezing_point.in_celsius()},
                                {"rho", "kg/m³", g.density.si()},
                                {"cp", "J/(kg K)", g.specific_heat.si()}};
        if (g.viscosity) all.push_back({"mu", "Pa s", g.viscosity->si()});
        return all;
    });
}

Outputs evaluate_glycol_mass(const Arguments& a) {
    return glycol_mass_fraction(number_of(a, "phi")).map([](double x) {
        return std::vector<Output>{{"x", "", x}};
    });
}

std::vector<units::Symbol> of_water() {
    return {may("T", "K(abs)", "the water temperature in kelvin, instead of t"),
            may("t", "°C", "the water temperature")};
}

std::vector<units::Symbol> of_water_and(units::Symbol more) {
    auto all = of_water();
    all.push_back(std::move(more));
    return all;
}

}  // namespace

std::vector<units::Computation> water_computations() {
    return {
        {.name = "water-properties",
         .title = "Density, specific heat, expansivity and compressibility of liquid water",
         .on_site = "Fill mass, expansion, heat and the arithmetic of a pressure test start here.",
         .equation = "A sum of 34 powers of pressure and temperature, and its derivatives.",
         .source = "IAPWS R7-97(2012), region 1",
         .range = "0 °C to 350 °C, from the boiling pressure to 100 MPa against vacuum.",
         .inputs = of_water_and(needs("p", "Pa(abs)", "the pressure against vacuum", "to 100 MPa")),
         .outputs = {needs("rho", "kg/m³", "density"), needs("v", "m³/kg", "specific volume"),
                     needs("cp", "J/(kg K)", "specific heat, in kJ/(kg K) if asked by T"),
                     needs("beta", "1/K", "expansivity"),
                     needs("kappa", "1/Pa", "compressibility")},
         .evaluate = evaluate_properties},
        {.name = "water-saturation",
         .title = "Boiling pressure of water",
         .on_site = "Below this pressure the hottest point of the loop is steam.",
         .equation = "A quadratic in the fourth root of the pressure.",
         .source = "IAPWS R7-97(2012), region 4",
         .range = "0 °C to 373.9 °C.",
         .inputs = of_water(),
         .outputs = {needs("psat", "Pa", "boiling pressure against vacuum, in MPa if asked by T")},
         .evaluate = evaluate_saturation},
        {.name = "water-viscosity",
         .title = "Viscosity of liquid water",
         .on_site = "Reynolds number and friction of the loop.",
         .equation = "Four powers of the temperature over 300 K, at 0.1 MPa.",
         .source = "IAPWS SR6-08(2011)",
         .range = "-20 °C to 110 °C.",
         .inputs = of_water(),
         .outputs = {needs("mu", "Pa s", "viscosity")},
         .evaluate = evaluate_viscosity},
        {.name = "expansion-volume",
         .title = "Expansion of water on heating",
         .on_site = "Litres that must find room when the fill gets hot.",
         .equation =
             "Cold volume times (density at filling over density at the hottest, less one).",
         .source = "Conservation of mass; EN 12828:2012 Annex D (from memory); density IAPWS R7-97",
         .range = "0 °C to 200 °C.",
         .inputs = {needs("V", "L", "the volume at the fill temperature"),
                    needs("t1", "°C", "the fill temperature"),
                    needs("t2", "°C", "the hottest temperature")},
         .outputs = {needs("dV", "L", "expansion"),
                     needs("e", "%", "expansion in percent of the volume")},
         .evaluate = evaluate_expansion},
        {.name = "loop-expansion-vessel",
         .title = "Expansion vessel of a closed loop",
         .on_site = "Is the vessel big enough, and which pre-charge and fill pressure to set.",
         .equation = "(Expansion + reserve + steam) times (end pressure + 1 bar) over (end "
                     "pressure - pre-charge).",
         .source =
             "EN 12828:2012+A1:2014 Annex D (from memory); steam volume common practice, no source",
         .range = "End pressure above the pre-charge.",
         .inputs = {needs("V_sys", "L", "the volume of the loop"),
                    needs("t1", "°C", "the fill temperature"),
                    needs("t2", "°C", "the hottest temperature"),
                    needs("p_static", "bar(g)", "the static pressure at the vessel"),
                    needs("p_sv", "bar(g)", "the setting of the safety valve"),
                    may("V_steam", "L", "the volume that may turn to steam; 0 if left out")},
         .outputs = {needs("Ve", "L", "expansion"), needs("Vwr", "L", "water reserve"),
                     needs("p0", "bar(g)", "pre-charge"), needs("pe", "bar(g)", "end pressure"),
                     needs("Vn", "L", "least volume of the vessel")},
         .evaluate = evaluate_loop_vessel},
        {.name = "cold-expansion-vessel",
         .title = "Expansion vessel on the cold side of the store",
         .on_site =
             "A check valve traps the store; the vessel keeps the relief valve from weeping.",
         .equation = "Boyle's law between supply and highest pressure, pre-charge 0.2 bar under "
                     "the supply.",
         .source = "Ideal gas, isothermal; pre-charge common practice, no source",
         .range = "Supply above 0.2 bar and below the highest pressure.",
         .inputs = {needs("Ve", "L", "the expansion of all that is heated behind the valve"),
                    needs("pset", "bar(g)", "the supply pressure"),
                    needs("pe", "bar(g)", "the highest pressure allowed")},
         .outputs = {needs("f", "", "usable fraction"),
                     needs("Vn", "L", "least volume of the vessel")},
         .evaluate = evaluate_cold_vessel},
        {.name = "glycol-freezing",
         .title = "First ice of propylene glycol, by volume",
         .on_site = "Does the mixture protect down to the lowest air temperature of the place.",
         .equation = "Straight lines between the rows of a handbook table.",
         .source = "Lange's Handbook of Chemistry, 15th ed., Table 5.13",
         .range = "0 % to 50 % of pure glycol by volume; a product's own table wins.",
         .inputs = {needs("phi", "%", "the share of pure glycol by volume", "0 to 50")},
         .outputs = {needs("t_f", "°C", "temperature of first ice")},
         .evaluate = evaluate_glycol_freezing},
        {.name = "glycol-properties",
         .title =
             "Freezing point, density, specific heat and viscosity of propylene glycol, by mass",
         .on_site = "Antifreeze volume, heat capacity and head of an indirect loop.",
         .equation = "Polynomials in mass fraction and temperature.",
         .source = "Melinder 2010, IIR",
         .range =
             "Mass fraction 0.15 to 0.57; freezing point to 40 °C, density and heat to 100 °C.",
         .inputs = {needs("x", "", "the mass fraction of glycol", "0.15 to 0.57"),
                    may("t", "°C",
                        "the fluid temperature; without it only the freezing point comes")},
         .outputs = {needs("t_f", "°C", "freezing point"), needs("rho", "kg/m³", "density"),
                     needs("cp", "J/(kg K)", "specific heat"),
                     needs("mu", "Pa s", "viscosity, to 40 °C")},
         .evaluate = evaluate_glycol_properties},
        {.name = "glycol-mass-fraction",
         .title = "Mass fraction from volume fraction of glycol",
         .on_site = "From the label on the can to the equations by mass.",
         .equation =
             "Mass of glycol over mass of glycol and water, volumes before mixing at 20 °C.",
         .source = "Definition; density of glycol CRC Handbook (from memory)",
         .range = "0 to 1.",
         .inputs = {needs("phi", "", "the volume fraction of glycol", "0 to 1")},
         .outputs = {needs("x", "", "mass fraction")},
         .evaluate = evaluate_glycol_mass},
    };
}

}  // namespace wm::plant::tables
