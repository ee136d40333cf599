#include "desk/expectation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "checklist/conventions.hpp"
#include "checklist/facts.hpp"
#include "desk/report_words.hpp"
#include "desk/view_parts.hpp"
#include "plant/derived.hpp"
#include "plant/expected_year.hpp"
#include "plant/yield.hpp"
#include "units/reading.hpp"

namespace wm::desk {

using language::filled;
using language::Language;

namespace {

constexpr double litres_low = 30.0;
constexpr double litres_usual = 45.0;
constexpr double litres_high = 60.0;
constexpr double sun_either_way = 0.08;
constexpr double low_of_correlation = 0.8;
constexpr double hot_water_c = 60.0;
constexpr double jacket_ratio = 0.97;  // heat lost in the wall of the jacket, common practice, no source
constexpr double least_of_warming = 0.6;  // of what a clear day should do; as the check "day-after" asks

constexpr std::array month_names{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

std::string short_name(std::size_t month, const Language& say) { return say.text("month, short", month_names[month]); }

/// "the last day of March"; other languages bend the name.
std::string of_month(std::size_t month, const Language& say) {
    switch (month) {
        case 0: return say.text("of a month", "January");
        case 1: return say.text("of a month", "February");
        case 2: return say.text("of a month", "March");
        case 3: return say.text("of a month", "April");
        case 4: return say.text("of a month", "May");
        case 5: return say.text("of a month", "June");
        case 6: return say.text("of a month", "July");
        case 7: return say.text("of a month", "August");
        case 8: return say.text("of a month", "September");
        case 9: return say.text("of a month", "October");
        case 10: return say.text("of a month", "November");
        default: return say.text("of a month", "December");
    }
}

struct Band {
    double low = 0.0;
    double high = 0.0;
};

/// Numbers of the house by their keys; what is missing is remembered in words.
class Known {
public:
    explicit Known(const JobInHand& job) : job_{job} {}
    double number(std::string_view key, std::string_view unit) {
        const auto amount = job_.facts().number(key);
        if (amount) return unit.empty() ? amount->si : amount->in(*units::unit_named(unit));
        const auto* spec = checklist::fact_named(key);
        missing_.push_back(spec ? std::string{spec->meaning} : std::string{key});
        return 0.0;
    }
    [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }

private:
    const JobInHand& job_;
    std::vector<std::string> missing_;
};

/// The angle as it was measured if the check conforms, else as it was planned.
double angle_of(const JobView& view, std::string_view check, double planned) {
    const auto* found = check_named(view, check);
    if (found == nullptr || found->outcome != Outcome::Conforms) return planned;
    for (auto at = found->readings.rbegin(); at != found->readings.rend(); ++at)
        if (!at->superseded && !at->undone && at->place.empty() && at->value) return *at->value;
    return planned;
}

std::string round_to(double value, double step) { return units::print_number(std::round(value / step) * step, 0); }

/// Rounded so that nobody takes the band for exact.
std::string in_words(const Band& band, std::string_view unit, const Language& say = {}) {
    const double step = band.high >= 500.0 ? 50.0 : band.high >= 100.0 ? 10.0 : band.high >= 20.0 ? 5.0 : 1.0;
    const std::string low = say.number(round_to(band.low, step));
    const std::string high = say.number(round_to(band.high, step));
    return low == high ? filled(say.text("about {amount} {unit}"), {{"amount", high}, {"unit", say.unit(unit)}})
                       : filled(say.text("{low} to {high} {unit}"), {{"low", low}, {"high", high}, {"unit", say.unit(unit)}});
}

struct Estimate {
    std::vector<handover::ExpectedMonthBand> months;
    Band year, needed;
    double clear_day_rise_k = 0.0;
};

struct House {
    plant::HouseInSun sun;
    double persons = 0.0;
    double sun_share = 0.0;
    bool has_sheet = false;  ///< the collector's own figures are on record
};

/// All corners of what is not known.
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

/// How steep the set stands and where it looks, in degrees.
struct Plane {
    double tilt = 0.0;
    double azimuth = 0.0;
};

Plane plane_as_fitted(const JobView& view, Known& known) {
    return {angle_of(view, "coll-tilt", known.number("sys.tilt_target", "°")),
            angle_of(view, "coll-azimuth", known.number("sys.az_target", "°"))};
}

/// The number that was entered last at each place of a check, in `unit`, whatever became of it.
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

plant::Horizon horizon_of(const JobInHand& job) {
    const auto line = plant::read_horizon(job.facts().word("site.horizon").value_or(""));
    return line ? *line : plant::Horizon{};
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

void add_money(handover::Expectation& out, const JobInHand& job, const Band& year, const Language& say = {}) {
    const auto price = job.facts().number("energy.price");
    if (price) {
        const std::string currency = fact_text(job.state(), "energy.currency");
        const std::string band = in_words({year.low * price->si, year.high * price->si},
                                          currency.empty() ? say.text("of your money") : currency, say);
        out.year.push_back({say.text("Money not spent on electricity"),
                            filled(say.text("{band} a year, at {price} for a kilowatt-hour"),
                                   {{"band", band}, {"price", say.number(units::print_short(price->si, 4))}})});
    } else {
        out.left_out.push_back(say.text("Money: the price of a kilowatt-hour is not on record."));
    }
    const auto carbon = job.facts().number("energy.co2_kg");
    if (carbon) {
        const std::string of_year = fact_text(job.state(), "energy.co2_year");
        const language::Fillings figures{{"band", in_words({year.low * carbon->si, year.high * carbon->si}, "kg", say)},
                                         {"mass", say.amount(units::print_short(carbon->si, 4) + " kg")},
                                         {"year", of_year}};
        out.year.push_back({say.text("Carbon dioxide not let out"),
                            filled(of_year.empty()
                                       ? say.text("{band} a year, at {mass} for a kilowatt-hour (year of this figure not on record)")
                                       : say.text("{band} a year, at {mass} for a kilowatt-hour in {year}"),
                                   figures)});
    } else {
        out.left_out.push_back(say.text("Carbon dioxide: what a kilowatt-hour lets out here is not on record."));
    }
}

/// What a customer wants of it; the pages of the checks have the rest. Of the heat that reached the
/// store every sentence counts.
std::string shortened(const CheckView& check) {
    if (check.id == "store-gain") return check.why;
    return check.why.substr(0, check.why.find(". ")) + (check.why.find(". ") == std::string::npos ? "" : ".");
}

std::string outcome_word(Outcome outcome, const Language& say) {
    switch (outcome) {
        case Outcome::Open: return say.text("outcome", "open");
        case Outcome::Conforms: return say.text("outcome", "conforms");
        case Outcome::DoesNotConform: return say.text("outcome", "does not conform");
        case Outcome::Inconclusive: return say.text("outcome", "inconclusive");
        case Outcome::Deferred: return say.text("outcome", "deferred");
        case Outcome::NotApplicable: return say.text("outcome", "not applicable");
    }
    return {};
}

void add_today(handover::Expectation& out, const JobView& view, const Language& say) {
    for (const char* id : {"sun-window", "temp-rise", "store-gain", "outlet-temp", "day-after"}) {
        const auto* check = check_named(view, id);
        if (check == nullptr || !check->applies) continue;
        const bool was_read = std::any_of(check->readings.begin(), check->readings.end(),
                                          [](const auto& reading) { return !reading.undone; });
        const std::string outcome = outcome_word(check->outcome, say);
        out.today.push_back({check->title, check->outcome == Outcome::Deferred ? check->why
                                           : was_read                          ? outcome + ": " + shortened(*check)
                                                                               : say.text("not measured today")});
    }
}

/// The first whole month after the handover, 0 to 11.
std::size_t whole_month_after(const std::string& date) {
    const auto number = units::read_number(date.size() >= 7 ? date.substr(5, 2) : "1");
    return number ? static_cast<std::size_t>(*number) % 12 : 0;
}

void add_signs(handover::Expectation& out, const JobInHand& job, const House& house, const std::string& date, const Language& say) {
    const auto month = whole_month_after(date);
    const auto& band = out.months[month];
    out.see_for_yourself.push_back(filled(
        say.text("Look at the electricity meter on the first and on the last day of {month}. With as much hot water as before, you "
                 "should need {band} less than in the same month before the set was there."),
        {{"month", of_month(month, say)}, {"band", in_words({band.low_kwh, band.high_kwh}, "kWh", say)}}));
    out.see_for_yourself.push_back(filled(
        say.text("If it is less than {heat}, half of the low figure, although the month was not dark and you were at home, call us. "
                 "The set may not work as it should."),
        {{"heat", say.amount(round_to(band.low_kwh / 2.0, band.low_kwh >= 40.0 ? 5.0 : 1.0) + " kWh")}}));
    const auto controller = job.facts().word("sys.controller");
    if (!controller || *controller == "none") return;
    plant::SkyOfPlace clear = house.sun.sky;
    clear.sunshine = 1.0;
    const auto day = plant::mean_day_on_plane(clear, static_cast<int>(month) + 1);
    if (!day) return;
    const auto warming = plant::day_rise(*day, house.sun.collector, house.sun.store, checklist::conventions_of(*job.library));
    if (!warming) return;
    out.see_for_yourself.push_back(filled(
        say.text("On a clear day in {month} on which nobody draws hot water, the display of the roof tank should climb by {rise} or more "
                 "from the morning to 16:00, unless it was hot already."),
        {{"month", of_month(month, say)}, {"rise", say.amount(round_to(least_of_warming * warming->si(), 1.0) + " °C")}}));
}

void add_assumptions(handover::Expectation& out, const House& house, const Language& say = {}) {
    const auto& sky = house.sun.sky;
    const auto figure = [&](double value, double step) { return say.number(round_to(value, step)); };
    const auto persons = static_cast<long>(std::lround(house.persons));
    const language::Fillings water{{"low", figure(litres_low, 1)}, {"high", figure(litres_high, 1)}, {"persons", figure(house.persons, 1)},
                                   {"usual", figure(litres_usual, 1)}, {"temperature", say.amount(round_to(hot_water_c, 1) + " °C")}};
    const language::Fillings set{{"area", say.amount(units::print_short(house.sun.collector.si(), 3) + " m²")},
                                 {"tilt", figure(sky.tilt.in_degrees(), 1)},
                                 {"azimuth", figure(sky.azimuth.in_degrees(), 1)},
                                 {"figures", house.has_sheet ? say.text("with the figures of its sheet")
                                                             : say.text("with figures usual for a flat collector, as its sheet is not on record")}};
    const language::Fillings sun{{"low", fmt::format("{:.0f}", 100.0 * std::max(house.sun_share - sun_either_way, 0.0))},
                                 {"high", fmt::format("{:.0f}", 100.0 * std::min(house.sun_share + sun_either_way, 1.0))},
                                 {"shade", sky.horizon.empty() ? say.text("no shade of hills, trees or chimneys")
                                                               : say.text("direct sun only over the line of hills, trees and houses")}};
    out.assumptions = {
        {say.text("Hot water"),
         filled(say.counted("{low} to {high} litres a person and day for {persons} person ({usual} is usual), heated to {temperature}",
                            "{low} to {high} litres a person and day for {persons} persons ({usual} is usual), heated to {temperature}", persons),
                water)},
        {say.text("Collector"), filled(say.text("{area}, tilted {tilt}°, facing {azimuth}°, {figures}"), set)},
        {say.text("Sun"), filled(say.text("bright for {low} to {high} of 100 hours of daylight; {shade}"), sun)},
        {say.text("Cold water"), say.text("follows the air of the place over the year")},
        {say.text("Method"), say.text("solar-fraction (f-chart, Klein, Beckman and Duffie 1976) on the tilted sky of FAO 56; as it is made for "
                                      "pumped sets, the low end lies 20 % under it (common practice, no source)")},
        {say.text("Not counted"), say.text("what the electric heater loses through its walls; it did so before")}};
}

std::string lacking(const Known& known, const Language& say = {}) {
    std::string words;
    for (const auto& one : known.missing()) words += (words.empty() ? "" : "; ") + one;
    return filled(say.text("The year is not estimated, for lack of: {facts}."), {{"facts", words}});
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
        out.shade.push_back({month_names[static_cast<std::size_t>(month - 1)], *share});
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

handover::Expectation expectation_of(const JobInHand& job, const JobView& view, const std::string& date, const Language& say) {
    handover::Expectation out;
    if (job.list->name != "commissioning") return out;
    add_today(out, view, say);
    Known known{job};
    const Plane plane = plane_as_fitted(view, known);
    const House house = house_of(job, plane, known);
    if (!known.missing().empty()) {
        out.left_out.push_back(lacking(known, say));
        return out;
    }
    auto year = estimate(house);
    if (!year) {
        out.left_out.push_back(filled(say.text("The year is not estimated: {reason}"), {{"reason", year.error().what}}));
        return out;
    }
    out.months = std::move(year->months);
    for (std::size_t i = 0; i < out.months.size(); ++i) out.months[i].name = short_name(i, say);
    out.year.push_back({say.text("Heat from the sun"), filled(say.text("{band} a year"), {{"band", in_words(year->year, "kWh", say)}})});
    out.year.push_back({say.text("Heat your hot water needs"),
                        filled(say.text("{band} a year, by how much you draw"), {{"band", in_words(year->needed, "kWh", say)}})});
    add_money(out, job, year->year, say);
    add_signs(out, job, house, date, say);
    add_assumptions(out, house, say);
    return out;
}

}  // namespace wm::desk
