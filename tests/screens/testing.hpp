// A headless window with fingers and a keyboard, and an invented job to use them on.
#pragma once

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "screens/frame.hpp"

namespace wm::screens::testing {

inline std::string file_bytes(const char* path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
}

inline FontFiles installed_fonts() {
    return {.regular = file_bytes("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"),
            .bold = file_bytes("/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf")};
}

inline desk::LimitsView band(double low, double high, double guard, const std::string& unit,
                             const std::string& text) {
    desk::LimitsView limits;
    limits.text = text;
    limits.unit = unit;
    limits.low = low;
    limits.high = high;
    limits.accept_low = low + guard;
    limits.accept_high = high - guard;
    limits.target = (low + high) / 2.0;
    limits.rule = "guarded";
    limits.how = {"Anchor torque of the maker's sheet 20 N·m, plus and minus 10 %."};
    return limits;
}

inline desk::CheckView check(std::string id, std::string stage, std::string title,
                             desk::EntryForm form) {
    desk::CheckView view;
    view.id = std::move(id);
    view.stage = std::move(stage);
    view.title = std::move(title);
    view.form = form;
    view.core = true;
    view.severity = "H";
    view.question = "Is it as the drawing shows?";
    view.why_it_matters = "A loose store falls on people.";
    view.how = "Look, touch, then answer.";
    view.on_fail = "Put it right, then check again.";
    view.photo = "wanted";
    return view;
}

inline desk::CheckView torque_check() {
    desk::CheckView view =
        check("anchor-torque", "C", "Torque of each store anchor", desk::EntryForm::Number);
    view.kind = "positions";
    view.question = "Tighten each store anchor in turn and read the wrench at the click.";
    view.hold = true;
    view.unit = "N·m";
    view.limits = band(18.0, 22.0, 0.5, "N·m", "18 to 22 N·m at every anchor");
    view.plausible_low = 4.0;
    view.plausible_high = 60.0;
    view.instruments = {
        {"TW-1", "torque wrench", "TW-1 torque wrench", "2027-06-30", "0.5 N·m", true},
        {"TW-2", "torque wrench", "TW-2 torque wrench", "2027-01-15", "0.8 N·m", false}};
    view.cautions = {{"C-LOAD", "Heavy store",
                      "A full store weighs more than three people. Nobody "
                      "stands below until every anchor conforms."}};
    for (int i = 1; i <= 6; ++i) {
        desk::PlaceView place;
        place.name = std::to_string(i);
        place.form = desk::EntryForm::Number;
        place.unit = "N·m";
        if (i == 1) {
            place.outcome = measure::Outcome::Conforms;
            place.text = "20.5 N·m";
        }
        view.places.push_back(place);
    }
    return view;
}

inline desk::CheckView choice_check() {
    desk::CheckView view =
        check("discharge-pipe", "E", "Discharge pipe of the relief valve", desk::EntryForm::Choice);
    view.question = "How does the discharge pipe run, from the valve to its open end?";
    view.hold = true;
    desk::PlaceView place;
    place.form = desk::EntryForm::Choice;
    place.accepted = {"metal, full bore, falls all the way to a seen end"};
    place.refused = {"valve or plug in it", "ends on the roof", "plastic", "rises somewhere"};
    view.places = {place};
    view.outcome = measure::Outcome::DoesNotConform;
    view.why = "The pipe is plastic: steam softens it.";
    view.failed_once = true;
    view.on_fail = "Lay it again in metal, one size above the valve.";
    view.cautions = {{"C-STEAM", "Steam and scalding water", "Stand aside of the open end."}};
    return view;
}

inline desk::CheckView pressure_check() {
    desk::CheckView view =
        check("test-pressure", "G", "Pressure at the start of the test", desk::EntryForm::Number);
    view.question =
        "Raise the pressure slowly with the pump and read the gauge when it stands still.";
    view.hold = true;
    view.unit = "kPa";
    view.limits = band(432.0, 480.0, 4.0, "kPa", "432 to 480 kPa, never above");
    view.limits.how = {"0.90 × 480 kPa = 432 kPa", "480 kPa = 0.80 × relief valve 600 kPa"};
    view.plausible_low = 100.0;
    view.plausible_high = 1200.0;
    view.instruments = {{"PG-1", "pressure gauge", "PG-1 gauge", "2027-09-01", "4 kPa", true}};
    view.cautions = {{"C-PRESSURE", "Pressure", "Water under pressure cuts. Never test with air."}};
    return view;
}

inline desk::CheckView series_check() {
    desk::CheckView view =
        check("test-hold", "G", "Pressure holds for ten minutes", desk::EntryForm::Series);
    view.question = "Read the gauge every two minutes. Touch nothing while the test runs.";
    view.hold = true;
    view.severity = "D";
    view.unit = "kPa";
    view.limits.text = "a drop of 10 kPa at most";
    view.limits.unit = "kPa";
    view.limits.low = 460.0;
    view.every_s = 120;
    view.duration_s = 600;
    view.extras = {"water start", "water end"};
    return view;
}

inline desk::ShareView share(std::string name, int failed, int tries, double low, double high) {
    desk::ShareView view;
    view.words = name;
    view.name = std::move(name);
    view.failed = failed;
    view.tries = tries;
    view.share = static_cast<double>(failed) / tries;
    view.low = low;
    view.high = high;
    view.jobs = {"A-0110", "A-0111"};
    return view;
}

inline World sample_world() {
    World world;
    world.moment = {"2027-03-04T09:10:00+02:00", 1804144200, 100.0};
    world.saved_mark = "saved 09:09:41";
    world.checklists = {"survey", "kit", "commissioning", "service", "tutorial"};
    world.facts_files = {"facts/kettlemark-row-12.toml", "facts/lower-sill-3.toml"};
    world.photo_files = {"pictures/091.jpg", "pictures/090.jpg", "pictures/089.jpg"};
    desk::JobView job;
    job.row = {"A-0117",
               "commissioning",
               "new",
               "Kettlemark Row 12",
               "Bramblewisp",
               "2027-03-04T08:05:00+02:00",
               "open",
               "Household Imber",
               62,
               1,
               false};
    job.facts = {{"sys.kind", "indirect", "", false, ""},
                 {"sys.feed", "mains-pressure", "", false, ""},
                 {"sys.geometry", "raised", "", false, ""},
                 {"roof.covering", "clay-tile", "", false, ""},
                 {"sys.controller", "temperature-and-timer", "", false, ""}};
    job.plant.controller = figures::Fitting::Fitted;
    job.plant.roof_word = "clay tile";
    const std::vector<std::pair<std::string, std::string>> stages{
        {"A", "Arrival"},    {"B", "Roof"},       {"C", "Store"},         {"D", "Collector"},
        {"E", "Hydraulics"}, {"F", "Fill"},       {"G", "Pressure test"}, {"H", "Charge loop"},
        {"I", "Electric"},   {"J", "Insulation"}, {"K", "Warm-up"},       {"L", "Tight"},
        {"M", "Tidy"},       {"N", "Teach"},      {"O", "Sign"}};
    for (const auto& [id, title] : stages)
        job.stages.push_back({id, title, 10, id < "C" ? 6 : 0, 6});
    using desk::EntryForm;
    auto fall = check("fall-protection", "A", "Nobody can fall", EntryForm::YesNo);
    fall.question =
        "Is there an edge guard, or a harness on a proven anchor, and is the ground below "
        "fenced off?";
    fall.cautions = {{"C-HEIGHT", "Height", "No one goes up before this is answered with yes."}};
    auto power =
        check("power-locked", "A", "Heater circuit locked off and proved dead", EntryForm::YesNo);
    power.outcome = measure::Outcome::Conforms;
    auto goods = check("goods-scan", "A", "Serial numbers of the parts", EntryForm::Text);
    auto photo = check("nut-marks", "D", "Paint line over every tightened nut", EntryForm::Photo);
    photo.photo = "required";
    auto tilt = check("coll-tilt", "D", "Tilt of the collector", EntryForm::Number);
    tilt.unit = "°";
    tilt.outcome = measure::Outcome::Inconclusive;
    tilt.why = "31.6° lies within the guard strip of the upper limit.";
    tilt.missing_facts = {"sys.tilt_target"};
    tilt.missing_words = {"intended tilt"};
    auto open_items = check("open-items", "O", "Nothing is left open", EntryForm::None);
    open_items.waits_for = {"test-hold"};
    auto outlet = check("outlet-temp", "I", "Hot water at each washing tap", EntryForm::Number);
    outlet.outcome = measure::Outcome::Deferred;
    outlet.deferral = desk::DeferralView{"2027-03-05", "Tindo Quellaby", "heater not hot yet"};
    auto tidy = check("roof-clear", "M", "Roof left clear", EntryForm::YesNo);
    tidy.may_be_conceded = true;
    tidy.defer_reasons = {"rain on the roof", "thunder"};
    job.checks = {fall,           power,  goods,          torque_check(),
                  photo,          tilt,   choice_check(), pressure_check(),
                  series_check(), outlet, tidy,           open_items};
    job.blockers = {
        {"discharge-pipe", "does not conform", "the pipe is plastic and not yet relaid"},
        {"test-hold", "open", "no readings yet"}};
    job.restrictions = {"Hot taps are not released until the heater was hot once."};
    world.page_one = {"Your solar water heater was fitted today by the crew Bramblewisp.",
                      "One thing was found and is being put right: the discharge pipe."};
    world.job = job;
    world.jobs = {job.row,
                  {"A-0116", "commissioning", "new", "Lower Sill 3", "Bramblewisp",
                   "2027-03-02T08:10:00+02:00", "open", "", 4, 0, false},
                  {"A-0109", "survey", "new", "Dovetail Steps 40", "Bramblewisp",
                   "2027-02-20T10:00:00+02:00", "handed over", "Household Quern", 0, 0, false}};
    world.messages = {{"m-1", "imber@example.test", "Handover report A-0109", "waiting",
                       "the mail server did not answer", "14:05", "timed out after 30 s", "A-0109",
                       2}};
    desk::WeekView week;
    week.week = "2027-W09";
    week.weeks = {"2027-W08", "2027-W09"};
    week.jobs = 12;
    week.results = 640;
    week.severe = {{"A-0112", "outlet-temp", "does not conform", false, "Taps not too hot"}};
    week.failed = {share("ins-ends", 5, 12, 0.193, 0.68),
                   share("coll-azimuth", 2, 12, 0.047, 0.448)};
    week.by_crew = {share("Thimblegate", 4, 5, 0.376, 0.964)};
    week.by_batch = {share("RV-K17", 2, 6, 0.097, 0.7)};
    week.findings = {
        {"crew",
         "Thimblegate",
         "ins-ends",
         "Thimblegate leaves pipe ends bare more often than the others: 4 of 5 against 1 "
         "of 7, which chance alone would give less than once in a hundred weeks.",
         0.008,
         0.03,
         4,
         5,
         1,
         7,
         {"A-0110", "A-0111"}}};
    week.open = {{"A-0098", "temp-rise", "", "warm-up not seen", 16, "Loop carries the heat"}};
    week.samples = {{"A-0111", "bare ends, same crew", ""}, {"A-0107", "drawn at random, seed 1", "A-0120"}};
    week.causes = {{"skill", "nobody showed how it is done"}, {"material", "a part is not as it should be"}};
    desk::ActionView action;
    action.action = "A-1A2B-0001";
    action.finding = "crew and check";
    action.subject = "Owlcroft";
    action.title = "Collector tilt";
    action.state = "effect to be checked";
    action.remedy = "Show the inclinometer at the van.";
    action.owner = "Odrun";
    action.due = "2027-01-28";
    action.done_on = "2027-01-25";
    action.age_days = 40;
    desk::EffectView effect;
    effect.after_days = 30;
    effect.is_due = true;
    effect.verdict = "it helped";
    effect.sentence = "12 of 50 failed before, 4 of 52 after.";
    action.effects = {effect};
    week.actions = {action};
    world.week = week;
    world.settings = {"Lanternfold Solar Works",
                      "office@lanternfold.example",
                      "4f9a 17c0 22de 8b31",
                      "lanternfold.example/seal",
                      "data",
                      "A",
                      "",
                      "",
                      false};
    return world;
}

/// An ImGui context without a display. One at a time.
/// The shipped list on the lead's bench with a changed tolerance and a fault.
inline desk::ListDraftView list_draft() {
    using Kind = desk::FormField::Kind;
    desk::ListDraftView view;
    view.list = "commissioning";
    view.check = "coll-tilt";
    view.about.checklist = "commissioning";
    view.about.published = 5;
    view.about.checks = {{"roof-clear", "Nobody below the edge of the roof", "A", 0, 0},
                         {"coll-tilt", "Tilt of the collector", "D", 1, 2},
                         {"nut-marks", "Paint line on every nut", "D", 0, 0}};
    view.about.faults = {{412, 13, "coll-tilt", "This example comes out as \"does not conform\".", "Work it anew, or widen the tolerance.", true}};
    view.about.differences = {{"coll-tilt", "tolerance", "Tolerance: was “reading within 3 ° of sys.tilt_target”, is “reading within 1 ° of sys.tilt_target”.", true},
                              {"coll-tilt", "title", "Title: was “Tilt”, is “Tilt of the collector”.", false}};
    view.about.unready = "1 error in the text.";
    view.form = {{"title", "Title", "Tilt of the collector", Kind::Text, {}},
                 {"question", "What is asked", "At what angle does the collector lean, read on its frame, in the middle of its long side?", Kind::Text, {}},
                 {"tolerance", "Tolerance", "reading within 1 ° of sys.tilt_target", Kind::Text, {}},
                 {"severity", "How bad a failure is", "P", Kind::Choice, {"H", "D", "P", "R"}},
                 {"hold", "Hold point", "", Kind::YesNo, {}}};
    view.lines = "[[check]]\nid = \"coll-tilt\"\nstage = \"D\"\n";
    desk::ReplayView replay;
    replay.results = 7712;
    replay.judged_again = 120;
    replay.flips = {{"J-1", "coll-tilt", "", "e", "conforms", "does not conform", "2 ° off, 1 ° is allowed."}};
    replay.share_before = 0.021;
    replay.share_after = 0.023;
    view.about.replay = replay;
    return view;
}

class Glass {
public:
    Glass(float width_px, float height_px, Metrics metrics, Look look = Look::Day) {
        ImGui::CreateContext();
        prepare_context();
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = {width_px, height_px};
        io.DeltaTime = 1.0F / 60.0F;
        map_keys(io);
        dress.theme = theme_of(look);
        dress.metrics = fitted(metrics, width_px, height_px);
        static const FontFiles fonts = installed_fonts();
        dress.fonts = load_fonts(*io.Fonts, fonts, dress.metrics);
        unsigned char* pixels = nullptr;
        int w = 0;
        int h = 0;
        io.Fonts->GetTexDataAsAlpha8(&pixels, &w, &h);
        io.MousePos = {-1.0F, -1.0F};
    }
    ~Glass() { ImGui::DestroyContext(); }
    Glass(const Glass&) = delete;
    Glass& operator=(const Glass&) = delete;

    Requests frame() {
        ImGui::NewFrame();
        Requests requests = draw_frame(world, drafts, dress, &probe);
        ImGui::Render();
        for (const Request& request : requests) {
            all.push_back(request);
            const auto* ask = std::get_if<AskPreview>(&request);
            if (ask != nullptr && desk_answers) world.preview = PreviewOf{*ask, {}};
        }
        return requests;
    }

    const Spot& spot(std::string_view name) {
        static const Spot nowhere;
        const auto found = probe.spots.find(name);
        return found == probe.spots.end() ? nowhere : found->second;
    }
    bool shows(std::string_view name) { return probe.spots.contains(name); }
    bool says(std::string_view words) {
        for (const std::string& text : probe.texts) {
            if (text.find(words) != std::string::npos) return true;
        }
        return false;
    }

    void put_finger(float x, float y) {
        ImGui::GetIO().MousePos = {x, y};
        (void)frame();
        ImGui::GetIO().MouseDown[0] = true;
        (void)frame();
    }
    void move_finger(float x, float y) {
        ImGui::GetIO().MousePos = {x, y};
        (void)frame();
    }
    void lift_finger() {
        ImGui::GetIO().MouseDown[0] = false;
        (void)frame();
        (void)frame();
    }
    /// Eyes read what has come before the hand acts: a tap that comes too soon is taken for a bounce.
    void read_first() { world.moment.monotonic_s += 1.0; }
    /// False if nothing of that name can be touched.
    bool press(std::string_view name) {
        read_first();
        (void)frame();
        if (!shows(name) || !spot(name).reachable) return false;
        const Rect at = spot(name).rect;
        put_finger(at.x + at.w / 2.0F, at.y + at.h / 2.0F);
        lift_finger();
        return true;
    }
    void type(const char* text) {
        ImGui::GetIO().AddInputCharactersUTF8(text);
        (void)frame();
        (void)frame();
    }
    void strike(int glfw_key) {
        read_first();
        ImGui::GetIO().KeysDown[glfw_key] = true;
        (void)frame();
        ImGui::GetIO().KeysDown[glfw_key] = false;
        (void)frame();
    }

    /// The last request of a kind; nullptr if none was made.
    template <class T>
    const T* last() const {
        for (auto it = all.rbegin(); it != all.rend(); ++it) {
            if (const T* found = std::get_if<T>(&*it)) return found;
        }
        return nullptr;
    }
    template <class T>
    const T* last_intent() const {
        for (auto it = all.rbegin(); it != all.rend(); ++it) {
            const auto* intent = std::get_if<desk::Intent>(&*it);
            if (intent == nullptr) continue;
            if (const T* found = std::get_if<T>(intent)) return found;
        }
        return nullptr;
    }

    void open_check(const std::string& id) {
        drafts.screen = Screen::Run;
        drafts.run.wanted = WantedCheck{world.job->row.job, id, RunMode::Reading};
        (void)frame();
        (void)frame();
    }

    World world = sample_world();
    bool desk_answers = true;  ///< each question what a value would mean, with nothing against it
    Drafts drafts;
    Dress dress;
    Probe probe;
    Requests all;

private:
    static void map_keys(ImGuiIO& io) {
        io.KeyMap[ImGuiKey_Tab] = -1;
        io.KeyMap[ImGuiKey_Enter] = GLFW_KEY_ENTER;
        io.KeyMap[ImGuiKey_Backspace] = GLFW_KEY_BACKSPACE;
        io.KeyMap[ImGuiKey_Escape] = GLFW_KEY_ESCAPE;
    }
};

/// Two people read the first check differently; it is opened.
inline void open_conflict(Glass& glass) {
    auto& check = glass.world.job->checks[0];
    check.conflict = true;
    desk::ReadingView one;
    one.entry = "aa11";
    one.text = "yes";
    one.by = "Tindo Quellaby";
    one.at = "2027-03-04T09:10:00+02:00";
    desk::ReadingView other = one;
    other.entry = "bb22";
    other.text = "no";
    check.readings = {one, other};
    glass.open_check("fall-protection");
}

}  // namespace wm::screens::testing
