#include "app/instrument_command.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <thread>

#include "app/commands.hpp"
#include "app/enter_command.hpp"
#include "app/instrument_profiles.hpp"
#include "app/json_views.hpp"
#include "app/series_kept.hpp"
#include "desk/shown_reading.hpp"
#include "instruments/reading.hpp"
#include "units/reading.hpp"

namespace wm::app {

namespace {

/// What there is to be read, taken from the desk, which is closed again while an instrument is waited for.
struct Wanted {
    bool is_series = false;
    bool has_channels = false;
    std::vector<std::string> extras;  ///< asked with the series, read by another instrument
    double every_s = 0.0, duration_s = 0.0;
};

Result<double> seconds_of(const Arguments& arguments, std::string_view option, const std::optional<units::Amount>& planned) {
    if (!arguments.has(option)) return planned ? planned->si : 0.0;
    const auto amount = units::read_amount(arguments.value(option), *units::unit_named("min"), fmt::format("--{}", option));
    if (!amount) return tl::unexpected(amount.error());
    return amount->amount().si;
}

Result<Wanted> wanted_by(const Arguments& arguments, const World& world) {
    const auto job = arguments.word(1, "The job number");
    if (!job) return tl::unexpected(job.error());
    const auto id = arguments.word(2, "The check");
    if (!id) return tl::unexpected(id.error());
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return tl::unexpected(desk.error());
    const auto hand = desk->in_hand(*job);
    if (!hand) return tl::unexpected(hand.error());
    Wanted wanted;
    const auto* check = hand->list->find(checklist::CheckId{*id});
    // A check that is none is told by whoever enters it.
    if (check == nullptr || !check->series) return wanted;
    wanted.is_series = check->part_named(arguments.value("place")) == nullptr;
    wanted.has_channels = !check->series->channels.empty();
    for (const auto& extra : check->series->extras) wanted.extras.push_back(extra.name);
    const auto every = seconds_of(arguments, "every", check->series->every);
    const auto duration = seconds_of(arguments, "for", check->series->duration);
    if (!every) return tl::unexpected(every.error());
    if (!duration) return tl::unexpected(duration.error());
    wanted.every_s = *every;
    wanted.duration_s = *duration;
    return wanted;
}

struct Source {
    instruments::Profile profile;
    std::string port;
};

Result<Source> source_of(const Arguments& arguments, const World& world) {
    const std::string text = arguments.value("from-instrument");
    const auto at = text.find('@');
    if (at == std::string::npos || at == 0 || at + 1 == text.size())
        return refused({fmt::format("\"{}\" does not say instrument and port.", text), "--from-instrument",
                        "Write PROFILE@PORT, as pressure-gauge-cable@/dev/ttyUSB0.", ProblemKind::WrongUse});
    auto profile = profile_named(world, text.substr(0, at));
    if (!profile) return tl::unexpected(profile.error());
    return Source{std::move(*profile), text.substr(at + 1)};
}

/// Who the instrument says it is counts before what was named, and the two must not differ.
Result<instruments::Shown> read_now(const Source& source, const std::string& named) {
    auto shown = instruments::read_instrument(source.profile, source.port);
    if (!shown) return shown;
    if (shown->mark.empty()) shown->mark = named;
    else if (!named.empty() && shown->mark != named)
        return refused({fmt::format("The instrument at this port is {}, not {}.", shown->mark, named), source.port,
                        "Plug in the one that is meant, or name the one that is there.", ProblemKind::Unreadable});
    return shown;
}

Arguments with_value(Arguments arguments, const std::string& text, const std::string& instrument) {
    arguments.words.resize(3);
    arguments.words.push_back(text);
    arguments.options.erase("instrument");
    if (!instrument.empty()) arguments.options.emplace("instrument", instrument);
    return arguments;
}

Output carried_out(const Arguments& arguments, const World& world, const std::string& evidence) {
    const Form form = form_of(arguments);
    const auto reading = reading_from(arguments);
    if (!reading) return told_as(reading.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto answers = desk->carry_out(desk::TakeShownReading{*reading, evidence, arguments.value("done")});
    return answers ? answered(*answers, form) : told_as(answers.error(), form);
}

Output enter_once(const Arguments& arguments, const World& world, const Source& source) {
    const auto shown = read_now(source, arguments.value("instrument"));
    if (!shown) return told_as(shown.error(), form_of(arguments));
    auto words = with_value(arguments, shown->text, shown->mark);
    const std::string at = desk::text_of(world.now());
    words.options.erase("read-at");
    words.options.emplace("read-at", at);
    auto output = carried_out(words, world, instruments::evidence_of(source.profile, source.port, *shown, at));
    if (output.code <= 1) output.talk += fmt::format("Read {} from {}.\n", shown->text, source.profile.title);
    return output;
}

/// Where a series stands when it cannot be entered yet: what is kept, and how to go on by hand.
Output kept_so_far(const Arguments& arguments, const KeptSeries& series, const std::vector<std::string>& extras, Output output) {
    std::string rest = output.code == 0 ? "" : "TIME=READING";
    for (const auto& extra : extras) rest += fmt::format("{}{}=VALUE", rest.empty() ? "" : "; ", extra);
    const std::string go_on = fmt::format("witnessmark {} {} {} \"{}\" --go-on", arguments.words.front(), series.job, series.check, rest);
    output.talk += fmt::format("{} readings are kept: {}\nGo on by hand: {}\n", series.readings.size(), typed_form(series), go_on);
    if (output.code != 0)
        output.talk += "Times are counted from the first reading. Or plug the instrument in again, and say the same as before with --go-on.\n";
    if (form_of(arguments) == Form::Text) return output;
    Json json = output.data.empty() ? Json::object() : Json::parse(output.data);
    json["kept"] = {{"job", series.job}, {"check", series.check}, {"readings", series.readings.size()}, {"text", typed_form(series)}};
    json["go_on"] = go_on;
    output.data = document(json);
    return output;
}

/// The whole series as one entry; what was typed stands behind what was read. The file goes once it is entered.
Output enter_series(const Arguments& arguments, const World& world, const KeptSeries& series) {
    std::string text = typed_form(series), evidence;
    const std::string typed = arguments.words.size() > 3 ? arguments.words[3] : "";
    if (!typed.empty()) text += "; " + typed;
    for (const auto& reading : series.readings) evidence += reading.evidence + "\n";
    if (!typed.empty()) evidence += fmt::format("typed: {}\n", typed);
    auto words = with_value(arguments, text, series.instrument);
    if (!series.place.empty() && !words.has("place")) words.options.emplace("place", series.place);
    auto output = carried_out(words, world, evidence);
    if (output.code > 1) return kept_so_far(arguments, series, {}, std::move(output));
    std::error_code left_behind;
    std::filesystem::remove(series_file(world.data, series.job, series.check), left_behind);
    output.talk += fmt::format("{} readings of an instrument are entered.\n", series.readings.size());
    return output;
}

/// Seconds since the series began: by the clock of the machine's running at each call, by the wall clock between two calls.
class SeriesClock {
public:
    SeriesClock(const KeptSeries& series, const World& world) {
        const auto started = desk::read_moment(series.started);
        if (started) before_s_ = static_cast<double>(world.now().wall_ms - started->wall_ms) / 1000.0;
        const double least = series.readings.empty() ? 0.0 : series.readings.back().at_s + 1.0;
        before_s_ = series.readings.empty() ? 0.0 : std::max(before_s_, least);
    }
    [[nodiscard]] double now_s() const {
        return before_s_ + std::chrono::duration<double>(std::chrono::steady_clock::now() - begun_).count();
    }
    void wait_until(double s) const { std::this_thread::sleep_for(std::chrono::duration<double>(std::max(0.0, s - now_s()))); }

private:
    double before_s_ = 0.0;
    std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

Result<void> read_series(KeptSeries& series, const Wanted& wanted, const Source& source, const World& world) {
    const auto file = series_file(world.data, series.job, series.check);
    if (series.readings.empty()) series.started = desk::text_of(world.now());
    const SeriesClock clock{series, world};
    for (double due = std::ceil(clock.now_s() / wanted.every_s - 0.01) * wanted.every_s; due <= wanted.duration_s + 0.5; due += wanted.every_s) {
        clock.wait_until(due);
        const int at_s = static_cast<int>(std::lround(clock.now_s()));
        auto shown = read_now(source, series.instrument);
        if (!shown) return tl::unexpected(shown.error());
        if (!series.readings.empty() && at_s <= series.readings.back().at_s) continue;
        series.instrument = shown->mark;
        series.readings.push_back({at_s, shown->text, instruments::evidence_of(source.profile, source.port, *shown, fmt::format("{} s after {}", at_s, series.started))});
        if (const auto kept = keep_series(file, series); !kept) return kept;
        // Ten minutes without a word look like a hang.
        fmt::print(stderr, "{} s: {}\n", at_s, shown->text);
    }
    return {};
}

Output run_series(const Arguments& arguments, const World& world, const Wanted& wanted) {
    const Form form = form_of(arguments);
    const std::string& job = arguments.words[1];
    const std::string& check = arguments.words[2];
    const std::string where = fmt::format("job {}, check {}", job, check);
    auto kept = read_series_kept(series_file(world.data, job, check));
    if (!kept) return told_as(kept.error(), form);
    if (*kept && !arguments.has("go-on") && !arguments.has("anew"))
        return told_as({fmt::format("{} readings of a series begun at {} are kept and were not entered.", (*kept)->readings.size(), (*kept)->started), where,
                        "Go on with them by --go-on, or begin again by --anew, which gives them up.", ProblemKind::Refused},
                       form);
    if (!*kept && arguments.has("go-on") && !arguments.has("from-instrument"))
        return told_as({"Nothing is kept of this series.", where, "Type the whole series, or read it from an instrument.", ProblemKind::Refused}, form);
    KeptSeries series = *kept && !arguments.has("anew")
                            ? **kept
                            : KeptSeries{job, check, arguments.value("place"), arguments.value("instrument"), "", {}};
    if (!arguments.has("from-instrument")) return enter_series(arguments, world, series);
    const auto source = source_of(arguments, world);
    if (!source) return told_as(source.error(), form);
    if (wanted.has_channels)
        return told_as({"This series has several channels, and a profile reads one.", where, "Type it, with all channels at each time.", ProblemKind::WrongUse}, form);
    if (!(wanted.every_s >= 1.0) || !(wanted.duration_s >= wanted.every_s) || wanted.duration_s / wanted.every_s > 4999.0)
        return told_as({"It is not said how often and for how long the instrument is read.", where, "Write --every \"2 min\" --for \"10 min\"; at least a second, at most 5000 readings.",
                        ProblemKind::WrongUse},
                       form);
    if (const auto read = read_series(series, wanted, *source, world); !read) {
        auto output = told_as(read.error(), form);
        return series.readings.empty() ? output : kept_so_far(arguments, series, wanted.extras, std::move(output));
    }
    // The other figures are read by another instrument, some of them only now.
    if (!wanted.extras.empty() && arguments.words.size() < 4) return kept_so_far(arguments, series, wanted.extras, {});
    return enter_series(arguments, world, series);
}

}  // namespace

Output enter_from_instrument(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto wanted = wanted_by(arguments, world);
    if (!wanted) return told_as(wanted.error(), form);
    if (wanted->is_series) return run_series(arguments, world, *wanted);
    if (!arguments.has("from-instrument") || arguments.words.size() > 3)
        return told_as({"This is no series, so its reading comes whole from the instrument.", "check " + arguments.words[2],
                        "Write --from-instrument PROFILE@PORT alone, or the value alone.", ProblemKind::WrongUse},
                       form);
    const auto source = source_of(arguments, world);
    return source ? enter_once(arguments, world, *source) : told_as(source.error(), form);
}

}  // namespace wm::app
