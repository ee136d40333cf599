// Readings and what people decide about them.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/enter_command.hpp"
#include "app/instrument_command.hpp"
#include "app/json_views.hpp"
#include "checklist/document.hpp"
#include "desk/strokes.hpp"
#include "measure/outcome.hpp"

namespace wm::app {

namespace {

bool says_no(const desk::Answer& answer) {
    const auto no = [](desk::Outcome outcome) {
        return outcome == desk::Outcome::DoesNotConform || outcome == desk::Outcome::Inconclusive;
    };
    return no(answer.outcome) || no(answer.place_outcome) || answer.no_evidence;
}

std::string answer_line(const desk::Answer& answer) {
    std::string line = answer.check;
    if (!answer.place.empty()) line += " " + answer.place;
    line += fmt::format(": {}. {}", measure::in_words(answer.place_outcome), answer.why);
    if (answer.place_outcome != answer.outcome)
        line += fmt::format(" The whole check: {}.", measure::in_words(answer.outcome));
    if (!answer.blocked_by.empty()) {
        line += " Taken before:";
        for (const auto& id : answer.blocked_by) line += " " + id;
        line += ".";
    }
    return line + "\n";
}

}  // namespace

// The last answer speaks for the whole; the places stand beside it.
Output answered(const std::vector<desk::Answer>& answers, Form form) {
    Output output;
    for (const auto& answer : answers)
        if (says_no(answer)) output.code = 1;
    if (form == Form::Json) {
        Json json = in_json(answers.back());
        if (answers.size() > 1) {
            Json places = Json::array();
            for (const auto& answer : answers)
                places.push_back({{"place", answer.place}, {"outcome", measure::in_words(answer.place_outcome)},
                                  {"why", answer.why}, {"entry", answer.entry}});
            json["places"] = places;
        }
        output.data = document(json);
        return output;
    }
    for (const auto& answer : answers) output.data += answer_line(answer);
    return output;
}

Result<desk::TakeReading> reading_from(const Arguments& arguments) {
    desk::TakeReading reading;
    const auto job = arguments.word(1, "The job number");
    if (!job) return tl::unexpected(job.error());
    const auto check = arguments.word(2, "The check");
    if (!check) return tl::unexpected(check.error());
    reading.job = *job;
    reading.check = *check;
    if (arguments.words.size() > 3) reading.text = arguments.words[3];
    else if (arguments.has("photo")) reading.text = "yes";
    else return tl::unexpected(arguments.word(3, "The value").error());
    reading.place = arguments.value("place");
    reading.instrument = arguments.value("instrument");
    reading.caption = arguments.value("caption");
    reading.read_at = arguments.value("read-at");
    reading.by = arguments.value("by");
    reading.sure = arguments.has("sure");
    reading.said = arguments.has("said");
    reading.keep_position = arguments.has("keep-position");
    if (arguments.has("photo")) {
        auto bytes = read_file(arguments.value("photo"));
        if (!bytes) return tl::unexpected(bytes.error());
        reading.photo = std::move(*bytes);
        reading.photo_name = arguments.value("photo");
    }
    return reading;
}

namespace {

struct FileEntry {
    desk::TakeReading reading;
    std::string done;
    std::string where;
};

Result<std::vector<FileEntry>> entries_of(const std::string& file, const std::string& job) {
    const auto text = read_file(file);
    if (!text) return tl::unexpected(text.error());
    std::vector<FileEntry> entries;
    const auto read = checklist::read_document(*text, file);
    if (!read) return tl::unexpected(read.error());
    const auto* list = read->find("enter");
    if (list == nullptr || list->type != checklist::ItemType::List)
        return refused({"The file holds no [[enter]].", file, "Write [[enter]] with check and value for each reading.",
                        ProblemKind::Unreadable});
    for (const auto& row : list->items) {
        const std::string where = checklist::place_of(file, row.at);
        if (row.type != checklist::ItemType::Table)
            return refused({"\"enter\" is a list of something else than entries.", where,
                            "Write [[enter]] with check and value for each reading.", ProblemKind::Unreadable});
        FileEntry entry;
        entry.where = where;
        entry.reading.job = job;
        for (const auto& [key, value] : row.entries) {
            const bool is_text = value.type == checklist::ItemType::Text;
            if (!is_text && !((key == "sure" || key == "said") && value.type == checklist::ItemType::YesNo))
                return refused({fmt::format("\"{}\" must be a text in quotes.", key), where,
                                "Write it as \"23.5 N·m\".", ProblemKind::Unreadable});
            if (key == "check") entry.reading.check = value.text;
            else if (key == "value") entry.reading.text = value.text;
            else if (key == "place") entry.reading.place = value.text;
            else if (key == "instrument") entry.reading.instrument = value.text;
            else if (key == "at") entry.reading.read_at = value.text;
            else if (key == "by") entry.reading.by = value.text;
            else if (key == "caption") entry.reading.caption = value.text;
            else if (key == "photo") entry.reading.photo_name = value.text;
            else if (key == "done") entry.done = value.text;
            else if (key == "sure") entry.reading.sure = is_text ? value.text == "yes" : value.yes;
            else if (key == "said") entry.reading.said = is_text ? value.text == "yes" : value.yes;
            else
                return refused({fmt::format("\"{}\" means nothing in an [[enter]].", key), where,
                                "Use check, value, place, instrument, at, by, caption, photo, done, sure, said.",
                                ProblemKind::Unreadable});
        }
        if (!entry.reading.photo_name.empty()) {
            auto bytes = read_file(entry.reading.photo_name);
            if (!bytes) return tl::unexpected(bytes.error());
            entry.reading.photo = std::move(*bytes);
        }
        entries.push_back(std::move(entry));
    }
    return entries;
}

Output enter_file(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    const auto entries = entries_of(arguments.value("from"), *job);
    if (!entries) return told_as(entries.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    Output output;
    Json list = Json::array();
    std::size_t stored = 0;
    for (const auto& entry : *entries) {
        const auto answers = entry.done.empty() ? desk->carry_out(entry.reading)
                                                : desk->carry_out(desk::CorrectFault{entry.reading, entry.done});
        if (!answers) {
            Problem problem = answers.error();
            problem.where = entry.where + ", " + problem.where;
            Output stopped = told_as(problem, form);
            stopped.talk += fmt::format("{} of {} entries were stored before that.\n", stored, entries->size());
            if (form == Form::Text) stopped.data = output.data;
            else
                stopped.data = document({{"problem", {{"what", problem.what}, {"where", problem.where},
                                                      {"what_to_do", problem.what_to_do}}},
                                         {"stored", stored}, {"answers", list}});
            return stopped;
        }
        ++stored;
        for (const auto& answer : *answers) {
            if (says_no(answer)) output.code = 1;
            if (form == Form::Json) list.push_back(in_json(answer));
            else output.data += answer_line(answer);
        }
    }
    if (form == Form::Json) output.data = document({{"stored", stored}, {"answers", list}});
    output.talk = fmt::format("{} of {} entries stored.\n", stored, entries->size());
    return output;
}

// One intent that gives nothing back but that it was done.
template <class Intent>
Output carried_out(const Intent& intent, const Arguments& arguments, const World& world, const std::string& talk) {
    const Form form = form_of(arguments);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto done = desk->carry_out(intent);
    if (!done) return told_as(done.error(), form);
    return {form == Form::Json ? document({{"done", true}, {"job", intent.job}}) : "", talk, 0};
}

}  // namespace

Output run_enter(const Arguments& arguments, const World& world) {
    if (arguments.has("from")) return enter_file(arguments, world);
    if (is_from_instrument(arguments)) return enter_from_instrument(arguments, world);
    const Form form = form_of(arguments);
    const auto reading = reading_from(arguments);
    if (!reading) return told_as(reading.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto answers = desk->carry_out(*reading);
    return answers ? answered(*answers, form) : told_as(answers.error(), form);
}

Output run_correct(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (is_from_instrument(arguments)) {
        if (arguments.value("done").empty())
            return told_as({"It is not said what was done.", "correct", "Write --done \"what was done\".", ProblemKind::WrongUse}, form);
        return enter_from_instrument(arguments, world);
    }
    const auto reading = reading_from(arguments);
    if (!reading) return told_as(reading.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto answers = desk->carry_out(desk::CorrectFault{*reading, arguments.value("done")});
    return answers ? answered(*answers, form) : told_as(answers.error(), form);
}

namespace {

struct JobAndCheck {
    std::string job, check;
};

Result<JobAndCheck> named(const Arguments& arguments) {
    const auto job = arguments.word(1, "The job number");
    if (!job) return tl::unexpected(job.error());
    const auto check = arguments.word(2, "The check");
    if (!check) return tl::unexpected(check.error());
    return JobAndCheck{*job, *check};
}

}  // namespace

Output run_defer(const Arguments& arguments, const World& world) {
    const auto which = named(arguments);
    if (!which) return told_as(which.error(), form_of(arguments));
    return carried_out(desk::DeferCheck{which->job, which->check, arguments.value("until"), arguments.value("owner"),
                                        arguments.value("why")},
                       arguments, world, fmt::format("{} is deferred until {}.\n", which->check, arguments.value("until")));
}

Output run_concede(const Arguments& arguments, const World& world) {
    const auto which = named(arguments);
    if (!which) return told_as(which.error(), form_of(arguments));
    return carried_out(desk::ConcedeCheck{which->job, which->check, arguments.value("by"), arguments.value("why")},
                       arguments, world, fmt::format("{} is accepted by concession.\n", which->check));
}

Output run_resolve(const Arguments& arguments, const World& world) {
    const auto which = named(arguments);
    if (!which) return told_as(which.error(), form_of(arguments));
    return carried_out(
        desk::ResolveConflict{which->job, which->check, arguments.value("place"), arguments.value("keep")}, arguments,
        world, fmt::format("The reading of {} is decided; both stay on record.\n", which->check));
}

Output run_undo(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto undone = desk->carry_out(desk::UndoLast{*job});
    if (!undone) return told_as(undone.error(), form);
    // For scripts by its id, for people by its title.
    std::string by_id = undone->words;
    for (const auto& list : desk->library().checklists)
        if (const auto* check = list.find(checklist::CheckId{undone->check}); check != nullptr && by_id.ends_with(check->title))
            by_id.replace(by_id.size() - check->title.size(), check->title.size(), undone->check);
    return {form == Form::Json ? document({{"undone", by_id}, {"check", undone->check.empty() ? Json(nullptr) : Json(undone->check)}}) : "",
            fmt::format("Taken back: {}.\n", undone->words), 0};
}

Output run_sign(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    const std::string role = arguments.value("as");
    if (role != "crew" && role != "customer")
        return told_as({"It is not said who signs.", "sign", "Write --as crew or --as customer.", ProblemKind::WrongUse}, form);
    desk::Sign intent{.job = *job,
                      .role = role == "crew" ? desk::Signer::Crew : desk::Signer::Customer,
                      .name = arguments.value("name"),
                      .strokes = {},
                      .refused_because = arguments.value("refused")};
    if (arguments.has("strokes")) {
        const auto svg = read_file(arguments.value("strokes"));
        if (!svg) return told_as(svg.error(), form);
        auto strokes = desk::strokes_of_svg(*svg, arguments.value("strokes"));
        if (!strokes) return told_as(strokes.error(), form);
        intent.strokes = std::move(*strokes);
    }
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto done = desk->carry_out(intent);
    if (!done) {
        Output output = told_as(done.error(), form);
        const auto view = desk->job_view(*job);
        if (!view || done.error().kind != ProblemKind::Refused) return output;
        Json list = Json::array();
        for (const auto& blocker : view->blockers) {
            list.push_back({{"check", blocker.check}, {"outcome", blocker.outcome}, {"why", blocker.why}});
            output.talk += fmt::format("  {:<20} {:<16} {}\n", blocker.check, blocker.outcome, blocker.why);
        }
        if (form == Form::Json)
            output.data = document({{"problem", {{"what", done.error().what}, {"where", done.error().where},
                                                {"what_to_do", done.error().what_to_do}}},
                                    {"blockers", list}});
        return output;
    }
    return {form == Form::Json ? document({{"signed", true}, {"as", role}}) : "", fmt::format("Signed as {}.\n", role), 0};
}

Output run_near_miss(const Arguments& arguments, const World& world) {
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form_of(arguments));
    return carried_out(desk::NoteNearMiss{*job, arguments.value("why")}, arguments, world, "Noted. Thank you.\n");
}

Output run_abandon(const Arguments& arguments, const World& world) {
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form_of(arguments));
    return carried_out(desk::AbandonJob{*job, arguments.value("done"), arguments.value("why")}, arguments, world,
                       "The job is left, and it is on record how.\n");
}

}  // namespace wm::app
