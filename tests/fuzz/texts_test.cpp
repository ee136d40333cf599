// What people type and files of text: amounts, days, answers, tolerances, checklists, facts, drawn names.
#include <chrono>
#include <cmath>

#include "checklist/document.hpp"
#include "checklist/expression.hpp"
#include "checklist/facts_document.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "checklist/readings.hpp"
#include "desk/moment.hpp"
#include "desk/strokes.hpp"
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"
#include "record/clock.hpp"
#include "record/clock_watch.hpp"
#include "screens/series_run.hpp"
#include "screens/world.hpp"
#include "units/calendar.hpp"
#include "units/reading.hpp"

using namespace wm;

namespace {

/// The number as the C library reads it, comma and minus sign made its own: the second opinion.
std::optional<double> by_the_library(std::string text) {
    for (std::size_t at; (at = text.find("\xE2\x88\x92")) != std::string::npos;) text.replace(at, 3, "-");
    std::replace(text.begin(), text.end(), ',', '.');
    // Blanks around it are nobody's, the one that does not break included.
    for (std::size_t at; (at = text.find("\xC2\xA0")) != std::string::npos;) text.replace(at, 2, " ");
    const std::string blanks = " \t\r\n";
    text.erase(text.find_last_not_of(blanks) + 1);
    text.erase(0, std::min(text.find_first_not_of(blanks), text.size()));
    char* end = nullptr;
    const double value = std::strtod(text.c_str(), &end);
    return end == text.c_str() + text.size() && !text.empty() ? std::optional{value} : std::nullopt;
}

std::string try_amount(const std::string& text) {
    const auto expected = *units::unit_named("kPa");
    if (const auto fault = fuzz::fault_of(units::read_amount(text, expected, "a check")); !fault.empty()) return fault;
    if (const auto any = units::read_any_amount(text, "a check"); !any) {
        if (const auto fault = fuzz::fault_of(any); !fault.empty()) return fault;
    } else if (!std::isfinite(any->amount().si)) {
        return "an amount that is no number";
    }
    const auto number = units::read_number(text);
    if (!number) return fuzz::fault_of(number);
    const auto other = by_the_library(text);
    if (!other) return "a number that the C library reads as none";
    if (*other != *number) return "another number than the C library reads";
    return units::read_number(units::print_short(*number, 17)) == *number ? "" : "a number that does not read back";
}

/// The day as the standard library counts it: the second opinion.
std::optional<int> by_chrono(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    for (const std::size_t at : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U})
        if (text[at] < '0' || text[at] > '9') return std::nullopt;
    const auto two = [&](std::size_t at) { return static_cast<unsigned>((text[at] - '0') * 10 + (text[at + 1] - '0')); };
    const std::chrono::year_month_day day{std::chrono::year{static_cast<int>(two(0) * 100 + two(2))}, std::chrono::month{two(5)},
                                          std::chrono::day{two(8)}};
    if (!day.ok()) return std::nullopt;
    return static_cast<int>(std::chrono::sys_days{day}.time_since_epoch().count());
}

std::string try_date(const std::string& text) {
    const auto day = units::day_number(text);
    const auto other = by_chrono(text);
    // The year 0 is nobody's.
    if (day != other && !text.starts_with("0000")) return "another day than the standard library counts";
    if (day && units::day_of_number(*day) != text) return "a day that does not read back";
    if (const auto week = units::week_of(text); week && !units::monday_of(*week)) return "a week that is none";
    if (const auto monday = units::monday_of(text); monday && units::week_of(*monday) != text) return "a week that does not read back";
    if (const auto moment = desk::read_moment(text)) {
        const auto again = desk::read_moment(desk::text_of(*moment));
        // Down to the second, before 1970 too.
        const auto seconds = [](std::int64_t ms) { return (ms >= 0 ? ms : ms - 999) / 1000; };
        if (!again || seconds(again->wall_ms) != seconds(moment->wall_ms)) return "a moment that does not read back";
    }
    if (const auto stamp = record::stamp_of(text); stamp && record::text_of(*stamp) != text) return "a stamp that does not read back";
    if (const auto kept = record::clock_kept_of(text); kept && record::clock_kept_of(record::text_of(*kept)) != kept)
        return "kept clocks that do not read back";
    return "";
}

checklist::Check check_of(checklist::Kind kind) {
    checklist::Check check;
    check.id = checklist::CheckId{"any"};
    check.kind = kind;
    check.accept = {"concrete-slab", "metal, full bore"};
    check.refuse = {"plastic"};
    check.unit = units::unit_named("kPa");
    if (kind == checklist::Kind::Series) check.series.emplace().channels = {"riser", "downcomer"};
    return check;
}

std::string try_answer(const std::string& text) {
    using checklist::Kind;
    for (const auto kind : {Kind::Confirm, Kind::Choice, Kind::Quantity, Kind::Positions, Kind::Series, Kind::Text}) {
        const auto check = check_of(kind);
        for (const char* place : {"", "1"})
            if (const auto fault = fuzz::fault_of(checklist::read_answer(check, place, text)); !fault.empty()) return fault;
    }
    return fuzz::fault_of(checklist::read_series(check_of(Kind::Series), text));
}

std::string try_expression(const std::string& text) {
    const auto parsed = checklist::Expression::parse(text);
    if (!parsed) return parsed.error().what.empty() ? "a refusal without words" : "";
    if (parsed->nodes().empty() || parsed->nodes().size() > text.size() + 1) return "more nodes than letters";
    const auto again = checklist::Expression::parse(parsed->text());
    return again && again->names() == parsed->names() ? "" : "an expression that does not read back";
}

std::string try_checklist(const std::string& text) {
    if (const auto fault = fuzz::fault_of(checklist::load_checklist(text, "a.toml")); !fault.empty()) return fault;
    const checklist::Library library;
    for (const auto& finding : checklist::lint(text, "a.toml", library).findings)
        if (finding.what.empty()) return "a finding without words";
    checklist::Library other;
    if (const auto fault = fuzz::fault_of(checklist::load_cautions(other, text, "a.toml")); !fault.empty()) return fault;
    return fuzz::fault_of(checklist::load_instruments(other, text, "a.toml"));
}

std::string try_facts(const std::string& text) {
    const auto document = checklist::read_document(text, "facts.toml");
    if (!document) return fuzz::fault_of(document);
    for (const auto& fault : checklist::facts_of(*document).faults)
        if (fault.what.empty() || fault.what_to_do.empty()) return "a fault without words";
    return "";
}

/// Some strokes of so many points each, their times as a pad gives them.
std::vector<desk::Stroke> drawn(int points) {
    std::vector<desk::Stroke> strokes(static_cast<std::size_t>(1 + points % 3));
    for (std::size_t i = 0; i < strokes.size(); ++i)
        for (int k = 0; k <= points; ++k)
            strokes[i].push_back({std::fmod(points * 7.31 + k * 1.27, 80.0), std::fmod(k * 3.07, 30.0) - 2.0, k * 8});
    return strokes;
}

std::string try_strokes(const std::string& text) {
    const auto strokes = desk::strokes_of_svg(text, "sign.svg");
    if (!strokes) return fuzz::fault_of(strokes);
    for (const auto& stroke : *strokes)
        for (const auto& point : stroke)
            if (!std::isfinite(point.x_mm) || !std::isfinite(point.y_mm)) return "a point that is nowhere";
    return "";
}

std::string try_runs(const std::string& text) {
    if (const auto number = screens::read_number_kept(text); number && screens::read_number_kept(screens::written(*number)) != number)
        return "a kept number that does not read back";
    const auto runs = screens::read_runs(text);
    if (!runs) return fuzz::fault_of(runs);
    for (const auto& run : *runs) {
        const auto due = screens::next_due(run, 1'804'144'260);
        static_cast<void>(screens::clock_words(due.in_s));
        static_cast<void>(screens::entered_text(run, {}, "kPa"));
    }
    const auto again = screens::read_runs(screens::written(*runs));
    return again && screens::written(*again) == screens::written(*runs) ? "" : "runs that do not read back";
}

}  // namespace

TEST_CASE("amounts: spoilt ones are read as the C library reads them, or refused in words") {
    fuzz::run("amounts", fuzz::corpus_lines("amount"), 10'000, try_amount);
}
TEST_CASE("days, weeks and moments: spoilt ones are counted as the standard library counts them, or none") {
    fuzz::run("dates", fuzz::corpus_lines("date"), 10'000, try_date);
}
TEST_CASE("answers of every kind: spoilt ones are read or refused in words") {
    fuzz::run("answers", fuzz::corpus_lines("answer"), 8'000, try_answer);
}
TEST_CASE("tolerances: spoilt ones are read again the same, or refused in words") {
    fuzz::run("expressions", fuzz::corpus_lines("expression"), 8'000, try_expression);
}
TEST_CASE("checklists: spoilt ones are loaded and linted, or refused in words") {
    fuzz::run("checklists", fuzz::corpus("checklist"), 300, try_checklist);
}
TEST_CASE("spoilt tolerances inside a sound checklist are judged on its examples, or refused in words") {
    const auto whole = fuzz::corpus_file("checklist/small.toml");
    const std::string sound = "reading between 18 N·m and 22 N·m";
    REQUIRE(whole.find(sound) != std::string::npos);
    fuzz::run("tolerances in a checklist", fuzz::corpus_lines("expression"), 600, [&](const std::string& text) {
        if (text.find_first_of("\"\\\n\r") != std::string::npos) return std::string{};
        auto spoilt = whole;
        spoilt.replace(spoilt.find(sound), sound.size(), text);
        return try_checklist(spoilt);
    });
}
TEST_CASE("facts files: spoilt ones are read or refused in words") {
    fuzz::run("facts", fuzz::corpus("facts"), 2'000, try_facts);
}
TEST_CASE("drawn names: spoilt ones are finite strokes, or refused in words") {
    fuzz::run("strokes", fuzz::corpus("strokes"), 5'000, try_strokes);
}
TEST_CASE("drawn names: whoever reads XML finds the strokes that we find") {
    // Source: xml.etree of Python 3.11, and the grammar of points in SVG 1.1.
    auto drawings = fuzz::corpus("strokes");
    for (int many = 1; many <= 40; ++many) drawings.push_back(desk::strokes_to_svg(drawn(many)));
    fuzz::SecondReader etree{"strokes", 3'000};
    fuzz::run("strokes read twice", drawings, 3'000, [&](const std::string& text) -> std::string {
        const auto strokes = desk::strokes_of_svg(text, "sign.svg");
        nlohmann::json found;
        if (strokes)
            for (const auto& stroke : *strokes) {
                auto points = nlohmann::json::array();
                for (const auto& point : stroke) points.push_back(nlohmann::json::array({point.x_mm, point.y_mm, point.ms}));
                found.push_back(points);
            }
        etree.add(text, found);
        return "";
    });
    etree.must_agree();
}
TEST_CASE("running series and half typed numbers: spoilt ones are read again the same, or refused") {
    fuzz::run("runs", fuzz::corpus("runs"), 5'000, try_runs);
}
