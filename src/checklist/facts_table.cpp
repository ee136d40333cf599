// The table of facts: every key a facts file may hold, with unit, plausible range and meaning.
#include <algorithm>

#include "checklist/facts.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using Type = FactType;

FactSpec number(std::string_view key, std::string_view unit, double low, double high,
                std::string_view meaning) {
    return {key, Type::Number, unit, low, high, "", meaning, false};
}
FactSpec integer(std::string_view key, std::string_view unit, double low, double high,
                 std::string_view meaning) {
    return {key, Type::Integer, unit, low, high, "", meaning, false};
}
FactSpec choice(std::string_view key, std::string_view choices, std::string_view meaning) {
    return {key, Type::Choice, "", {}, {}, choices, meaning, false};
}
FactSpec other(std::string_view key, FactType type, std::string_view meaning) {
    return {key, type, "", {}, {}, "", meaning, false};
}
FactSpec personal(std::string_view key, FactType type, std::string_view meaning) {
    return {key, type, "", {}, {}, "", meaning, true};
}

// Coordinates finer than a tenth of a degree point at a house, so both are personal.
FactSpec coordinate(std::string_view key, double reach, std::string_view meaning) {
    return {key, Type::Number, "°", -reach, reach, "", meaning, true};
}

std::vector<FactSpec> job_and_house() {
    return {
        other("job.id", Type::Text, "number of the job"),
        choice("job.kind", "new / revisit / service / repair", "kind of the visit"),
        other("job.date", Type::Date, "day on which the crew comes"),
        personal("job.note", Type::Text, "note on the job"),
        personal("customer.name", Type::Text, "name of the customer"),
        personal("customer.phone", Type::Text, "telephone of the customer"),
        personal("customer.email", Type::Text, "e-mail address of the customer"),
        choice("customer.decider", "owner / tenant with owner's leave / association",
               "person who may decide on the roof"),
        integer("customer.household", "persons", 1, 12, "number of people in the household"),
        other("customer.vulnerable", Type::YesNo,
              "small children, old or disabled people in the house"),
        other("customer.photo_leave", Type::YesNo, "leave to print photos of the house"),
        choice("customer.language", "en / de / es / el / uk", "language of the customer"),
        coordinate("site.latitude", 60, "latitude, north positive"),
        coordinate("site.longitude", 180, "longitude, east positive"),
        personal("site.address", Type::Text, "address of the house"),
        // Street and crew are not the customer's words: the audit counts by them after an erasure.
        other("site.street", Type::Text, "street of the house, without its number"),
        other("site.zone", Type::Text, "time zone of the house"),
        number("site.altitude_m", "m", -50, 4500, "height above the sea"),
        number("site.declination_deg", "°", -30, 30, "compass declination, east positive"),
        choice("site.frost_class", "none / occasional / regular", "frost class of the place"),
        number("site.t_min_c", "°C", -30, 20, "lowest air temperature in 20 years"),
        number("site.wind_ms", "m/s", 20, 60, "peak gust of the place"),
        number("site.sun_share", "", 0.1, 0.95, "share of the daylight with bright sun over the year"),
        other("site.horizon", Type::Text, "line of hills, houses and trees: azimuth and height of each point"),
        number("site.air_jan_c", "°C", -40, 40, "mean air temperature of January"),
        number("site.air_jul_c", "°C", -40, 45, "mean air temperature of July"),
        number("site.snow_kpa", "kPa", 0, 5, "snow load"),
        number("site.sea_km", "km", 0, 500, "distance from the sea"),
        other("site.overhead_line", Type::YesNo, "bare conductors near the house"),
        other("site.tp_rule", Type::YesNo,
              "local rule that asks for a temperature-and-pressure valve"),
        choice("roof.covering",
               "clay-tile / concrete-tile / slate / metal-sheet / fibre-cement / shingle / "
               "flat-concrete / thatch",
               "roof covering"),
        number("roof.pitch_deg", "°", 0, 60, "roof pitch"),
        number("roof.azimuth_deg", "°", 0, 360, "true bearing the roof faces"),
        number("roof.eaves_m", "m", 2, 15, "height of the eaves"),
        choice("roof.structure",
               "timber-rafter / timber-truss / steel-purlin / concrete-slab / unknown",
               "roof structure"),
        integer("roof.spacing_mm", "mm", 300, 1500, "spacing of the roof members"),
        integer("roof.member_b_mm", "mm", 30, 200, "breadth of the roof members"),
        integer("roof.member_h_mm", "mm", 60, 400, "height of the roof members"),
        number("roof.free_w_m", "m", 1, 20, "free width on the roof"),
        number("roof.free_l_m", "m", 1, 20, "free length on the roof"),
        choice("roof.asbestos", "no / suspected / confirmed / tested clear",
               "asbestos in the covering"),
        number("roof.point_ok_kn", "kN", 0, 20,
               "load each bearing point may take, by the engineer"),
        integer("roof.places_n", "pieces", 2, 24, "fixing places available on the members"),
        other("roof.opened", Type::YesNo, "holes made or tiles moved on the roof"),
        other("ladder.used", Type::YesNo, "ladder used on this job"),
    };
}

std::vector<FactSpec> water_and_heater() {
    return {
        number("water.static_kpa", "kPa", 20, 1200, "static pressure of the supply"),
        number("water.flow_lmin", "L/min", 2, 40, "flow at the hot tap"),
        choice("water.source", "mains / roof-tank / pump", "source of the water"),
        number("water.hardness_mgl", "mg/L", 0, 600, "hardness of the water"),
        number("water.chloride_mgl", "mg/L", 0, 500, "chloride in the water"),
        number("energy.price", "", 0.001, 1000, "price of a kilowatt-hour of electricity"),
        other("energy.currency", Type::Text, "currency of the price"),
        number("energy.co2_kg", "", 0, 2, "carbon dioxide of a kilowatt-hour of electricity, in kg"),
        integer("energy.co2_year", "", 2000, 2100, "year of that figure"),
        number("heater.volume_l", "L", 30, 300, "content of the electric heater"),
        number("heater.power_w", "W", 800, 4000, "power of the heating element"),
        number("heater.voltage_v", "V", 100, 250, "voltage of the heating element"),
        number("heater.max_kpa", "kPa", 0, 1200, "highest pressure of the heater, 0 if vented"),
        number("heater.max_inlet_c", "°C", 20, 99, "highest inlet temperature of the heater"),
        number("heater.cutout_c", "°C", 75, 98, "temperature of the safety cut-out"),
        choice("heater.relief", "none / pressure / temperature-and-pressure",
               "relief of the heater"),
        number("heater.relief_kpa", "kPa", 300, 1000, "set pressure of the heater's relief"),
        other("heater.same_zone", Type::YesNo, "heater in the same pressure zone as the store"),
        number("heater.below_relief_m", "m", -15, 15,
               "depth of the heater below the store's relief"),
        integer("heater.age_y", "y", 0, 40, "age of the heater"),
        other("heater.valve_ahead", Type::YesNo, "tempering valve planned ahead of the heater"),
        other("heater.serial", Type::Text, "serial number of the heater"),
        choice("house.pipe", "copper / galvanised / plastic-hot-rated / plastic-unknown / mixed",
               "pipes of the house"),
        number("house.hot_pipe_c", "°C", 40, 120, "temperature printed on the hot pipe"),
        integer("house.taps", "pieces", 1, 12, "number of washing taps"),
        choice("elec.earth", "yes / no / unknown", "earth at the heater"),
        number("elec.rcd_ma", "mA", 0, 100, "rating of the residual-current device, 0 for none"),
        number("elec.breaker_a", "A", 6, 32, "rating of the heater's breaker"),
        choice("elec.curve", "B / C / D", "trip curve of the heater's breaker"),
        choice("elec.system", "TN / TT", "earthing of the supply"),
        other("elec.bond_required", Type::YesNo, "bonding asked for by the wiring rules"),
    };
}

std::vector<FactSpec> the_set() {
    return {
        choice("sys.kind", "direct / indirect", "kind of the set"),
        choice("sys.feed", "mains-pressure / vented", "feed of the store"),
        choice("sys.geometry", "close-coupled / raised", "place of the store over the collector"),
        number("sys.tank_l", "L", 80, 300, "content of the store"),
        number("sys.tank_dry_kg", "kg", 25, 120, "weight of the empty store"),
        number("sys.tank_max_kpa", "kPa", 100, 1200, "highest pressure of the store"),
        choice("sys.tank_material", "enamelled steel / stainless / copper",
               "material of the store"),
        integer("sys.tank_feet", "pieces", 2, 8, "feet of the store"),
        number("sys.coll_m2", "m²", 1, 5, "area of the collector"),
        number("sys.coll_kg", "kg", 15, 90, "weight of the collector"),
        number("sys.coll_max_kpa", "kPa", 100, 1200, "highest pressure of the collector"),
        number("sys.coll_l", "L", 0.8, 6, "content of the collector"),
        number("sys.coll_w_m", "m", 0.5, 5, "width of the collector"),
        number("sys.coll_len_m", "m", 0.5, 3, "length of the collector along the slope"),
        number("sys.tank_across_m", "m", 0.3, 1, "diameter of the store"),
        number("sys.tank_len_m", "m", 0.5, 3, "length of the store"),
        number("sys.tank_axis_m", "m", 0.1, 2, "height of the store's axis over its feet"),
        number("sys.base_m", "m", 0.1, 2, "distance between front and back feet of the store"),
        number("sys.frame_kg", "kg", 3, 80, "weight of the frame"),
        number("sys.stag_c", "°C", 80, 260, "temperature without flow on the collector's label"),
        number("sys.coll_eta0", "", 0.4, 0.95, "optical efficiency of the collector"),
        number("sys.coll_a1", "W/(m² K)", 0.5, 10, "loss coefficient of the collector"),
        number("sys.coll_a2", "W/(m² K²)", 0, 0.1, "quadratic loss coefficient of the collector"),
        number("sys.store_max_c", "°C", 60, 110, "highest store temperature by the maker"),
        other("sys.air_free", Type::YesNo, "full set proved free of air"),
        number("sys.jacket_l", "L", 3, 30, "content of the jacket"),
        number("sys.jacket_max_kpa", "kPa", 100, 400, "highest pressure of the jacket"),
        number("sys.jacket_relief_kpa", "kPa", 100, 350, "set pressure of the jacket relief"),
        number("sys.relief_kpa", "kPa", 300, 1000, "set pressure of the store's relief"),
        number("sys.relief_c", "°C", 85, 99, "set temperature of the store's relief"),
        number("sys.limit_set_kpa", "kPa", 150, 600, "setting of the pressure limiting valve"),
        number("sys.min_rise_mm", "mm", 0, 1000,
               "height of the store over the absorber by the maker"),
        other("sys.anti_reverse", Type::YesNo, "anti-reverse device in the loop"),
        other("sys.over_95", Type::YesNo, "collector that can pass 95 °C into the store"),
        number("sys.ua_wk", "W/K", 0.8, 4, "heat loss of the store"),
        choice(
            "sys.mount",
            "roof hook / seam clamp / replacement plate / ballast / drilled / ground-or-wall frame",
            "way of mounting"),
        integer("sys.anchor_n", "pieces", 4, 16, "number of store anchors"),
        number("sys.anchor_nm", "N·m", 4, 60, "tightening torque of the store anchors"),
        choice("sys.anchor_size", "M6 / M8 / M10 / M12", "thread of the store anchors"),
        number("sys.fix_kn", "kN", 0.1, 10, "design resistance of one fixing"),
        integer("sys.clamp_n", "pieces", 2, 8, "number of collector clamps"),
        number("sys.clamp_nm", "N·m", 4, 40, "tightening torque of the collector clamps"),
        number("sys.tilt_target", "°", 10, 60, "intended tilt"),
        number("sys.az_target", "°", 0, 360, "intended true bearing"),
        number("sys.pipe_od_mm", "mm", 12, 28, "outside diameter of the pipe"),
        integer("sys.ins_mm", "mm", 9, 40, "wall of the insulation"),
        number("sys.run_hot_m", "m", 0.3, 30, "run of the hot loop pipe"),
        number("sys.run_cold_m", "m", 0.3, 30, "run of the cold loop pipe"),
        number("sys.run_disch_m", "m", 0.3, 30, "run of the discharge pipe"),
        number("sys.run_drain_m", "m", 0.3, 30, "run of the drain pipe"),
        number("sys.run_pre_m", "m", 0.3, 30, "run of preheated water to the heater"),
        number("sys.run_out_m", "m", 0.3, 30, "run of pipe outdoors"),
        integer("sys.disch_elbows", "pieces", 0, 20, "elbows in the discharge pipe"),
        number("sys.lift_m", "m", 0, 15, "height of the store above the limiting valve"),
        other("sys.store_above_heater", Type::YesNo, "store above the heater"),
        choice("sys.fluid", "premix / concentrate", "antifreeze delivered as"),
        other("sys.fluid_batch", Type::Text, "batch of the antifreeze"),
        other("sys.fluid_expiry", Type::Date, "last day of use of the antifreeze"),
        choice("sys.controller", "none / temperature / temperature-and-timer", "controller"),
        other("serial.tank", Type::Text, "serial number of the store"),
        other("serial.collector", Type::Text, "serial number of the collector"),
        other("serial.controller", Type::Text, "serial number of the controller"),
        other("batch.relief", Type::Text, "batch of the relief valve"),
        other("batch.limit", Type::Text, "batch of the limiting valve"),
        other("batch.tempering", Type::Text, "batch of the tempering valve"),
        other("batch.hook", Type::Text, "batch of the hooks"),
        other("warranty.until", Type::Date, "last day of the warranty"),
    };
}

std::vector<FactSpec> crew_and_weather() {
    return {
        other("crew.lead", Type::Text, "crew lead"),
        other("crew.members", Type::Names, "members of the crew"),
        personal("crew.plumb_lic", Type::Licence, "plumbing licence"),
        personal("crew.elec_lic", Type::Licence, "electrical licence"),
        personal("crew.height_card", Type::Licence, "card for work at height"),
        other("crew.fall_gear", Type::Date, "last inspection of the fall gear"),
        number("wx.irradiance", "W/m²", 0, 1300, "sun on the collector plane"),
        number("wx.day_mj", "MJ/m²", 0, 40, "sun of the day on the collector plane"),
        number("wx.t_air", "°C", -20, 50, "air temperature"),
        number("wx.wind_ms", "m/s", 0, 25, "wind on the day"),
        other("wx.rain", Type::YesNo, "rain on the roof"),
        other("wx.sky", Type::Text, "sky"),
        number("wx.dusk_c", "°C", 10, 95, "store temperature at dusk"),
        number("wx.night_air_c", "°C", -30, 40, "mean air temperature of the night"),
        number("wx.night_h", "h", 4, 18, "length of the night between the two readings"),
        number("pos.gauge_to_relief_m", "m", -15, 15, "height of the relief above the gauge"),
    };
}

}  // namespace

const std::vector<FactSpec>& fact_table() {
    static const std::vector<FactSpec> table = [] {
        std::vector<FactSpec> all;
        for (const auto& part :
             {job_and_house(), water_and_heater(), the_set(), crew_and_weather()})
            all.insert(all.end(), part.begin(), part.end());
        return all;
    }();
    return table;
}

const FactSpec* fact_named(std::string_view key) {
    const auto& table = fact_table();
    const auto found = std::find_if(table.begin(), table.end(),
                                    [&](const FactSpec& spec) { return spec.key == key; });
    return found == table.end() ? nullptr : &*found;
}

std::string nearest_fact(std::string_view key) {
    static const std::vector<std::string> keys = [] {
        std::vector<std::string> all;
        for (const auto& spec : fact_table()) all.emplace_back(spec.key);
        return all;
    }();
    return nearest(key, keys).value_or("");
}

std::vector<std::string> FactSpec::choice_words() const {
    std::vector<std::string> words;
    std::string_view rest = choices;
    constexpr std::string_view separator = " / ";
    while (!rest.empty()) {
        const auto at = rest.find(separator);
        words.emplace_back(rest.substr(0, at));
        rest =
            at == std::string_view::npos ? std::string_view{} : rest.substr(at + separator.size());
    }
    return words;
}

units::Unit FactSpec::unit_in_use() const {
    return units::unit_named(unit).value_or(units::Unit{});
}

std::string_view in_words(FactType type) {
    switch (type) {
        case FactType::Number:
            return "a number";
        case FactType::Integer:
            return "a whole number";
        case FactType::Text:
            return "a text";
        case FactType::Choice:
            return "one of a list of words";
        case FactType::YesNo:
            return "yes or no";
        case FactType::Date:
            return "a date";
        case FactType::Licence:
            return "a number with the date it runs out";
        case FactType::Names:
            return "one or several names";
    }
    return "a text";
}

}  // namespace wm::checklist
