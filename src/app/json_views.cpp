#include "app/json_views.hpp"

#include "desk/week_to_do.hpp"
#include "measure/outcome.hpp"

namespace wm::app {

namespace {

std::string word(desk::Outcome outcome) { return std::string{measure::in_words(outcome)}; }

Json measured(const std::optional<double>& value, const std::string& unit) {
    if (!value) return nullptr;
    return {{"value", *value}, {"unit", unit}};
}

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

bool is_numeric(const desk::CheckView& check) {
    return check.kind == "quantity" || check.kind == "positions" || check.kind == "series" ||
           check.kind == "computed";
}

template <class Row>
Json all(const std::vector<Row>& rows) {
    Json list = Json::array();
    for (const auto& row : rows) list.push_back(in_json(row));
    return list;
}

Json in_json(const desk::ShareView& share) {
    return {{"check", share.check}, {"name", share.name}, {"failed", share.failed}, {"tries", share.tries},
            {"share", share.share}, {"low", share.low}, {"high", share.high}, {"jobs", share.jobs},
            {"inconclusive", share.inconclusive}};
}

Json shares(const std::vector<desk::ShareView>& rows) {
    Json list = Json::array();
    for (const auto& row : rows) list.push_back(in_json(row));
    return list;
}

Json in_json(const desk::PlaceView& place) {
    return {{"name", place.name}, {"required", place.required}, {"said", place.said}, {"question", place.question},
            {"outcome", word(place.outcome)}, {"why", place.why}, {"text", place.text}, {"unit", place.unit},
            {"accepted", place.accepted}, {"refused", place.refused}};
}

}  // namespace

Json in_json(const desk::JobRow& row) {
    return {{"job", row.job}, {"checklist", row.checklist}, {"kind", row.kind}, {"place", row.place},
            {"crew", row.crew}, {"started", row.started}, {"state", row.state}, {"after", row.after},
            {"complaints", row.complaints}, {"complaints_open", row.complaints_open}, {"due", row.due.empty() ? Json(nullptr) : Json(row.due)},
            {"day", row.day.empty() ? Json(nullptr) : Json(row.day)}};
}

Json in_json(const desk::DueView& due) {
    return {{"job", due.job}, {"place", due.place}, {"check", due.check}, {"title", due.title},
            {"until", due.until}, {"days", due.days}, {"owner", due.owner}, {"why", due.why}};
}

Json in_json(const desk::LimitsView& limits) {
    return {{"text", limits.text},
            {"low", measured(limits.low, limits.unit)},
            {"high", measured(limits.high, limits.unit)},
            {"accept_low", measured(limits.accept_low, limits.unit)},
            {"accept_high", measured(limits.accept_high, limits.unit)},
            {"rule", limits.rule},
            {"how", limits.how}};
}

Json in_json(const desk::ReadingView& reading) {
    return {{"entry", reading.entry},
            {"text", reading.text},
            {"value", or_null(reading.value)},
            {"unit", reading.unit},
            {"place", reading.place},
            {"instrument", reading.instrument},
            {"at", reading.at},
            {"entered_at", reading.entered_at.empty() ? Json(nullptr) : Json(reading.entered_at)},
            {"time_by_hand", reading.time_by_hand},
            {"by", reading.by},
            {"corrects", reading.corrects.empty() ? Json(nullptr) : Json(reading.corrects)},
            {"outcome", word(reading.outcome)},
            {"done", reading.done},
            {"undone", reading.undone},
            {"out_of_order", reading.out_of_order},
            {"blocked_by", reading.blocked_by},
            {"photos", reading.photos}};
}

Json in_json(const desk::CheckView& check) {
    Json places = Json::array();
    for (const auto& place : check.places) places.push_back(in_json(place));
    Json cautions = Json::array();
    for (const auto& caution : check.cautions) cautions.push_back({{"id", caution.id}, {"text", caution.text}});
    return {{"id", check.id},
            {"stage", check.stage},
            {"kind", check.kind},
            {"title", check.title},
            {"question", check.question},
            {"core", check.core},
            {"hold", check.hold},
            {"severity", check.severity},
            {"outcome", word(check.outcome)},
            {"why", check.why},
            {"tolerance", is_numeric(check) ? in_json(check.limits) : Json(nullptr)},
            {"readings", all(check.readings)},
            {"waits_for", check.waits_for},
            {"missing_facts", check.missing_facts},
            {"beforehand", check.beforehand},
            {"places", places},
            {"channels", check.channels},
            {"extras", check.extras},
            {"unit", check.unit},
            {"instrument_type", check.instrument_type},
            {"accepted", check.accepted},
            {"refused", check.refused},
            {"photo", check.photo},
            {"cautions", cautions},
            {"deferral", check.deferral ? Json{{"until", check.deferral->until}, {"owner", check.deferral->owner},
                                              {"why", check.deferral->why}}
                                        : Json(nullptr)},
            {"concession", check.concession},
            {"conflict", check.conflict}};
}

Json in_json(const desk::JobView& job) {
    Json facts = Json::object();
    for (const auto& fact : job.facts) facts[fact.key] = fact.text;
    Json blockers = Json::array();
    for (const auto& blocker : job.blockers)
        blockers.push_back({{"check", blocker.check}, {"outcome", blocker.outcome}, {"why", blocker.why}});
    Json signatures = Json::array();
    for (const auto& signature : job.signatures)
        signatures.push_back({{"role", signature.role}, {"name", signature.name}, {"at", signature.at},
                              {"refused_because", signature.refused_because}});
    return {{"job", job.row.job},
            {"checklist", {{"name", job.row.checklist}, {"version", job.checklist_version},
                           {"hash", job.checklist_hash}}},
            {"facts", facts},
            {"checks", all(job.checks)},
            {"blockers", blockers},
            {"restrictions", job.restrictions},
            {"signatures", signatures},
            {"questions", job.questions},
            {"times_by_hand", job.times_by_hand},
            {"notes", job.notes},
            {"state", job.row.state},
            {"head", job.head}};
}

Json in_json(const desk::Answer& answer) {
    return {{"check", answer.check},
            {"outcome", word(answer.outcome)},
            {"why", answer.why},
            {"probability_conforming", or_null(answer.probability_conforming)},
            {"entry", answer.entry},
            {"place", answer.place},
            {"place_outcome", word(answer.place_outcome)},
            {"out_of_order", !answer.blocked_by.empty()},
            {"blocked_by", answer.blocked_by}};
}

Json in_json(const desk::MessageView& message) {
    return {{"message", message.message}, {"to", message.to}, {"subject", message.subject},
            {"state", message.state}, {"tries", message.tries},
            {"next_try", message.next_try.empty() ? Json(nullptr) : Json(message.next_try)},
            {"last_answer", message.last_answer.empty() ? Json(nullptr) : Json(message.last_answer)},
            {"job", message.job}, {"in_words", message.state_words}};
}

Json in_json(const desk::ActionView& action) {
    Json effects = Json::array();
    for (const auto& effect : action.effects)
        effects.push_back({{"after_days", effect.after_days}, {"told_on", effect.told_on}, {"due", effect.is_due},
                           {"recorded", effect.recorded}, {"before_failed", effect.before_failed},
                           {"before_tries", effect.before_tries}, {"after_failed", effect.after_failed},
                           {"after_tries", effect.after_tries}, {"difference", or_null(effect.difference)},
                           {"low", or_null(effect.low)}, {"high", or_null(effect.high)}, {"verdict", effect.verdict},
                           {"sentence", effect.sentence}});
    const auto if_any = [](const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); };
    return {{"action", action.action}, {"finding", action.finding}, {"subject", action.subject}, {"check", action.check},
            {"week", action.week}, {"cause", action.cause}, {"cause_words", action.cause_words}, {"remedy", action.remedy},
            {"owner", action.owner}, {"due", action.due}, {"decided_on", action.decided_on}, {"done_on", if_any(action.done_on)},
            {"follows", if_any(action.follows)}, {"ended_because", if_any(action.ended_because)}, {"state", action.state},
            {"closed", action.is_closed}, {"age_days", action.age_days}, {"effects", effects}};
}

namespace {

Json in_json(const desk::WeekFilterView& filter) {
    Json json{{"weeks", filter.weeks}};
    for (const auto& [key, name] : {std::pair{"crew", &filter.crew}, std::pair{"check", &filter.check}, std::pair{"roof", &filter.roof},
                                    std::pair{"kind", &filter.kind}, std::pair{"batch", &filter.batch},
                                    std::pair{"instrument", &filter.instrument}, std::pair{"street", &filter.street}})
        if (!name->empty()) json[key] = *name;
    return json;
}

}  // namespace

namespace {

Json points_of(const desk::GaugeView& gauge) {
    Json points = Json::array();
    for (const auto& point : gauge.points)
        points.push_back({{"day", point.day}, {"difference_kpa", point.difference_kpa}, {"sum", point.sum}, {"beyond", point.beyond}, {"job", point.job}});
    return points;
}

Json in_json(const std::vector<desk::ToDo>& lines) {
    Json all_lines = Json::array();
    for (const auto& line : lines)
        all_lines.push_back({{"kind", desk::in_words(line.kind)}, {"words", line.words}, {"subject", line.subject}, {"check", line.check},
                             {"jobs", line.jobs}, {"evidence", line.evidence}});
    return all_lines;
}

Json in_json(const desk::FunnelView& funnel) {
    Json points = Json::array();
    for (const auto& point : funnel.points)
        points.push_back({{"crew", point.name}, {"failed", point.failed}, {"tries", point.tries}, {"share", point.share}, {"low", point.low},
                          {"high", point.high}, {"outside", point.outside}, {"jobs", point.jobs}});
    Json limits = Json::array();
    for (const auto& at : funnel.limits)
        limits.push_back({{"tries", at.tries}, {"low95", at.low95}, {"high95", at.high95}, {"low998", at.low998}, {"high998", at.high998}});
    return {{"target", funnel.target}, {"spread", funnel.spread}, {"points", points}, {"limits", limits}};
}

}  // namespace

Json in_json(const desk::WeekView& week) {
    Json severe = Json::array();
    for (const auto& row : week.severe)
        severe.push_back({{"job", row.job}, {"check", row.check}, {"outcome", row.outcome}, {"corrected", row.corrected}});
    Json open = Json::array();
    for (const auto& row : week.open)
        open.push_back({{"job", row.job}, {"check", row.check}, {"age_days", row.age_days}, {"owner", row.owner},
                        {"what", row.what}});
    Json findings = Json::array();
    for (const auto& row : week.findings)
        findings.push_back({{"kind", row.kind}, {"subject", row.subject}, {"check", row.check},
                            {"sentence", row.sentence}, {"p", row.p}, {"q", row.q}, {"failed", row.failed},
                            {"tries", row.tries}, {"others_failed", row.others_failed},
                            {"others_tries", row.others_tries}, {"jobs", row.jobs}, {"what_to_do", row.what_to_do},
                            {"actions", row.actions}, {"low", or_null(row.low)}, {"high", or_null(row.high)},
                            {"others_low", or_null(row.others_low)}, {"others_high", or_null(row.others_high)},
                            {"others_jobs", row.others_jobs ? Json(*row.others_jobs) : Json(nullptr)}, {"compared_with", row.compared_with}});
    Json questions = Json::array();
    for (const auto& row : week.questions)
        questions.push_back({{"kind", row.kind}, {"subject", row.subject}, {"check", row.check},
                             {"sentence", row.sentence}, {"what_to_do", row.what_to_do}, {"jobs", row.jobs}});
    Json complaints = Json::array();
    for (const auto& row : week.complaints) {
        const auto if_any = [](const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); };
        Json unproved = Json::array();
        for (const auto& gap : row.unproved) unproved.push_back({{"check", gap.check}, {"job", gap.job}, {"what", gap.what}});
        complaints.push_back({{"complaint", row.complaint}, {"job", row.job}, {"symptom", row.symptom}, {"told_on", row.told_on},
                              {"air", if_any(row.air)}, {"open", row.is_open}, {"age_days", row.age_days}, {"survey", if_any(row.survey)},
                              {"commissioning", if_any(row.commissioning)}, {"unproved", unproved}});
    }
    Json words_to_do = Json::array();
    const auto to_do = desk::to_do_of(week);
    for (const auto& line : to_do) words_to_do.push_back(line.words);
    Json ageing = Json::array();
    for (const auto& row : week.ageing)
        ageing.push_back({{"crew", row.crew}, {"put_off", row.put_off}, {"open", row.open},
                          {"forgotten", row.forgotten}, {"oldest_days", row.oldest_days},
                          {"median_days", or_null(row.median_days)}, {"jobs", row.jobs}, {"low", row.low}, {"high", row.high}});
    Json gauges = Json::array();
    for (const auto& row : week.gauges)
        gauges.push_back({{"instrument", row.instrument}, {"readings", row.readings}, {"recent_kpa", row.recent_kpa},
                          {"highest", row.highest}, {"p", row.p}, {"points", points_of(row)}, {"scatter_kpa", row.scatter_kpa},
                          {"low_kpa", row.low_kpa}, {"high_kpa", row.high_kpa}, {"jobs", row.jobs},
                          {"signal_since", row.signal_since.empty() ? Json(nullptr) : Json(row.signal_since)}});
    Json samples = Json::array();
    for (const auto& row : week.samples) samples.push_back({{"job", row.job}, {"why", row.why}, {"narrows", row.narrows.empty() ? Json(nullptr) : Json(row.narrows)},
                           {"revisit", row.revisit.empty() ? Json(nullptr) : Json(row.revisit)}});
    Json left_out = Json::array();
    for (const auto& row : week.rules_left_out) left_out.push_back({{"failure", row.failure}, {"rule", row.rule}, {"because", row.because}});
    Json health = Json::array();
    for (const auto& row : week.health)
        health.push_back({{"kind", row.kind}, {"check", row.check}, {"sentence", row.sentence}, {"proposal", row.proposal},
                          {"tries", row.tries}, {"jobs", row.jobs}});
    Json trend = Json::array();
    for (const auto& point : week.trend)
        trend.push_back({{"week", point.week}, {"failed", point.failed}, {"tries", point.tries}, {"share", point.share},
                         {"centre", point.centre}, {"low", point.low}, {"high", point.high}, {"signals", point.signals}, {"jobs", point.jobs}});
    Json actions = Json::array();
    for (const auto& row : week.actions) actions.push_back(in_json(row));
    return {{"week", week.week},
            {"jobs", week.jobs},
            {"results", week.results},
            {"inconclusive", week.inconclusive},
            {"looked_at", week.looked_at},
            {"failed", shares(week.failed)},
            {"by_crew", shares(week.by_crew)},
            {"by_batch", shares(week.by_batch)},
            {"severe", severe},
            {"open", open},
            {"findings", findings},
            {"questions", questions},
            {"complaints", complaints},
            {"ageing", ageing},
            {"gauges", gauges},
            {"samples", samples},
            {"finished", week.finished},
            {"seed", week.seed},
            {"rules_left_out", left_out},
            {"to_do", words_to_do},
            {"to_do_items", in_json(to_do)},
            {"actions", actions},
            {"health", health},
            {"trend", trend},
            {"funnel", week.funnel ? in_json(*week.funnel) : Json(nullptr)},
            {"filter", in_json(week.filter)},
            {"damaged", week.damaged}};
}

std::string document(const Json& json) {
    return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace wm::app
