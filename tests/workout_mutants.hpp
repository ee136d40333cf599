// Wrong inputs for a table of computations: the rows of tests/published, spoilt in every way at
// hand.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "units/unit.hpp"
#include "units/workout.hpp"

namespace wm::testing {

using Texts = std::vector<std::pair<std::string, std::string>>;

/// One question as a row of tests/published asks it.
struct Question {
    std::string name;
    Texts given;
};

/// The questions of all files of tests/published, read from their `name` and `given` lines.
inline std::vector<Question> published_questions() {
    std::vector<Question> all;
    for (const auto& entry : std::filesystem::directory_iterator("tests/published")) {
        std::ifstream file(entry.path());
        std::string name;
        for (std::string line; std::getline(file, line);) {
            if (line.starts_with("name = ")) name = line.substr(8, line.size() - 9);
            if (!line.starts_with("given = ")) continue;
            Question question{name, {}};
            for (std::size_t at = line.find('{') + 1; at < line.size();) {
                const auto equals = line.find(" = \"", at);
                if (equals == std::string::npos) break;
                const auto key = line.find_first_not_of(" ,", at);
                const auto end = line.find('"', equals + 4);
                question.given.emplace_back(line.substr(key, equals - key),
                                            line.substr(equals + 4, end - equals - 4));
                at = end + 1;
            }
            all.push_back(std::move(question));
        }
    }
    return all;
}

/// Those that this table of computations answers.
inline std::vector<Question> questions_for(const std::vector<units::Computation>& table) {
    std::vector<Question> mine;
    for (auto& question : published_questions())
        if (units::computation_named(table, question.name)) mine.push_back(std::move(question));
    return mine;
}

/// A seeded stream of numbers (splitmix64), the same on every machine.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_{seed} {}
    std::uint64_t next() {
        std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        return z ^ (z >> 31);
    }
    std::size_t below(std::size_t end) { return static_cast<std::size_t>(next() % end); }
    /// Uniform in [0, 1).
    double share() { return static_cast<double>(next() >> 11) * 0x1p-53; }

private:
    std::uint64_t state_;
};

/// Why an answer is none of a kind that may be given: "" if it is one. An infinite figure is an
/// answer only where the table of computations says so.
inline std::string fault_of(const units::Computation& computation,
                            const Result<std::vector<units::Output>>& answer) {
    if (!answer) {
        const auto& problem = answer.error();
        const bool told =
            !problem.what.empty() && !problem.where.empty() && !problem.what_to_do.empty();
        return told ? "" : "a refusal that does not say what, where and what to do";
    }
    if (answer->empty()) return "an answer without any output";
    for (const auto& output : *answer) {
        std::vector<double> numbers;
        if (const auto* number = std::get_if<double>(&output.value)) numbers = {*number};
        if (const auto* list = std::get_if<std::vector<double>>(&output.value)) numbers = *list;
        bool may_be_infinite = false;
        for (const auto& symbol : computation.outputs)
            may_be_infinite |= symbol.name == output.symbol && symbol.unbounded;
        for (const double number : numbers) {
            if (std::isnan(number)) return "NaN as " + output.symbol;
            if (std::isinf(number) && !may_be_infinite) return "infinity as " + output.symbol;
        }
    }
    return "";
}

inline std::string in_words(const Question& question) {
    std::string words = question.name;
    for (const auto& [key, value] : question.given) words += " \"" + key + "=" + value + "\"";
    return words;
}

/// A text with a unit of another dimension than the symbol wants; "" where every unit will do.
inline std::string of_wrong_dimension(const units::Symbol& symbol, const Texts& given) {
    using units::Shape;
    if (symbol.shape == Shape::Text) return "";
    if (symbol.shape == Shape::Flag || symbol.shape == Shape::Date || symbol.shape == Shape::Moment)
        return "3 kg";
    if (symbol.unit == "any") return "";
    std::string text = "3 kg";
    const auto unit = units::unit_named(symbol.unit == "K(abs)" ? "K" : symbol.unit);
    if (unit && unit->dimension == units::unit_named("kg")->dimension) text = "3 s";
    for (const auto& [key, value] : given)
        if (value.ends_with("kg") && symbol.unit.ends_with(" " + key)) text = "3 s";
    return symbol.shape == Shape::List ? "[" + text + ", " + text + "]" : text;
}

/// Every input of every question in turn: left out, no number, of a wrong dimension, doubled, and
/// one input too many. All of it must be refused, except that an optional input may be left out.
inline void check_refusals(const std::vector<units::Computation>& table) {
    using units::Shape;
    std::set<std::string> asked;
    for (const Question& question : questions_for(table)) {
        const auto& computation = *units::computation_named(table, question.name);
        const auto refuses = [&](const Texts& given, std::string_view why) {
            const auto answer = units::work_out(computation, given);
            const auto words = in_words({question.name, given});
            CHECK_MESSAGE(!answer, why, " was answered: ", words);
            const auto fault = fault_of(computation, answer);
            CHECK_MESSAGE(fault.empty(), fault, ": ", words);
        };
        for (std::size_t i = 0; i < question.given.size(); ++i) {
            const auto& key = question.given[i].first;
            if (!asked.insert(question.name + " " + key).second) continue;
            const auto with = [&](std::string text) {
                auto given = question.given;
                given[i].second = std::move(text);
                return given;
            };
            const units::Symbol* symbol = nullptr;
            for (const auto& each : computation.inputs)
                if (each.name == key) symbol = &each;
            REQUIRE(symbol);
            auto without = question.given;
            without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
            if (!symbol->optional) {
                refuses(without, "a missing input");
                refuses(with(""), "an empty input");
            } else {
                const auto fault = fault_of(computation, units::work_out(computation, without));
                CHECK_MESSAGE(fault.empty(), fault, ": ", in_words({question.name, without}));
            }
            for (const char* none : {"NaN", "nan", "inf", "-inf", "1e999", "-1e999", "nan K",
                                     "[nan]", "[1, nan]", "0x1p3", "1e", "seven"})
                refuses(with(none), "no number");
            const auto wrong = of_wrong_dimension(*symbol, question.given);
            if (!wrong.empty()) refuses(with(wrong), "a wrong dimension");
            auto doubled = question.given;
            doubled.push_back(question.given[i]);
            refuses(doubled, "a doubled input");
        }
        auto more = question.given;
        more.emplace_back("no such symbol", "1");
        refuses(more, "an unknown input");
    }
    for (const auto& computation : table)
        for (const auto& symbol : computation.inputs)
            CHECK_MESSAGE(asked.contains(computation.name + " " + symbol.name),
                          "no row of tests/published uses ", computation.name, " ", symbol.name);
}

/// Spoils one text: another number, another unit, a byte more or less, a piece of another text.
inline std::string spoilt(const std::string& text, const std::string& other, Dice& dice) {
    static const std::vector<std::string> numbers{
        "0",        "-0",   "-1",    "1e300", "-1e300", "1e-300",  "1e308",
        "4.9e-324", "1e15", "0.5",   "1",     "2",      "-273.15", "9007199254740993",
        "1e-9",     "100",  "1e6",   "-1e-9", "nan",    "inf",     "1e999",
        "",         "1,5",  "1.5.2", "٣",     "−3",     "+7"};
    static const std::vector<std::string> units{
        "",  "K",   "°C",  "°F", "kPa", "Pa(abs)", "bar(g)", "m",    "mm", "L", "%",    "°",   "kg",
        "W", "J/K", "min", "s",  "h",   "1/K",     "W/m²",   "kg/s", "N",  "Ω", "m³/s", "each"};
    static const std::string bytes = "0123456789.,;[]()-+eE \t/%°\xff\x80=\"'";
    std::string result = text;
    switch (dice.below(9)) {
        case 0:
            return numbers[dice.below(numbers.size())];
        case 1:
            return numbers[dice.below(numbers.size())] + " " + units[dice.below(units.size())];
        case 2: {  // the number changes, the rest stays
            const auto unit = text.find_first_not_of("0123456789.eE+-");
            return numbers[dice.below(numbers.size())] +
                   (unit == std::string::npos ? "" : text.substr(unit));
        }
        case 3: {  // one item of a list changes
            const auto from = text.find_first_of("[,", dice.below(text.size() + 1));
            if (from == std::string::npos) return "[" + text + "]";
            const auto to = std::min(text.find_first_of(",]", from + 1), text.size());
            return text.substr(0, from + 1) + numbers[dice.below(numbers.size())] + text.substr(to);
        }
        case 4:
            return text.substr(0, dice.below(text.size() + 1));
        case 5:
            return other;
        case 6:
            result.insert(dice.below(text.size() + 1), 1, bytes[dice.below(bytes.size())]);
            return result;
        case 7:
            if (!result.empty())
                result[dice.below(result.size())] = bytes[dice.below(bytes.size())];
            return result;
        default: {  // a number of any size in place of the first one
            const double size = std::ldexp(dice.share(), static_cast<int>(dice.below(60)) - 30);
            const auto unit = text.find_first_not_of("0123456789.eE+-");
            return std::to_string(size) + (unit == std::string::npos ? "" : text.substr(unit));
        }
    }
}

/// Runs from WM_FUZZ_RUNS, or the number of the suite.
inline std::size_t fuzz_runs(std::size_t in_suite) {
    const char* wanted = std::getenv("WM_FUZZ_RUNS");
    return wanted ? static_cast<std::size_t>(std::strtoull(wanted, nullptr, 10)) : in_suite;
}

/// `runs` spoilt questions through reader and evaluation: each gets an answer of finite numbers or
/// a refusal in words.
inline void check_mutants(const std::vector<units::Computation>& table, std::size_t runs,
                          std::uint64_t seed) {
    const auto questions = questions_for(table);
    REQUIRE(!questions.empty());
    Dice dice{seed};
    std::size_t answered = 0;
    std::set<std::string> told;
    for (std::size_t run = 0; run < runs; ++run) {
        Question question = questions[dice.below(questions.size())];
        for (std::size_t times = 1 + dice.below(3); times > 0; --times) {
            auto& spoil = question.given[dice.below(question.given.size())];
            const auto& other = questions[dice.below(questions.size())];
            const auto& piece = other.given[dice.below(other.given.size())].second;
            if (dice.below(25) == 0)
                spoil.first = other.given[dice.below(other.given.size())].first;
            else
                spoil.second = spoilt(spoil.second, piece, dice);
        }
        if (dice.below(30) == 0 && question.given.size() > 1) question.given.pop_back();
        const auto& computation = *units::computation_named(table, question.name);
        const auto answer = units::work_out(computation, question.given);
        answered += answer.has_value();
        const auto fault = fault_of(computation, answer);
        if (!fault.empty() && told.insert(question.name + fault).second)
            FAIL_CHECK(fault << ": " << in_words(question));
    }
    MESSAGE(runs << " spoilt questions, " << answered << " answered");
    // Both sides are reached: a reader that refuses all proves nothing.
    CHECK(answered > runs / 20);
    CHECK(answered < runs);
}

}  // namespace wm::testing
