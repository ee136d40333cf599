#include "demo/house.hpp"

#include <fmt/format.h>

namespace wm::demo {

namespace {

std::string quoted(const std::string& text) { return "\"" + text + "\""; }
const char* yes_no(bool yes) { return yes ? "true" : "false"; }

std::string instrument(const std::string& id, const std::string& type, const std::string& resolution,
                       const std::string& uncertainty, const std::string& calibrated, const std::string& due) {
    return fmt::format(
        "[[inst]]\nid = \"{}\"\ntype = \"{}\"\nres = \"{}\"\nu = \"{}\"\ncal_date = {}\ncal_due = {}\ncert = \"OC-{}\"\n"
        "preuse = true\n\n",
        id, type, resolution, uncertainty, calibrated, due, id);
}

std::string structure_of(const House& house) {
    if (house.slab) return "concrete-slab";
    return house.covering == "metal-sheet" ? "steel-purlin" : "timber-rafter";
}

}  // namespace

std::string facts_text(const House& house, const CrewKit& crew) {
    std::string t;
    t += "job.kind = \"new\"\n";
    t += fmt::format(
        "[customer]\nname = {}\nphone = \"555-0142\"\nemail = {}\ndecider = \"association\"\nhousehold = {}\n"
        "vulnerable = {}\nphoto_leave = true\nlanguage = {}\n\n",
        quoted(house.customer), quoted(house.email), house.household, yes_no(house.vulnerable), quoted(house.language));
    t += fmt::format(
        "[site]\nlatitude = 29.4\nlongitude = 61.8\naddress = {}\nstreet = {}\nzone = {}\naltitude_m = 2310\n"
        "declination_deg = 2.5\nfrost_class = {}\nt_min_c = {}\nwind_ms = 34\nsnow_kpa = 0.4\nsea_km = 400\n"
        "overhead_line = false\nsun_share = 0.66\nair_jan_c = 3\nair_jul_c = 19\n\n",
        quoted(house.street + " " + house.serial), quoted(house.street), quoted("Ostervaun"), quoted(house.frost_class),
        house.t_min_c);
    t += fmt::format(
        "[roof]\ncovering = {}\npitch_deg = {}\nazimuth_deg = 185\neaves_m = 4.5\nstructure = {}\nspacing_mm = 600\n"
        "member_b_mm = 60\nmember_h_mm = 140\nfree_w_m = 4.0\nfree_l_m = 5.0\nasbestos = \"no\"\npoint_ok_kn = 2.5\n\n",
        quoted(house.covering), house.slab ? 2 : 30, quoted(structure_of(house)));
    t += fmt::format(
        "[water]\nstatic_kpa = {:.0f}\nflow_lmin = 12\nsource = \"mains\"\nhardness_mgl = 120\nchloride_mgl = 40\n\n",
        house.static_kpa);
    t += "[heater]\nvolume_l = 80\npower_w = 2000\nvoltage_v = 230\nmax_kpa = 800\nmax_inlet_c = 90\ncutout_c = 85\n"
         "relief = \"temperature-and-pressure\"\nrelief_kpa = 700\nage_y = 4\nserial = \"EH-5521\"\n\n";
    t += "[energy]\nprice = 0.24\ncurrency = \"crowns\"\nco2_kg = 0.35\nco2_year = 2025\n\n";
    t += fmt::format("[house]\npipe = \"copper\"\ntaps = {}\n\n", house.taps);
    t += "[elec]\nearth = \"yes\"\nrcd_ma = 30\nbreaker_a = 16\ncurve = \"B\"\nsystem = \"TN\"\nbond_required = true\n\n";
    t += fmt::format(
        "[sys]\nkind = {}\nfeed = \"mains-pressure\"\ngeometry = \"close-coupled\"\ntank_l = 150\ntank_dry_kg = 60\n"
        "tank_max_kpa = 800\ntank_material = \"enamelled steel\"\ncoll_m2 = 2.0\ncoll_kg = 38\ncoll_max_kpa = 800\n"
        "coll_l = 2.0\nrelief_kpa = 600\nrelief_c = 95\nlimit_set_kpa = 350\nmin_rise_mm = 100\nanti_reverse = false\n"
        "ua_wk = 2.0\nmount = {}\nanchor_n = 4\nanchor_nm = 20\nanchor_size = \"M8\"\nclamp_n = 4\nclamp_nm = 12\n"
        "tilt_target = 35\naz_target = 180\npipe_od_mm = 22\nins_mm = 25\nrun_hot_m = 0.6\nrun_cold_m = 0.6\n"
        "run_disch_m = 5\nrun_drain_m = 3\ncontroller = {}\n",
        quoted(house.direct ? "direct" : "indirect"), quoted(house.mount), quoted(house.controller));
    if (!house.direct)
        t += fmt::format(
            "jacket_l = 9\njacket_max_kpa = 250\njacket_relief_kpa = 200\nfluid = {}\nfluid_batch = {}\nfluid_expiry = {}\n",
            quoted(house.fluid), quoted(house.fluid_batch), house.fluid_expiry);
    t += fmt::format("\n[serial]\ntank = \"ST-{0}\"\ncollector = \"SC-{0}\"\n", house.serial);
    t += fmt::format("\n[batch]\nrelief = {}\nlimit = {}\ntempering = {}\nhook = {}\n", quoted(house.relief_batch),
                     quoted(house.limit_batch), quoted(house.tempering_batch), quoted(house.hook_batch));
    t += fmt::format(
        "\n[crew]\nlead = {}\nmembers = {}\nplumb_lic = \"P-118 2028-03-31\"\nelec_lic = \"E-204 2028-03-31\"\n"
        "height_card = \"H-77 2028-03-31\"\n",
        quoted(crew.lead), quoted(crew.members));
    t += "\n[pos]\ngauge_to_relief_m = 0\n\n[ladder]\nused = true\n\n";
    t += "[warranty]\nuntil = 2029-06-30\n\n";
    const auto& day = crew.calibrated_on;
    t += instrument(crew.torque, "torque wrench", "0.1 N·m", "0.5 N·m", day, crew.torque_due);
    t += instrument(crew.pressure, "pressure gauge", "2 kPa", "8 kPa",
                    crew.pressure_calibrated_on.empty() ? day : crew.pressure_calibrated_on, crew.pressure_due);
    t += instrument(crew.thermometer, "two-channel thermometer", "0.1 K", "0.6 K", day, crew.thermometer_due);
    t += instrument("IN-1", "inclinometer", "0.1°", "0.3°", day, crew.shared_due);
    t += instrument("RF-A", "refractometer", "1 K", "1.5 K", day, crew.shared_due);
    t += instrument("IR-A", "irradiance meter", "1 W/m²", "10 %", day, crew.shared_due);
    t += instrument("ET-A", "continuity tester", "0.01 Ω", "0.03 Ω", day, crew.shared_due);
    t += instrument("ET-B", "insulation tester", "0.1 MΩ", "10 %", day, crew.shared_due);
    t += instrument("ET-C", "rcd tester", "1 ms", "10 ms", day, crew.shared_due);
    t += instrument("LT-1", "loop tester", "0.01 Ω", "10 %", day, crew.shared_due);
    t += instrument("VT-1", "voltage tester", "1 V", "0 V", day, crew.shared_due);
    return t;
}

std::vector<CrewKit> demo_crews() {
    std::vector<CrewKit> crews;
    const char* leads[] = {"Tindo Quellaby", "Marrit Osseldane", "Jorvane Pellish", "Sabbe Ullorin", "Wend Karradoc",
                           "Ilka Trosmere"};
    const char* mates[] = {"Ode Brannick", "Pell Savoy-Ren", "Thea Moundrel", "Garrin Ploste", "Ysolt Fenneck",
                           "Dako Rillow"};
    for (int i = 0; i < 6; ++i) {
        const std::string n = std::to_string(i + 1);
        crews.push_back({.lead = leads[i], .members = std::string{leads[i]} + ", " + mates[i], .torque = "TW-" + n,
                         .pressure = "PG-" + n, .thermometer = "TH-" + n, .torque_due = "2027-06-30",
                         .pressure_due = "2027-06-30", .thermometer_due = "2027-06-30", .calibrated_on = "2026-06-30"});
    }
    return crews;
}

}  // namespace wm::demo
