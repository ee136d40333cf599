// How many slips of the finger pass, and how many true readings are asked about, over every number the lists ask for one by one.
// The points of a series have a guard of their own in the window.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "checklist/judge.hpp"
#include "checklist/lint_rules.hpp"
#include "checklist/testing.hpp"
#include "desk/slips.hpp"
#include "desk/usual_reading.hpp"
#include "units/reading.hpp"

namespace wm::desk {
namespace {

// Marsaglia's xorshift, J. Stat. Softw. 8 (2003): the same slips in every run.
struct Dice {
    std::uint64_t state = 0x9E3779B97F4A7C15ULL;
    double next() {
        state ^= state << 13U;
        state ^= state >> 7U;
        state ^= state << 17U;
        return static_cast<double>(state >> 11U) / 9007199254740992.0;
    }
    double between(double low, double high) { return low + (high - low) * next(); }
    std::size_t one_of(std::size_t count) { return std::min(count - 1, static_cast<std::size_t>(next() * static_cast<double>(count))); }
    /// Twelve even ones less six: nearly a bell, the same on every machine.
    double bell() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += next();
        return sum;
    }
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

/// False: that was the key that saves.
bool press(std::string& typed, char key) {
    if (key == 'S') return false;
    if (key == '<') {
        if (!typed.empty()) typed.pop_back();
    } else if (key == '~') {
        if (typed.starts_with('-')) typed.erase(0, 1);
        else typed.insert(0, "-");
    } else if ((key != '.' && key != ',') || typed.find_first_of(".,") == std::string::npos) {
        typed += key;
    }
    return true;
}

/// Types the text. Each key slips with 2 %, in four ways that are taken to be alike, for want of a source: it is missed, it
/// comes twice, a neighbour is hit in its place, or with it.
std::string typed_with_slips(std::string_view text, const Keys& keys, Dice& dice) {
    std::string typed;
    for (const char sign : text) {
        const char key = sign == '-' ? '~' : sign;
        if (dice.next() >= 0.02) {
            press(typed, key);
            continue;
        }
        switch (dice.one_of(4)) {
            case 0: break;
            case 1:
                press(typed, key);
                press(typed, key);
                break;
            case 2:
                if (!press(typed, neighbour_of(keys, key, dice))) return typed;
                break;
            default:
                press(typed, key);
                if (!press(typed, neighbour_of(keys, key, dice))) return typed;
        }
    }
    return typed;
}

/// A number that a list asks for, in one house of its examples.
struct Number {
    std::string name;
    TypedNumber known;               ///< what the desk knows of it; text and value stand for nothing yet
    std::vector<double> meant;       ///< what examples read here
    double step = 0.1;               ///< of the instrument
    int decimals = 0;
    bool conforms = true;            ///< the example this house is of
};

std::optional<double> number_of(std::string_view text, const units::Unit& unit) {
    const auto entered = units::read_amount(text.substr(0, text.find(';')), unit, "example");
    return entered ? std::optional{entered->amount().in(unit)} : std::nullopt;
}

/// The step of the instrument, else of the last decimal.
double step_of(const checklist::Library& library, const std::optional<std::string>& instrument, const units::Unit& unit, int decimals) {
    const double last = std::pow(10.0, -decimals);
    const auto* type = instrument ? library.type_named(*instrument) : nullptr;
    const auto step = type == nullptr ? std::nullopt : std::optional{units::read_any_amount(type->resolution, "resolution")};
    // A degree of resolution is written in K.
    const double own = step && *step ? (*step)->value * (*step)->unit.factor / unit.factor : 0.0;
    return std::max(own, last);
}

struct Place {
    const checklist::Check& check;
    std::string name;
    std::optional<units::Unit> unit;
    std::optional<checklist::PlausibleRange> plausible;
    std::optional<int> decimals;
    std::optional<std::string> instrument;
};

std::vector<Place> places_of(const checklist::Check& check) {
    std::vector<Place> places;
    const bool counted = check.kind == checklist::Kind::Positions;
    if (check.kind == checklist::Kind::Quantity || (counted && check.entry == checklist::EntryForm::Number))
        places.push_back({check, !counted ? "" : check.places.empty() ? "1" : check.places.front(), check.unit, check.plausible,
                          check.decimals, check.instrument});
    for (const auto& part : check.parts)
        if (part.kind == checklist::Kind::Quantity) places.push_back({check, part.name, part.unit, part.plausible, part.decimals, part.instrument});
    return places;
}

std::vector<double> read_in(const Place& at, const checklist::Example& example) {
    std::vector<double> values;
    const auto add = [&](const std::string& text) {
        if (const auto value = number_of(text, *at.unit)) values.push_back(*value);
    };
    if (at.check.part_named(at.name) != nullptr) {
        if (const auto found = example.parts.find(at.name); found != example.parts.end()) add(found->second);
    } else if (at.check.kind == checklist::Kind::Positions) {
        if (const auto places = checklist::split_positions(at.check, example.reading))
            for (const auto& place : *places)
                if (at.check.part_named(place.first) == nullptr) add(place.second);
    } else {
        add(example.reading);
    }
    return values;
}

Number number_at(const checklist::Library& library, const checklist::Checklist& list, const Place& at, const checklist::Example& example) {
    const auto facts = checklist::facts_for(list, &example);
    const checklist::Context context{facts, library, list.date, {}, {}, {}, [&](const checklist::CheckId& id) -> std::optional<units::Amount> {
                                         const auto found = example.earlier.find(id.text);
                                         if (found == example.earlier.end()) return std::nullopt;
                                         const auto amount = units::read_any_amount(found->second, "earlier");
                                         return amount ? std::optional{amount->amount()} : std::nullopt;
                                     }};
    const bool is_part = at.check.part_named(at.name) != nullptr;
    const bool is_worked_out = at.check.measurand && !is_part;
    const auto limits = checklist::limits_for(at.check, at.name, context);
    Number number{.name = list.name + "/" + at.check.id.text + (is_part ? " " + at.name : ""),
                  .known = {},
                  .meant = read_in(at, example),
                  .conforms = example.expected == measure::Outcome::Conforms};
    if (limits.low && !is_worked_out) number.known.low = limits.low->in(*at.unit);
    if (limits.high && !is_worked_out) number.known.high = limits.high->in(*at.unit);
    if (at.plausible) {
        number.known.plausible_low = at.plausible->low;
        number.known.plausible_high = at.plausible->high;
    }
    number.known.usual = usual_reading({list, at.check, at.name, limits, {}}, context);
    number.known.decimals = at.decimals;
    // A part that says nothing of decimals is read to whole units, or as fine as an example shows it.
    number.decimals = at.decimals.value_or(0);
    number.step = step_of(library, at.instrument, *at.unit, number.decimals);
    return number;
}

/// Every number of every list, with the houses of its examples.
std::map<std::string, std::vector<Number>> all_numbers() {
    const auto library = checklist::testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml", "tutorial.toml"});
    std::map<std::string, std::vector<Number>> numbers;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks)
            for (const auto& at : places_of(check)) {
                if (!at.unit) continue;
                std::vector<Number> houses;
                for (const auto& example : check.examples)
                    if (auto number = number_at(library, list, at, example); !number.meant.empty()) houses.push_back(std::move(number));
                // Nobody shows there what is usual; that a failing example is read again and again is not likely.
                if (std::none_of(houses.begin(), houses.end(), [](const Number& one) { return one.conforms; })) houses = {number_at(library, list, at, {})};
                auto name = houses.front().name;
                numbers.emplace(std::move(name), std::move(houses));
            }
    return numbers;
}

/// Two limits near each other: what is meant lies between them and a fifth beyond.
bool is_held_by_limits(const TypedNumber& known) {
    if (!known.low || !known.high || *known.low * *known.high <= 0.0) return false;
    const double a = std::abs(*known.low), b = std::abs(*known.high);
    return std::max(a, b) <= 3.0 * std::min(a, b);
}

/// How readings are made up; for want of counts of real houses.
struct Crew {
    double spread = 0.2;     ///< of a reading around that of its example, as a share of it, one standard deviation
    double at_fault = 0.05;  ///< share of houses in which something is wrong
};

/// What the crew means to type. Where limits do not hold it, it strays from what an example reads, around zero by as much as
/// that; where no example says anything it lies in the middle half of what is plausible, or up to its limit.
double drawn_anywhere(const Number& number, const Crew& crew, Dice& dice) {
    const auto& known = number.known;
    if (is_held_by_limits(known)) {
        const double fifth = 0.2 * (*known.high - *known.low);
        return dice.between(*known.low - fifth, *known.high + fifth);
    }
    if (!number.meant.empty()) {
        const double shown = number.meant[dice.one_of(number.meant.size())];
        const bool is_around_zero = known.low && known.high && *known.low < 0.0 && *known.high > 0.0;
        return is_around_zero ? shown * dice.bell() : shown * std::exp(crew.spread * dice.bell());
    }
    if (known.high) return dice.between(0.2, 1.2) * *known.high;
    const double quarter = (*known.plausible_high - *known.plausible_low) / 4.0;
    return dice.between(*known.plausible_low + quarter, *known.plausible_high - quarter);
}

/// No true reading is implausible.
double drawn(const Number& number, const Crew& crew, Dice& dice) {
    const auto& known = number.known;
    for (;;) {
        const double value = drawn_anywhere(number, crew, dice);
        if (!known.plausible_low || (value >= *known.plausible_low && value <= *known.plausible_high)) return value;
    }
}

/// As the instrument shows it; half of the crews leave out noughts at the end.
std::string shown_on(const Number& number, double value, Dice& dice) {
    const double step = number.step <= std::abs(value) / 3.0 ? number.step : std::pow(10.0, -number.decimals);
    auto text = units::print_number(std::round(value / step) * step, number.decimals);
    if (number.decimals > 0 && dice.next() < 0.5) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text;
}

/// Whether the window asks or warns before it saves.
bool is_asked_about(const Number& number, const std::string& text, double value) {
    const auto& known = number.known;
    if (known.plausible_low && (value < *known.plausible_low || value > *known.plausible_high)) return true;
    if (may_part_thousands(text)) return true;
    TypedNumber typed = known;
    typed.text = text;
    typed.value = value;
    return !slips_in(typed).empty();
}

struct Tally {
    int readings = 0, slipped = 0, out_by_ten = 0, undetected = 0;
    int conforming = 0, conforming_asked = 0, failing = 0, failing_asked = 0;  ///< typed as they were meant
    std::map<std::string, std::pair<int, std::string>> passed;                 ///< by number, with an instance
    std::map<std::string, std::pair<int, std::string>> pestered;
};

bool is_within(const TypedNumber& known, double value) {
    return (!known.low || value >= *known.low) && (!known.high || value <= *known.high);
}

void note(std::pair<int, std::string>& seen, const std::string& instance) {
    if (++seen.first <= 6) seen.second += " " + instance + ";";
}

void count_true(const Number& number, const std::string& text, double value, Tally& tally) {
    const bool asked = is_asked_about(number, text, value);
    const bool fits = is_within(number.known, value);
    ++(fits ? tally.conforming : tally.failing);
    if (!asked) return;
    ++(fits ? tally.conforming_asked : tally.failing_asked);
    note(tally.pestered[number.name], text);
}

void count_slip(const Number& number, const std::string& meant, const std::string& got, Tally& tally) {
    ++tally.slipped;
    const auto value = units::read_number(got);
    const double truth = *units::read_number(meant);
    // What is no number is not saved, and of nothing there is no tenth.
    if (!value || truth == 0.0) return;
    const double times = std::abs(*value / truth);
    if (times < 5.0 && times > 1.0 / 5.0) return;
    ++tally.out_by_ten;
    if (is_asked_about(number, got, *value)) return;
    ++tally.undetected;
    note(tally.passed[number.name], got + " for " + meant);
}

/// The same number of readings for each number.
Tally type_readings(const std::map<std::string, std::vector<Number>>& numbers, int each, const Crew& crew = {}, Dice dice = {}) {
    Tally tally;
    for (const auto& [name, houses] : numbers) {
        std::vector<const Number*> fine, others;
        for (const auto& house : houses) (house.conforms ? fine : others).push_back(&house);
        for (int i = 0; i < each; ++i) {
            const bool from_others = fine.empty() || (!others.empty() && dice.next() < crew.at_fault);
            const auto& chosen = from_others ? others : fine;
            const Number& number = *chosen[dice.one_of(chosen.size())];
            const auto meant = shown_on(number, drawn(number, crew, dice), dice);
            const auto got = typed_with_slips(meant, keypads[dice.one_of(2)], dice);
            ++tally.readings;
            if (got == meant) count_true(number, meant, *units::read_number(meant), tally);
            else count_slip(number, meant, got, tally);
        }
    }
    return tally;
}

/// With so many or fewer seen, the expected number is below this with 95 %. Of rare events among many the exact bound of Clopper
/// and Pearson, Biometrika 26 (1934) 404, is a hair below this one of Poisson's law.
double most_expected(int seen) {
    const auto chance_of_so_few = [&](double expected) {
        double sum = 0.0;
        for (int i = 0; i <= seen; ++i) sum += std::exp(i * std::log(expected) - expected - std::lgamma(i + 1.0));
        return sum;
    };
    double low = std::max(seen, 1), high = seen + 10.0 * std::sqrt(seen + 1.0);
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2.0;
        (chance_of_so_few(middle) > 0.05 ? low : high) = middle;
    }
    return high;
}

std::string in_words(const Tally& tally) {
    const auto share = [](int part, int whole) { return 100.0 * part / std::max(whole, 1); };
    std::string words = fmt::format(
        "{} readings, {} slipped, {} out by ten, {} of these not asked about: {:.2f} in 10,000, with 95 % below {:.2f}\n"
        "of {} true ones that fit {:.2f} % asked about, of {} that do not {:.1f} %",
        tally.readings, tally.slipped, tally.out_by_ten, tally.undetected, 1e4 * tally.undetected / tally.readings,
        1e4 * most_expected(tally.undetected) / tally.readings, tally.conforming, share(tally.conforming_asked, tally.conforming), tally.failing,
        share(tally.failing_asked, tally.failing));
    for (const auto& [name, passed] : tally.passed) words += fmt::format("\n  {} {}:{}", passed.first, name, passed.second);
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

TEST_CASE("of 10,000 readings with 2 % of slipping keys at most one is out by ten and not asked about") {
    const auto numbers = all_numbers();
    const auto tally = type_readings(numbers, 20'000);
    const auto words = in_words(tally);
    MESSAGE(numbers.size(), " numbers of the lists: ", words);
    CHECK(numbers.size() > 80);
    CHECK(tally.out_by_ten > 20'000);
    CHECK(most_expected(tally.undetected) / tally.readings <= 1.0 / 10'000.0);
    // A guard that always asks is none: nobody reads what always stands there.
    CHECK(tally.conforming_asked <= 0.005 * tally.conforming);
    CHECK(tally.failing_asked <= 0.15 * tally.failing);
}

TEST_CASE("a guard that knows tolerances only is found out") {
    auto numbers = all_numbers();
    for (auto& [name, houses] : numbers)
        for (auto& house : houses) {
            house.known.usual.reset();
            house.known.decimals.reset();
        }
    const auto tally = type_readings(numbers, 1'000);
    CHECK(tally.undetected > 2e-4 * tally.readings);
}

}  // namespace wm::desk
