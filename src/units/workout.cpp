#include "units/workout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <chrono>
#include <cmath>

#include "units/reading.hpp"
#include "units/unit.hpp"

namespace wm::units {

namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::optional<Unit> unit_of(const Symbol& symbol) {
    if (symbol.unit == "K(abs)") {
        auto kelvin = unit_named("K");
        kelvin->scale = Scale::Point;
        kelvin->symbol = "K(abs)";
        return kelvin;
    }
    return unit_named(symbol.unit);
}

// The unit behind a number, or behind a list or its first item; none for a bare number and for a
// text that cannot be read, which is refused where it is read.
std::optional<Unit> unit_within(std::string_view text) {
    text = trimmed(text);
    const auto end = text.rfind(']');
    if (text.starts_with('[') && end != std::string_view::npos) {
        if (const auto behind = trimmed(text.substr(end + 1)); !behind.empty())
            return unit_named(behind);
        text = text.substr(1, text.find_first_of(",;]") - 1);
    }
    const auto entered = read_any_amount(trimmed(text), "");
    if (!entered || entered->unit.symbol.empty()) return std::nullopt;
    return entered->unit;
}

// The unit of a difference: of two places in °C, of two gauge pressures.
std::string step_unit(std::string_view symbol) {
    if (symbol == "°C") return "K";
    return std::string{symbol.substr(0, std::min(symbol.find("(g)"), symbol.find("(abs)")))};
}

using KeyValues = std::vector<std::pair<std::string, std::string>>;

constexpr std::string_view like = "like ";
constexpr std::string_view step_of = "step of ";

bool is_free(const Symbol& symbol) {
    return symbol.unit == "any" || symbol.unit.starts_with(like) ||
           symbol.unit.starts_with(step_of);
}

// The symbol with its unit settled: what a free one means beside these texts.
Symbol settled(const Symbol& symbol, const KeyValues& key_values) {
    if (!is_free(symbol)) return symbol;
    std::string_view model = symbol.name;
    if (symbol.unit.starts_with(like)) model = std::string_view{symbol.unit}.substr(like.size());
    if (symbol.unit.starts_with(step_of))
        model = std::string_view{symbol.unit}.substr(step_of.size());

    std::optional<Unit> unit;
    for (const auto& [key, value] : key_values)
        if (key == model) unit = unit_within(value);
    // A step on the Fahrenheit scale is no unit here, so places on any scale become °C.
    if (unit && unit->scale == Scale::Point) unit = unit_named("°C");
    Symbol fixed = symbol;
    fixed.unit = unit ? std::string{unit->symbol} : std::string{};
    if (symbol.unit.starts_with(step_of)) fixed.unit = step_unit(fixed.unit);
    return fixed;
}

std::string unit_key(std::string_view symbol) {
    return fmt::format("unit of {}", symbol);
}

std::string scale_in_words(const Unit& unit) {
    if (unit.scale == Scale::Gauge) return "a gauge pressure";
    if (unit.scale == Scale::Absolute) return "an absolute pressure";
    return dimension_in_words(unit.dimension, unit.scale);
}

// Beyond these a figure is a slip in its exponent, in any unit a symbol has; squares and fourth
// powers of them still are numbers. A clock in microseconds stays below the first; bare numbers may
// be smaller than the second, as probabilities are.
constexpr double largest_figure = 1e18;
constexpr double smallest_figure = 1e-30;

// A temperature in K is a place on the scale where a place is wanted, and a difference elsewhere.
bool is_fit(const Unit& given, const Unit& wanted) {
    if (given.dimension != wanted.dimension) return false;
    if (given.scale == Scale::Point) return wanted.scale == Scale::Point;
    const bool sided = given.scale == Scale::Gauge || given.scale == Scale::Absolute;
    const bool wants_side = wanted.scale == Scale::Gauge || wanted.scale == Scale::Absolute;
    return !sided || !wants_side || given.scale == wanted.scale;
}

// One symbol's text on its way to an argument; carries the words for every refusal.
class SymbolReader {
public:
    SymbolReader(const Computation& computation, const Symbol& symbol)
        : symbol_{symbol}, where_{fmt::format("work-out {}, {}", computation.name, symbol.name)} {
        const auto unit = unit_of(symbol);
        assert(unit && "a table of computations names a unit that units do not know");
        wanted_ = *unit;
    }

    Result<Argument> read(std::string_view text) const {
        switch (symbol_.shape) {
            case Shape::Number:
                return number(text).map([](double v) { return Argument{v}; });
            case Shape::List:
                return list(text).map([](auto v) { return Argument{std::move(v)}; });
            case Shape::Table:
                return table(text).map([](auto v) { return Argument{std::move(v)}; });
            case Shape::Text:
                return Argument{std::string{text}};
            case Shape::Flag:
                return flag(text);
            case Shape::Date:
                return date(text);
            case Shape::Moment:
                return moment(text);
        }
        return refusal("This shape of input is not known.",
                       "Report this as a defect of the table.");
    }

private:
    tl::unexpected<Problem> refusal(std::string what, std::string what_to_do) const {
        return refused({std::move(what), where_, std::move(what_to_do), ProblemKind::Unreadable});
    }

    std::string unit_advice() const {
        if (wanted_.symbol.empty()) return "Give a bare number.";
        return fmt::format("Give {} in {}, for example.", symbol_.meaning, wanted_.symbol);
    }

    Result<double> in_wanted_unit(const Entered& entered, std::string_view text) const {
        if (entered.unit.symbol.empty()) return entered.value;
        if (!is_fit(entered.unit, wanted_))
            return refusal(fmt::format("\"{}\" is {}, but {} is wanted here.", text,
                                       scale_in_words(entered.unit), scale_in_words(wanted_)),
                           unit_advice());
        // The same unit is left as it is written: a round trip could cost the last digit.
        if (entered.unit == wanted_ || (entered.unit.symbol == "K" && wanted_.symbol == "K(abs)"))
            return entered.value;
        return wanted_.from_si(entered.unit.to_si(entered.value));
    }

    Result<double> number(std::string_view text) const {
        // The unit of a symbol, written behind a number as the list of computations prints it.
        if (wanted_.symbol == "K(abs)" && text.ends_with("K(abs)")) text.remove_suffix(5);
        const auto entered = read_any_amount(text, where_);
        if (!entered) return tl::unexpected(entered.error());
        const auto value = in_wanted_unit(*entered, text);
        if (value && !(std::abs(*value) <= largest_figure))
            return refusal(fmt::format("\"{}\" is larger than anything that is measured.", text),
                           "Check the exponent and the unit.");
        if (value && !wanted_.symbol.empty() && *value != 0.0 && std::abs(*value) < smallest_figure)
            return refusal(fmt::format("\"{}\" is smaller than anything that is measured.", text),
                           "Check the exponent and the unit, or give 0.");
        return value;
    }

    // "[1, 2] min" → "1, 2" and "min"; nullopt when the brackets do not match.
    struct Bracketed {
        std::string_view inside, behind;
    };
    static std::optional<Bracketed> bracketed(std::string_view text) {
        text = trimmed(text);
        const auto end = text.rfind(']');
        if (text.empty() || text.front() != '[' || end == std::string_view::npos)
            return std::nullopt;
        return Bracketed{text.substr(1, end - 1), trimmed(text.substr(end + 1))};
    }

    static std::vector<std::string_view> items_between(std::string_view text) {
        std::vector<std::string_view> items;
        if (trimmed(text).empty()) return items;
        const char mark = text.find(';') != std::string_view::npos ? ';' : ',';
        for (std::size_t from = 0; from <= text.size();) {
            const auto at = std::min(text.find(mark, from), text.size());
            items.push_back(trimmed(text.substr(from, at - from)));
            from = at + 1;
        }
        return items;
    }

    Result<std::vector<double>> list(std::string_view text) const {
        text = trimmed(text);
        if (text.empty() || text.front() != '[') return list_of_one(text);
        const auto parts = bracketed(text);
        if (!parts)
            return refusal(fmt::format("\"{}\" is a list without its closing bracket.", text),
                           "Write it as [0, 5, 10], with a unit behind it if it has one.");
        return values(parts->inside, parts->behind);
    }

    Result<std::vector<double>> list_of_one(std::string_view text) const {
        if (text.ends_with("each")) text.remove_suffix(4);
        const auto value = number(trimmed(text));
        if (!value) return tl::unexpected(value.error());
        return std::vector<double>{*value};
    }

    Result<std::vector<double>> values(std::string_view inside, std::string_view unit) const {
        std::vector<double> all;
        for (const auto item : items_between(inside)) {
            const auto value =
                number(unit.empty() ? std::string{item} : fmt::format("{} {}", item, unit));
            if (!value) return tl::unexpected(value.error());
            all.push_back(*value);
        }
        if (all.empty())
            return refusal("The list is empty.", "Give at least one value: [0, 5, 10].");
        return all;
    }

    Result<std::vector<std::vector<double>>> table(std::string_view text) const {
        const auto outer = bracketed(text);
        std::vector<std::vector<double>> rows;
        std::string_view rest = outer ? outer->inside : std::string_view{};
        for (auto open = rest.find('['); open != std::string_view::npos; open = rest.find('[')) {
            const auto close = rest.find(']', open);
            if (close == std::string_view::npos) break;
            auto row = values(rest.substr(open + 1, close - open - 1), outer->behind);
            if (!row) return tl::unexpected(row.error());
            rows.push_back(std::move(*row));
            rest.remove_prefix(close + 1);
        }
        if (rows.empty() || rest.find_first_of("0123456789[") != std::string_view::npos)
            return refusal(fmt::format("\"{}\" is not a table.", trimmed(text)),
                           "Write rows in brackets within brackets: [[3, 1], [1, 3]].");
        return rows;
    }

    Result<Argument> flag(std::string_view text) const {
        if (text == "true" || text == "yes") return Argument{true};
        if (text == "false" || text == "no") return Argument{false};
        return refusal(fmt::format("\"{}\" is neither true nor false.", text),
                       "Write true or false.");
    }

    // The digits of `pattern` ("dddd-dd-dd") as numbers, one per run; nullopt if the text differs.
    static std::optional<std::vector<int>> fields(std::string_view text, std::string_view pattern) {
        if (text.size() != pattern.size()) return std::nullopt;
        std::vector<int> runs;
        bool inside = false;
        for (std::size_t at = 0; at < text.size(); ++at) {
            const bool digit = text[at] >= '0' && text[at] <= '9';
            if (digit != (pattern[at] == 'd') || (!digit && text[at] != pattern[at]))
                return std::nullopt;
            if (digit && !inside) runs.push_back(0);
            if (digit) runs.back() = runs.back() * 10 + (text[at] - '0');
            inside = digit;
        }
        return runs;
    }

    static std::optional<std::chrono::sys_days> day(int year, int month, int dom) {
        const std::chrono::year_month_day date{std::chrono::year{year},
                                               std::chrono::month{static_cast<unsigned>(month)},
                                               std::chrono::day{static_cast<unsigned>(dom)}};
        if (!date.ok()) return std::nullopt;
        return std::chrono::sys_days{date};
    }

    Result<Argument> date(std::string_view text) const {
        const auto parts = fields(text, "dddd-dd-dd");
        if (!parts || !day((*parts)[0], (*parts)[1], (*parts)[2]))
            return refusal(fmt::format("\"{}\" is not a date of the calendar.", text),
                           "Write year, month and day: 2026-06-21.");
        return Argument{std::string{text}};
    }

    Result<Argument> moment(std::string_view text) const {
        const auto instant = utc_seconds(text);
        if (!instant)
            return refusal(
                fmt::format("\"{}\" is not a date with a time and its offset.", text),
                "Write 2026-06-21T05:30:00Z, or with an offset: 2026-06-21T07:30:00+02:00.");
        const auto midnight = std::chrono::floor<std::chrono::days>(*instant);
        const std::chrono::year_month_day date{midnight};
        const std::chrono::hh_mm_ss time{*instant - midnight};
        return Argument{
            fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(date.year()),
                        static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                        time.hours().count(), time.minutes().count(), time.seconds().count())};
    }

    static std::optional<std::chrono::sys_seconds> utc_seconds(std::string_view text) {
        constexpr std::size_t without_zone = 19;
        if (text.size() <= without_zone) return std::nullopt;
        const auto parts = fields(text.substr(0, without_zone), "dddd-dd-ddTdd:dd:dd");
        if (!parts) return std::nullopt;
        const auto date = day((*parts)[0], (*parts)[1], (*parts)[2]);
        if (!date || (*parts)[3] > 23 || (*parts)[4] > 59 || (*parts)[5] > 59) return std::nullopt;
        const auto zone = text.substr(without_zone);
        std::chrono::minutes offset{0};
        if (zone != "Z") {
            const auto clock = fields(zone.substr(1), "dd:dd");
            if ((zone[0] != '+' && zone[0] != '-') || !clock) return std::nullopt;
            if ((*clock)[0] > 14 || (*clock)[1] > 59) return std::nullopt;
            offset = std::chrono::hours{(*clock)[0]} + std::chrono::minutes{(*clock)[1]};
            if (zone[0] == '-') offset = -offset;
        }
        return *date + std::chrono::hours{(*parts)[3]} + std::chrono::minutes{(*parts)[4]} +
               std::chrono::seconds{(*parts)[5]} - offset;
    }

    const Symbol& symbol_;
    std::string where_;
    Unit wanted_;
};

std::string symbol_names(const std::vector<Symbol>& symbols) {
    std::string names;
    for (const auto& symbol : symbols) {
        if (!names.empty()) names += ", ";
        names += symbol.name;
    }
    return names;
}

tl::unexpected<Problem> wrong_use(const Computation& computation, std::string what,
                                  std::string what_to_do) {
    return refused({std::move(what), "work-out " + computation.name, std::move(what_to_do),
                    ProblemKind::WrongUse});
}

bool is_left_out(const Symbol& symbol, std::string_view text) {
    return symbol.optional && (text.empty() || text == "–" || text == "-");
}

// Whether a figure among the value is none: NaN, or infinity where the symbol is not unbounded.
bool lacks_number(const Computation& computation, const Output& output) {
    const bool unbounded =
        std::any_of(computation.outputs.begin(), computation.outputs.end(),
                    [&](const Symbol& s) { return s.unbounded && s.name == output.symbol; });
    const auto is_none = [&](double v) { return unbounded ? std::isnan(v) : !std::isfinite(v); };
    if (const auto* number = std::get_if<double>(&output.value)) return is_none(*number);
    if (const auto* list = std::get_if<std::vector<double>>(&output.value))
        return std::any_of(list->begin(), list->end(), is_none);
    return false;
}

template <class T>
const T& argument(const Arguments& arguments, std::string_view symbol) {
    const auto found = arguments.find(symbol);
    assert(found != arguments.end() && "an evaluation asks for a symbol that was not given");
    return std::get<T>(found->second);
}

}  // namespace

Result<Arguments> read_arguments(
    const Computation& computation,
    const std::vector<std::pair<std::string, std::string>>& key_values) {
    Arguments arguments;
    std::vector<std::string_view> seen;
    for (const auto& [key, value] : key_values) {
        const auto symbol =
            std::find_if(computation.inputs.begin(), computation.inputs.end(),
                         [&, &name = key](const Symbol& s) { return s.name == name; });
        if (symbol == computation.inputs.end())
            return wrong_use(computation,
                             fmt::format("\"{}\" is no input of this computation.", key),
                             fmt::format("Its inputs are {}.", symbol_names(computation.inputs)));
        if (std::find(seen.begin(), seen.end(), key) != seen.end())
            return wrong_use(computation, fmt::format("\"{}\" is given twice.", key),
                             "Give it once.");
        seen.push_back(key);
        const auto text = trimmed(value);
        if (is_left_out(*symbol, text)) continue;
        const Symbol wanted = settled(*symbol, key_values);
        auto argument = SymbolReader{computation, wanted}.read(text);
        if (!argument) return tl::unexpected(argument.error());
        arguments.emplace(key, std::move(*argument));
        if (is_free(*symbol)) arguments.emplace(unit_key(key), wanted.unit);
    }
    for (const auto& symbol : computation.inputs)
        if (!symbol.optional && !arguments.contains(symbol.name))
            return wrong_use(computation, fmt::format("The input {} is missing.", symbol.name),
                             fmt::format("Give {}={}: {}.", symbol.name,
                                         symbol.unit.empty() ? "…" : "\"… " + symbol.unit + "\"",
                                         symbol.meaning));
    return arguments;
}

Result<std::vector<Output>> work_out(
    const Computation& computation,
    const std::vector<std::pair<std::string, std::string>>& key_values) {
    const auto arguments = read_arguments(computation, key_values);
    if (!arguments) return tl::unexpected(arguments.error());
    auto outputs = computation.evaluate(*arguments);
    if (!outputs) return outputs;
    for (const auto& output : *outputs)
        if (lacks_number(computation, output))
            return refused(
                {fmt::format("These inputs give no number for {}.", output.symbol),
                 "work-out " + computation.name,
                 fmt::format("Check the inputs against the range: {}", computation.range),
                 ProblemKind::Unreadable});
    return outputs;
}

const Computation* computation_named(const std::vector<Computation>& table, std::string_view name) {
    const auto found = std::find_if(table.begin(), table.end(),
                                    [&](const Computation& c) { return c.name == name; });
    return found == table.end() ? nullptr : &*found;
}

bool is_given(const Arguments& arguments, std::string_view symbol) {
    return arguments.contains(symbol);
}

double number_of(const Arguments& arguments, std::string_view symbol) {
    return argument<double>(arguments, symbol);
}

std::optional<double> number_if_given(const Arguments& arguments, std::string_view symbol) {
    if (!is_given(arguments, symbol)) return std::nullopt;
    return argument<double>(arguments, symbol);
}

const std::vector<double>& list_of(const Arguments& arguments, std::string_view symbol) {
    return argument<std::vector<double>>(arguments, symbol);
}

const std::vector<std::vector<double>>& table_of(const Arguments& arguments,
                                                 std::string_view symbol) {
    return argument<std::vector<std::vector<double>>>(arguments, symbol);
}

const std::string& text_of(const Arguments& arguments, std::string_view symbol) {
    return argument<std::string>(arguments, symbol);
}

bool flag_of(const Arguments& arguments, std::string_view symbol) {
    return argument<bool>(arguments, symbol);
}

std::string unit_given(const Arguments& arguments, std::string_view symbol) {
    const std::string key = unit_key(symbol);
    return is_given(arguments, key) ? text_of(arguments, key) : std::string{};
}

std::string step_unit_given(const Arguments& arguments, std::string_view symbol) {
    return step_unit(unit_given(arguments, symbol));
}

}  // namespace wm::units
