// The arithmetic and the file of running series.
#include "screens/series_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

namespace wm::screens {
namespace {

std::string one_line(std::string_view text) {
    std::string clean{text};
    for (char& letter : clean) {
        if (letter == '\t' || letter == '\n' || letter == '\r') letter = ' ';
    }
    return clean;
}

std::vector<std::string> fields_of(std::string_view line) {
    std::vector<std::string> fields;
    std::size_t start = 0;
    while (true) {
        const std::size_t tab = line.find('\t', start);
        if (tab == std::string_view::npos) {
            fields.emplace_back(line.substr(start));
            return fields;
        }
        fields.emplace_back(line.substr(start, tab - start));
        start = tab + 1;
    }
}

std::optional<std::int64_t> whole(const std::string& text) {
    std::int64_t value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

bool add_run(std::vector<SeriesRun>& runs, const std::vector<std::string>& f) {
    if (f.size() != 7) return false;
    const auto started = whole(f[4]);
    const auto every = whole(f[5]);
    const auto lasts = whole(f[6]);
    constexpr std::int64_t last_of_9999 = 253402300799;
    if (!started || *started < 0 || *started > last_of_9999 || !every || !lasts || *every <= 0 || *every > 86400 || *lasts < 0 ||
        *lasts > 604800) {
        return false;
    }
    SeriesRun run;
    run.job = f[1];
    run.check = f[2];
    run.title = f[3];
    run.started_s = *started;
    run.every_s = static_cast<int>(*every);
    run.duration_s = static_cast<int>(*lasts);
    runs.push_back(std::move(run));
    return true;
}

bool add_line(std::vector<SeriesRun>& runs, const std::vector<std::string>& f) {
    if (f.front() == "run") return add_run(runs, f);
    if (runs.empty()) return false;
    if (f.front() == "row" && f.size() >= 3) {
        const auto at = whole(f[1]);
        if (!at || *at < 0 || *at > 604800) return false;
        runs.back().rows.push_back(
            {static_cast<int>(*at), std::vector<std::string>(f.begin() + 2, f.end())});
        return true;
    }
    if (f.front() == "extra" && f.size() == 3) {
        runs.back().extras.emplace_back(f[1], f[2]);
        return true;
    }
    if (f.front() == "in" && f.size() == 2) {
        runs.back().unit = f[1];
        return true;
    }
    if (f.front() == "with" && f.size() == 2) {
        runs.back().instrument = f[1];
        return true;
    }
    return false;
}

bool bare_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("+-0123456789.,") == std::string_view::npos;
}

std::string with_unit(std::string_view text, std::string_view unit) {
    if (unit.empty() || !bare_number(text)) return std::string{text};
    return fmt::format("{} {}", text, unit);
}

std::string time_words(int at_s) {
    if (at_s % 60 == 0) return fmt::format("{} min", at_s / 60);
    return fmt::format("{} s", at_s);
}

}  // namespace

int first_at(const SeriesRun& run) {
    return run.rows.empty() ? 0 : run.rows.front().at_s;
}

int planned(const SeriesRun& run) {
    const int steps = (run.duration_s + run.every_s - 1) / std::max(1, run.every_s);
    return steps + 1;
}

NextDue next_due(const SeriesRun& run, std::int64_t now_s) {
    const int taken = static_cast<int>(run.rows.size());
    if (taken >= planned(run)) return {.reading = taken, .in_s = 0, .all_taken = true};
    // Time begins with the first reading: it is never taken in the second in which the run was started.
    const int due_at = first_at(run) + std::min(taken * run.every_s, run.duration_s);
    return {.reading = taken, .in_s = run.started_s + due_at - now_s, .all_taken = false};
}

std::string entered_text(const SeriesRun& run, const std::vector<std::string>& channels,
                         std::string_view own_unit) {
    const std::string_view unit = run.unit.empty() ? own_unit : std::string_view{run.unit};
    std::string text;
    const auto part = [&text](const std::string& more) {
        if (!text.empty()) text += "; ";
        text += more;
    };
    for (const SeriesRow& row : run.rows) {
        if (channels.empty()) {
            const std::string value = row.texts.empty() ? std::string{} : row.texts.front();
            part(time_words(row.at_s - first_at(run)) + "=" + with_unit(value, unit));
            continue;
        }
        std::string values;
        for (std::size_t i = 0; i < channels.size() && i < row.texts.size(); ++i) {
            if (row.texts[i].empty()) continue;
            if (!values.empty()) values += ", ";
            values += channels[i] + "=" + with_unit(row.texts[i], unit);
        }
        part(time_words(row.at_s - first_at(run)) + ": " + values);
    }
    for (const auto& [name, value] : run.extras) {
        if (!value.empty()) part(name + "=" + value);
    }
    return text;
}

std::string written(const std::vector<SeriesRun>& runs) {
    std::string text;
    for (const SeriesRun& run : runs) {
        text += fmt::format("run\t{}\t{}\t{}\t{}\t{}\t{}\n", one_line(run.job), one_line(run.check),
                            one_line(run.title), run.started_s, run.every_s, run.duration_s);
        if (!run.instrument.empty()) text += fmt::format("with\t{}\n", one_line(run.instrument));
        if (!run.unit.empty()) text += fmt::format("in\t{}\n", one_line(run.unit));
        for (const SeriesRow& row : run.rows) {
            text += fmt::format("row\t{}", row.at_s);
            for (const std::string& value : row.texts) text += "\t" + one_line(value);
            text += "\n";
        }
        for (const auto& [name, value] : run.extras) {
            text += fmt::format("extra\t{}\t{}\n", one_line(name), one_line(value));
        }
    }
    return text;
}

Result<std::vector<SeriesRun>> read_runs(std::string_view text) {
    std::vector<SeriesRun> runs;
    int number = 0;
    while (!text.empty()) {
        ++number;
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(text.size(), end + 1));
        if (line.empty()) continue;
        if (!add_line(runs, fields_of(line))) {
            return refused(
                {.what = "A running series was not kept in a form that can be read.",
                 .where = fmt::format("running series, line {}", number),
                 .what_to_do = "Start the series again; readings saved before are safe."});
        }
    }
    return runs;
}

std::string clock_words(std::int64_t seconds) {
    const std::int64_t s = std::max<std::int64_t>(0, seconds);
    if (s >= 3600) return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
    return fmt::format("{}:{:02}", s / 60, s % 60);
}

}  // namespace wm::screens
