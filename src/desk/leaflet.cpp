#include "desk/leaflet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checklist/words.hpp"
#include "desk/reissue.hpp"
#include "desk/report_of.hpp"
#include "desk/view_parts.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

constexpr const char* check_of_showing = "customer-shown";
constexpr const char* check_of_own_words = "customer-said";

/// The reading that counts at a place, where the check stands as right.
const ReadingView* proven(const JobView& view, const char* id) {
    const auto* check = check_named(view, id);
    if (check == nullptr || !check->applies || check->outcome != Outcome::Conforms) return nullptr;
    const auto found = std::find_if(check->readings.rbegin(), check->readings.rend(),
                                    [](const auto& reading) { return reading.place.empty() && !reading.superseded && !reading.undone; });
    return found == check->readings.rend() ? nullptr : &*found;
}

/// "65", "62.5".
std::string plain_number(double value) { return units::print_number(value, std::abs(value - std::round(value)) < 0.05 ? 0 : 1); }

std::string number_of(const JobView& view, const char* id) {
    const auto* reading = proven(view, id);
    return reading == nullptr || !reading->value ? "" : plain_number(*reading->value) + " " + reading->unit;
}

bool answers(const ReadingView* reading, std::string_view word) {
    return reading != nullptr && checklist::lower_case(checklist::trimmed(reading->text)) == word;
}

/// Dials show bar, records kPa: both stand on the sheet.
std::string pressure_words(double kpa) { return fmt::format("{} kPa ({} bar)", units::print_number(kpa, 0), plain_number(kpa / 100.0)); }

std::string pressure_of(const JobView& view) {
    const auto* reading = proven(view, "pressure-limit-set");
    return reading == nullptr || !reading->value ? "" : pressure_words(*reading->value);
}

std::string relief_of(const JobInHand& job) {
    const auto opens = job.facts().number("sys.relief_kpa");
    return opens ? pressure_words(opens->in(*units::unit_named("kPa"))) : "";
}

std::string coldest_of(const JobInHand& job) {
    const auto air = job.facts().number("site.t_min_c");
    return air ? units::print_amount(*air, 3, *units::unit_named("°C")) : "";
}

std::optional<handover::ControllerKind> controller_of(const JobInHand& job) {
    const auto kind = job.facts().word("sys.controller");
    if (!kind) return std::nullopt;
    if (*kind == "none") return handover::ControllerKind::None;
    return *kind == "temperature" ? handover::ControllerKind::Temperature : handover::ControllerKind::Timer;
}

std::optional<handover::GrowingWater> growing_of(const JobView& view) {
    const auto* reading = proven(view, "expansion-room");
    if (reading == nullptr) return std::nullopt;
    if (answers(reading, "vessel")) return handover::GrowingWater::Vessel;
    return answers(reading, "back to main") ? handover::GrowingWater::BackToMain : handover::GrowingWater::SeenDrain;
}

/// What the household said back, as it was written down.
std::string own_words_of(const JobView& view) {
    const auto* reading = proven(view, check_of_own_words);
    return reading == nullptr || reading->text == "(erased)" ? "" : reading->text;
}

std::string cover_of(const JobView& view) {
    if (!answers(proven(view, "cover-off"), "on by agreement")) return "";
    const auto* check = check_named(view, "cover-off");
    for (const auto& place : check->places)
        if (place.name == "until" && !place.text.empty()) return place.text;
    return "until it is agreed";
}

bool is_heated(const JobView& view) { return answers(proven(view, "frost-cold-feed"), "heated lead"); }

}  // namespace

handover::Leaflet leaflet_of(const JobInHand& job, const JobView& view) {
    // Page one of the report knows taps, serial numbers and care already: one sheet never says otherwise than the other.
    const auto report = report_input(job, view, {.company = "", .contact = "", .fingerprint = "", .fingerprint_published = "", .date = job.today,
                                                 .written = {}, .heads = {}, .files = {}});
    const auto frost = job.facts().word("site.frost_class");
    handover::Leaflet leaflet;
    leaflet.job = job.state().number;
    leaflet.place = report.place;
    leaflet.date = job.today;
    for (const auto& line : report.page_one.fitted) {
        if (line.label == "Serial numbers") leaflet.serials = line.text;
        if (line.label == "Fitted by") leaflet.fitted_by = line.text;
    }
    leaflet.practice = view.row.practice;
    leaflet.finished = view.blockers.empty();
    leaflet.shown = proven(view, check_of_showing) != nullptr;
    leaflet.own_words = own_words_of(view);
    leaflet.plant = view.plant;
    leaflet.controller = controller_of(job);
    leaflet.growing = growing_of(view);
    if (frost) leaflet.frost = *frost != "none";
    leaflet.coldest = coldest_of(job);
    leaflet.heated_pipe = is_heated(view);
    leaflet.vulnerable = job.facts().yes("customer.vulnerable").value_or(false);
    leaflet.cover_until = cover_of(view);
    leaflet.set = {.heater = number_of(view, "thermostat-60"),
                   .taps = report.page_one.hottest_tap,
                   .taps_allowed = report.page_one.hottest_allowed,
                   .pressure = pressure_of(view),
                   .relief = relief_of(job),
                   .freezes = number_of(view, "loop-freeze-point"),
                   .program_right = proven(view, "controller-program") != nullptr};
    leaflet.care = report.page_one.care;
    return leaflet;
}

Result<handover::Leaflet> leaflet_of(Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto view = desk.job_view(job);
    if (!view) return tl::unexpected(view.error());
    if (hand->list->find(checklist::CheckId{check_of_showing}) == nullptr)
        return refused({"In this job nothing is set and nobody is shown anything.", "job " + job,
                        "Name the job in which the set was fitted; witnessmark house JOB lists those of the house.", ProblemKind::Refused});
    if (const auto whole = is_whole(*hand); !whole) return tl::unexpected(whole.error());
    auto leaflet = leaflet_of(*hand, *view);
    const auto& setup = desk.setup();
    leaflet.company = setup.company;
    leaflet.contact = setup.company_contact;
    leaflet.date = day_of(setup.now());
    leaflet.written = printed_moment(setup.now());
    leaflet.paper = setup.paper;
    leaflet.fonts = setup.fonts;
    return leaflet;
}

}  // namespace wm::desk
