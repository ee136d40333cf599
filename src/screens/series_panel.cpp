// The entry area of a series check and the strip of running series.
#include "screens/series_panel.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "figures/series_chart.hpp"
#include "screens/keypad.hpp"
#include "screens/label.hpp"
#include "screens/number_panel.hpp"
#include "screens/screen_canvas.hpp"
#include "units/reading.hpp"

namespace wm::screens {
namespace {

using desk::CheckView;

void keep(const std::vector<SeriesRun>& runs, Requests& requests) {
    requests.emplace_back(KeepSeries{runs});
}

std::size_t channel_count(const CheckView& check) {
    return std::max<std::size_t>(1, check.channels.size());
}

std::string due_words(const SeriesRun& run, const Moment& moment) {
    const NextDue due = next_due(run, moment.epoch_s);
    if (due.all_taken) return "all readings taken: save the series";
    if (due.in_s <= 0)
        return fmt::format("reading {} of {} due NOW", due.reading + 1, planned(run));
    return fmt::format("reading {} of {} in {}", due.reading + 1, planned(run),
                       clock_words(due.in_s));
}

constexpr float start_key_mm = strong_key_mm + 4.0F;

const std::string& unit_shown(const CheckView& check, const SeriesDraft& draft) { return draft.unit.empty() ? check.unit : draft.unit; }

void start_key(Touch& touch, const Rect& at, const SeriesPlace& place, SeriesDraft& draft, std::vector<SeriesRun>& runs,
               Requests& requests) {
    const CheckView& check = place.check;
    Rect rest = at;
    const Rect start = cut_bottom(rest, touch.mm(start_key_mm), touch.gap());
    if (check.instruments.size() > 1) {
        std::size_t one = 0;
        for (std::size_t i = 0; i < check.instruments.size(); ++i)
            if (check.instruments[i].id == place.instrument) one = i;
        const Rect with = cut_bottom(rest, touch.key_side(), touch.gap());
        const std::string is = "Read on " + instrument_words(check.instruments[one]);
        const std::string small = instrument_doubt(check.instruments[one]);
        if (key(touch, "instrument", with, {.words = is, .small = small}))
            place.instrument = check.instruments[(one + 1) % check.instruments.size()].id;
    }
    const std::string unit = unit_shown(check, draft);
    if (const std::string next = next_unit(unit); !next.empty()) {
        const Rect shows = cut_bottom(rest, touch.key_side(), touch.gap());
        const std::string says = "The gauge shows " + unit;
        if (key(touch, "unit", shows, {.words = says, .small = "touch for " + next})) draft.unit = next == check.unit ? std::string{} : next;
    }
    const std::string words =
        fmt::format("Start: a reading every {}, {} in all", clock_words(std::max(1, check.every_s)),
                    clock_words(check.duration_s));
    {
        ScrollArea area{touch, "clock", rest};
        area.words("The clock runs beside other work. You are called when a reading is due.");
    }
    if (!key(touch, "start", start,
             {.words = words, .role = KeyRole::Primary, .face = Face::Bold})) {
        return;
    }
    SeriesRun run;
    run.job = place.world.job ? place.world.job->row.job : std::string{};
    run.check = check.id;
    run.instrument = place.instrument;
    run.unit = draft.unit;
    run.title = check.title;
    run.started_s = place.world.moment.epoch_s;
    run.every_s = std::max(1, check.every_s);
    run.duration_s = check.duration_s;
    for (const std::string& name : check.extras) run.extras.emplace_back(name, std::string{});
    runs.push_back(std::move(run));
    keep(runs, requests);
}

std::string unit_of(const CheckView& check, const SeriesRun& run) { return run.unit.empty() ? check.unit : run.unit; }

/// Typed text as a plain number for the chart; nullopt for what is no number yet.
std::optional<double> drawn_value(const std::string& text) {
    const auto number = units::read_number(text);
    if (!number) return std::nullopt;
    return *number;
}

/// The readings so far as they would be entered.
AskPreview question(const SeriesPlace& place, const SeriesRun& run) {
    return {.job = run.job,
            .check = run.check,
            .place = "",
            .text = entered_text(run, place.check.channels, place.check.unit),
            .instrument = ""};
}

void ask_once(const SeriesPlace& place, const SeriesRun& run, SeriesDraft& draft, Requests& requests) {
    constexpr std::size_t fewest = 3;
    if (run.rows.size() < fewest) return;
    AskPreview ask = question(place, run);
    if (draft.asked == ask) return;
    draft.asked = ask;
    requests.emplace_back(std::move(ask));
}

const desk::TrendView* trend_now(const SeriesPlace& place, const SeriesRun& run) {
    const auto& preview = place.world.preview;
    if (!preview || !preview->preview.trend || !(preview->asked == question(place, run))) return nullptr;
    return &*preview->preview.trend;
}

/// Straight lines of the least and the greatest fall through the middle of the readings, and of the
/// fall allowed from the first one on.
enum class TrendLines { All, Allowed };

void add_trend(figures::SeriesChart& input, const desk::TrendView& trend, TrendLines which) {
    const auto points = input.lines.front().points;
    if (points.size() < 2) return;
    double middle_time = 0.0;
    double middle = 0.0;
    for (const auto& point : points) {
        middle_time += point.minutes / static_cast<double>(points.size());
        middle += point.value / static_cast<double>(points.size());
    }
    const auto line = [&](std::string name, double time, double value, double fall) {
        figures::SeriesLine drawn;
        drawn.name = std::move(name);
        for (const auto& point : {points.front(), points.back()})
            drawn.points.push_back({point.minutes, value - fall * (point.minutes - time)});
        input.lines.push_back(std::move(drawn));
    };
    if (which == TrendLines::All) {
        line("least fall", middle_time, middle, trend.low);
        line("greatest fall", middle_time, middle, trend.high);
    }
    line("allowed", points.front().minutes, points.front().value, trend.allowed);
}

void chart(Touch& touch, const Rect& at, const SeriesPlace& place, const SeriesRun& run) {
    figures::SeriesChart input;
    input.unit = place.check.unit;
    input.text_mm = small_em_mm * 0.75;
    input.until = run.duration_s / 60.0;
    for (std::size_t c = 0; c < channel_count(place.check); ++c) {
        figures::SeriesLine line;
        line.name = c < place.check.channels.size() ? place.check.channels[c] : std::string{};
        for (const SeriesRow& row : run.rows) {
            if (c >= row.texts.size()) continue;
            if (const auto value = shown_in(drawn_value(row.texts[c]), unit_of(place.check, run), place.check.unit)) {
                line.points.push_back({(row.at_s - first_at(run)) / 60.0, *value});
            }
        }
        input.lines.push_back(std::move(line));
    }
    Rect rest = at;
    const auto* trend = trend_now(place, run);
    if (trend != nullptr && place.tight) {
        // A low chart has room for one line of words, and for the line that matters.
        const Rect below = cut_bottom(rest, em_px(Face::Small, touch.metrics) * 1.25F, touch.gap());
        line_of_text(touch, below,
                     fmt::format("Falls surely under {:.2f} {} a minute; {:.2f} is allowed.", std::max(trend->surely_below, 0.0), place.check.unit,
                                 trend->allowed),
                     {.face = Face::Small, .colour = touch.theme.text});
        add_trend(input, *trend, TrendLines::Allowed);
    } else if (trend != nullptr) {
        const float words = prose_height(touch, rest.w, trend->words, Face::Small);
        // Where there is room for one of them it is the figures of the fall and not their picture.
        const bool both = rest.h >= words + touch.gap() + touch.mm(18.0F);
        const Rect below = both ? cut_bottom(rest, words, touch.gap()) : rest;
        prose(touch, below, trend->words, Face::Small, touch.theme.text);
        if (!both) return;
        add_trend(input, *trend, TrendLines::All);
    }
    note_spot(touch, "chart", rest);
    ScreenCanvas canvas{touch, rest};
    figures::draw_series_chart(canvas, canvas.sheet(), input);
}

/// The readings in one line, the newest first: the chart needs the room, and shows the rest.
void readings_line(Touch& touch, const Rect& at, const SeriesPlace& place, const SeriesRun& run) {
    std::string words;
    for (auto row = run.rows.rbegin(); row != run.rows.rend(); ++row) {
        if (!words.empty()) words += "  ·  ";
        words += clock_words(row->at_s - first_at(run));
        for (std::size_t c = 0; c < row->texts.size(); ++c) {
            words += "  ";
            if (c < place.check.channels.size()) words += place.check.channels[c] + " ";
            words += row->texts[c];
        }
    }
    line_of_text(touch, at, words.empty() ? "No reading yet: the clock begins with the first." : words + " " + unit_of(place.check, run),
                 {.face = Face::Small, .colour = touch.theme.text});
}

/// The readings, and the key that turns from question to chart and back.
void turn_row(Touch& touch, const Rect& at, const SeriesPlace& place, const SeriesRun& run, SeriesDraft& draft) {
    Rect words = at;
    const bool chart = shows_chart(draft, run);
    if (key(touch, "turn", cut_left(words, touch.mm(26.0F), touch.gap()), {.words = chart ? "Question" : "Chart"})) draft.chart_wanted = !chart;
    readings_line(touch, words, place, run);
}

void add_row(SeriesDraft& draft, SeriesRun& run, const CheckView& check, std::int64_t now_s) {
    draft.values.resize(channel_count(check));
    run.rows.push_back(
        {static_cast<int>(std::max<std::int64_t>(0, now_s - run.started_s)), draft.values});
    draft.values.assign(channel_count(check), std::string{});
    draft.channel = 0;
}

/// Keys choosing what the keypad writes: a channel, or one of the readings beside the series.
void targets(Touch& touch, const Rect& at, const SeriesPlace& place, SeriesRun& run,
             SeriesDraft& draft) {
    const auto channels = place.check.channels;
    const int count = static_cast<int>(channels.size() + run.extras.size());
    if (count == 0) return;
    const bool plain = channels.empty();
    const std::vector<Rect> cells = columns(at, count + (plain ? 1 : 0), touch.gap());
    std::size_t cell = 0;
    const auto target = [&](const std::string& name, const std::string& value, KeyState state) {
        return key(touch, "to " + name, cells[cell++],
                   {.words = name,
                    .small = value.empty() ? "–" : std::string_view{value},
                    .state = state,
                    .face = Face::Small});
    };
    // What stands in a reading beside the series is kept when one turns from it.
    const auto keep_extra = [&] {
        for (auto& [name, value] : run.extras)
            if (name == draft.extra && !draft.extra_value.empty()) value = draft.extra_value;
    };
    const auto chosen = [](bool is) { return is ? KeyState::Chosen : KeyState::Ready; };
    for (std::size_t c = 0; c < channel_count(place.check); ++c) {
        const std::string name = plain ? std::string{"reading"} : channels[c];
        const std::string shown = draft.values[c].empty() ? std::string{} : draft.values[c] + " " + unit_of(place.check, run);
        if (target(name, shown, chosen(draft.extra.empty() && draft.channel == c))) {
            keep_extra();
            draft.channel = c;
            draft.extra.clear();
        }
    }
    for (const auto& [name, value] : run.extras) {
        if (target(name, draft.extra == name ? draft.extra_value : value, chosen(draft.extra == name))) {
            keep_extra();
            draft.extra = name;
            draft.extra_value = value;
        }
    }
}

/// What to ask before the value is added; empty for one that is plausible. A gauge that shows bar, typed as kPa, is a
/// hundredth of what it should be, and its fall as well. A slip at the first reading is asked about at the second.
std::string odd_words(const CheckView& check, const SeriesRun& run, const std::string& typed, std::size_t channel) {
    const auto value = shown_in(drawn_value(typed), unit_of(check, run), check.unit);
    if (!value) return {};
    const auto shown = fmt::format("{} {}", typed, unit_of(check, run));
    if ((check.plausible_low && *value < *check.plausible_low) || (check.plausible_high && *value > *check.plausible_high))
        return fmt::format("{} is not usual here. Is the unit that of the gauge?", shown);
    if (run.rows.empty() || channel >= run.rows.back().texts.size()) return {};
    const std::string& last = run.rows.back().texts[channel];
    const auto before = shown_in(drawn_value(last), unit_of(check, run), check.unit);
    if (before && *before > 0.0 && (*value < 0.2 * *before || *value > 5.0 * *before)) return fmt::format("{} after {}: is the point in its place?", shown, last);
    return {};
}

void keyed_save(SeriesDraft& draft, SeriesRun& run, const SeriesPlace& place) {
    if (!draft.extra.empty()) {
        for (auto& [name, value] : run.extras) {
            if (name == draft.extra) value = draft.extra_value;
        }
        draft.extra.clear();
        return;
    }
    const auto empty = std::find(draft.values.begin(), draft.values.end(), std::string{});
    if (empty == draft.values.end()) {
        add_row(draft, run, place.check, place.world.moment.epoch_s);
    } else {
        draft.channel = static_cast<std::size_t>(empty - draft.values.begin());
    }
}

void series_keypad(Touch& touch, const Rect& at, const SeriesPlace& place, SeriesDraft& draft,
                   std::vector<SeriesRun>& runs, SeriesRun& run, Requests& requests) {
    Rect rest = at;
    const Rect pad_at = cut_bottom(rest, keypad_height(touch, rest.w), touch.gap());
    std::string& value = draft.extra.empty() ? draft.values[draft.channel] : draft.extra_value;
    const std::string unit = draft.extra.empty() ? unit_of(place.check, run) : std::string{};
    const std::string odd = draft.extra.empty() && draft.doubted == value ? odd_words(place.check, run, value, draft.channel) : std::string{};
    // The readings of a series share their unit: it is changed before the first, or with all of them taken back.
    const std::string other = draft.extra.empty() && run.rows.empty() ? next_unit(unit) : std::string{};
    if (rest.h > touch.mm(8.0F) && value_box(touch, cut_bottom(rest, touch.mm(21.0F), touch.gap()),
                                             {.value = value,
                                              .unit = unit,
                                              .above = draft.extra.empty() ? place.check.title : draft.extra,
                                              .other_units = !other.empty()})) {
        run.unit = other == place.check.unit ? std::string{} : other;
        draft.doubted.clear();
        keep(runs, requests);
    }
    if (rest.h > touch.mm(8.0F)) {
        if (!odd.empty()) ground(touch, rest, touch.theme.warn);
        draw_label(touch, touch.named("due"), rest, odd.empty() ? due_words(run, place.world.moment) : odd,
                   {.face = Face::Bold, .colour = odd.empty() ? touch.theme.text : touch.theme.warn_text});
    }
    // Too early is a slip of the finger, and would shorten the test.
    const NextDue due = next_due(run, place.world.moment.epoch_s);
    const bool early = draft.extra.empty() && !run.rows.empty() && !due.all_taken && due.in_s > 0;
    const std::string words = !draft.extra.empty() ? "Keep" : !odd.empty() ? "It is so: add" : early ? "Add in " + clock_words(due.in_s) : "Add reading";
    if (odd.empty()) draft.doubt.clear();
    const Keyed keyed = keypad(touch, pad_at, value,
                               {.save_words = words,
                                .save = value.empty() || early ? KeyState::Blocked : KeyState::Ready});
    if (keyed != Keyed::Save) return;
    if (draft.extra.empty() && odd.empty() && !odd_words(place.check, run, value, draft.channel).empty()) {
        draft.doubted = value;
        draft.doubt = odd_words(place.check, run, value, draft.channel);
        touch.be_deaf_for(bounce_s);
        return;
    }
    draft.doubted.clear();
    draft.doubt.clear();
    draft.drop_asked = draft.end_asked = false;
    keyed_save(draft, run, place);
    keep(runs, requests);
}

}  // namespace

float tight_series_height(const Touch& touch, float width, bool keypad_beside) {
    const float rows = 2.0F * (touch.key_side() + touch.gap());
    return keypad_beside ? rows : rows + keypad_height(touch, width) + touch.mm(23.0F) + touch.gap();
}

bool shows_chart(const SeriesDraft& draft, const SeriesRun& run) {
    return draft.doubt.empty() && draft.chart_wanted.value_or(run.rows.size() >= 2);
}

float start_keys_height(const Touch& touch, const CheckView& check, const SeriesDraft& draft) {
    const int rows = (check.instruments.size() > 1 ? 1 : 0) + (next_unit(unit_shown(check, draft)).empty() ? 0 : 1);
    return touch.mm(start_key_mm) + static_cast<float>(rows) * (touch.key_side() + touch.gap());
}

SeriesRun* run_of(std::vector<SeriesRun>& runs, std::string_view job, std::string_view check) {
    for (SeriesRun& run : runs) {
        if (run.job == job && run.check == check) return &run;
    }
    return nullptr;
}

std::optional<std::string> series_panel(Touch& touch, const Rect& at, const SeriesPlace& place,
                                        SeriesDraft& draft, std::vector<SeriesRun>& runs,
                                        Requests& requests) {
    const Scope scope{touch, "series"};
    const std::string job = place.world.job ? place.world.job->row.job : std::string{};
    SeriesRun* run = run_of(runs, job, place.check.id);
    if (run == nullptr) {
        start_key(touch, at, place, draft, runs, requests);
        return std::nullopt;
    }
    draft.values.resize(channel_count(place.check));
    draft.channel = std::min(draft.channel, draft.values.size() - 1);
    Rect rest = at;
    const Rect pad_at =
        place.keypad_at
            ? *place.keypad_at
            : cut_bottom(rest, keypad_height(touch, rest.w) + touch.mm(23.0F), touch.gap());
    const int asked = static_cast<int>(place.check.channels.size() + run->extras.size());
    // Two rows of keys would leave no room for the chart; one row must still hold them all.
    const auto keys = static_cast<float>(asked + (place.check.channels.empty() ? 1 : 0) + 3);
    const float one_row = keys * (touch.key_side() + touch.gap());
    const bool low = place.tight || rest.h < touch.mm(3.0F * key_mm) || (rest.h < touch.mm(3.0F * key_mm + 6.0F) && rest.w >= one_row);
    Rect finish = cut_bottom(rest, touch.key_side(), touch.gap());
    Rect asked_at;
    if (asked > 0) {
        const float ends_w = 3.0F * (finish.w + touch.gap()) / keys;
        asked_at = low ? finish : cut_bottom(rest, touch.key_side(), touch.gap());
        if (low) finish = cut_right(asked_at, ends_w - touch.gap(), touch.gap());
    }
    const std::vector<Rect> ends = columns(finish, 3, touch.gap());
    constexpr double stray_s = 6.0;
    const bool was_asked = draft.drop_asked || draft.end_asked;
    if (was_asked && touch.attention.now_s - draft.asked_at_s > stray_s) draft.drop_asked = draft.end_asked = false;
    const bool asked_before = draft.drop_asked;
    const bool pressed = key(touch, "drop", ends[0],
                             {.words = asked_before ? "Really? All gone" : "Start over",
                              .role = asked_before ? KeyRole::Answer : KeyRole::Plain,
                              .face = Face::Small});
    const bool drop = pressed && asked_before;
    if (pressed) {
        draft.drop_asked = true;
        draft.asked_at_s = touch.attention.now_s;
    }
    if (key(touch, "take back", ends[1],
            {.words = "Take back last",
             .state = run->rows.empty() ? KeyState::Blocked : KeyState::Ready,
             .face = Face::Small})) {
        run->rows.pop_back();
        run->rung_for = std::min(run->rung_for, static_cast<int>(run->rows.size()) - 1);
        draft.drop_asked = false;
        keep(runs, requests);
    }
    const bool whole = next_due(*run, place.world.moment.epoch_s).all_taken;
    const std::string ends_early = fmt::format("End with {} of {}?", run->rows.size(), planned(*run));
    const bool wants_save =
        key(touch, "finish", ends[2],
            {.words = draft.end_asked ? std::string_view{ends_early} : low ? "Save all" : "Save the series",
             .role = whole ? KeyRole::Primary : draft.end_asked ? KeyRole::Answer : KeyRole::Plain,
             .state = run->rows.empty() ? KeyState::Blocked : KeyState::Ready});
    // A series that ends before its time proves little; a stray finger must not end it.
    const bool save = wants_save && (whole || draft.end_asked);
    if (wants_save && !save) {
        draft.end_asked = true;
        draft.asked_at_s = touch.attention.now_s;
        touch.be_deaf_for(bounce_s);
    }
    if (save || drop) touch.be_deaf_for(unread_s);
    const auto extras = run->extras;
    if (asked > 0) targets(touch, asked_at, place, *run, draft);
    if (run->extras != extras) keep(runs, requests);
    if (place.tight) turn_row(touch, cut_bottom(rest, touch.key_side(), touch.gap()), place, *run, draft);
    else if (rest.h > touch.mm(6.0F))
        readings_line(touch, cut_bottom(rest, em_px(Face::Small, touch.metrics) * 1.25F, touch.gap()), place, *run);
    if (rest.h > touch.mm(18.0F)) chart(touch, rest, place, *run);
    ask_once(place, *run, draft, requests);
    series_keypad(touch, pad_at, place, draft, runs, *run, requests);
    std::optional<std::string> entered;
    if (save) entered = entered_text(*run, place.check.channels, place.check.unit);
    if (save || drop) {
        std::erase_if(runs, [&](const SeriesRun& other) {
            return other.job == job && other.check == place.check.id;
        });
        draft = {};
        keep(runs, requests);
    }
    return entered;
}

const SeriesRun* series_strip(Touch& touch, const Rect& at, const std::vector<SeriesRun>& runs,
                              const Moment& moment) {
    if (runs.empty()) return nullptr;
    const Scope scope{touch, "due"};
    const SeriesRun* pressed = nullptr;
    const std::vector<Rect> cells = columns(at, static_cast<int>(runs.size()), touch.gap());
    for (std::size_t i = 0; i < runs.size(); ++i) {
        const NextDue due = next_due(runs[i], moment.epoch_s);
        const bool now = due.all_taken || due.in_s <= 0;
        const std::string words = due_words(runs[i], moment);
        if (key(touch, runs[i].check, cells[i],
                {.words = runs[i].title,
                 .small = words,
                 .role = KeyRole::Row,
                 .state = now ? KeyState::Chosen : KeyState::Ready,
                 .face = Face::Body})) {
            pressed = &runs[i];
        }
    }
    return pressed;
}

void ring_due(std::vector<SeriesRun>& runs, const Moment& moment, Requests& requests) {
    for (SeriesRun& run : runs) {
        const NextDue due = next_due(run, moment.epoch_s);
        if (due.all_taken || due.in_s > 0 || run.rung_for >= due.reading) continue;
        run.rung_for = due.reading;
        requests.emplace_back(RingTone{Tone::Due, run.check});
    }
}

std::optional<double> seconds_to_redraw(const std::vector<SeriesRun>& runs) {
    if (runs.empty()) return std::nullopt;
    return 1.0;
}

}  // namespace wm::screens
