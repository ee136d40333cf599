#include "desk/complaints.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "desk/facts_context.hpp"
#include "desk/house_jobs.hpp"
#include "desk/likely_causes.hpp"
#include "desk/permission.hpp"
#include "desk/view_parts.hpp"
#include "digest/text.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

record::Personal words(const std::string& text) { return {"", digest::composed(text)}; }

Problem not_given(std::string_view what, const std::string& where, std::string_view how) {
    return {fmt::format("{} is missing.", what), where, std::string{how}, ProblemKind::WrongUse};
}

/// Of who took or closed it: a person of the company, so it is locked apart from the customer's words.
Result<record::Personal> by_whom(Desk& desk, const std::string& named) {
    return desk.journal().said_by_house(digest::composed(named.empty() ? author(desk.setup(), "office") : named));
}

std::string month_text(const ComplaintView& complaint) { return (complaint.since.empty() ? complaint.told_at : complaint.since).substr(0, 7); }

std::optional<double> air_of(const std::string& text) {
    const auto celsius = units::unit_named("°C");
    const auto read = units::read_amount(text, *celsius, "air");
    return read ? std::optional{read->amount().in(*celsius)} : std::nullopt;
}

/// The temperature as it is kept: with its unit.
Result<std::string> air_text(const std::string& told, const std::string& where) {
    const auto celsius = units::unit_named("°C");
    const auto read = units::read_amount(told, *celsius, where);
    if (!read) return tl::unexpected(read.error());
    const double air = read->amount().in(*celsius);
    if (!std::isfinite(air) || air < -60.0 || air > 60.0)
        return refused({fmt::format("\"{}\" is no temperature of the air outside.", told), where, "Write it as \"-6 °C\", or leave it out.",
                        ProblemKind::Unreadable});
    return units::read_number(told) ? digest::composed(told) + " °C" : digest::composed(told);
}

ComplaintView view_of(const record::JobState& state, const record::ComplaintState& complaint, const checklist::FailureList& list,
                      const Desk& desk) {
    const auto& told = complaint.told;
    const auto now = desk.setup().now();
    const auto* symptom = list.symptom(told.symptom);
    ComplaintView view{.complaint = told.complaint, .job = state.number, .place = place_of(state),
                       .customer = fact_text(state, "customer.name"), .symptom = told.symptom,
                       .symptom_words = symptom ? symptom->words : told.symptom, .at_once = symptom ? symptom->at_once : "",
                       .words = told.words ? record::shown(*told.words) : "", .told_at = told.told_at, .since = told.since, .air = told.air,
                       .by = told.by ? record::shown(*told.by) : "", .age_days = 0, .is_open = true, .cause = "", .cause_words = "",
                       .found = "", .check = "", .check_title = "", .closed_at = "", .visit = "", .survey = "", .commissioning = "",
                       .revisit = "", .causes = {}, .repeat = {}};
    std::string until = day_of(now);
    if (const auto* closed = state.closing_of(complaint)) {
        view.is_open = false;
        view.cause = closed->cause;
        const auto* failure = list.failure(closed->cause);
        view.cause_words = failure ? failure->mode : closed->cause;
        view.found = record::shown(closed->found);
        view.check = closed->check;
        if (!view.check.empty()) view.check_title = check_title(desk.library(), view.check);
        view.closed_at = closed->closed_at;
        view.visit = closed->visit;
        until = day_of(view.closed_at);
    }
    view.age_days = std::max(0, days_between(day_of(view.told_at), until).value_or(0));
    return view;
}

void add_house(ComplaintView& view, const std::vector<const JobRow*>& house) {
    for (const auto* row : house) {
        if (row->kind == "survey") view.survey = row->job;
        if (row->kind == "commissioning") view.commissioning = row->job;
        if (row->kind == "service" && row->state == "open" && row->after == view.job) view.revisit = row->job;
    }
}

/// The time of the newest reading that stands, of one check or of all; empty = none.
std::string last_read(const record::JobState& state, std::string_view only) {
    std::string last;
    for (const auto& [id, check] : state.checks) {
        if (!only.empty() && id != only) continue;
        for (const auto& reading : check.readings)
            if (!reading.undone_by && reading.origin.time > last) last = reading.origin.time;
    }
    return last;
}

void oldest_open_first(std::vector<ComplaintView>& all) {
    std::stable_sort(all.begin(), all.end(), [](const ComplaintView& a, const ComplaintView& b) {
        if (a.is_open != b.is_open) return a.is_open;
        return a.is_open ? a.told_at < b.told_at : b.told_at < a.told_at;
    });
}

/// What complaints of the company came down to before, of this symptom.
Result<std::map<std::string, int, std::less<>>> closed_before(Desk& desk, const std::string& symptom) {
    const auto columns = desk.audit_columns();
    if (!columns) return tl::unexpected(columns.error());
    std::map<std::string, int, std::less<>> counts;
    for (const auto& row : (*columns)->rest().complaints)
        if (row.symptom == symptom && !row.cause.empty()) ++counts[row.cause];
    return counts;
}

Result<void> add_causes(Desk& desk, ComplaintView& view, const checklist::FailureList& list, const HouseRecord& record, const JobInHand& hand) {
    ComplaintSigns signs{.symptom = view.symptom, .air_c = air_of(view.air), .month = 0, .southern = false,
                         .taken_for_frost_free = hand.facts().word("site.frost_class").value_or("") == "none", .closed_before = {}};
    if (const auto month = month_text(view); month.size() == 7)
        if (const auto number = units::read_number(month.substr(5))) signs.month = static_cast<int>(*number);
    if (const auto latitude = hand.facts().number("site.latitude")) signs.southern = latitude->si < 0.0;
    auto before = closed_before(desk, view.symptom);
    if (!before) return tl::unexpected(before.error());
    signs.closed_before = std::move(*before);
    const auto context = facts_context(hand);
    const checklist::Given given{context, {}, nullptr};
    view.causes = likely_causes(list, desk.library(), record, signs, [&](const checklist::FailureMode& failure) {
        // What is not known rules nothing out.
        return !failure.needs || checklist::is_true(*failure.needs, failure.needs->root(), given).value_or(true);
    });
    view.repeat = checks_to_repeat(view.causes);
    return {};
}

struct House {
    std::vector<JobRow> rows;
    std::vector<const JobRow*> jobs;  ///< inside `rows`
};

Result<House> house_of(Desk& desk, const std::string& job) {
    auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    House house{std::move(*rows), {}};
    house.jobs = jobs_of_house(house.rows, job);
    return house;
}

Result<void> mark_read_since(Desk& desk, ComplaintView& view, const std::string& called) {
    for (auto& row : view.repeat) {
        if (row.job.empty()) continue;
        const auto job = desk.in_hand(row.job);
        if (!job) return tl::unexpected(job.error());
        row.read_since = last_read(job->state(), row.check) > called;
    }
    return {};
}

bool stands_right(const CatchView& row) { return row.state == "conforms" || row.state == "put right"; }

/// The complaint that is meant; it may be left unnamed where one is open.
Result<const record::ComplaintState*> open_one(const record::JobState& state, const std::string& named, const std::string& where) {
    const record::ComplaintState* found = nullptr;
    std::vector<std::string> open;
    for (const auto* complaint : state.standing_complaints()) {
        const bool is_open = state.closing_of(*complaint) == nullptr;
        if (complaint->told.complaint == named) {
            if (!is_open)
                return refused({fmt::format("The complaint {} is closed.", named), where, "Take a new one if it is back.", ProblemKind::Refused});
            return complaint;
        }
        if (!is_open) continue;
        found = complaint;
        open.push_back(complaint->told.complaint);
    }
    if (!named.empty())
        return refused({fmt::format("This job has no complaint {}.", named), where, "See witnessmark complaint list.", ProblemKind::Unreadable});
    if (open.empty()) return refused({"No complaint of this job is open.", where, "Nothing needs to be done.", ProblemKind::Refused});
    if (open.size() > 1)
        return refused({fmt::format("Several complaints of this job are open: {}.", fmt::join(open, ", ")), where,
                        "Name one with --complaint.", ProblemKind::WrongUse});
    return found;
}

/// What was right before the customer called proves nothing: the check, or else the visit, was read since.
Result<void> proved_since(Desk& desk, const CloseComplaint& intent, const House& house, const std::string& called, const std::string& where) {
    if (intent.check.empty()) {
        const auto visit = desk.in_hand(intent.visit);
        if (!visit) return tl::unexpected(visit.error());
        if (last_read(visit->state(), "") > called) return {};
        return refused({fmt::format("Nothing was read in {} since the customer called.", intent.visit), where, "Enter what was found at the visit first.",
                        ProblemKind::Refused});
    }
    const auto record = record_of_house(desk, house.jobs);
    if (!record) return tl::unexpected(record.error());
    const auto row = record->find(intent.check);
    if (row == record->end() || !stands_right(row->second))
        return refused({fmt::format("The check \"{}\" does not stand as right at this house.", intent.check), where,
                        "Read it at the visit first, or name the visit alone.", ProblemKind::Refused});
    const auto job = desk.in_hand(row->second.job);
    if (!job) return tl::unexpected(job.error());
    if (last_read(job->state(), intent.check) > called) return {};
    return refused({fmt::format("The check \"{}\" stood as right already when the customer called.", intent.check), where,
                    "Read it again, or name the visit alone.", ProblemKind::Refused});
}

}  // namespace

Result<checklist::FailureList> failure_list(Desk& desk) {
    const auto text = desk.setup().library.find("failures.toml");
    if (text == desk.setup().library.end())
        return refused({"There is no list of failures.", "the folder of checklists, failures.toml", "Install the program again.",
                        ProblemKind::Unreadable});
    return checklist::load_failures(text->second, "failures.toml", desk.library());
}

Result<ComplaintSheetView> complaint_sheet(Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto list = failure_list(desk);
    if (!list) return tl::unexpected(list.error());
    const auto house = house_of(desk, job);
    if (!house) return tl::unexpected(house.error());
    ComplaintSheetView sheet{.job = job, .place = place_of(hand->state()), .customer = fact_text(hand->state(), "customer.name"),
                             .symptoms = {}, .complaints = {},
                             .weights = fmt::format("The weights stand in failures.toml, version {} of {}: common practice, no source. What complaints "
                                                    "of our own came down to is added.",
                                                    list->version, list->date)};
    for (const auto& symptom : list->symptoms) sheet.symptoms.push_back({symptom.id, symptom.words, symptom.at_once});
    std::optional<HouseRecord> record;
    for (const auto* row : house->jobs) {
        if (row->complaints == 0) continue;
        const auto other = desk.in_hand(row->job);
        if (!other) return tl::unexpected(other.error());
        for (const auto* complaint : other->state().standing_complaints()) {
            auto view = view_of(other->state(), *complaint, *list, desk);
            add_house(view, house->jobs);
            if (!record) {
                auto made = record_of_house(desk, house->jobs);
                if (!made) return tl::unexpected(made.error());
                record = std::move(*made);
            }
            if (view.is_open) {
                if (auto done = add_causes(desk, view, *list, *record, *hand); !done) return tl::unexpected(done.error());
                if (auto done = mark_read_since(desk, view, complaint->origin.time); !done) return tl::unexpected(done.error());
            }
            sheet.complaints.push_back(std::move(view));
        }
    }
    // At one house the last call is what somebody looks for.
    std::stable_sort(sheet.complaints.begin(), sheet.complaints.end(), [](const ComplaintView& a, const ComplaintView& b) {
        return a.is_open != b.is_open ? a.is_open : b.told_at < a.told_at;
    });
    return sheet;
}

Result<std::vector<ComplaintView>> complaint_list(Desk& desk) {
    const auto list = failure_list(desk);
    if (!list) return tl::unexpected(list.error());
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    std::vector<ComplaintView> all;
    for (const auto& row : *rows) {
        if (row.complaints == 0 || row.practice) continue;
        const auto hand = desk.in_hand(row.job);
        if (!hand) return tl::unexpected(hand.error());
        const auto house = jobs_of_house(*rows, row.job);
        for (const auto* complaint : hand->state().standing_complaints()) {
            all.push_back(view_of(hand->state(), *complaint, *list, desk));
            add_house(all.back(), house);
        }
    }
    oldest_open_first(all);
    return all;
}

std::string told_to_visit(const ComplaintView& complaint) {
    std::string text = fmt::format("Complaint {}: {}", complaint.complaint, complaint.symptom_words);
    if (!complaint.since.empty()) text += ", since " + complaint.since;
    if (!complaint.air.empty()) text += ", at " + complaint.air + " outside";
    text += ".";
    if (!complaint.words.empty()) text += fmt::format(" In the customer's words: {}", complaint.words);
    constexpr std::size_t most = 3;
    std::vector<std::string> likely;
    std::vector<std::string> repeat;
    for (std::size_t i = 0; i < std::min(most, complaint.causes.size()); ++i) {
        const auto& cause = complaint.causes[i];
        likely.push_back(fmt::format("{} ({:.0f} %)", cause.mode, 100.0 * cause.share));
        for (const auto& row : cause.checks)
            if (std::find(repeat.begin(), repeat.end(), row.title) == repeat.end()) repeat.push_back(row.title);
    }
    if (!likely.empty()) text += fmt::format(" Likeliest: {}. Repeat: {}.", fmt::join(likely, ", "), fmt::join(repeat, "; "));
    return text;
}

Result<std::string> Desk::carry_out(const TakeComplaint& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const std::string where = "complaint about job " + intent.job;
    const auto list = failure_list(*this);
    if (!list) return tl::unexpected(list.error());
    if (list->symptom(intent.symptom) == nullptr) {
        std::vector<std::string> known;
        for (const auto& symptom : list->symptoms) known.push_back(symptom.id);
        return refused({intent.symptom.empty() ? "The symptom is missing." : fmt::format("\"{}\" is no symptom of the list.", intent.symptom), where,
                        fmt::format("Use one of: {}.", fmt::join(known, ", ")),
                        intent.symptom.empty() ? ProblemKind::WrongUse : ProblemKind::Unreadable});
    }
    if (intent.symptom == "other" && intent.words.empty()) return refused(not_given("What the customer says", where, "Write --words \"…\"."));
    const auto now = setup_.now();
    if (!intent.since.empty()) {
        const auto ahead = days_between(day_of(now), intent.since);
        if (!ahead) return refused({fmt::format("\"{}\" is no date.", intent.since), where, "Write it as 2027-03-18.", ProblemKind::Unreadable});
        if (*ahead > 0) return refused({fmt::format("{} is still to come.", intent.since), where, "Name the day it began.", ProblemKind::Unreadable});
    }
    std::string air;
    if (!intent.air.empty()) {
        auto read = air_text(intent.air, where);
        if (!read) return tl::unexpected(read.error());
        air = std::move(*read);
    }
    auto by = by_whom(*this, intent.by);
    if (!by) return tl::unexpected(by.error());
    std::string prefix = journal_.device().substr(0, 4);
    std::transform(prefix.begin(), prefix.end(), prefix.begin(), [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
    // The place in the chain of this device: no other complaint has it, whatever comes in from elsewhere.
    const std::string number = fmt::format("C-{}-{:05}", prefix, journal_.head().seq + 1);
    auto written = append(*hand, {{intent.job, record::ComplaintTold{.complaint = number,
                                                                     .symptom = intent.symptom,
                                                                     .words = intent.words.empty() ? std::nullopt : std::optional{words(intent.words)},
                                                                     .told_at = text_of(now),
                                                                     .since = intent.since,
                                                                     .air = std::move(air),
                                                                     .by = std::move(*by)}}});
    if (!written) return tl::unexpected(written.error());
    return number;
}

Result<void> Desk::carry_out(const CloseComplaint& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const std::string where = "complaint about job " + intent.job;
    const auto open = open_one(hand->state(), intent.complaint, where);
    if (!open) return tl::unexpected(open.error());
    const auto list = failure_list(*this);
    if (!list) return tl::unexpected(list.error());
    if (!intent.cause.empty() && list->failure(intent.cause) == nullptr) {
        std::vector<std::string> known;
        for (const auto& failure : list->failures) known.push_back(failure.id);
        return refused({fmt::format("\"{}\" is no failure of the list.", intent.cause), where,
                        fmt::format("Use one of: {}; or \"other\".", fmt::join(known, ", ")), ProblemKind::Unreadable});
    }
    if (intent.found.empty()) return refused(not_given("What it was, and what was done", where, "Write --words \"…\"."));
    if (intent.check.empty() && intent.visit.empty())
        return refused(not_given("What proves that it is right now", where, "Name the check with --check, or the visit with --proved-in."));
    const auto house = house_of(*this, intent.job);
    if (!house) return tl::unexpected(house.error());
    if (!intent.visit.empty() && std::none_of(house->jobs.begin(), house->jobs.end(), [&](const JobRow* row) { return row->job == intent.visit; }))
        return refused({fmt::format("{} is no job at this house.", intent.visit), where, "Name the visit as job list shows it.", ProblemKind::Unreadable});
    if (auto proved = proved_since(*this, intent, *house, (*open)->origin.time, where); !proved) return proved;
    auto by = by_whom(*this, intent.by);
    if (!by) return tl::unexpected(by.error());
    auto written = append(*hand, {{intent.job, record::ComplaintClosed{.complaint = (*open)->told.complaint,
                                                                       .cause = intent.cause,
                                                                       .found = words(intent.found),
                                                                       .check = intent.check,
                                                                       .visit = intent.visit,
                                                                       .closed_at = text_of(setup_.now()),
                                                                       .by = std::move(*by)}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<std::string> Desk::carry_out(const VisitForComplaint& intent) {
    const auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto open = open_one(hand->state(), intent.complaint, "complaint about job " + intent.job);
    if (!open) return tl::unexpected(open.error());
    const auto number = (*open)->told.complaint;
    const auto sheet = complaint_sheet(*this, intent.job);
    if (!sheet) return tl::unexpected(sheet.error());
    const auto wanted = std::find_if(sheet->complaints.begin(), sheet->complaints.end(), [&](const ComplaintView& one) { return one.complaint == number; });
    if (wanted == sheet->complaints.end())
        return refused({fmt::format("The complaint {} cannot be read.", number), "job " + intent.job, "Look at it with witnessmark complaint.", ProblemKind::Unreadable});
    const auto note = told_to_visit(*wanted);
    if (wanted->revisit.empty()) return carry_out(OpenRevisit{intent.job, note});
    auto visit = in_hand(wanted->revisit);
    if (!visit) return tl::unexpected(visit.error());
    const auto& notes = visit->state().notes;
    if (std::any_of(notes.begin(), notes.end(), [&](const auto& kept) { return record::shown(kept.second.text).find(number) != std::string::npos; }))
        return wanted->revisit;
    auto written = append(*visit, {{wanted->revisit, record::NoteMade{.text = words(note), .check = "", .by = author(setup_, "office")}}});
    if (!written) return tl::unexpected(written.error());
    return wanted->revisit;
}

}  // namespace wm::desk
