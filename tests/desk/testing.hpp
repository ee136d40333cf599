// Builders for the tests of the desk: a folder that goes away again, a clock that moves on by
// itself, and a crew that answers checks from what the view says of them.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "desk/desk.hpp"
#include "desk/view_parts.hpp"
#include "digest/hash.hpp"
#include "photo/jpeg_coder.hpp"
#include "temporary_folder.hpp"
#include "units/reading.hpp"

namespace wm::desk::testing {

namespace fs = std::filesystem;

using Folder = TemporaryFolder;

inline std::string file_bytes(const fs::path& file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

/// Files below the folder, keys left out, that hold the words in UTF-8.
inline std::vector<std::string> files_holding(const fs::path& folder, const std::string& words) {
    std::vector<std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator{folder})
        if (entry.is_regular_file() && file_bytes(entry.path()).find(words) != std::string::npos)
            found.push_back(entry.path().string());
    return found;
}

inline LibraryTexts shipped_texts() {
    LibraryTexts texts;
    for (const auto& entry : fs::directory_iterator{fs::path{WM_SOURCE_DIR} / "checklists"})
        if (entry.path().extension() == ".toml") texts.emplace(entry.path().filename().string(), file_bytes(entry.path()));
    return texts;
}

inline store::RandomBytes seeded(std::string seed) {
    return [seed = std::move(seed), block = std::make_shared<int>(0)](std::size_t count) {
        std::string bytes;
        while (bytes.size() < count) bytes += digest::sha256(seed + std::to_string((*block)++));
        bytes.resize(count);
        return bytes;
    };
}

/// 2026-11-25T09:00:00+05:00, a second later each time it is asked.
struct Clock {
    std::shared_ptr<std::int64_t> wall_ms = std::make_shared<std::int64_t>(1795579200000LL);
    Moment operator()() const { return {*wall_ms += 1000, 300}; }
    void pass_days(int days) const { *wall_ms += days * 86'400'000LL; }
};

/// An invented house: antifreeze kind, clay tiles, two taps. `more` is written below; the key `without`
/// is left out.
inline std::string house_facts(const std::string& more = "", const std::string& without = "") {
    static const char* const lines[] = {
        "job.kind = \"new\"", "customer.name = \"Ansa Velmorrin\"", "customer.phone = \"555-0142\"",
        "customer.email = \"Ansa.Velmorrin@example.org\"", "customer.decider = \"owner\"", "customer.household = 4",
        "customer.vulnerable = false", "customer.photo_leave = true", "site.latitude = 29.4", "site.longitude = 61.83",
        "site.address = \"Dovetail Steps 14\"", "site.street = \"Dovetail Steps\"", "site.altitude_m = 2310",
        "site.declination_deg = 2.5", "site.frost_class = \"regular\"", "site.t_min_c = -13", "site.wind_ms = 34",
        "site.snow_kpa = 0.4", "site.sea_km = 400", "site.overhead_line = false", "roof.covering = \"clay-tile\"",
        "roof.pitch_deg = 30", "roof.azimuth_deg = 185", "roof.eaves_m = 4.5", "roof.structure = \"timber-rafter\"",
        "roof.spacing_mm = 600", "roof.member_b_mm = 60", "roof.member_h_mm = 140", "roof.free_w_m = 4",
        "roof.free_l_m = 5", "roof.asbestos = \"no\"", "roof.point_ok_kn = 2.5", "water.static_kpa = 420",
        "water.flow_lmin = 12", "water.source = \"mains\"", "water.hardness_mgl = 120", "water.chloride_mgl = 40",
        "heater.volume_l = 80", "heater.power_w = 2000", "heater.voltage_v = 230", "heater.max_kpa = 800",
        "heater.max_inlet_c = 90", "heater.cutout_c = 85", "heater.relief = \"temperature-and-pressure\"",
        "heater.relief_kpa = 700", "heater.age_y = 4", "house.pipe = \"copper\"", "house.taps = 2", "elec.earth = \"yes\"",
        "elec.rcd_ma = 30", "elec.breaker_a = 16", "elec.curve = \"B\"", "elec.system = \"TN\"", "elec.bond_required = true", "sys.kind = \"indirect\"",
        "sys.feed = \"mains-pressure\"", "sys.geometry = \"close-coupled\"", "sys.tank_l = 150", "sys.tank_dry_kg = 60",
        "sys.tank_max_kpa = 800", "sys.tank_material = \"enamelled steel\"", "sys.coll_m2 = 2", "sys.coll_kg = 38",
        "sys.coll_max_kpa = 800", "sys.coll_l = 2", "sys.jacket_l = 9", "sys.jacket_max_kpa = 250",
        "sys.jacket_relief_kpa = 200", "sys.relief_kpa = 600", "sys.relief_c = 95", "sys.limit_set_kpa = 350",
        "sys.min_rise_mm = 100", "sys.anti_reverse = false", "sys.ua_wk = 2", "sys.mount = \"roof hook\"", "sys.anchor_n = 4",
        "sys.anchor_nm = 20", "sys.clamp_n = 4", "sys.clamp_nm = 12", "sys.tilt_target = 35", "sys.az_target = 180",
        "sys.pipe_od_mm = 22", "sys.ins_mm = 25", "sys.run_hot_m = 0.6", "sys.run_cold_m = 0.6", "sys.run_disch_m = 5",
        "sys.run_drain_m = 3", "sys.fluid = \"premix\"", "sys.controller = \"none\"", "crew.lead = \"Tindo Quellaby\"",
        "crew.members = \"Tindo Quellaby, Ode Brannick\"", "crew.plumb_lic = \"P-118 2028-03-31\"",
        "crew.elec_lic = \"E-204 2028-03-31\"", "crew.height_card = \"H-77 2028-03-31\"", "pos.gauge_to_relief_m = 0"};
    std::string text;
    for (const std::string line : lines)
        if (without.empty() || !line.starts_with(without + " ")) text += line + "\n";
    return text + more + "\n";
}

struct Tool {
    std::string id, type, resolution, uncertainty, due = "2027-06-30";
};

inline std::string tools(const std::vector<Tool>& list = {{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m"},
                                                         {"PG-1", "pressure gauge", "2 kPa", "8 kPa"},
                                                         {"TH-1", "two-channel thermometer", "0.1 K", "0.6 K"},
                                                         {"IN-1", "inclinometer", "0.1°", "0.3°"},
                                                         {"RF-1", "refractometer", "1 K", "1.5 K"},
                                                         {"IR-1", "irradiance meter", "1 W/m²", "10 %"},
                                                         {"ET-1", "continuity tester", "0.01 Ω", "0.03 Ω"},
                                                         {"ET-2", "insulation tester", "0.1 MΩ", "10 %"},
                                                         {"ET-3", "rcd tester", "1 ms", "10 ms"},
                                                         {"LT-1", "loop tester", "0.01 Ω", "10 %"},
                                                         {"VT-1", "voltage tester", "1 V", "0 V"}}) {
    std::string text;
    for (const auto& tool : list)
        text += "[[inst]]\nid = \"" + tool.id + "\"\ntype = \"" + tool.type + "\"\nres = \"" + tool.resolution + "\"\nu = \"" +
                tool.uncertainty + "\"\ncal_date = 2026-06-30\ncal_due = " + tool.due + "\npreuse = true\n";
    return text;
}

inline Setup setup_in(const fs::path& data, const Clock& clock, const std::string& seed = "desk") {
    Setup setup;
    setup.data = data;
    setup.library = shipped_texts();
    setup.now = clock;
    setup.random = seeded(seed);
    setup.company = "Witnessmark";
    setup.company_contact = "555-0100";
    return setup;
}

inline std::string photo_bytes(int shade = 90) {
    photo::Pixels pixels{.width = 64, .height = 48, .rgb = {}};
    pixels.rgb.resize(64 * 48 * 3);
    for (std::size_t i = 0; i < pixels.rgb.size(); ++i)
        pixels.rgb[i] = static_cast<std::uint8_t>((static_cast<std::size_t>(shade) + i * 7 % 113) % 256);
    return photo::encoded_jpeg(pixels, 80);
}

/// A desk on a folder of its own with one commissioning job open.
class Bench {
public:
    explicit Bench(const std::string& facts = house_facts(tools()), const std::string& checklist = "commissioning",
                   const std::string& seed = "desk")
        : desk_{Desk::open(setup_in(folder_.path() / "data", clock, seed))} {
        REQUIRE_MESSAGE(desk_, (desk_ ? "" : told(desk_.error())));
        auto opened = desk_->carry_out(OpenJob{checklist, facts, "facts.toml", "", false});
        REQUIRE_MESSAGE(opened, (opened ? "" : told(opened.error())));
        job = *opened;
    }

    Clock clock;
    std::string job;

    [[nodiscard]] Desk& desk() { return *desk_; }
    [[nodiscard]] fs::path data() const { return folder_.path() / "data"; }
    /// As at the end of the program; the folder stays.
    void close() { desk_ = tl::unexpected(Problem{}); }
    /// The next start of the program.
    void open_again(const Setup& setup) {
        close();
        desk_ = Desk::open(setup);
        REQUIRE_MESSAGE(desk_, (desk_ ? "" : told(desk_.error())));
    }

    [[nodiscard]] TakeReading reading(const std::string& check, const std::string& text, const std::string& place = "") const {
        return {.job = job, .check = check, .place = place, .text = text, .instrument = "", .photo = std::nullopt,
                .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = false};
    }
    Answer enter(const std::string& check, const std::string& text, const std::string& place = "") {
        return take(reading(check, text, place));
    }
    Answer take(const TakeReading& intent) {
        const auto answers = desk().carry_out(intent);
        REQUIRE_MESSAGE(answers, (answers ? "" : told(answers.error())));
        return answers->back();
    }
    Answer correct(const std::string& check, const std::string& text, const std::string& done, const std::string& place = "") {
        const auto answers = desk().carry_out(CorrectFault{reading(check, text, place), done});
        REQUIRE_MESSAGE(answers, (answers ? "" : told(answers.error())));
        return answers->back();
    }
    [[nodiscard]] JobView view() {
        auto seen = desk().job_view(job);
        REQUIRE_MESSAGE(seen, (seen ? "" : told(seen.error())));
        return std::move(*seen);
    }
    [[nodiscard]] CheckView check(const std::string& id) {
        for (auto& shown : view().checks)
            if (shown.id == id) return shown;
        FAIL("no check " << id);
        return {};
    }
    [[nodiscard]] bool blocks(const std::string& id) {
        for (const auto& blocker : view().blockers)
            if (blocker.check == id) return true;
        return false;
    }

    /// Answers every core check and hold point that applies, rightly, in the order of the list.
    void do_all(const std::vector<std::string>& but = {});
    void sign_both() {
        for (const auto role : {Signer::Crew, Signer::Customer}) {
            const auto done = desk().carry_out(Sign{job, role, role == Signer::Crew ? "Tindo Quellaby" : "Ansa Velmorrin",
                                                    {{{1, 1, 0}, {9, 4, 120}, {12, 2, 200}}}, ""});
            REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
        }
    }

private:
    Folder folder_;
    Result<Desk> desk_;
};

inline std::string fine_number(const LimitsView& limits, const std::string& unit) {
    const auto low = limits.accept_low ? limits.accept_low : limits.low;
    const auto high = limits.accept_high ? limits.accept_high : limits.high;
    double value = 1.0;
    if (low && high) value = (*low + *high) / 2.0;
    else if (high) value = *high > 0 ? *high / 2.0 : *high - 3.0;
    else if (low) value = *low > 0 ? *low * 1.4 : *low + 3.0;
    return units::print_number(value, std::abs(value) < 1.0 ? 3 : 1) + " " + unit;
}

inline std::string fine_answer(const CheckView& check) {
    static const std::vector<std::pair<std::string, std::string>> special = {
        {"coll-azimuth", "181°"}, {"power-locked", "0 V"}, {"site-weather", "3 m/s"}, {"air-purged", "90 s"},
        {"insulation-res", "60 MΩ"}, {"thermostat-60", "65 °C"}, {"goods-scan", "ST-1, SC-1, all as on the list"},
        {"test-hold", "0 min=478 kPa; 2 min=478; 4 min=477; 6 min=477; 8 min=477; 10 min=477; water start=18.2 °C; "
                      "water end=18.3 °C"},
        {"loop-test-hold", "0 min=130 kPa; 2 min=130; 4 min=129; 6 min=129; 8 min=129; 10 min=129; "
                           "fluid start=16.4 °C; fluid end=16.4 °C"},
        {"cold-failure", "0.05 L"},
        {"sun-window", "0 min=800 W/m²; 5 min=805; 10 min=790; 15 min=810; 20 min=800"},
        {"temp-rise", "0 min: riser=20 °C, downcomer=19 °C; 5 min: riser=28 °C, downcomer=23 °C; 10 min: riser=34 °C, "
                      "downcomer=27 °C; 15 min: riser=39 °C, downcomer=31 °C; 20 min: riser=44 °C, downcomer=35 °C"}};
    for (const auto& [id, text] : special)
        if (id == check.id) return text;
    if (check.form == EntryForm::YesNo || check.form == EntryForm::Photo) return "yes";
    if (check.form == EntryForm::Choice) return check.accepted.front();
    if (check.form == EntryForm::Text) return "noted";
    return fine_number(check.limits, check.unit);
}

/// The places of a check and what is right there; one entry without a place where it has none.
inline std::vector<std::pair<std::string, std::string>> fine_entries(const CheckView& check) {
    std::vector<std::pair<std::string, std::string>> entries;
    if (check.form != EntryForm::Series)
        for (const auto& place : check.places)
            if (place.required)
                entries.emplace_back(place.name, place.name.empty()        ? fine_answer(check)
                                                 : !place.accepted.empty() ? place.accepted.front()
                                                 : !place.unit.empty()     ? fine_number(place.limits, place.unit)
                                                                           : "yes");
    if (entries.empty()) entries.emplace_back("", fine_answer(check));
    return entries;
}

inline void with_photo_if_wanted(TakeReading& reading, const CheckView& check) {
    if (check.form != EntryForm::Photo && check.photo != "required") return;
    reading.photo = photo_bytes(static_cast<int>(check.id.size()));
    reading.photo_name = "photo.jpg";
}

inline void Bench::do_all(const std::vector<std::string>& but) {
    for (const auto& planned : view().checks) {
        // The one check alone: a whole view for each of them would take minutes under the sanitizers.
        const auto hand = desk().in_hand(job);
        REQUIRE(hand);
        Assessment assessment{*hand};
        const auto shown = check_view(assessment, *hand->list->find(checklist::CheckId{planned.id}));
        const bool skipped = std::find(but.begin(), but.end(), shown.id) != but.end();
        if (skipped || !shown.applies || shown.outcome == Outcome::Conforms || !(shown.core || shown.hold)) continue;
        if (shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
        for (const auto& [place, text] : fine_entries(shown)) {
            auto intent = reading(shown.id, text, place);
            with_photo_if_wanted(intent, shown);
            const auto answer = take(intent);
            CAPTURE(shown.id);
            CAPTURE(place);
            CAPTURE(text);
            CAPTURE(answer.why);
            CHECK(answer.place_outcome == Outcome::Conforms);
        }
    }
}

/// So many houses more, one tilt each; every fifth is too steep.
inline void many_jobs(Bench& bench, int count) {
    for (int i = 0; i < count; ++i) {
        const auto job = bench.desk().carry_out(OpenJob{"commissioning", house_facts(tools()), "f", "", false});
        REQUIRE(job);
        auto reading = bench.reading("coll-tilt", i % 5 == 0 ? "41°" : "35°");
        reading.job = *job;
        bench.take(reading);
    }
}

}  // namespace wm::desk::testing
