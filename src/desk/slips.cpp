#include "desk/slips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/reading.hpp"

namespace wm::desk {

namespace {

bool within(double value, const TypedNumber& number) {
    if (!number.low && !number.high) return false;
    return (!number.low || value >= *number.low) && (!number.high || value <= *number.high);
}

// A reading a little outside loses a digit as easily as one inside.
bool nearly(double value, const TypedNumber& number) {
    constexpr double slack = 0.1;
    return number.low && number.high && value > 0.0 && value >= *number.low * (1.0 - slack) && value <= *number.high * (1.0 + slack);
}

bool is_digit(char sign) {
    return sign >= '0' && sign <= '9';
}

/// Where true readings lie: from centre / reach, or from zero, to centre * reach, on the side of zero of the centre.
struct Likely {
    double centre;
    double reach;
    bool from_zero = false;

    [[nodiscard]] double times(double value) const { return value / centre; }
    [[nodiscard]] bool holds(double value) const { return times(value) >= (from_zero ? 0.0 : 1.0 / reach) && times(value) <= reach; }
};

bool spans_zero(const TypedNumber& number) {
    return number.low && number.high && *number.low <= 0.0 && *number.high >= 0.0;
}

bool demands_zero(const TypedNumber& number) {
    return number.low && number.high && *number.low == 0.0 && *number.high == 0.0;
}

std::optional<Likely> likely_range(const TypedNumber& number) {
    if (number.low && number.high && *number.low * *number.high > 0.0) {
        const double a = std::min(std::abs(*number.low), std::abs(*number.high));
        const double b = std::max(std::abs(*number.low), std::abs(*number.high));
        constexpr double near = 3.0;
        constexpr double beyond = 1.25;
        if (b <= near * a) return Likely{std::copysign(std::sqrt(a * b), *number.low), beyond * std::sqrt(b / a)};
    }
    if (!number.usual || *number.usual == 0.0) return std::nullopt;
    // Its square is just below five: what is likely is then never out by ten of something likely.
    constexpr double reach = 2.2;
    // Around zero a reading falls to either side, and nothing is too little.
    if (spans_zero(number)) return Likely{std::copysign(*number.usual, number.value), reach, true};
    return Likely{*number.usual, reach};
}

// With one limit only, a tenth of a fine value may be fine too; then what is usual decides, with room, and the plausible range.
bool would_fit(double value, const TypedNumber& number) {
    if (!within(value, number)) return false;
    if (number.low && number.high) return true;
    constexpr double room = 1.4;
    const auto likely = likely_range(number);
    return (!likely || Likely{likely->centre, room * likely->reach, likely->from_zero}.holds(value)) &&
           (!number.plausible_low || value >= *number.plausible_low) && (!number.plausible_high || value <= *number.plausible_high);
}

/// Whether it has no more decimals than are read here: 0.29 was not meant where tenths are shown.
bool can_be_read(double value, const TypedNumber& number) {
    if (!number.decimals) return true;
    const double last_digits = std::abs(value) * std::pow(10.0, *number.decimals);
    return std::abs(last_digits - std::round(last_digits)) < 1e-6;
}

/// Without its sign, with a point for a mark.
std::string plain(std::string_view text) {
    if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
    std::string out{text};
    std::replace(out.begin(), out.end(), ',', '.');
    return out;
}

int digits_behind(std::string_view text) {
    const auto mark = text.find('.');
    return mark == std::string_view::npos ? 0 : static_cast<int>(text.size() - mark - 1);
}

bool begins_with_idle_zero(std::string_view text) {
    return text.size() > 1 && text[0] == '0' && is_digit(text[1]);
}

/// What nobody writes who did not miss a key or touch one beside it: "005", ".5", "48.", less than the last digit that is
/// read or beyond it where the value is no likely one, and a nought with another number of decimals.
bool is_written_oddly(const TypedNumber& number, const std::optional<Likely>& likely) {
    const auto text = plain(number.text);
    if (text.empty() || begins_with_idle_zero(text) || text.front() == '.' || text.back() == '.') return true;
    const int behind = digits_behind(text);
    if (number.value != 0.0) {
        if (!number.decimals || behind <= *number.decimals) return false;
        // A finer instrument than the list thinks of shows more.
        return !likely || !likely->holds(number.value) || std::abs(number.value) < std::pow(10.0, -*number.decimals);
    }
    if (number.text.front() == '-') return true;
    // "0" is short for 0.0, and all that is left of 0.05 when it was saved too early.
    return number.decimals && behind != *number.decimals && (behind > 0 || *number.decimals > 1);
}

/// As a person writes a reading.
bool is_usual_writing(std::string_view text, const TypedNumber& number) {
    if (text.empty() || text.front() == '.' || text.back() == '.' || begins_with_idle_zero(text)) return false;
    if (std::count(text.begin(), text.end(), '.') > 1) return false;
    return !number.decimals || digits_behind(text) <= *number.decimals;
}

/// All that one key more, less or another one at the mark makes of it, and a nought before the mark.
std::vector<std::string> one_key_away(const std::string& text) {
    constexpr std::string_view keys = "0123456789.";
    std::vector<std::string> all;
    for (std::size_t at = 0; at <= text.size(); ++at)
        for (const char key : keys) {
            all.push_back(text);
            all.back().insert(at, 1, key);
        }
    for (std::size_t at = 0; at < text.size(); ++at) {
        all.push_back(text);
        all.back().erase(at, 1);
        for (const char key : keys) {
            const bool is_nought_before_mark = key == '0' && at == 0 && text.size() > 1 && text[1] == '.';
            if (key != '.' && text[at] != '.' && !is_nought_before_mark) continue;
            all.push_back(text);
            all.back()[at] = key;
        }
    }
    return all;
}

/// A reading that fails, and not by much, may have been meant as well as a likely one: it must not pass by a slip. With an
/// upper limit alone this is left out, since little is often fine; below two limits where what was typed passes by them.
bool fails_by_little(double value, const TypedNumber& number) {
    if (!number.low || *number.low <= 0.0) return false;
    const bool is_below = value < *number.low && value >= 0.3 * *number.low;
    if (!number.high) return is_below;
    return (is_below && number.value > *number.high) || (value > *number.high && value <= 1.4 * *number.high);
}

/// Whether one key makes of it a reading that may have been meant and is out by ten of what was typed.
bool is_a_likely_one_mistyped(const TypedNumber& number, const Likely& likely) {
    constexpr double out_by_ten = 5.0 - 1e-9;
    const double typed = std::abs(number.value);
    if (likely.times(number.value) < 0.0 || likely.holds(number.value)) return false;
    const bool is_outside = (number.low || number.high) && !within(number.value, number);
    for (const auto& text : one_key_away(plain(number.text))) {
        if (!is_usual_writing(text, number)) continue;
        const auto value = units::read_number(text);
        if (!value || *value == 0.0) continue;
        const bool would_do = is_outside && would_fit(*value, number);
        if (!would_do && !fails_by_little(*value, number) && !likely.holds(std::copysign(*value, likely.centre))) continue;
        if (typed >= out_by_ten * *value || *value >= out_by_ten * typed) return true;
    }
    return false;
}

/// So far off that a digit was rather lost or added, or a sign touched, than a plant so wrong.
bool is_far_off(const TypedNumber& number, const std::optional<Likely>& likely) {
    constexpr double far = 4.5;
    constexpr double far_but_allowed = 6.0;
    constexpr double little_but_allowed = 0.1;
    constexpr double far_from_zero = 3.0;
    if (demands_zero(number)) return number.value != 0.0;
    if (spans_zero(number))
        return (*number.low < 0.0 && number.value < far_from_zero * *number.low) ||
               (*number.high > 0.0 && number.value > far_from_zero * *number.high);
    if (!likely) return false;
    const double times = likely->times(number.value);
    if (times < 0.0) return true;
    const bool is_outside = (number.low || number.high) && !within(number.value, number);
    return is_outside ? times <= 1.0 / far || times >= far : times >= far_but_allowed || (times > 0.0 && times <= little_but_allowed);
}

}  // namespace

bool may_part_thousands(std::string_view text) {
    const auto mark = text.find_first_of(".,");
    if (mark == std::string_view::npos || mark < 1 || mark > 3 || text.front() == '0') return false;
    for (const char sign : text.substr(0, mark))
        if (!is_digit(sign)) return false;
    std::size_t behind = 0;
    while (mark + 1 + behind < text.size() && is_digit(text[mark + 1 + behind])) ++behind;
    return behind == 3;
}

namespace {

std::vector<std::string> slips_by_tolerance(const TypedNumber& number) {
    std::vector<std::string> warnings;
    if (within(number.value, number) || number.value == 0.0) return warnings;
    std::optional<double> named;
    for (std::size_t at = 1; at < number.text.size(); ++at) {
        if (number.text[at] != number.text[at - 1] || number.text[at] < '0' || number.text[at] > '9') continue;
        std::string single{number.text};
        single.erase(at, 1);
        const auto value = units::read_number(single);
        if (!value || !would_fit(*value, number)) continue;
        named = *value;
        warnings.push_back(fmt::format("Look again: did a key stick? {} would fit, {} does not.", single,
                                       number.text));
        break;
    }
    for (const double factor : {10.0, 0.1}) {
        const double value = number.value * factor;
        // A second sentence with the same number would only blur the first.
        if (named && std::abs(*named - value) <= 1e-9 * std::abs(value)) continue;
        if (!can_be_read(value, number)) continue;
        if (!would_fit(value, number)) {
            if (nearly(value, number))
                warnings.push_back(fmt::format("Look again: {} would be near what is asked, {} is not. Was a digit lost or added?",
                                               units::print_short(value), units::print_short(number.value)));
            continue;
        }
        warnings.push_back(fmt::format("Look again: {} would fit, {} does not. Is the decimal point in its place?",
                                       units::print_short(value), units::print_short(number.value)));
    }
    return warnings;
}

}  // namespace

std::vector<std::string> slips_in(const TypedNumber& number) {
    auto warnings = slips_by_tolerance(number);
    if (!warnings.empty()) return warnings;
    const auto likely = likely_range(number);
    if (is_written_oddly(number, likely)) return {fmt::format("Look again: is {} written in full? A key may have been missed.", number.text)};
    if (!is_far_off(number, likely) && !(likely && is_a_likely_one_mistyped(number, *likely))) return {};
    const auto typed = units::print_short(number.value);
    // A limit in the unit of another instrument is no round figure.
    constexpr int limit_digits = 4;
    if (demands_zero(number)) return {fmt::format("Look again: 0 is demanded, and {} was typed.", typed)};
    if (number.low && number.high && !within(number.value, number))
        return {fmt::format("Look again: {} lies far outside {} to {}. Was a digit lost or added?", typed, units::print_short(*number.low, limit_digits),
                            units::print_short(*number.high, limit_digits))};
    return {fmt::format("Look again: some {} would be usual here, {} is not. Was a digit or the decimal point lost or added?",
                        units::print_short(likely->centre, 2), typed)};
}

}  // namespace wm::desk
