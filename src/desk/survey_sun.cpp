#include "desk/survey_sun.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checklist/conventions.hpp"
#include "desk/expectation_words.hpp"
#include "desk/report_words.hpp"
#include "desk/view_parts.hpp"
#include "plant/derived.hpp"
#include "plant/yield.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

/// The roof as the survey measured it, else as its facts say.
Plane roof_plane(const JobView& view, Known& known) {
    const auto tilt = entered_at(view, "sun-pitch", "°");
    const auto azimuth = entered_at(view, "sun-azimuth", "°");
    return {tilt.empty() ? known.number("roof.pitch_deg", "°") : tilt.back(),
            azimuth.empty() ? known.number("roof.azimuth_deg", "°") : azimuth.back()};
}

Plane planned_plane(const JobInHand& job, const Plane& roof) {
    const auto degrees = [&](std::string_view key, double otherwise) {
        const auto planned = job.facts().number(key);
        return planned ? planned->in(*units::unit_named("°")) : otherwise;
    };
    return {degrees("sys.tilt_target", roof.tilt), degrees("sys.az_target", roof.azimuth)};
}

std::string plane_words(const Plane& plane) {
    return fmt::format("looks {} ({}°), {}° steep", bearing_word(plane.azimuth), round_to(plane.azimuth, 1.0), round_to(plane.tilt, 1.0));
}

/// Sun of a year on the plane, J/m²; the months count alike.
std::optional<double> year_of_sun(plant::SkyOfPlace sky, const Plane& plane) {
    sky.tilt = units::Angle::degrees(plane.tilt);
    sky.azimuth = units::Angle::degrees(plane.azimuth);
    double sum = 0.0;
    for (int month = 1; month <= 12; ++month) {
        const auto day = plant::mean_day_on_plane(sky, month);
        if (!day) return std::nullopt;
        sum += day->si();
    }
    return sum;
}

void add_best_plane(SunOfSurvey& out, const JobInHand& job, const plant::SkyOfPlace& sky, const Plane& plane) {
    const auto tilt = plant::best_tilt(sky.latitude, checklist::conventions_of(*job.library));
    const auto azimuth = plant::bearing_to_equator(sky.latitude);
    if (!tilt || !azimuth) return;
    const Plane best{tilt->in_degrees(), azimuth->in_degrees()};
    out.plane.push_back({"The best side here", plane_words(best)});
    const auto ours = year_of_sun(sky, plane);
    const auto theirs = year_of_sun(sky, best);
    if (ours && theirs && *theirs > 0.0) out.of_best_plane = static_cast<int>(std::lround(100.0 * std::min(*ours / *theirs, 1.0)));
}

void add_shade_read(SunOfSurvey& out, const JobView& view) {
    const auto read = entered_at(view, "sun-shade", "%");
    double sum = 0.0;
    for (const double share : read) sum += share;
    if (!read.empty()) out.shade_read = static_cast<int>(std::lround(sum / static_cast<double>(read.size())));
}

void add_shade_by_month(SunOfSurvey& out, const plant::SkyOfPlace& sky) {
    if (sky.horizon.empty()) return;
    for (int month = 1; month <= 12; ++month) {
        const auto share = plant::shaded_share(sky, month);
        if (!share) {
            out.shade.clear();
            return;
        }
        out.shade.push_back({short_months[static_cast<std::size_t>(month - 1)], *share});
    }
}

/// Without a line of the horizon only the worst month is known, and no month can be worse.
void take_off_shade(Estimate& year, const SunOfSurvey& out) {
    if (!out.shade.empty() || !out.shade_read) return;
    const double left = 1.0 - std::clamp(*out.shade_read / 100.0, 0.0, 1.0);
    year.year.low *= left;
    for (auto& month : year.months) month.low_kwh *= left;
}

}  // namespace

SunOfSurvey sun_of_survey(const JobInHand& job, const JobView& view) {
    SunOfSurvey out;
    Known known{job};
    const Plane roof = roof_plane(view, known);
    const Plane plane = planned_plane(job, roof);
    const bool stands = known.missing().empty() && job.facts().knows("site.latitude");
    const House house = house_of(job, plane, known);
    add_shade_read(out, view);
    if (stands) add_shade_by_month(out, house.sun.sky);
    if (!known.missing().empty()) {
        out.expectation.left_out.push_back(lacking(known));
        return out;
    }
    out.plane = {{"This side of the roof", plane_words(roof)}, {"The set on it", plane_words(plane)}};
    plant::SkyOfPlace sky = house.sun.sky;
    sky.sunshine = house.sun_share;
    add_best_plane(out, job, sky, plane);
    auto year = estimate(house);
    if (!year) {
        out.expectation.left_out.push_back("The year is not estimated: " + year.error().what);
        return out;
    }
    take_off_shade(*year, out);
    out.expectation.months = std::move(year->months);
    out.sun_band = in_words(year->year, "kWh");
    out.need_band = in_words(year->needed, "kWh");
    add_money(out.expectation, job, year->year);
    add_assumptions(out.expectation, house);
    return out;
}

}  // namespace wm::desk
