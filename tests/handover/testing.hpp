// A commissioning of the invented demo town, for the tests of the report.
#pragma once

#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "digest/company.hpp"
#include "digest/hash.hpp"
#include "digest/sign.hpp"
#include "drawing/recorded.hpp"
#include "handover/book.hpp"
#include "handover/glossary.hpp"
#include "handover/paper_proof.hpp"
#include "handover/report_input.hpp"
#include "photo/intake.hpp"
#include "photo/testing.hpp"

namespace wm::handover::testing {

using measure::Outcome;

/// Keeps every page as a recording, so that words can be measured without a PDF.
class RecordedBook final : public Book {
public:
    drawing::Canvas& add_page(PaperSize) override {
        leaves.push_back(std::make_unique<drawing::RecordedCanvas>());
        return *leaves.back();
    }
    [[nodiscard]] int pages() const override { return static_cast<int>(leaves.size()); }
    [[nodiscard]] drawing::Canvas& page(int index) override {
        return *leaves[static_cast<std::size_t>(index)];
    }
    void place_jpeg(drawing::Box box, std::string_view) override {
        pictures.push_back(box);
        picture_pages.push_back(leaves.size() - 1);
    }
    void mark(const std::string& title) override { marks.push_back(title); }

    [[nodiscard]] std::string words_of_page(std::size_t index) const {
        std::string words;
        for (const auto& text : drawing::texts_of(*leaves[index])) words += text.words + " ";
        return words;
    }
    [[nodiscard]] std::string all_words() const {
        std::string words;
        for (std::size_t i = 0; i < leaves.size(); ++i) words += words_of_page(i);
        return words;
    }

    std::vector<std::unique_ptr<drawing::RecordedCanvas>> leaves;
    std::vector<drawing::Box> pictures;
    std::vector<std::size_t> picture_pages;  ///< of each picture, counted from 0
    std::vector<std::string> marks;
};

struct CheckRow {
    const char* id;
    const char* title;
    const char* question;
    const char* reading;
    const char* instrument;
    const char* tolerance;
    const char* rule;
    bool hold;
    const char* severity;
};

struct StageRows {
    const char* title;
    std::vector<CheckRow> checks;
};

inline std::vector<StageRows> stage_rows() {
    return {
        {"A  Arrival",
         {{"site-weather", "Wind and rain allow work", "How strong is the wind on the roof?",
           "3.5 m/s", "estimate", "at most 10 m/s, no rain, ice or thunder", "guarded", true, "H"},
          {"crew-licences", "Licences valid today", "Decided by the tool from the crew's cards.",
           "all valid, 2 people", "", "every date today or later", "none", true, "H"},
          {"fall-protection", "Edge guard or harness in place",
           "Is an edge guard up, or a harness tied to a proven anchor?", "yes", "", "yes", "none",
           true, "H"},
          {"power-locked", "Heater circuit dead and locked",
           "What does the tester show between live, neutral and earth?",
           "0 V live–neutral; 0 V live–earth; 0 V neutral–earth", "ET-B", "0 V on all three",
           "guarded", true, "H"},
          {"collector-covered", "Collector glass covered", "Is the glass covered?", "yes", "",
           "yes", "none", true, "H"},
          {"goods-scan", "Right goods, undamaged", "What are the serial numbers?",
           "store OV-118-2207, collector LC-88041, relief batch RV-K16", "", "as on the kit list",
           "none", false, "D"},
          {"instruments-due", "Instruments in date", "Decided by the tool.", "5 of 5 in date", "",
           "due today or later, checked before use", "none", true, "R"}}},
        {"B  Roof",
         {{"roof-as-surveyed", "Roof is as surveyed", "Is the roof as the survey says?", "same", "",
           "same, or small change noted", "none", true, "H"},
          {"members-found", "Every bracket sits on a rafter", "Was a rafter found at each bracket?",
           "yes at all 8", "", "yes at every place", "none", true, "H"},
          {"hook-gap", "Hooks keep off the tiles", "How wide is the gap under each hook?",
           "6 to 8 mm", "TP-1", "at least 5 mm", "simple", false, "D"},
          {"hole-flashed", "Holes flashed", "Is every hole flashed and sealed?",
           "flashed on the uphill side under the covering", "",
           "none, or flashed on the uphill side under the covering", "none", false, "D"}}},
        {"C  Store",
         {{"anchor-torque", "Store anchors tightened",
           "What did the torque wrench show at each anchor?", "", "TW-1", "18 to 22 N·m", "guarded",
           true, "H"},
          {"tank-level", "Store is level", "How far is the store off level?", "0.3°", "IN-2",
           "-1.0° to 1.0°", "simple", false, "P"},
          {"tank-ports", "Pipes at the right ports", "Are the four pipes at their ports?",
           "as drawing", "", "as drawing", "none", false, "P"},
          {"vacuum-break", "Vacuum breaker fitted", "Does it open to air at the top?", "fitted", "",
           "fitted", "none", false, "D"}}},
        {"D  Collector",
         {{"coll-clamps", "Collector clamps tightened", "What did the wrench show at each clamp?",
           "1: 12.1; 2: 11.8; 3: 12.4; 4: 12.0 N·m", "TW-1", "10.8 to 13.2 N·m", "guarded", true,
           "H"},
          {"coll-tilt", "Tilt of the collector", "How steep is the glass?", "34.6°", "IN-2",
           "31.4° to 37.4°", "simple", false, "P"},
          {"coll-azimuth", "Direction of the collector", "Which way does it face?", "176° true",
           "CO-1", "within 10° of 180°", "simple", false, "P"},
          {"coll-cross-rise", "Rise toward the hot outlet", "How much does it rise?", "11 mm/m",
           "TP-1", "5 to 20 mm/m", "simple", false, "P"},
          {"nut-marks", "Paint line over every nut", "Is every line visible?", "photo taken", "",
           "all visible", "none", false, "R"}}},
        {"E  Hydraulics",
         {{"loop-rise", "Loop rises all the way", "What is the slope of each piece?",
           "hot 1: 28; hot 2: 31; cold 1: falls mm/m", "TP-1",
           "hot pipe at least 20 mm/m, cold pipe never rises", "simple", false, "P"},
          {"valve-order", "Valves in the right order", "In which order are the valves?",
           "isolating, strainer, limiting, non-return, relief and drain, store", "",
           "in this order", "none", true, "H"},
          {"relief-unblocked", "Nothing blocks the relief", "Is the way to each relief free?",
           "yes", "", "yes", "none", true, "H"},
          {"relief-rating", "Relief fits the store", "What is the set pressure on the plate?",
           "600 kPa", "plate", "at most 600 kPa", "guarded", true, "H"},
          {"discharge-pipe", "Relief pipe ends safely", "Is it metal, falling, open and seen?",
           "all", "", "all", "none", true, "H"},
          {"pressure-limit-set", "Feed pressure set", "What is the pressure with no flow?",
           "350 kPa", "PG-1", "108 to 480 kPa", "simple", false, "D"},
          {"tempering-fitted", "Mixing valve fitted", "Is it on all washing taps?", "yes", "",
           "yes", "none", true, "H"},
          {"expansion-room", "Room for the water to expand", "Where does it go?",
           "back to the main", "", "back to the main, a vessel, or a seen drain", "none", false,
           "D"}}},
        {"F  Filling and test",
         {{"flush-fill", "Flushed and filled", "Was it flushed until clear?", "yes", "", "yes",
           "none", false, "D"},
          {"relief-lever", "Relief opens and closes", "Does it flow and close without a drip?",
           "flows and closes", "", "flows and closes", "none", true, "H"},
          {"test-pressure", "Test pressure reached", "What is the pressure at the start?",
           "500 kPa", "PG-1", "485 to 539 kPa", "guarded", true, "H"},
          {"test-hold", "Pressure holds for 10 minutes",
           "What does the gauge show every 2 minutes?", "500, 500, 499, 499, 498, 498 kPa", "PG-1",
           "drop at most 10 kPa", "guarded", true, "D"},
          {"joints-dry", "Joints dry to paper", "Is the paper dry at every joint?", "dry at all 11",
           "", "dry at all", "none", true, "D"}}},
        {"H  Loop",
         {{"fluid-id", "Right fluid in the loop", "What goes into the loop?",
           "inhibited propylene glycol, batch PG-0926", "", "inhibited propylene glycol, in date",
           "none", true, "H"},
          {"loop-freeze-point", "Fluid is frost-proof", "At what temperature would it freeze?",
           "-20 °C", "RF-A", "at most -18 °C", "guarded", true, "D"},
          {"jacket-relief", "Jacket relief fitted", "Is it led to a safe place?", "yes", "", "yes",
           "none", true, "H"}}},
        {"I  Electric",
         {{"heater-filled", "Heater full before power", "Does the tap run without air?", "yes", "",
           "yes", "none", true, "D"},
          {"earth-continuity", "Earth continuous", "What is the resistance to earth?", "0.04 Ω",
           "ET-B", "at most 0.1 Ω", "guarded", true, "H"},
          {"insulation-res", "Insulation sound", "What does the 500 V tester show?", "48 MΩ",
           "ET-B", "at least 1.0 MΩ", "guarded", true, "H"},
          {"thermostat-60", "Heater set to 60 °C or more", "What is the thermostat set to?",
           "65 °C", "scale", "60 to 75 °C", "simple", false, "H"},
          {"outlet-temp", "Washing taps not too hot", "How hot is each tap after 60 seconds?",
           "basin: 46.1; bath: 46.4; kitchen: 46.0 °C", "TH-1", "at most 50 °C", "guarded", true,
           "H"},
          {"rcd-trip", "Residual-current device trips", "How long does it take?", "", "", "",
           "none", true, "H"}}},
        {"J  Insulation",
         {{"ins-wall", "Insulation thick enough", "How thick is the wall?",
           "hot loop: 25; cold loop: 25; indoor run: 19 mm", "TP-1",
           "25 mm outdoors, 19 mm indoors", "simple", false, "P"},
          {"ins-ends", "Pipe ends closed", "Is any bare metal longer than 10 mm?", "none at all 6",
           "TP-1", "no bare metal over 10 mm", "simple", false, "P"},
          {"ins-uv", "Sun-proof jacket outdoors", "Is every outdoor piece covered?", "yes", "",
           "yes", "none", false, "P"},
          {"frost-cold-feed", "Cold feed cannot freeze", "How is it protected?",
           "insulated and drains itself", "", "insulated and drains itself, or heated", "none",
           true, "D"}}},
        {"K  Warm-up",
         {{"sun-window", "Enough sun to judge", "How strong is the sun every 5 minutes?",
           "mean 640 W/m² for 25 min", "IR-A", "mean at least 300 W/m² for 20 min", "simple", false,
           "P"},
          {"temp-rise", "Loop carries heat", "How warm are riser and downcomer?",
           "difference 9.4 K, riser rising", "TH-1", "3.6 to 22.4 K", "simple", false, "P"},
          {"day-after", "Store warms on a clear day", "How much did the store warm up?", "", "",
           "at least 17 K", "simple", false, "P"}}},
        {"N  Handing over",
         {{"customer-shown", "Customer was shown everything", "Were all seven things shown?",
           "all seven", "", "all seven", "none", false, "H"},
          {"open-items", "Nothing open that must not be", "Decided by the tool.", "none", "",
           "every hold point conforms", "none", true, "R"},
          {"sign-crew", "Signed by the crew lead", "", "signed", "", "signed", "none", false, "R"},
          {"sign-customer", "Signed by the customer", "", "signed", "", "signed", "none", false,
           "R"}}},
    };
}

inline figures::ToleranceScale scale_of(double low, double high, double guard, double reading,
                                        const char* unit) {
    figures::ToleranceScale scale;
    scale.low = low;
    scale.high = high;
    scale.accept_low = low + guard;
    scale.accept_high = high - guard;
    scale.reading = reading;
    scale.unit = unit;
    scale.outcome = Outcome::Conforms;
    return scale;
}

inline void give_details(ReportCheck& check) {
    if (check.id == "anchor-torque") {
        check.readings.clear();
        const char* values[] = {"20.4", "19.8", "20.1", "20.6", "19.5", "20.0", "20.3"};
        int place = 0;
        for (const char* value : values) {
            check.readings.push_back({std::string{value} + " N·m", std::to_string(++place), "TW-1",
                                      "2027-03-04 09:2" + std::to_string(place) + " +02:00", "Tindo Quellaby",
                                      Outcome::Conforms, ""});
        }
        check.readings.push_back({"16.5 N·m", "8", "TW-1", "2027-03-04 09:28 +02:00", "Tindo Quellaby",
                                  Outcome::DoesNotConform, "before correction"});
        check.readings.push_back({"20.2 N·m", "8", "TW-1", "2027-03-04 09:41 +02:00", "Tindo Quellaby",
                                  Outcome::Conforms, "after correction"});
        check.corrected = true;
        check.derivation = {"20 N·m from the bracket's sheet, 10 % either way"};
        check.sources = {"ISO 898 table for stainless class 70 (from memory)"};
        check.scale = scale_of(18.0, 22.0, 0.8, 19.5, "N·m");
        check.why = "All 8 readings keep 0.8 N·m from both limits.";
    } else if (check.id == "test-pressure") {
        check.scale = scale_of(485.0, 539.0, 10.0, 500.0, "kPa");
        check.derivation = {"0.8 × 600 kPa = 480 kPa at the relief",
                            "+ 9.81 × 6.0 m = 59 kPa: relief above the gauge",
                            "0.90 to 1.00 of 539 kPa"};
        check.sources = {"common practice, no source"};
    } else if (check.id == "test-hold") {
        figures::SeriesChart chart;
        chart.unit = "kPa";
        chart.low = 490.0;
        chart.lines = {{"", {{0, 500}, {2, 500}, {4, 499}, {6, 499}, {8, 498}, {10, 498}}}};
        check.series = chart;
    } else if (check.id == "temp-rise") {
        figures::SeriesChart chart;
        chart.unit = "°C";
        chart.lines = {
            {"riser", {{0, 31}, {5, 36}, {10, 41}, {15, 44}, {20, 46.2}, {25, 47.8}}},
            {"downcomer", {{0, 25}, {5, 28}, {10, 32}, {15, 34.7}, {20, 36.9}, {25, 38.4}}}};
        check.series = chart;
        check.derivation = {"10 × √(640 / 800) = 8.9 K expected; 0.4 to 2.5 times this"};
    } else if (check.id == "coll-tilt") {
        check.scale = scale_of(31.4, 37.4, 0.0, 34.6, "°");
    } else if (check.id == "ins-ends") {
        check.corrected = true;
        check.readings.insert(check.readings.begin(),
                              {"14 mm bare", "collector in", "TP-1", "2027-03-04 10:55 +02:00",
                               "Ansgar Pellow", Outcome::DoesNotConform, "before correction"});
    } else if (check.id == "rcd-trip") {
        check.outcome = Outcome::NotApplicable;
        check.readings.clear();
        check.why = "No residual-current device in this circuit (elec.rcd_ma is 0).";
    } else if (check.id == "day-after") {
        check.outcome = Outcome::Deferred;
        check.readings.clear();
        check.why = "Due by 2027-03-11; owner Tindo Quellaby.";
    }
}

/// Four loops that look drawn, on a pad of 70 by 25 millimetres.
inline std::vector<std::vector<drawing::Point>> scrawl(double slant) {
    std::vector<std::vector<drawing::Point>> strokes(2);
    for (int i = 0; i < 90; ++i) {
        const double t = i / 12.0;
        strokes[0].push_back({4.0 + 7.0 * t + 3.0 * std::cos(2.9 * t),
                              12.0 + slant * t + 6.0 * std::sin(2.9 * t + slant)});
    }
    for (int i = 0; i < 20; ++i) strokes[1].push_back({8.0 + 2.4 * i, 20.0 - slant * 0.1 * i});
    return strokes;
}

inline digest::DeviceKey sample_device() {
    return *digest::device_key(std::string(32, '\x17'));
}

/// Made once: two calls of make_company_keys give two certificates.
inline const digest::CompanyKeys& sample_company() {
    static const digest::CompanyKeys keys = [] {
        std::string seed;
        for (int i = 0; i < 96; ++i) seed += static_cast<char>(i + 3);
        // From the beginning of 2026 to the beginning of 2030.
        return *digest::make_company_keys(seed, "Bramblewisp Solar Crews",
                                          {.from = 1767225600, .until = 1893456000});
    }();
    return keys;
}

inline void add_page_one(ReportInput& input, const std::string& fingerprint) {
    PageOne& page = input.page_one;
    page.fitted = {{"Collector", "glass box that catches the sun, 2.0 m², on the south roof"},
                   {"Store", "hot water tank above it, 150 L"},
                   {"Loop", "closed pipes; a fluid that stands frost to -20 °C carries the heat"},
                   {"Mixing valve", "adds cold water to the hot taps, set to 46 °C"},
                   {"Relief valve", "safety tap, opens by itself at 600 kPa"},
                   {"Electric heater", "80 L, 2 kW, in the bathroom, set to 65 °C"}};
    page.hottest_tap = "46.4 °C";
    page.hottest_allowed = "50 °C";
    page.care = {{"2027-03-11", "warm-up check by the crew"},
                 {"2027-04-04", "first visit after a month"},
                 {"2027-10-01", "frost check"},
                 {"2028-03-04", "yearly service"}};
    page.warranty = {{"Workmanship", "until 2029-03-04"}, {"Collector", "until 2037-03-04"}};
    page.call = {{"Office", "000 555 0142, weekdays 8 to 17"},
                 {"At night", "000 555 0199, if water or steam runs out"},
                 {"E-mail", "care@bramblewisp.example"}};
    page.fingerprint = fingerprint;
    page.fingerprint_published = "on the notice board of the co-operative";
    PaperFacts facts{input.job,
                     "full",
                     "2027-03-04",
                     "14 Dovetail Steps",
                     "52 of 53 conform",
                     "46.4 °C",
                     input.heads.front().hash.substr(0, 32),
                     fingerprint.substr(0, 32)};
    page.paper_proof = *paper_proof(
        facts, [](std::string_view bytes) { return digest::sign_as_company(sample_company(), bytes); });
}

inline void add_surroundings(ReportInput& input) {
    input.nonconformities = {
        {"anchor-torque", "Store anchors tightened", "H",
         "16.5 N·m at place 8, TW-1, 2027-03-04 09:28", "Below 18 N·m.",
         "Thread cleaned and greased, nut tightened again.", "20.2 N·m, TW-1, 09:41"},
        {"ins-ends", "Pipe ends closed", "P", "14 mm bare at collector in, TP-1, 10:55",
         "More than 10 mm of bare metal.", "Collar cut longer and glued.",
         "none bare, TP-1, 11:06"},
        {"relief-lever", "Relief opens and closes", "H", "drips, 09:50",
         "It must close without a drip.", "Flushed again under the lifted lever, closed.",
         "flows and closes, 09:58"},
        {"pressure-limit-set", "Feed pressure set", "D", "510 kPa, PG-1, 09:44", "Above 480 kPa.",
         "Limiting valve turned down and left 5 minutes.", "350 kPa, PG-1, 09:52"}};
    input.deferrals = {{"day-after", "Store warms on a clear day", "2027-03-11", "Tindo Quellaby",
                        "The store must stand a whole clear day without anybody drawing water."}};
    input.concessions = {{"coll-cross-rise", "Rise toward the hot outlet", "Odrun Vassamy",
                          "4 mm/m on the last third only; the batten cannot be packed further. Air "
                          "was seen to leave."}};
    input.instruments = {
        {"TW-1", "torque wrench", "0.5 N·m", "U 4 % of reading (k = 2)", "2026-11-02", "2027-11-02",
         "CAL-2611-08", "set back to its lowest mark"},
        {"PG-1", "pressure gauge 0 to 1000 kPa", "2 kPa", "U 10 kPa (k = 2)", "2026-09-14",
         "2027-09-14", "CAL-2609-31", "0 kPa open to air"},
        {"TH-1", "two-channel contact thermometer", "0.1 K", "U 1.0 K, difference 0.5 K",
         "2026-10-20", "2027-10-20", "CAL-2610-12", "both probes in one cup agree within 0.1 K"},
        {"RF-A", "refractometer, propylene glycol", "1 K", "U 2 K (k = 2)", "2026-12-01",
         "2027-12-01", "CAL-2612-02", "distilled water reads 0"},
        {"ET-B", "electrical tester", "0.01 Ω", "U 0.03 Ω", "2026-08-30", "2027-08-30",
         "CAL-2608-17", "leads zeroed, proved before and after"}};
    input.signatures = {{"crew lead", "Tindo Quellaby", "2027-03-04 11:52 +02:00", scrawl(0.3), "", ""},
                        {"customer", "Maribel Ostrander", "2027-03-04 11:55 +02:00", scrawl(-0.4), "",
                         "The gutter bracket by the door was bent before; please look at it."}};
    input.cautions = {
        {"Hot water",
         "At 60 °C skin burns deep in about 5 seconds. Solar water can be far hotter than "
         "the heater's setting. Follow the local code; leave this to a licensed or trained "
         "person if you are not one."},
        {"Steam",
         "Relief pipes can throw water near boiling without warning. Keep face and hands away. "
         "Here water boils at about 92 °C."},
        {"Lukewarm water",
         "Water kept between 25 and 50 °C breeds germs that harm when breathed in as "
         "spray. Keep the electric heater at 60 °C or more."}};
}

inline void add_photos(ReportInput& input, int count) {
    const char* captions[] = {"Edge guard along the eaves",
                              "Lock on the heater's circuit",
                              "Bracket 3 on its rafter",
                              "Paint line over the nuts of the store",
                              "Gauge at the start of the test",
                              "End of the relief pipe, open and seen",
                              "Label of the fluid can",
                              "Scale of the refractometer",
                              "Closed pipe end at the store",
                              "Sun-proof jacket with its lap down",
                              "Tiles back in place, seen from the ladder",
                              "Labels at the heater"};
    static const auto level = photo::take_in(photo::testing::jpeg_scene(1600, 1200, 1), "level");
    static const auto upright = photo::take_in(photo::testing::jpeg_scene(900, 1200, 2), "upright");
    for (int i = 0; i < count; ++i) {
        const auto& taken = i % 5 == 2 ? upright : level;
        input.photos.push_back({taken->jpeg, taken->width, taken->height, captions[i % 12]});
    }
}

/// A whole report; `photos` pictures are made for it.
inline ReportInput sample_report(int photos = 2) {
    ReportInput input;
    input.job = "J-07-0031";
    input.title = "Solar water heater: handover report";
    input.company = "Bramblewisp Solar Crews";
    input.place = "14 Dovetail Steps, Ostervaun";
    input.date = "2027-03-04";
    input.written = {2027, 3, 4, 11, 58, 12, 120};
    input.checklist = "checklist commissioning version 1, " + digest::sha256_hex("checklist");
    input.engine = "Witnessmark 0.1.0";
    input.heads = {
        {digest::device_id(sample_device().public_key), "318", digest::sha256_hex("head")}};
    for (const StageRows& stage : stage_rows()) {
        ReportStage made{stage.title, {}};
        for (const CheckRow& row : stage.checks) {
            ReportCheck check;
            check.id = row.id;
            check.title = row.title;
            check.question = row.question;
            check.outcome = Outcome::Conforms;
            check.tolerance = row.tolerance;
            check.rule = row.rule;
            check.hold = row.hold;
            check.severity = row.severity;
            check.readings = {{row.reading, "", row.instrument, "2027-03-04 10:12 +02:00",
                               "Tindo Quellaby", Outcome::Conforms, ""}};
            give_details(check);
            made.checks.push_back(std::move(check));
        }
        input.stages.push_back(std::move(made));
    }
    input.plant.roof_word = "clay tile";
    input.facts = {{"Latitude", "29.4° north"},
                   {"Height above the sea", "2310 m; water boils at 92 °C"},
                   {"Roof", "clay tile, 32° pitch, faces 176°"},
                   {"Coldest night in 20 years", "-13 °C"},
                   {"Static water pressure", "420 kPa"},
                   {"Household", "4 persons"},
                   {"Crew", "Tindo Quellaby (lead), Ansgar Pellow"}};
    add_surroundings(input);
    input.glossary = standard_glossary();
    add_photos(input, photos);
    add_page_one(input, digest::root_fingerprint(sample_company()));
    return input;
}

}  // namespace wm::handover::testing
