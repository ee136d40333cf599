#include "demo/robot.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string_view>

#include "photo/jpeg_coder.hpp"
#include "units/reading.hpp"

namespace wm::demo {

std::uint64_t Dice::next() {
    // SplitMix64, Steele, Lea and Flood 2014.
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}

double Dice::uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }

double Dice::normal(double mean, double deviation) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    return mean + deviation * radius * std::cos(2.0 * std::numbers::pi * uniform());
}

int Dice::poisson(double mean) {
    const double stop = std::exp(-mean);
    int count = -1;
    for (double product = 1.0; product > stop; ++count) product *= uniform();
    return std::max(count, 0);
}

std::size_t Dice::pick(const std::vector<double>& weights) {
    double total = 0.0;
    for (const double weight : weights) total += weight;
    double at = uniform() * total;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        at -= weights[i];
        if (at < 0.0) return i;
    }
    return weights.size() - 1;
}

namespace {

using desk::CheckView;
using desk::EntryForm;
using desk::LimitsView;

// A fine value: near the target, else in the middle of what is accepted, else well inside one limit.
double fine_value(const LimitsView& limits, Dice& dice) {
    const auto low = limits.accept_low ? limits.accept_low : limits.low;
    const auto high = limits.accept_high ? limits.accept_high : limits.high;
    if (low && high) {
        const double middle = limits.target.value_or((*low + *high) / 2.0);
        const double reach = std::min(middle - *low, *high - middle);
        return middle + std::clamp(dice.normal(0.0, 0.3), -0.9, 0.9) * std::max(reach, 0.0);
    }
    if (high) return *high > 0.0 ? *high * (0.3 + 0.3 * dice.uniform()) : *high - 2.0 - dice.uniform();
    if (low) return *low > 0.0 ? *low * (1.3 + 0.3 * dice.uniform()) : *low + 2.0 + dice.uniform();
    return 1.0;
}

double wrong_value(const LimitsView& limits, Dice& dice) {
    const double width = limits.low && limits.high ? *limits.high - *limits.low
                                                   : std::abs(limits.high.value_or(limits.low.value_or(1.0)));
    const double off = std::max(width, 1e-3) * (0.15 + 0.2 * dice.uniform());
    if (limits.high && (!limits.low || dice.happens(0.5))) return *limits.high + off;
    if (limits.low) return *limits.low - off;
    return 0.0;
}

// Readings whose judged number is not what is read.
std::optional<double> special_value(const CheckView& check, Wish wish, Dice& dice) {
    const bool wrong = wish == Wish::Wrong;
    if (check.id == "coll-azimuth") return wrong ? 180.0 + 14.0 + 4.0 * dice.uniform() : 180.0 + dice.normal(0.0, 2.0);
    if (check.id == "power-locked") return wrong ? 228.0 : 0.0;
    if (check.id == "thermostat-60") return wrong ? 50.0 : 65.0;
    if (check.id == "air-purged") return wrong ? 20.0 : 90.0;
    if (check.id == "insulation-res") return wrong ? 0.4 : 60.0;
    if (check.id == "cold-failure") return wrong ? 2.4 : 0.03 + 0.05 * dice.uniform();
    if (check.id == "site-weather") return wrong ? 13.0 : 2.0 + 3.0 * dice.uniform();
    return std::nullopt;
}

// Nobody reads four figures from a needle.
std::string number_text(double value, int decimals, const std::string& unit) {
    if (value != 0.0) decimals = std::clamp(2 - static_cast<int>(std::floor(std::log10(std::abs(value)))), 0, decimals);
    const std::string number = units::print_number(value, decimals);
    return unit.empty() ? number : number + " " + unit;
}

std::string hold_series(Wish wish, Dice& dice, double start, std::string_view warmth) {
    const double drop = wish == Wish::Wrong ? 27.0 : std::min(1.9, std::abs(dice.normal(1.0, 0.7)));
    std::string text;
    for (int minute = 0; minute <= 10; minute += 2)
        text += fmt::format("{} min={} kPa; ", minute, units::print_number(start - drop * minute / 10.0, 0));
    return text + std::string{warmth};
}

std::string sun_series(Wish wish, Dice& dice) {
    std::string text;
    for (int minute = 0; minute <= 20; minute += 5)
        text += fmt::format("{}{} min={} W/m²", text.empty() ? "" : "; ", minute,
                            units::print_number(wish == Wish::Wrong ? 140.0 : 800.0 + 40.0 * (dice.uniform() - 0.5), 0));
    return text;
}

std::string rise_series(Wish wish, Dice& dice) {
    const double rise = wish == Wish::Wrong ? -9.0 : 10.0 * std::exp(dice.normal(0.0, 0.15));
    std::string text;
    for (int minute = 0; minute <= 20; minute += 5) {
        const double share = 0.15 + 0.85 * minute / 20.0;
        const double down = 19.0 + 0.8 * minute;
        text += fmt::format("{}{} min: riser={:.1f} °C, downcomer={:.1f} °C", text.empty() ? "" : "; ", minute,
                            down + rise * share, down);
    }
    return text;
}

// Some 1.35 of the cautious rule of thumb for an hour's warming is what a sound set takes up at 800 W/m².
std::string gain_series(const CheckView& check, Wish wish, Dice& dice) {
    const double hour = 1.35 * check.limits.target.value_or(5.0) * (wish == Wish::Wrong ? 0.4 : std::exp(dice.normal(0.0, 0.02)));
    std::string text;
    for (int minute = 0; minute <= 120; minute += 30) {
        const double mean = 19.0 + hour * minute / 60.0;
        const double half = std::min(2.0, hour * minute / 120.0);
        text += fmt::format("{} min: top={:.1f} °C, bottom={:.1f} °C; ", minute, mean + half, mean - half);
    }
    return text + "sun=800 W/m²; air=20 °C";
}

std::string series_text(const CheckView& check, Wish wish, Dice& dice) {
    if (check.id == "test-hold") return hold_series(wish, dice, 478.0, "water start=18.2 °C; water end=18.3 °C");
    if (check.id == "loop-test-hold") return hold_series(wish, dice, 130.0, "fluid start=16.4 °C; fluid end=16.4 °C");
    if (check.id == "sun-window") return sun_series(wish, dice);
    if (check.id == "store-gain") return gain_series(check, wish, dice);
    return rise_series(wish, dice);
}

std::string answer_text(const desk::PlaceView& place, const CheckView& check, Wish wish, Dice& dice) {
    switch (place.form) {
        case EntryForm::YesNo: return wish == Wish::Right ? "yes" : "no";
        case EntryForm::Choice: {
            const auto& words = wish == Wish::Right ? place.accepted : place.refused;
            if (words.empty()) return "";
            return words[dice.next() % words.size()];
        }
        case EntryForm::Number: {
            // Mixed water a little below what is allowed, not lukewarm.
            const bool mixed = check.id == "outlet-temp" || check.id == "tap-retest";
            if (mixed && place.limits.high)
                return number_text(*place.limits.high + (wish == Wish::Right ? -2.0 - dice.uniform() : 4.0), 1, place.unit);
            const double value = wish == Wish::Right ? fine_value(place.limits, dice) : wrong_value(place.limits, dice);
            return number_text(value, check.decimals, place.unit);
        }
        case EntryForm::Text: return "noted";
        case EntryForm::Series:
        case EntryForm::Photo:
        case EntryForm::Signature:
        case EntryForm::None: return "";
    }
    return "";
}

std::vector<Entry> place_entries(const CheckView& check, Wish wish, Dice& dice) {
    std::vector<Entry> entries;
    std::vector<const desk::PlaceView*> required;
    for (const auto& place : check.places)
        if (place.required) required.push_back(&place);
    if (required.empty()) return entries;
    const std::size_t wrong = dice.next() % required.size();
    for (std::size_t i = 0; i < required.size(); ++i) {
        const Wish here = wish == Wish::Wrong && i == wrong ? Wish::Wrong : Wish::Right;
        auto text = answer_text(*required[i], check, here, dice);
        if (!text.empty()) entries.push_back({required[i]->name, std::move(text), false, ""});
    }
    return entries;
}

}  // namespace

std::vector<Entry> entries_for(const CheckView& check, Wish wish, Dice& dice) {
    const bool photo = check.photo != "none";
    const bool has_required = std::any_of(check.places.begin(), check.places.end(),
                                          [](const auto& place) { return place.required && !place.name.empty(); });
    if (has_required && check.form != EntryForm::Series) {
        auto entries = place_entries(check, wish, dice);
        if (photo && !entries.empty()) entries.front().photo = true;
        return entries;
    }
    switch (check.form) {
        case EntryForm::YesNo: return {{"", wish == Wish::Right ? "yes" : "no", photo, ""}};
        case EntryForm::Choice: {
            const auto& words = wish == Wish::Right ? check.accepted : check.refused;
            if (words.empty()) return {};
            return {{"", words.front(), photo, ""}};
        }
        case EntryForm::Number: {
            const auto special = special_value(check, wish, dice);
            const double value = special ? *special
                                 : wish == Wish::Right ? fine_value(check.limits, dice)
                                                       : wrong_value(check.limits, dice);
            return {{"", number_text(value, check.decimals, check.unit), photo, ""}};
        }
        case EntryForm::Series: return {{"", series_text(check, wish, dice), photo, ""}};
        case EntryForm::Text: return {{"", "Serial numbers and batches match the kit list; nothing dented", photo, ""}};
        case EntryForm::Photo: return {{"", wish == Wish::Right ? "yes" : "no", true, ""}};
        case EntryForm::Signature:
        case EntryForm::None: return {};
    }
    return {};
}

std::string picture_of(const std::string& check, std::uint64_t number) {
    Dice dice{number * 1000003ULL + check.size()};
    photo::Pixels pixels{.width = 320, .height = 240, .rgb = {}};
    pixels.rgb.resize(static_cast<std::size_t>(pixels.width * pixels.height) * 3);
    const int tone = static_cast<int>(dice.next() % 60);
    const int bolt_x = 90 + static_cast<int>(dice.next() % 140);
    const int bolt_y = 80 + static_cast<int>(dice.next() % 80);
    // Shadows and glare lie elsewhere in each photo, so that no two look alike from afar.
    struct Patch {
        double x, y, light;
    };
    std::vector<Patch> patches;
    for (int i = 0; i < 14; ++i) patches.push_back({320.0 * dice.uniform(), 240.0 * dice.uniform(), 110.0 * (dice.uniform() - 0.5)});
    for (int y = 0; y < pixels.height; ++y)
        for (int x = 0; x < pixels.width; ++x) {
            double light = 0.0;
            for (const auto& patch : patches) {
                const double away = ((x - patch.x) * (x - patch.x) + (y - patch.y) * (y - patch.y)) / 2500.0;
                if (away < 4.0) light += patch.light * (1.0 - away / 4.0);
            }
            // Rows of tiles, a bracket across, a bolt head with its paint line.
            const bool gap = y % 40 < 3 || (x + (y / 40 % 2) * 30) % 60 < 2;
            int r = gap ? 90 : 165 + tone / 2;
            int g = gap ? 70 : 105 + tone / 3;
            int b = gap ? 60 : 80 + tone / 3;
            if (std::abs(y - bolt_y) < 22 && x > 30 && x < 290) r = g = b = 175 + tone / 3;
            const int d = (x - bolt_x) * (x - bolt_x) + (y - bolt_y) * (y - bolt_y);
            if (d < 18 * 18) r = g = b = 120;
            if (std::abs(x - y * 2 / 3 - (bolt_x - bolt_y * 2 / 3)) < 3 && d < 30 * 30) { r = 225; g = 190; b = 40; }
            const auto at = static_cast<std::size_t>(y * pixels.width + x) * 3;
            const int grain = static_cast<int>(dice.next() % 12);
            const int shift = grain + static_cast<int>(light);
            pixels.rgb[at] = static_cast<std::uint8_t>(std::clamp(r + shift, 0, 255));
            pixels.rgb[at + 1] = static_cast<std::uint8_t>(std::clamp(g + shift, 0, 255));
            pixels.rgb[at + 2] = static_cast<std::uint8_t>(std::clamp(b + shift, 0, 255));
        }
    return photo::encoded_jpeg(pixels, 80);
}

}  // namespace wm::demo
