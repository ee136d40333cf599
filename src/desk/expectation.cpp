#include "desk/expectation.hpp"

#include <algorithm>

#include "checklist/conventions.hpp"
#include "desk/expectation_words.hpp"
#include "desk/view_parts.hpp"
#include "plant/yield.hpp"
#include "units/reading.hpp"

namespace wm::desk {

using language::filled;
using language::Language;

namespace {

constexpr double least_of_warming = 0.6;  // of what a clear day should do; as the check "day-after" asks

std::string short_name(std::size_t month, const Language& say) { return say.text("month, short", short_months[month]); }

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

}  // namespace

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
