#include "desk/slips.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "checklist/judge.hpp"
#include "checklist/testing.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {
TypedNumber typed(std::string_view text, double value, std::optional<double> low, std::optional<double> high) {
    return {.text = text, .value = value, .low = low, .high = high, .plausible_low = 0.0, .plausible_high = 1000.0};
}
}  // namespace

TEST_CASE("a value ten times too large or too small is asked about") {
    CHECK(slips_in(typed("200", 200, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).front() ==
          "Look again: 20 would fit, 2 does not. Is the decimal point in its place?");
}

TEST_CASE("a digit that came twice is asked about") {
    CHECK(slips_in(typed("4480", 4480, 430, 485)).front() ==
          "Look again: did a key stick? 480 would fit, 4480 does not.");
}

TEST_CASE("a value that fits, and a plain wrong one, pass in silence") {
    CHECK(slips_in(typed("20", 20, 18, 22)).empty());
    CHECK(slips_in(typed("25", 25, 18, 22)).empty());
    CHECK(slips_in(typed("0", 0, 18, 22)).empty());
    CHECK(slips_in(typed("22", 22, 18, 22)).empty());
}

TEST_CASE("with one limit, only a plausible neighbour is named") {
    CHECK(slips_in(typed("0.4", 0.4, std::nullopt, 0.1)).size() == 1);
    auto small = typed("0.4", 0.4, std::nullopt, 0.1);
    small.plausible_low = 0.05;
    CHECK(slips_in(small).empty());
}

TEST_CASE("a mark with three digits behind it may part the thousands") {
    for (const char* text : {"4,600", "4.600", "12,500 kPa", "480,000"}) CHECK(may_part_thousands(text));
    for (const char* text : {"4,6", "4.60", "0.125", "4600", "4,6000", "1234,500", ",600", "-4,600"})
        CHECK_FALSE(may_part_thousands(text));
}

TEST_CASE("an idle zero in front, a sign that was touched and noughts behind a point are asked about") {
    CHECK(slips_in(typed("005", 5, std::nullopt, 10)).front() == "Look again: 005 begins with a zero. Is the decimal point in its place?");
    CHECK(slips_in(typed("-01", -1, -1, 1)).size() == 1);
    for (const char* usual : {"0.05", "0,05", "0"}) CHECK(slips_in(typed(usual, *units::read_number(usual), std::nullopt, 0.1)).empty());
    CHECK(slips_in(typed("-20", -20, 18, 22)).size() == 1);
    CHECK(slips_in(typed("0.0", 0, 18, 22)).size() == 1);
    // A freezing point: a digit or the sign lost leads to the other side.
    for (const double value : {-6.0, -2.0, 0.33, 33.0}) CHECK(slips_in(typed(fmt::format("{}", value), value, -35, -18)).size() == 1);
    for (const double value : {-36.0, -17.0, -22.0}) CHECK(slips_in(typed(fmt::format("{}", value), value, -35, -18)).empty());
}

namespace {

// Marsaglia's xorshift, J. Stat. Softw. 8 (2003): the same slips in every run.
struct Dice {
    std::uint64_t state;
    double next() {
        state ^= state << 13U;
        state ^= state >> 7U;
        state ^= state << 17U;
        return static_cast<double>(state >> 11U) / 9007199254740992.0;
    }
    std::size_t one_of(std::size_t count) { return std::min(count - 1, static_cast<std::size_t>(next() * static_cast<double>(count))); }
};

// The keypad as the window lays it out, square and low: < takes the last sign back, ~ turns the sign, S saves.
using Keys = std::vector<std::string_view>;
const Keys keypads[] = {{"789<", "456~", "123S", "0.,S"}, {"789<~", "456.,", "1230S"}};

/// A key beside, above or below.
char neighbour_of(const Keys& keys, char wanted, Dice& dice) {
    std::string around;
    for (std::size_t row = 0; row < keys.size(); ++row) {
        const std::size_t column = keys[row].find(wanted);
        if (column == std::string_view::npos) continue;
        if (column > 0) around += keys[row][column - 1];
        if (column + 1 < keys[row].size()) around += keys[row][column + 1];
        if (row > 0 && column < keys[row - 1].size()) around += keys[row - 1][column];
        if (row + 1 < keys.size() && column < keys[row + 1].size()) around += keys[row + 1][column];
    }
    return around[dice.one_of(around.size())];
}

void press(std::string& typed, char key) {
    if (key == '<') {
        if (!typed.empty()) typed.pop_back();
    } else if (key == '~') {
        if (typed.starts_with('-')) typed.erase(0, 1);
        else typed.insert(0, "-");
    } else if ((key != '.' && key != ',') || typed.find_first_of(".,") == std::string::npos) {
        typed += key;
    }
}

/// Types the text; each key slips with 2 %: it is missed (a digit or the point), comes twice, or a neighbour is hit.
std::string typed_with_slips(std::string_view text, const Keys& keys, Dice& dice) {
    std::string typed;
    for (const char sign : text) {
        const char key = sign == '-' ? '~' : sign;
        if (dice.next() >= 0.02) {
            press(typed, key);
            continue;
        }
        const std::size_t kind = dice.one_of(3);
        if (kind == 0) continue;
        const char hit = kind == 1 ? key : neighbour_of(keys, key, dice);
        if (hit == 'S') return typed;
        press(typed, hit);
        if (kind == 1) press(typed, key);
    }
    return typed;
}

/// A number that a shipped checklist asks for, with the limits of its own example house.
struct Kind {
    std::string check;
    std::optional<double> low, high;
    double plausible_low = 0.0, plausible_high = 0.0;
    double true_from = 0.0, true_to = 0.0;  ///< of the readings that are meant
    int decimals = 0;
};

/// Two limits of one sign, the far one at most three times the near one: a figure out by ten lies outside of them, whatever it
/// was meant to be. With one limit, or limits on both sides of zero, 50 MΩ typed as 500 conforms as before.
bool has_narrow_limits(const Kind& kind) {
    if (!kind.low || !kind.high || *kind.low * *kind.high <= 0.0) return false;
    const double a = std::abs(*kind.low), b = std::abs(*kind.high);
    return std::max(a, b) <= 3.0 * std::min(a, b);
}

std::optional<double> example_reading(const checklist::Check& check, const checklist::Example& example) {
    const std::size_t mark = example.reading.find('=');
    std::string text = example.reading.substr(mark == std::string::npos ? 0 : mark + 1);
    text = text.substr(0, text.find(';'));
    const auto entered = units::read_amount(text, *check.unit, "example");
    return entered ? std::optional{entered->amount().in(*check.unit)} : std::nullopt;
}

std::optional<Kind> kind_of(const checklist::Library& library, const checklist::Checklist& list, const checklist::Check& check) {
    const bool counted = check.kind == checklist::Kind::Positions;
    const bool number = check.kind == checklist::Kind::Quantity || (counted && check.entry == checklist::EntryForm::Number);
    // Of a bearing the gap is judged and not the figure that is typed.
    if (!number || !check.unit || !check.plausible || check.measurand || check.is_deviation) return std::nullopt;
    for (const auto& example : check.examples) {
        const auto meant = example_reading(check, example);
        if (example.expected != measure::Outcome::Conforms || !meant) continue;
        checklist::Facts facts;
        for (const auto& fact : list.example_facts) facts.set(fact);
        for (const auto& fact : example.facts) facts.set(fact);
        const checklist::Context context{facts, library, list.date, {}, {}, {}, {}};
        const std::string place = !counted ? "" : check.places.empty() ? "1" : check.places.front();
        const auto limits = checklist::limits_for(check, place, context);
        if (!limits.low && !limits.high) continue;
        Kind kind{.check = list.name + "/" + check.id.text,
                  .low = std::nullopt,
                  .high = std::nullopt,
                  .plausible_low = check.plausible->low,
                  .plausible_high = check.plausible->high,
                  .true_from = *meant - 0.2 * std::abs(*meant),
                  .true_to = *meant + 0.2 * std::abs(*meant),
                  .decimals = check.decimals.value_or(0)};
        if (limits.low) kind.low = limits.low->in(*check.unit);
        if (limits.high) kind.high = limits.high->in(*check.unit);
        if (kind.low && kind.high) {
            // Within the tolerance and a fifth of it beyond.
            const double fifth = 0.2 * (*kind.high - *kind.low);
            kind.true_from = *kind.low - fifth;
            kind.true_to = *kind.high + fifth;
        }
        return kind;
    }
    return std::nullopt;
}

std::vector<Kind> shipped_kinds() {
    const auto library = checklist::testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    std::vector<Kind> kinds;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks)
            if (auto kind = kind_of(library, list, check)) kinds.push_back(std::move(*kind));
    return kinds;
}

struct Tally {
    int readings = 0, out_by_ten = 0, undetected = 0;
    std::set<std::string> examples;  ///< of what was not detected
};

/// Whether anything was asked or refused before the number was saved.
bool is_asked_about(const Kind& kind, const std::string& got, double value) {
    if (value < kind.plausible_low || value > kind.plausible_high || may_part_thousands(got)) return true;
    return !slips_in({.text = got,
                      .value = value,
                      .low = kind.low,
                      .high = kind.high,
                      .plausible_low = kind.plausible_low,
                      .plausible_high = kind.plausible_high})
                .empty();
}

void type_readings(const std::vector<Kind>& kinds, int count, Dice dice, Tally& tally) {
    for (int i = 0; i < count; ++i) {
        const Kind& kind = kinds[static_cast<std::size_t>(i) % kinds.size()];
        const std::string text = fmt::format("{:.{}f}", kind.true_from + (kind.true_to - kind.true_from) * dice.next(), kind.decimals);
        const std::string got = typed_with_slips(text, keypads[dice.one_of(2)], dice);
        ++tally.readings;
        const auto meant = units::read_number(text);
        const auto value = units::read_number(got);
        // What is no number is not saved.
        if (got == text || !meant || !value || *meant == 0.0) continue;
        const double times = std::abs(*value / *meant);
        if (times < 5.0 && times > 1.0 / 5.0) continue;
        ++tally.out_by_ten;
        if (is_asked_about(kind, got, *value)) continue;
        ++tally.undetected;
        if (tally.examples.size() < 12) tally.examples.insert(fmt::format("{}: {} for {}", kind.check, got, text));
    }
}

Tally tally_of(const std::vector<Kind>& kinds, int of_each_seed) {
    Tally tally;
    for (const std::uint64_t seed : {0x9E3779B97F4A7C15ULL, 0xD1B54A32D192ED03ULL, 0x8CB92BA72F3D8DD7ULL, 0xABC98388FB8FAC03ULL, 0x2545F4914F6CDD1DULL})
        type_readings(kinds, of_each_seed, Dice{seed}, tally);
    return tally;
}

/// With so many or fewer seen, the expected number is below this with 95 %. Of rare events among many the exact bound of Clopper
/// and Pearson, Biometrika 26 (1934) 404, is a hair below this one of Poisson's law.
double most_expected(int seen) {
    const auto chance_of_so_few = [&](double expected) {
        double term = std::exp(-expected), sum = term;
        for (int i = 1; i <= seen; ++i) sum += term *= expected / i;
        return sum;
    };
    double low = seen, high = seen + 10.0 * std::sqrt(seen + 1.0);
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2.0;
        (chance_of_so_few(middle) > 0.05 ? low : high) = middle;
    }
    return high;
}

std::string in_words(const Tally& tally) {
    std::string words = fmt::format("{} readings, {} out by ten, {} of them not asked about: {:.2f} in 10,000, with 95 % below {:.2f}", tally.readings,
                                    tally.out_by_ten, tally.undetected, 1e4 * tally.undetected / tally.readings,
                                    1e4 * most_expected(tally.undetected) / tally.readings);
    for (const auto& example : tally.examples) words += "\n  " + example;
    return words;
}

}  // namespace

TEST_CASE("the bound of a rare event is that of the tables") {
    // The rule of three: Hanley and Lippman-Hand, JAMA 249 (1983) 1743. Upper limits of Poisson's law for 1 and 10 seen:
    // Garwood, Biometrika 28 (1936) 437; all from memory, to the digits given.
    CHECK(std::abs(most_expected(0) - 2.996) < 0.001);
    CHECK(std::abs(most_expected(1) - 4.744) < 0.001);
    CHECK(std::abs(most_expected(10) - 16.962) < 0.001);
}

TEST_CASE("of 10,000 readings with 2 % of slipping keys at most one is out by ten and not asked about, where limits can tell") {
    std::vector<Kind> narrow, wide;
    for (const Kind& kind : shipped_kinds()) (has_narrow_limits(kind) ? narrow : wide).push_back(kind);
    // Torques, pressures, tilt, freezing point, contents of the loop; what has one limit is earth, insulation, trip times, taps.
    REQUIRE(narrow.size() >= 8);
    REQUIRE(wide.size() >= 15);
    const Tally told = tally_of(narrow, 60'000);
    MESSAGE(narrow.size(), " kinds with narrow limits: ", in_words(told));
    CHECK(told.out_by_ten > 3'000);
    CHECK(most_expected(told.undetected) / told.readings <= 1.0 / 10'000.0);
    // Of the others no guard by limits can promise this: most of what passes lies within the limits, as what was meant does.
    // Held only so that it gets no worse.
    const Tally others = tally_of(wide, 20'000);
    MESSAGE(wide.size(), " kinds with one limit or wide ones: ", in_words(others));
    CHECK(others.out_by_ten > 1'000);
    CHECK(most_expected(others.undetected) / others.readings <= 1.0 / 50.0);
}

}  // namespace wm::desk
