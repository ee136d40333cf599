#include "desk/report_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/moment.hpp"
#include "desk/view_parts.hpp"
#include "units/reading.hpp"

namespace wm::desk {

using language::filled;
using language::Language;
using language::marked;

std::string bearing_word(double degrees, const Language& say) {
    static constexpr const char* words[] = {marked("north"), marked("north-east"), marked("east"), marked("south-east"),
                                            marked("south"), marked("south-west"), marked("west"), marked("north-west")};
    return say.text(words[static_cast<int>((degrees + 382.5) / 45.0) % 8]);
}

Language language_of(const JobInHand& job, const std::map<std::string, Language, std::less<>>& languages) {
    const auto code = job.facts().word("customer.language");
    const auto found = code ? languages.find(*code) : languages.end();
    return found == languages.end() ? Language{} : found->second;
}

namespace {

std::string litres(const JobInHand& job, std::string_view key, const Language& say) {
    const auto amount = job.facts().number(key);
    return amount ? say.amount(units::print_amount(*amount, 4, *units::unit_named("L"))) : "";
}

void add_line(std::vector<handover::LabelledLine>& lines, const std::string& label, const std::string& text) {
    if (!text.empty()) lines.push_back({label, text});
}

// Each line says in everyday words what the part is, so that nobody has to look the label up.
std::string collector_line(const JobInHand& job, const Language& say) {
    std::string line = say.text("glass box that catches the sun");
    if (const auto area = job.facts().number("sys.coll_m2"))
        line += ", " + say.amount(units::print_amount(*area, 3, *units::unit_named("m²")));
    if (const auto azimuth = job.facts().number("sys.az_target"))
        line += ", " + filled(say.text("facing {direction}"), {{"direction", bearing_word(azimuth->in(*units::unit_named("°")), say)}});
    return line;
}

std::string store_line(const JobInHand& job, const Language& say) {
    const std::string room = litres(job, "sys.tank_l", say);
    return room.empty() ? "" : say.text("hot water tank on the roof") + ", " + room;
}

std::string loop_line(const JobInHand& job, const Language& say) {
    const auto kind = job.facts().word("sys.kind");
    if (!kind) return "";
    return *kind == "direct" ? say.text("pipes where the house water itself warms up; they must not freeze")
                             : say.text("closed pipes; a fluid that stands frost carries the heat");
}

std::string relief_line(const JobInHand& job, const Language& say) {
    const auto opens = job.facts().number("sys.relief_kpa");
    if (!opens || job.facts().word("sys.feed") == "vented") return "";
    return filled(say.text("safety tap, opens by itself at {pressure}"),
                  {{"pressure", say.amount(units::print_amount(*opens, 4, *units::unit_named("kPa")))}});
}

std::string heater_line(const JobInHand& job, const Language& say) {
    std::string line = litres(job, "heater.volume_l", say);
    if (const auto power = job.facts().number("heater.power_w"))
        line += (line.empty() ? "" : ", ") + say.amount(units::print_amount(*power, 4, *units::unit_named("W")));
    return line;
}

void add_taps(handover::PageOne& page, const JobView& view) {
    const auto* taps = check_named(view, "outlet-temp");
    if (taps == nullptr || taps->outcome != Outcome::Conforms) return;
    std::optional<double> hottest;
    for (const auto& reading : taps->readings)
        if (!reading.superseded && !reading.undone && reading.value)
            hottest = std::max(hottest.value_or(*reading.value), *reading.value);
    if (!hottest) return;
    page.hottest_tap = units::print_number(*hottest, 1) + " °C";
    for (const auto& place : taps->places)
        if (place.limits.high) page.hottest_allowed = units::print_number(*place.limits.high, 0) + " °C";
    if (page.hottest_allowed.empty() && taps->limits.high)
        page.hottest_allowed = units::print_number(*taps->limits.high, 0) + " °C";
}

void add_care(handover::ReportInput& input, const JobInHand& job, const ReportSurroundings& around) {
    auto& care = input.page_one.care;
    const Language& say = around.language;
    const auto in_days = [&](int days) { return day_after(around.date, days).value_or(around.date); };
    for (const auto& later : input.deferrals)
        care.push_back({later.until, filled(say.text("the crew still checks: {check}"), {{"check", later.title}}), "check-" + later.check_id, later.check_id});
    care.push_back({in_days(30), say.text("first visit"), "first-visit"});
    const auto* fluid = job.list->find(checklist::CheckId{"loop-freeze-point"});
    if (fluid != nullptr && job.facts().word("sys.kind") == "indirect")
        care.push_back({in_days(330), say.text("frost check of the fluid, before the first frost"), "frost-check"});
    care.push_back({in_days(365), say.text("yearly service"), "yearly-service"});
    if (job.facts().word("sys.tank_material") == "enamelled steel")
        care.push_back({in_days(730), say.text("rod that keeps the tank from rust"), "anode"});
    std::stable_sort(care.begin(), care.end(), [](const auto& a, const auto& b) { return a.date < b.date; });
}

std::string restriction_words(const std::string& check, const std::string& until, const Language& say) {
    if (check == "outlet-temp")
        return filled(say.text("Do not use hot washing taps until they are measured, by {day}."), {{"day", say.date(until)}});
    return filled(say.text("One check is still to be made by {day}."), {{"day", say.date(until)}});
}

}  // namespace

void fill_page_one(handover::ReportInput& input, const JobInHand& job, const JobView& view,
                   const ReportSurroundings& around) {
    auto& page = input.page_one;
    const Language& say = around.language;
    if (view.row.practice) page.state = handover::HandoverState::Practice;
    else if (!view.blockers.empty()) page.state = handover::HandoverState::NotHandedOver;
    else if (!view.restrictions.empty()) page.state = handover::HandoverState::Restricted;
    else page.state = handover::HandoverState::Full;
    for (const auto& check : view.checks) {
        const bool restricts = std::find(view.restrictions.begin(), view.restrictions.end(), check.id) != view.restrictions.end();
        if (check.severity == "H" && check.applies && check.outcome != Outcome::Conforms &&
            check.form != EntryForm::Signature && !restricts)
            page.unproven.push_back(check.title);
    }
    for (const auto& id : view.restrictions) {
        const auto* check = check_named(view, id);
        page.restrictions.push_back(restriction_words(id, check && check->deferral ? check->deferral->until : around.date, say));
    }
    add_line(page.fitted, say.text("Collector"), collector_line(job, say));
    add_line(page.fitted, say.text("Store"), store_line(job, say));
    add_line(page.fitted, say.text("Loop"), loop_line(job, say));
    if (const auto* mixing = check_named(view, "tempering-fitted"); mixing && mixing->outcome == Outcome::Conforms)
        add_line(page.fitted, say.text("Mixing valve"), say.text("adds cold water to the hot taps"));
    add_line(page.fitted, say.text("Relief valve"), relief_line(job, say));
    add_line(page.fitted, say.text("Electric heater"), heater_line(job, say));
    add_line(page.fitted, say.text("Serial numbers"), fact_text(job.state(), "serial.tank") +
                                                (fact_text(job.state(), "serial.collector").empty() ? "" : ", ") +
                                                fact_text(job.state(), "serial.collector"));
    add_line(page.fitted, say.text("Fitted by"), fact_text(job.state(), "crew.lead"));
    add_taps(page, view);
    add_care(input, job, around);
    add_line(page.warranty, say.text("Until"), say.date(fact_text(job.state(), "warranty.until")));
    page.call.push_back({around.company, around.contact.empty() ? say.text("see the company's letter") : around.contact});
    page.fingerprint = around.fingerprint;
    page.fingerprint_published = around.fingerprint_published;
    for (const auto& jump : job.state().jumps_meanwhile()) {
        page.questions.push_back(filled(say.text("a clock of the crew jumped on {day}"), {{"day", say.date(day_of(jump.to))}}));
        input.record_notes.push_back(fmt::format("A clock of the crew was moved from {} to {} ({}): times before and after are not to be "
                                                 "compared.",
                                                 jump.from, jump.to, jump.seen));
    }
    input.record_notes.insert(input.record_notes.end(), view.strangers.begin(), view.strangers.end());
    input.record_notes.insert(input.record_notes.end(), view.times.begin(), view.times.end());
    for (const auto& taken : view.taken_over)
        input.record_notes.push_back(fmt::format("{} took this job over from {} on {}.", taken.by, taken.from, day_of(taken.at)));
}

}  // namespace wm::desk
