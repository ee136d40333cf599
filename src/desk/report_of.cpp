#include "desk/report_of.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/readings.hpp"
#include "desk/expectation.hpp"
#include "desk/figure_origins.hpp"
#include "desk/moment.hpp"
#include "desk/put_off.hpp"
#include "desk/report_words.hpp"
#include "desk/strokes.hpp"
#include "desk/supplement.hpp"
#include "desk/view_parts.hpp"
#include "handover/glossary.hpp"
#include "photo/jpeg_coder.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

using handover::ReportCheck;
using handover::ReportInput;

std::optional<figures::SeriesChart> chart_of(const checklist::Check& check, const CheckView& view) {
    if (check.kind != checklist::Kind::Series) return std::nullopt;
    for (auto at = view.readings.rbegin(); at != view.readings.rend(); ++at) {
        if (at->superseded || at->undone || !at->place.empty()) continue;
        const auto answer = checklist::read_series(check, at->text);
        if (!answer || !answer->points || !check.unit) return std::nullopt;
        figures::SeriesChart chart;
        chart.unit = check.unit->symbol;
        const auto& table = *answer->points;
        for (std::size_t channel = 0; channel < table.channels.size(); ++channel) {
            figures::SeriesLine line{.name = table.channels[channel], .points = {}};
            for (std::size_t row = 0; row < table.rows.size(); ++row)
                line.points.push_back({table.times_s[row] / 60.0, table.rows[row][channel].in(*check.unit)});
            chart.lines.push_back(std::move(line));
        }
        return chart;
    }
    return std::nullopt;
}

std::optional<figures::ToleranceScale> scale_of(const checklist::Check& check, const CheckView& view) {
    if (check.kind != checklist::Kind::Quantity) return std::nullopt;
    const auto& limits = view.limits;
    if (!limits.low && !limits.high) return std::nullopt;
    figures::ToleranceScale scale;
    scale.low = limits.low;
    scale.high = limits.high;
    scale.accept_low = limits.accept_low;
    scale.accept_high = limits.accept_high;
    scale.target = limits.target;
    scale.unit = limits.unit;
    scale.outcome = view.outcome;
    if (!check.measurand)
        for (const auto& reading : view.readings)
            if (!reading.superseded && !reading.undone && reading.place.empty()) scale.reading = reading.value;
    return scale;
}

// What is left of the doubt where a reading was accepted with an uncertainty.
std::string doubt_of(const CheckView& view) {
    if (view.outcome != Outcome::Conforms || !view.probability_conforming) return "";
    const double percent = 100.0 * (1.0 - *view.probability_conforming);
    if (percent == 0.0) return "";
    constexpr double least_percent = 0.1;
    if (percent < least_percent) return "Doubt left: below 0.1 %.";
    return fmt::format("Doubt left: {} %.", units::print_number(percent, percent < 10.0 ? 1 : 0));
}

/// "read before its hold point: Holding test".
std::string out_of_order_words(const ReadingView& reading, const checklist::Checklist& list) {
    std::string titles;
    for (const auto& id : reading.blocked_by) {
        const auto* hold = list.find(checklist::CheckId{id});
        titles += (titles.empty() ? "" : "; ") + (hold == nullptr ? id : hold->title);
    }
    return (reading.blocked_by.size() == 1 ? "read before its hold point: " : "read before its hold points: ") + titles;
}

ReportCheck report_check(const checklist::Checklist& list, const checklist::Check& check, const CheckView& view) {
    ReportCheck out{.id = view.id, .title = view.title, .question = view.question, .outcome = view.outcome,
                    .why = view.why, .tolerance = view.limits.text, .rule = view.limits.rule,
                    .doubt = doubt_of(view), .derivation = view.limits.how, .readings = {}, .hold = view.hold,
                    .corrected = view.failed_once && view.outcome == Outcome::Conforms, .severity = view.severity,
                    .sources = view.sources, .scale = scale_of(check, view), .series = chart_of(check, view)};
    for (const auto& reading : view.readings) {
        std::string note;
        if (reading.undone) note = "taken back";
        else if (!reading.corrects.empty()) note = "after correction";
        else if (reading.superseded) note = "replaced by a later reading";
        if (reading.out_of_order) note += (note.empty() ? "" : ", ") + out_of_order_words(reading, list);
        out.readings.push_back({reading.text, reading.place, reading.instrument, printed_text(reading.at), reading.by,
                                reading.outcome, note});
    }
    return out;
}

std::string reading_line(const record::Reading& reading) {
    const auto& taken = reading.taken;
    std::string line = record::shown(taken.text);
    if (!taken.place.empty()) line += ", " + taken.place;
    if (!taken.instrument.empty()) line += ", " + taken.instrument;
    return line + ", " + printed_text(taken.read_at);
}

void add_failures(ReportInput& input, const JobInHand& job) {
    for (const auto& check : job.list->checks) {
        const auto* state = job.state().check(check.id.text);
        if (state == nullptr) continue;
        const std::string severity{checklist::letter_of(check.severity)};
        for (const auto& failure : state->failures) {
            const auto* failing = state->find(failure.reading);
            if (failing == nullptr) continue;
            handover::Nonconformity row{.check_id = check.id.text, .title = check.title, .severity = severity,
                                        .failing = reading_line(*failing), .why = failing->judged().place_why,
                                        .done = "", .proving = ""};
            if (failure.withdrawn) row.done = "Taken back as a slip; the entry stays on record.";
            row.withdrawn = failure.withdrawn;
            for (const auto& hash : failure.corrected_by) {
                const auto* proof = state->find(hash);
                if (proof == nullptr || !proof->correction) continue;
                row.done = record::shown(proof->correction->done);
                row.proving = reading_line(*proof);
            }
            input.nonconformities.push_back(std::move(row));
        }
        if (state->deferral) {
            const auto& d = state->deferral->deferred;
            input.deferrals.push_back({check.id.text, check.title, d.until, d.owner ? record::shown(*d.owner) : "",
                                       record::shown(d.why)});
        }
        if (state->concession)
            input.concessions.push_back({check.id.text, check.title, state->concession->conceded.by,
                                         record::shown(state->concession->conceded.why)});
    }
}

void add_photos(ReportInput& input, const JobInHand& job, const ReportSurroundings& around, std::size_t since) {
    // Photos of a house go into the report only with leave.
    if (!job.facts().yes("customer.photo_leave").value_or(false)) return;
    for (const auto& check : job.list->checks) {
        const auto* state = job.state().check(check.id.text);
        if (state == nullptr) continue;
        std::vector<std::string> placed;
        for (const auto& reading : state->readings) {
            if (reading.undone_by || reading.origin.order < since) continue;
            for (const auto& taken : reading.taken.photos) {
                const auto bytes = around.files.find(taken.id);
                if (bytes == around.files.end() ||
                    std::find(placed.begin(), placed.end(), taken.id) != placed.end())
                    continue;
                placed.push_back(taken.id);
                std::string caption = taken.caption ? record::shown(*taken.caption) : check.title;
                // Bytes without a sound head go on: the report refuses them by their caption.
                const auto head = photo::jpeg_head(bytes->second).value_or(photo::JpegHead{});
                input.photos.push_back({bytes->second, head.width, head.height,
                                        caption + ", " + printed_text(reading.taken.read_at)});
            }
        }
    }
}

void add_people(ReportInput& input, const JobInHand& job, const ReportSurroundings& around) {
    for (const auto& instrument : job.instruments()) {
        const auto& card = instrument.card;
        std::string pre_use = "not said";
        if (instrument.preuse == checklist::PreUse::Passed) pre_use = "passed";
        if (instrument.preuse == checklist::PreUse::Failed) pre_use = "failed";
        input.instruments.push_back({card.id, card.type, card.resolution, card.expanded_uncertainty,
                                     card.calibrated_on.value_or(""), card.calibration_due.value_or(""),
                                     card.certificate, pre_use});
    }
    for (const auto& signature : job.state().signatures) {
        if (!counts(job, signature)) continue;
        handover::ReportSignature row{
            .role = signature.by.role == record::SignRole::Crew ? language::marked("for the crew") : language::marked("customer"),
            .name = record::shown(signature.by.name), .at = printed_text(local_text(signature.origin.time, around.zone_minutes)), .strokes = {},
            .refused_because = signature.by.refused ? record::shown(*signature.by.refused) : "", .reservations = ""};
        if (signature.by.strokes)
            if (const auto svg = around.files.find(signature.by.strokes->id); svg != around.files.end())
                if (const auto strokes = strokes_of_svg(svg->second, ""))
                    for (const auto& stroke : *strokes) {
                        row.strokes.emplace_back();
                        for (const auto& point : stroke) row.strokes.back().push_back({point.x_mm, point.y_mm});
                    }
        input.signatures.push_back(std::move(row));
    }
}

void add_cautions(ReportInput& input, const JobView& view) {
    for (const auto& check : view.checks)
        for (const auto& caution : check.cautions) {
            const bool known = std::any_of(input.cautions.begin(), input.cautions.end(),
                                           [&](const auto& c) { return c.title == caution.title; });
            if (check.applies && !known) input.cautions.push_back({caution.title, caution.text});
        }
}

/// Where the customer's language is not the company's, page one is there in both.
void add_page_one(ReportInput& input, const JobInHand& job, const JobView& view, const ReportSurroundings& around) {
    fill_page_one(input, job, view, around);
    if (around.language.is_english()) return;
    ReportSurroundings ours = around;
    ours.language = {};
    ReportInput in_ours;
    in_ours.deferrals = input.deferrals;
    fill_page_one(in_ours, job, view, ours);
    input.company_page_one = std::move(in_ours.page_one);
}

}  // namespace

ReportInput report_input(const JobInHand& job, const JobView& view, const ReportSurroundings& around) {
    ReportInput input;
    input.job = job.state().number;
    input.language = around.language;
    input.title = view.row.practice ? language::marked("PRACTICE PAPER: nothing was fitted")
                                    : language::marked("Solar water heater: handover report");
    input.company = around.company;
    const std::string address = fact_text(job.state(), "site.address");
    input.place = address.empty() ? place_of(job.state()) : address;
    input.date = around.date;
    input.written = around.written;
    input.checklist = fmt::format("{} {} · {}", view.row.checklist, view.checklist_version, view.checklist_hash);
    input.engine = "witnessmark 0.1.0";
    input.plant = view.plant;
    for (const auto& fact : view.facts)
        input.facts.push_back({fact.meaning.empty() ? fact.key : fact.meaning,
                               fact.unit.empty() ? fact.text : fact.text + " " + fact.unit});
    for (const auto& stage : job.list->stages) {
        handover::ReportStage out{.title = stage.id + " " + stage.title, .checks = {}};
        for (const auto& check : view.checks)
            if (check.stage == stage.id)
                if (const auto* model = job.list->find(checklist::CheckId{check.id}))
                    out.checks.push_back(report_check(*job.list, *model, check));
        input.stages.push_back(std::move(out));
    }
    add_failures(input, job);
    const auto* first = first_handover(job.state());
    const bool later = has_news(job.state()) && first != nullptr;
    add_photos(input, job, around, later ? first->origin.order : 0);
    add_people(input, job, around);
    for (const auto& head : around.heads)
        input.heads.push_back({head.device, std::to_string(head.seq), head.hash});
    input.expectation = expectation_of(job, view, around.date, around.language);
    input.origins = figure_origins(job, view, input.expectation);
    input.glossary = handover::standard_glossary(around.language);
    add_cautions(input, view);
    add_page_one(input, job, view, around);
    if (later) make_supplement(input, job, view, around.zone_minutes);
    return input;
}

}  // namespace wm::desk
