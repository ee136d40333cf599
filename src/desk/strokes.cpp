#include "desk/strokes.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <limits>
#include <optional>

namespace wm::desk {

namespace {

constexpr std::size_t most_points = 20000;

/// Past either end of what a double holds: nothing, or off any pad.
double too_much_for_a_double(std::string_view number) {
    const auto exponent = number.find_first_of("eE");
    const bool is_tiny = exponent != std::string_view::npos && number.substr(exponent + 1).starts_with('-');
    return is_tiny ? 0.0 : std::numeric_limits<double>::infinity();
}

// Every number of an attribute, in order; letters between them part strokes when they are M.
std::vector<Stroke> strokes_in(std::string_view data) {
    std::vector<Stroke> strokes(1);
    std::vector<double> pair;
    std::size_t at = 0;
    while (at < data.size()) {
        const char c = data[at];
        if (c == 'M' || c == 'm') {
            if (!strokes.back().empty()) strokes.emplace_back();
            ++at;
            continue;
        }
        const bool starts = (c >= '0' && c <= '9') || c == '-' || c == '.';
        if (!starts) {
            ++at;
            continue;
        }
        double value = 0.0;
        const auto [end, problem] = std::from_chars(data.data() + at, data.data() + data.size(), value);
        if (problem == std::errc::invalid_argument) {
            ++at;
            continue;
        }
        const auto length = static_cast<std::size_t>(end - data.data()) - at;
        if (problem != std::errc{}) value = too_much_for_a_double(data.substr(at, length));
        at += length;
        pair.push_back(value);
        if (pair.size() < 2) continue;
        strokes.back().push_back({pair[0], pair[1], 0});
        pair.clear();
    }
    if (strokes.back().empty()) strokes.pop_back();
    return strokes;
}

std::optional<std::string_view> attribute(std::string_view element, std::string_view name) {
    const std::string wanted = fmt::format(" {}=\"", name);
    const auto start = element.find(wanted);
    if (start == std::string_view::npos) return std::nullopt;
    const auto end = element.find('"', start + wanted.size());
    if (end == std::string_view::npos) return std::nullopt;
    return element.substr(start + wanted.size(), end - start - wanted.size());
}

/// Off any pad: infinite, no number, or beyond ten metres.
bool is_nowhere(const StrokePoint& point) {
    constexpr double far_mm = 10'000.0;
    return !(std::abs(point.x_mm) <= far_mm && std::abs(point.y_mm) <= far_mm);
}

void add_times(Stroke& stroke, std::string_view times) {
    std::size_t at = 0;
    for (auto& point : stroke) {
        while (at < times.size() && times[at] == ' ') ++at;
        const auto [end, problem] = std::from_chars(times.data() + at, times.data() + times.size(), point.ms);
        if (problem != std::errc{}) return;
        at = static_cast<std::size_t>(end - times.data());
    }
}

}  // namespace

std::string strokes_to_svg(const std::vector<Stroke>& strokes) {
    double width = 1.0;
    double height = 1.0;
    for (const auto& stroke : strokes)
        for (const auto& point : stroke) {
            width = point.x_mm > width ? point.x_mm : width;
            height = point.y_mm > height ? point.y_mm : height;
        }
    std::string svg = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.1f}mm\" height=\"{1:.1f}mm\" viewBox=\"0 0 {0:.1f} "
        "{1:.1f}\">\n",
        width, height);
    for (const auto& stroke : strokes) {
        std::string points;
        std::string times;
        for (const auto& point : stroke) {
            points += fmt::format("{}{:.2f},{:.2f}", points.empty() ? "" : " ", point.x_mm, point.y_mm);
            times += fmt::format("{}{}", times.empty() ? "" : " ", point.ms);
        }
        svg += fmt::format(
            "<polyline points=\"{}\" data-ms=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"0.4\"/>\n", points,
            times);
    }
    return svg + "</svg>\n";
}

Result<std::vector<Stroke>> strokes_of_svg(std::string_view svg, std::string_view file_name) {
    std::vector<Stroke> all;
    std::size_t points = 0;
    std::size_t at = 0;
    while ((at = svg.find('<', at)) != std::string_view::npos) {
        const auto end = svg.find('>', at);
        if (end == std::string_view::npos) break;
        const auto element = svg.substr(at, end - at);
        at = end;
        std::optional<std::string_view> data;
        if (element.starts_with("<polyline")) data = attribute(element, "points");
        if (element.starts_with("<path")) data = attribute(element, "d");
        if (!data) continue;
        auto strokes = strokes_in(*data);
        if (const auto times = attribute(element, "data-ms"); times && strokes.size() == 1)
            add_times(strokes.front(), *times);
        for (auto& stroke : strokes) {
            std::erase_if(stroke, is_nowhere);
            points += stroke.size();
            if (stroke.size() > 1) all.push_back(std::move(stroke));
        }
    }
    if (all.empty() || points > most_points)
        return refused({all.empty() ? "The file holds no drawn line." : "The drawing has too many points.",
                        std::string{file_name}, "Draw the signature again and save it as SVG with polylines or paths.",
                        ProblemKind::Unreadable});
    return all;
}

}  // namespace wm::desk
