#include "desk/house_year.hpp"

#include <algorithm>
#include <array>

#include "checklist/conventions.hpp"
#include "checklist/facts.hpp"
#include "desk/view_parts.hpp"
#include "plant/derived.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

constexpr double low_of_correlation = 0.8;
constexpr double jacket_ratio = 0.97;  // heat lost in the wall of the jacket, common practice, no source

constexpr std::array month_names{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

/// The angle as it was measured if the check conforms, else as it was planned.
double angle_of(const JobView& view, std::string_view check, double planned) {
    const auto* found = check_named(view, check);
    if (found == nullptr || found->outcome != Outcome::Conforms) return planned;
    for (auto at = found->readings.rbegin(); at != found->readings.rend(); ++at)
        if (!at->superseded && !at->undone && at->place.empty() && at->value) return *at->value;
    return planned;
}

/// The collector 40 K warmer than the air, as the f-chart wants it (convention).
struct CollectorAtWork {
    double optical = 0.0;
    double loss_w_m2_k = 0.0;
    bool from_sheet = false;
};

CollectorAtWork collector_of(const JobInHand& job) {
    constexpr double over_air_k = 40.0;
    const auto optical = job.facts().number("sys.coll_eta0");
    const auto loss = job.facts().number("sys.coll_a1");
    const auto quadratic = job.facts().number("sys.coll_a2");
    if (optical && loss) return {optical->si, loss->si + over_air_k * (quadratic ? quadratic->si : 0.0), true};
    const auto usual = checklist::conventions_of(*job.library);
    return {usual.collector_optical, usual.collector_loss.si() + over_air_k * usual.collector_quadratic_loss.si(), false};
}

plant::Horizon horizon_of(const JobInHand& job) {
    const auto line = plant::read_horizon(job.facts().word("site.horizon").value_or(""));
    return line ? *line : plant::Horizon{};
}

}  // namespace

double Known::number(std::string_view key, std::string_view unit) {
    const auto amount = job_.facts().number(key);
    if (amount) return unit.empty() ? amount->si : amount->in(*units::unit_named(unit));
    const auto* spec = checklist::fact_named(key);
    missing_.push_back(spec ? std::string{spec->meaning} : std::string{key});
    return 0.0;
}

House house_of(const JobInHand& job, const Plane& plane, Known& known) {
    const auto curve = collector_of(job);
    House house{.sun = {.sky = {.latitude = units::Angle::degrees(known.number("site.latitude", "°")),
                                .tilt = units::Angle::degrees(plane.tilt),
                                .azimuth = units::Angle::degrees(plane.azimuth),
                                .pressure = units::AbsolutePressure::kilopascals(101.325),
                                .sunshine = 0.5,
                                .horizon = horizon_of(job)},
                        .air = {units::Temperature::celsius(known.number("site.air_jan_c", "°C")),
                                units::Temperature::celsius(known.number("site.air_jul_c", "°C"))},
                        .collector = units::square_metres(known.number("sys.coll_m2", "m²")),
                        .loss_product = units::Quantity<0, 1, -3, -1>::from_si(curve.loss_w_m2_k),
                        .optical_product = curve.optical,
                        .exchanger_ratio = job.facts().word("sys.kind") == "direct" ? 1.0 : jacket_ratio,
                        .store = units::litres(known.number("sys.tank_l", "L")),
                        .draw = units::VolumeFlow::from_si(0.0),
                        .set_point = units::Temperature::celsius(hot_water_c)},
                .persons = known.number("customer.household", ""),
                .sun_share = known.number("site.sun_share", ""),
                .has_sheet = curve.from_sheet};
    if (const auto height = job.facts().number("site.altitude_m"))
        if (const auto pressure = plant::station_pressure(units::metres(height->si))) house.sun.sky.pressure = *pressure;
    return house;
}

Result<Estimate> estimate(const House& house) {
    Estimate result;
    for (const char* name : month_names) result.months.push_back({name, 1e9, 0.0, 0.0});
    result.year = {1e9, 0.0};
    result.needed = {1e9, 0.0};
    for (const double share : {house.sun_share - sun_either_way, house.sun_share + sun_either_way}) {
        for (const double litres : {litres_low, litres_high}) {
            plant::HouseInSun corner = house.sun;
            corner.sky.sunshine = std::clamp(share, 0.0, 1.0);
            corner.draw = units::VolumeFlow::from_si(house.persons * litres * 1e-3 / 86400.0);
            const auto year = plant::expected_year(corner);
            if (!year) return tl::unexpected(year.error());
            Band sums;
            for (std::size_t i = 0; i < year->size(); ++i) {
                const double solar = (*year)[i].solar.si() / 3.6e6;
                const double needed = (*year)[i].load.si() / 3.6e6;
                auto& month = result.months[i];
                month.low_kwh = std::min(month.low_kwh, low_of_correlation * solar);
                month.high_kwh = std::max(month.high_kwh, solar);
                month.needed_kwh = std::max(month.needed_kwh, needed);
                sums.low += solar;
                sums.high += needed;
            }
            result.year = {std::min(result.year.low, low_of_correlation * sums.low),
                           std::max(result.year.high, sums.low)};
            result.needed = {std::min(result.needed.low, sums.high), std::max(result.needed.high, sums.high)};
        }
    }
    return result;
}

std::vector<double> entered_at(const JobView& view, std::string_view check, std::string_view unit) {
    std::vector<double> all;
    const auto* found = check_named(view, check);
    if (found == nullptr) return all;
    for (const auto& reading : found->readings) {
        if (reading.superseded || reading.undone) continue;
        const auto read = units::read_amount(reading.text, *units::unit_named(unit), found->title);
        if (read) all.push_back(read->amount().in(*units::unit_named(unit)));
    }
    return all;
}

Plane plane_as_fitted(const JobView& view, Known& known) {
    return {angle_of(view, "coll-tilt", known.number("sys.tilt_target", "°")),
            angle_of(view, "coll-azimuth", known.number("sys.az_target", "°"))};
}

}  // namespace wm::desk
