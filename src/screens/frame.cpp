// Header, status, strips and the choice of screen.
#include "screens/frame.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "figures/sign.hpp"
#include "screens/half_written.hpp"
#include "screens/ink.hpp"
#include "screens/label.hpp"
#include "screens/lock_screen.hpp"
#include "screens/marks.hpp"
#include "screens/outbox_screen.hpp"
#include "screens/run_screen.hpp"
#include "screens/screen_canvas.hpp"
#include "screens/take_over_sheet.hpp"

namespace wm::screens {
namespace {

struct Tab {
    Screen screen;
    std::string_view name;
    std::string_view words;
    Stroke stroke;
};

constexpr std::array tabs{
    Tab{Screen::Jobs, "jobs", "Jobs", Stroke::F2},
    Tab{Screen::Run, "check", "Check", Stroke::F3},
    Tab{Screen::SignOff, "sign-off", "Sign-off", Stroke::F4},
    Tab{Screen::Outbox, "outbox", "Outbox", Stroke::F5},
    Tab{Screen::Week, "week", "Week", Stroke::F6},
    Tab{Screen::Settings, "settings", "Settings", Stroke::F7},
};

void go_to_screen(Drafts& drafts, Screen screen, const World& world, Requests& requests) {
    if (screen == Screen::Week && !world.week) requests.emplace_back(AskWeek{});
    drafts.screen = screen;
    drafts.attention.at.clear();
}

void header(Touch& touch, const Rect& at, const World& world, Drafts& drafts, Requests& requests) {
    const Scope scope{touch, "header"};
    Rect rest = at;
    if (at.w > touch.mm(200.0F)) {
        const Rect sign = cut_left(rest, touch.mm(16.0F), touch.gap());
        ScreenCanvas canvas{touch, sign};
        figures::draw_sign(canvas, canvas.sheet().middle(), 9.0);
    }
    const std::vector<Rect> cells = columns(rest, static_cast<int>(tabs.size()) + 2, touch.gap());
    for (std::size_t i = 0; i < tabs.size(); ++i) {
        const Tab& tab = tabs[i];
        const bool pressed =
            key(touch, tab.name, cells[i],
                {.words = tab.words,
                 .state = tab.screen == drafts.screen ? KeyState::Chosen : KeyState::Ready,
                 .face = cells[i].w < touch.mm(26.0F) ? Face::Small : Face::Body});
        if (pressed || touch.typing.take(tab.stroke)) {
            go_to_screen(drafts, tab.screen, world, requests);
        }
    }
    if (touch.typing.take(Stroke::F1)) go_to_screen(drafts, Screen::Settings, world, requests);
    if (key(touch, "letters", cells[tabs.size()],
            {.words = "abc",
             .state = drafts.board.shown ? KeyState::Chosen : KeyState::Ready,
             .face = Face::Small})) {
        drafts.board.shown = !drafts.board.shown;
        drafts.board.by_itself = false;
    }
    if (key(touch, "lock", cells[tabs.size() + 1],
            {.words = "Lock", .small = "to wipe", .face = Face::Small})) {
        drafts.locked = true;
    }
}

/// What was saved last, and that it is.
void receipt_row(Touch& touch, const Rect& at, const Receipt& receipt, std::string_view saved) {
    Rect rest = at;
    const bool fell = !receipt.fallen.empty();
    outcome_shape(touch, cut_left(rest, at.h, touch.mm(1.5F)), fell ? measure::Outcome::DoesNotConform : receipt.outcome);
    if (fell) {
        std::string fallen = receipt.fallen;
        const auto line = [&] { return fmt::format("{} now · {} · {}", measure::in_words(measure::Outcome::DoesNotConform), fallen, saved); };
        shorten(fallen, [&] { return fits_line(touch, rest, line(), Face::Small); });
        line_of_text(touch, rest, line(), {.face = Face::Small, .colour = touch.theme.text});
        return;
    }
    const std::string place = receipt.place.empty() ? std::string{} : " (" + receipt.place + ")";
    std::string title = receipt.title;
    std::string text = receipt.text;
    const auto line = [&] { return fmt::format("{} · {}{}{}{} · {}", measure::in_words(receipt.outcome), title, place, text.empty() ? "" : ": ", text, saved); };
    const auto fits = [&] { return fits_line(touch, rest, line(), Face::Small); };
    // What was read is known to the one who read it; the name says what it was read for.
    shorten(text, fits);
    shorten(title, fits);
    line_of_text(touch, rest, line(), {.face = Face::Small, .colour = touch.theme.text});
}

/// Why the key that was touched last does nothing; false where there is nothing to tell.
bool tells_why(Touch& touch, const Rect& at) {
    const Attention& attention = touch.attention;
    if (attention.why.empty() || attention.now_s >= attention.why_until_s) return false;
    ground(touch, at, touch.theme.warn);
    if (touch.probe != nullptr) touch.probe->texts.push_back(attention.why);
    draw_label(touch, touch.named("why"), at, attention.why, {.face = Face::Small, .across = Across::Middle, .colour = touch.theme.warn_text});
    return true;
}

void status(Touch& touch, const Rect& at, const World& world, const Drafts& drafts) {
    if (tells_why(touch, at)) return;
    Rect rest = at;
    const std::string saved = world.saving ? std::string{"at work …"} : world.saved_mark;
    const auto& receipt = drafts.run.receipt;
    // On a narrow glass what was just saved or taken back is told alone.
    const bool narrow = at.w < touch.mm(160.0F);
    const bool told = drafts.screen == Screen::Run && receipt && receipt->saved == world.saved_mark && !world.saving;
    constexpr std::size_t a_time = 16;
    if (told) receipt_row(touch, narrow ? rest : cut_right(rest, rest.w * 0.64F, touch.mm(2.0F)), *receipt, saved);
    if (narrow && (told || saved.size() > a_time)) {
        if (!told) line_of_text(touch, rest, saved, {.face = Face::Small, .colour = touch.theme.text});
        return;
    }
    if (!told)
        line_of_text(touch, cut_right(rest, rest.w * (saved.size() > a_time ? 0.64F : 0.34F), touch.mm(2.0F)), saved,
                     {.face = Face::Small, .across = Across::Right, .colour = touch.theme.text});
    std::string words = "no job open";
    if (world.job) {
        const desk::JobRow& row = world.job->row;
        words = fmt::format("{} · {}{}{}", row.job, row.checklist, row.place.empty() ? "" : " · " + row.place,
                            row.practice ? " · practice" : "");
    }
    if (touch.metrics.shrank()) {
        // A glove that misses should not be a riddle; which job it is stays.
        words = world.job ? fmt::format("{} · {}", world.job->row.job, world.job->row.practice ? "practice · " : "") : std::string{};
        words += fmt::format("Small window: keys of {:.1f} mm.", on_glass_mm(touch.metrics, key_mm));
        shorten(words, [&] { return fits_line(touch, rest, words, Face::Small); });
    }
    line_of_text(touch, rest, words, {.face = Face::Small, .colour = touch.theme.quiet});
}

/// Above the screen, or in its place where both would not keep their sizes.
void problem_strip(Touch& touch, Rect& rest, const World& world, Requests& requests) {
    if (!world.problem) return;
    const Scope scope{touch, "problem"};
    const Problem& problem = *world.problem;
    const std::string words = problem.what + "  " + problem.what_to_do;
    const float button = touch.mm(34.0F);
    const float inner = rest.w - button - touch.mm(10.0F);
    const float height = std::min(
        std::max(touch.mm(key_mm + 4.0F),
                 prose_height(touch, inner, words, Face::Body) +
                     prose_height(touch, inner, problem.where, Face::Small) + touch.mm(11.0F)),
        rest.h * 0.45F);
    const float least_below = touch.mm(rest.w >= rest.h ? 104.0F : 184.0F);
    const bool instead = rest.h - height - touch.gap() < least_below;
    Rect strip = cut_top(rest, instead ? rest.h : height, touch.gap());
    if (instead) rest = {};
    ground(touch, strip, touch.theme.warn);
    outline(touch, strip, touch.theme.warn_text, 0.6F);
    strip = strip.inset(touch.mm(2.0F));
    Rect right = cut_right(strip, button, touch.mm(3.0F));
    right = cut_top(right, std::min(right.h, touch.strong_side()));
    {
        ScrollArea area{touch, "words", strip};
        area.words(words, Face::Body, touch.theme.warn_text);
        area.words(problem.where, Face::Small, touch.theme.warn_text);
    }
    if (key(touch, "understood", right, {.words = "Understood", .face = Face::Small})) {
        requests.emplace_back(ProblemUnderstood{});
    }
}

void open_check(Drafts& drafts, const JobPlace& place, const World& world, Requests& requests, RunMode mode = RunMode::Reading) {
    drafts.run.wanted = WantedCheck{place.job, place.check, mode};
    drafts.screen = Screen::Run;
    if (!world.job || world.job->row.job != place.job)
        requests.emplace_back(OpenJobView{place.job});
}

/// Back to the job that was being worked on, as soon as it is known that it still is.
void resume(const World& world, Drafts& drafts, Requests& requests) {
    if (drafts.resume.empty() || !world.listed) return;
    const std::string job = std::exchange(drafts.resume, {});
    const bool moved_on = drafts.screen != Screen::Jobs || drafts.jobs.mode != JobsMode::List || !drafts.jobs.search.empty();
    if (moved_on || world.job) return;
    for (const desk::JobRow& row : world.jobs)
        if (row.job == job && row.state == "open") open_check(drafts, {job, {}}, world, requests);
}

void jobs(Touch& touch, const Rect& at, const World& world, Drafts& drafts, Requests& requests) {
    const std::size_t before = requests.size();
    const auto opened = jobs_screen(touch, at, world, drafts.jobs, requests);
    if (opened) {
        drafts.only_looked_at.clear();
        drafts.run.wanted = WantedCheck{*opened, {}, RunMode::Reading};
        drafts.screen = Screen::Run;
    }
    for (std::size_t i = before; i < requests.size(); ++i) {
        if (!std::holds_alternative<StartJob>(requests[i])) continue;
        drafts.starting = true;
        drafts.job_before_start = world.job ? world.job->row.job : std::string{};
    }
}

bool only_asks(const Request& request) {
    return !std::holds_alternative<desk::Intent>(request) && !std::holds_alternative<WithPhoto>(request) &&
           !std::holds_alternative<KeepSeries>(request) && !std::holds_alternative<KeepNumber>(request);
}

// One moves about in it. What is touched or typed is neither sent nor kept, in another's half typed number or running series either.
void look_only(Touch& touch, const Rect& at, const World& world, Drafts& drafts, Requests& requests) {
    Rect rest = at;
    only_looked_at_strip(touch, cut_top(rest, touch.key_side(), touch.gap()), world, drafts.only_looked_at);
    Requests wanted;
    if (drafts.screen == Screen::SignOff) {
        SignDraft sign = drafts.sign;
        if (const auto check = sign_screen(touch, rest, world, sign, wanted)) open_check(drafts, {world.job->row.job, *check}, world, requests);
    } else {
        RunDraft run = drafts.run;
        std::vector<SeriesRun> series = drafts.series;
        run_screen(touch, rest, world, run, series, wanted);
        if (run.wants_sign_off) go_to_screen(drafts, Screen::SignOff, world, requests);
        move_about(drafts.run, run);
    }
    for (Request& request : wanted)
        if (only_asks(request)) requests.push_back(std::move(request));
}

void screen_at_hand(Touch& touch, const Rect& at, const World& world, Drafts& drafts,
                    Requests& requests) {
    const bool writes_into_job = drafts.screen == Screen::Run || drafts.screen == Screen::SignOff;
    if (writes_into_job && take_over_sheet(touch, at, world, drafts.only_looked_at, requests)) return;
    if (writes_into_job && world.job && !world.job->with.empty()) return look_only(touch, at, world, drafts, requests);
    switch (drafts.screen) {
        case Screen::Jobs:
            return jobs(touch, at, world, drafts, requests);
        case Screen::Run:
            run_screen(touch, at, world, drafts.run, drafts.series, requests);
            if (std::exchange(drafts.run.wants_sign_off, false)) go_to_screen(drafts, Screen::SignOff, world, requests);
            return;
        case Screen::SignOff: {
            const auto wanted = sign_screen(touch, at, world, drafts.sign, requests);
            if (wanted && world.job) {
                open_check(drafts, {world.job->row.job, *wanted}, world, requests);
            }
            return;
        }
        case Screen::Outbox:
            return outbox_screen(touch, at, world, requests);
        case Screen::Week: {
            // From a figure one comes to see what stands behind it, not to enter.
            const auto wanted = week_screen(touch, at, world, drafts.week, requests);
            if (wanted) open_check(drafts, *wanted, world, requests, wanted->check.empty() ? RunMode::Reading : RunMode::Record);
            return;
        }
        case Screen::Settings:
            return settings_screen(touch, at, world, drafts.registers, drafts.access, requests);
    }
}

void lock_sheet(Touch& touch, const Rect& at, const World& world, Drafts& drafts, Requests& requests) {
    constexpr float hold_s = 1.5F;
    const Scope scope{touch, "locked"};
    Rect rest = at.inset(touch.gap());
    const Rect hold{rest.x + (rest.w - touch.mm(80.0F)) / 2.0F,
                    rest.y + (rest.h - touch.mm(40.0F)) / 2.0F, touch.mm(80.0F), touch.mm(40.0F)};
    rest.h = hold.y - rest.y;
    line_of_text(touch, rest, "Locked: wipe the glass. Nothing is entered.",
                 {.face = Face::Bold, .across = Across::Middle, .colour = touch.theme.text});
    if (!world.lock.people.empty()) {
        const Rect below{hold.x, hold.bottom() + touch.gap() * 2.0F, hold.w, touch.strong_side()};
        if (key(touch, "with PIN", below, {.words = "Lock with PIN", .small = "opens by a PIN only"})) {
            drafts.locked = false;
            shut(world, drafts.lock, requests);
        }
    }
    const Pressed pressed = bare_key(touch, "hold", hold, {.words = "Hold to unlock"});
    const std::string_view words =
        pressed.held_s >= hold_s ? "Now let go" : "Hold here two seconds, then let go";
    const Rect inside = hold.inset(touch.mm(3.0F));
    line_of_text(touch, inside, words,
                 {.face = Face::Body, .across = Across::Middle, .colour = touch.theme.text});
    const bool by_finger = pressed.released && pressed.held_s >= hold_s;
    if (by_finger || touch.typing.take(Stroke::Lock)) drafts.locked = false;
}

void text_size_keys(Touch& touch, Requests& requests) {
    const int now = touch.metrics.text_percent;
    if (touch.typing.take(Stroke::Larger) && now < 200) {
        requests.emplace_back(ChooseTextSize{now < 150 ? 150 : 200});
    }
    if (touch.typing.take(Stroke::Smaller) && now > 100) {
        requests.emplace_back(ChooseTextSize{now > 150 ? 150 : 100});
    }
}

/// The check at hand counts down by itself, unless another sheet lies over it.
std::vector<SeriesRun> series_elsewhere(const Drafts& drafts) {
    std::vector<SeriesRun> others = drafts.series;
    const bool at_hand = drafts.run.mode == RunMode::Reading || drafts.run.mode == RunMode::Correcting;
    if (drafts.screen == Screen::Run && at_hand)
        std::erase_if(others, [&](const SeriesRun& run) {
            return run.job == drafts.run.job && run.check == drafts.run.check;
        });
    return others;
}

void series_above(Touch& touch, const Rect& strip, const std::vector<SeriesRun>& others, const World& world, Drafts& drafts,
                  Requests& requests) {
    const SeriesRun* pressed = series_strip(touch, strip, others, world.moment);
    if (pressed != nullptr) open_check(drafts, {pressed->job, pressed->check}, world, requests);
}

void whole(Touch& touch, const Rect& display, const World& world, Drafts& drafts,
           Requests& requests) {
    if (is_locked(world, drafts.lock)) return lock_screen(touch, display, world, drafts.series, drafts.lock, requests);
    if (drafts.locked) return lock_sheet(touch, display, world, drafts, requests);
    if (touch.typing.take(Stroke::Lock)) drafts.locked = true;
    text_size_keys(touch, requests);
    const bool narrow = display.w < touch.mm(narrow_mm);
    Rect rest = display.inset(touch.mm(narrow ? narrow_edge_mm : edge_mm));
    header(touch, cut_top(rest, touch.key_side(), touch.mm(1.0F)), world, drafts, requests);
    const bool is_low = display.h < touch.mm(160.0F);
    // While letters are written on a low panel the field needs the row; a tone still calls for what is due.
    const auto others = is_low && drafts.board.shown ? std::vector<SeriesRun>{} : series_elsewhere(drafts);
    if (is_low && !others.empty()) {
        // A row less for both: the question of the check at hand needs it.
        (void)cut_top(rest, touch.gap() - touch.mm(1.0F));
        Rect strip = cut_top(rest, touch.key_side(), touch.gap());
        status(touch, cut_right(strip, strip.w * 0.46F, touch.gap()), world, drafts);
        series_above(touch, strip, others, world, drafts, requests);
    } else {
        status(touch, cut_top(rest, touch.mm(6.0F) * (drafts.board.shown || is_low ? 1.0F : std::min(1.5F, touch.metrics.text_scale())), touch.mm(1.0F)), world, drafts);
        if (!others.empty()) series_above(touch, cut_top(rest, touch.key_side(), touch.gap()), others, world, drafts, requests);
    }
    // The message may cover the screen: what was refused comes back all the same.
    if (world.problem) {
        look_after_sent(world, drafts.run, drafts.series, requests);
        look_after_call(world, drafts.jobs.complaint);
    }
    problem_strip(touch, rest, world, requests);
    if (rest.h <= 0.0F) return;
    if (drafts.board.shown) {
        const float height = std::min(rest.h, letter_board_height(touch, rest.w));
        letter_board(touch, cut_bottom(rest, height, touch.gap()), drafts.board);
    }
    screen_at_hand(touch, rest, world, drafts, requests);
}

void style_for(const Dress& dress) {
    ImGuiStyle& style = ImGui::GetStyle();
    const auto colour = [&](int item, drawing::Colour value) {
        style.Colors[item] = ImGui::ColorConvertU32ToFloat4(packed(value));
    };
    colour(ImGuiCol_WindowBg, dress.theme.paper);
    colour(ImGuiCol_Text, dress.theme.text);
    colour(ImGuiCol_TextDisabled, dress.theme.quiet);
    colour(ImGuiCol_FrameBg, dress.theme.key);
    colour(ImGuiCol_TextSelectedBg, dress.theme.selected);
    colour(ImGuiCol_ScrollbarBg, dress.theme.paper);
    colour(ImGuiCol_ScrollbarGrab, dress.theme.line);
    colour(ImGuiCol_ScrollbarGrabHovered, dress.theme.line);
    colour(ImGuiCol_ScrollbarGrabActive, dress.theme.text);
    style.ScrollbarSize = dress.metrics.mm(2.4F);
    style.ScrollbarRounding = dress.metrics.mm(1.2F);
}

}  // namespace

void prepare_context() {
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    ImGuiStyle& style = ImGui::GetStyle();
    style.WindowPadding = {0.0F, 0.0F};
    style.WindowBorderSize = 0.0F;
    style.WindowRounding = 0.0F;
    style.ItemSpacing = {0.0F, 0.0F};
    style.FrameBorderSize = 0.0F;
}

Requests draw_frame(const World& world, Drafts& drafts, const Dress& dress, Probe* probe) {
    Requests requests;
    style_for(dress);
    resume(world, drafts, requests);
    if (drafts.starting && world.job && world.job->row.job != drafts.job_before_start) {
        drafts.starting = false;
        drafts.screen = Screen::Run;
    }
    ring_due(drafts.series, world.moment, requests);
    look_after_lock(world, drafts.lock, hands_now(), requests);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(size);
    ImGui::Begin("witnessmark", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                     ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse);
    drafts.attention.now_s = world.moment.monotonic_s;
    look_after_board(drafts.attention, drafts.board);
    Touch touch = begin_touch(dress.theme, dress.metrics, dress.fonts, drafts.attention, probe);
    if (dress.texture_of) touch.texture_of = &dress.texture_of;
    take_up_half_written(world, drafts, requests);
    whole(touch, {0.0F, 0.0F, size.x, size.y}, world, drafts, requests);
    keep_half_written(world, drafts, requests);
    end_touch(touch);
    ImGui::End();
    return requests;
}

}  // namespace wm::screens
