#include "plant/horizon.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/reading.hpp"

namespace wm::plant {

namespace {

constexpr double highest_deg = 89.0;

Problem unreadable(std::string what) {
    return {std::move(what), "horizon line", "Write pairs of azimuth and height in degrees, as 90:12; 135:8.5; 250:20.",
            ProblemKind::Unreadable};
}

std::string_view trimmed(std::string_view text) {
    const auto from = text.find_first_not_of(" \t");
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

Result<double> read_degrees(std::string_view text, std::string_view of, double most) {
    const auto number = units::read_number(trimmed(text));
    if (!number) return refused(unreadable(fmt::format("\"{}\" is no {} in degrees.", trimmed(text), of)));
    if (*number < 0.0 || *number > most)
        return refused(unreadable(fmt::format("The {} {} lies outside 0 to {:.0f}°.", of, trimmed(text), most)));
    return *number;
}

Result<HorizonPoint> read_point(std::string_view pair) {
    const auto colon = pair.find(':');
    if (colon == std::string_view::npos) return refused(unreadable(fmt::format("\"{}\" is no pair.", pair)));
    const auto azimuth = read_degrees(pair.substr(0, colon), "azimuth", 360.0);
    if (!azimuth) return tl::unexpected(azimuth.error());
    const auto height = read_degrees(pair.substr(colon + 1), "height", highest_deg);
    if (!height) return tl::unexpected(height.error());
    return HorizonPoint{units::Angle::degrees(std::fmod(*azimuth, 360.0)), units::Angle::degrees(*height)};
}

}  // namespace

Result<Horizon> read_horizon(std::string_view text) {
    Horizon line;
    while (!text.empty()) {
        const auto end = std::min(text.find(';'), text.size());
        const auto pair = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        if (pair.empty() && trimmed(text).empty()) break;
        const auto point = read_point(pair);
        if (!point) return tl::unexpected(point.error());
        line.push_back(*point);
    }
    std::sort(line.begin(), line.end(), [](const auto& a, const auto& b) { return a.azimuth < b.azimuth; });
    const auto twice = std::adjacent_find(line.begin(), line.end(),
                                          [](const auto& a, const auto& b) { return a.azimuth == b.azimuth; });
    if (twice != line.end())
        return refused(unreadable(fmt::format("The azimuth {}° stands twice.", units::print_short(twice->azimuth.in_degrees(), 6))));
    return line;
}

units::Angle height_of(const Horizon& line, units::Angle azimuth) {
    if (line.empty()) return units::Angle::degrees(0.0);
    const double at = std::fmod(azimuth.in_degrees() + 360.0, 360.0);
    const auto next = std::find_if(line.begin(), line.end(),
                                   [&](const auto& point) { return point.azimuth.in_degrees() >= at; });
    const HorizonPoint& after = next == line.end() ? line.front() : *next;
    const HorizonPoint& before = next == line.begin() ? line.back() : *(next - 1);
    const double gap = std::fmod(after.azimuth.in_degrees() - before.azimuth.in_degrees() + 360.0, 360.0);
    if (gap <= 0.0) return after.height;
    const double share = std::fmod(at - before.azimuth.in_degrees() + 360.0, 360.0) / gap;
    return units::Angle::degrees(before.height.in_degrees() +
                                 share * (after.height.in_degrees() - before.height.in_degrees()));
}

bool is_hidden(const SunPosition& sun, const Horizon& line) {
    return 90.0 - sun.apparent_zenith.in_degrees() < height_of(line, sun.azimuth).in_degrees();
}

}  // namespace wm::plant
