// What a person does at a desk, one operation each, with the folder it begins from; and how such a folder is opened
// again and looked at. Whoever lets something fail in them takes them from here.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "desk/backup.hpp"
#include "desk/outbox.hpp"
#include "desk/recorded_work.hpp"
#include "desk/week.hpp"

namespace wm::desk::testing {

using store::testing::Image;
using store::testing::image_of;

using Words = std::map<std::string, std::string>;

/// A folder at rest, and what a person sees of its jobs.
struct Rest {
    Image image;
    Words words;
    std::string job;
};

struct Operation {
    const char* name;
    const Rest* from;
    std::function<Result<void>(Desk&, const std::string& job)> run;
};

template <class T>
Result<void> without_value(const Result<T>& done) {
    if (!done) return tl::unexpected(done.error());
    return {};
}

/// The folder opened as a person would, who knows the PIN when there is one.
inline Setup setup_on(MemoryDisk& disk, RecordedWork& work) {
    Setup made = work.setup();
    made.disk = &disk;
    made.random = seeded("another start");  // never the same bytes twice
    auto people = store::People::read(made.data, disk);
    if (!people || people->empty()) return made;
    auto in = people->unlocked("Ilka Marrowby", memory_pin, *work.clock.wall_ms);
    if (in) made.sealing_key = in->sealing_key;
    return made;
}

struct Seen {
    Words words;
    std::string fault;
};

/// Opened again with a disk in order: chain, files, folds.
inline Seen seen_again(MemoryDisk& disk, RecordedWork& work) {
    Seen seen;
    const Setup setup = setup_on(disk, work);
    auto journal = store::Journal::open_to_write({.folder = setup.data, .random = setup.random, .wall_ms = *work.clock.wall_ms,
                                                  .company = setup.company, .vfs = "", .disk = &disk,
                                                  .sealing_key = setup.sealing_key});
    if (!journal) return {{}, "it cannot be opened again: " + told(journal.error())};
    if (!journal->read_only_because().empty()) return {{}, journal->read_only_because()};
    const auto report = journal->verify_journal();
    if (!report || !report->is_genuine()) return {{}, report ? report->reasons.front() : told(report.error())};
    const auto jobs = journal->jobs().value();
    for (const auto& line : jobs)
        seen.words[line.job] = in_words(record::folded(line.job, journal->read_job(line.job).value().entries));
    return seen;
}

class Rests {
public:
    explicit Rests(RecordedWork& work) : work_{work} {
        work.open();
        work.job = *work.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
        work.carry_out(work.reading("ladder-set", "52°"));
        begun = rest();
        work.answer(1000);
        work.carry_out(CorrectFault{work.reading("ladder-set", "70°"), "set the foot nearer"});
        answered = rest();
        work.carry_out(Sign{work.job, Signer::Crew, "Tindo Quellaby", {{{1, 1, 0}, {9, 4, 120}}}, ""});
        signed_by_crew = rest();
        work.carry_out(Sign{work.job, Signer::Customer, "Ansa Velmorrin", {{{1, 1, 0}, {9, 4, 120}}}, ""});
        signed_by_both = rest();
        work.carry_out(HandOver{work.job});
        handed_over = rest();
        work.intent([&] { return work.desk().journal().put_person({"Ilka Marrowby", store::Role::Owner}, memory_pin, {1, 8}); });
        sealed = rest();
        work.close();
    }
    Rest empty, begun, answered, signed_by_crew, signed_by_both, handed_over, sealed;

private:
    Rest rest() {
        work_.close();
        Rest made{image_of(work_.disk), work_.folds.back(), work_.job};
        // What is there is shared from now on; the disk goes on with copies.
        work_.open();
        return made;
    }
    RecordedWork& work_;
};

inline std::vector<Operation> operations(const Rests& rests, const std::string& bundle) {
    const auto facts = house_facts(tools());
    const auto with = [](auto make) {
        return [make](Desk& desk, const std::string& job) { return without_value(desk.carry_out(make(job))); };
    };
    const auto reading = [](const std::string& job, const char* check, const char* text, bool photo) {
        return TakeReading{.job = job, .check = check, .place = "", .text = text, .instrument = "",
                           .photo = photo ? std::optional{photo_bytes()} : std::nullopt,
                           .photo_name = photo ? "photo.jpg" : "", .caption = photo ? "the roof" : "", .read_at = "", .by = "", .sure = false};
    };
    using J = const std::string&;
    return {
        {"open a first job", &rests.empty, with([=](J) { return OpenJob{"kit", facts, "facts.toml", "", false}; })},
        {"open a further job", &rests.begun, with([=](J) { return OpenJob{"survey", facts, "facts.toml", "", false}; })},
        {"open a job after another", &rests.begun, with([=](J job) { return OpenJob{"kit", "", "", job, false}; })},
        {"a number", &rests.begun, with([=](J job) { return reading(job, "ladder-set", "71°", false); })},
        {"a number with a photo", &rests.begun, with([=](J job) { return reading(job, "ladder-set", "71°", true); })},
        {"words", &rests.begun, with([=](J job) { return reading(job, "goods-scan", "ST-1, all there", false); })},
        {"a correction", &rests.begun, with([=](J job) { return CorrectFault{reading(job, "ladder-set", "70°", false), "set nearer"}; })},
        {"a correction with a photo", &rests.begun, with([=](J job) { return CorrectFault{reading(job, "ladder-set", "70°", true), "set nearer"}; })},
        {"taking it over", &rests.begun, with([=](J job) { return TakeOverJob{job, "Orla Finch"}; })},
        {"facts", &rests.begun, with([=](J job) { return StateFacts{job, {{"site.t_min_c", "-15"}}}; })},
        {"a name as fact", &rests.begun, with([=](J job) { return StateFacts{job, {{"customer.phone", "555-0177"}}}; })},
        {"a deferral", &rests.begun, with([=](J job) { return DeferCheck{job, "outlet-temp", "2026-11-26", "Ode Brannick", "cold"}; })},
        {"undo", &rests.begun, with([=](J job) { return UndoLast{job}; })},
        {"a near miss", &rests.begun, with([=](J job) { return NoteNearMiss{job, "A tile slid."}; })},
        {"a complaint", &rests.begun, with([=](J job) { return TakeComplaint{.job = job, .symptom = "wet", .words = "It drips.", .air = "-6"}; })},
        {"the crew leaves", &rests.begun, with([=](J job) { return AbandonJob{job, "Water shut", "storm"}; })},
        {"the crew signs", &rests.answered, with([=](J job) { return Sign{job, Signer::Crew, "Tindo Quellaby", {{{1, 1, 0}, {9, 4, 120}}}, ""}; })},
        {"the customer signs", &rests.signed_by_crew, with([=](J job) { return Sign{job, Signer::Customer, "Ansa Velmorrin", {{{1, 1, 0}, {9, 4, 120}}}, ""}; })},
        {"the customer does not sign", &rests.signed_by_crew, with([=](J job) { return Sign{job, Signer::Customer, "Ansa Velmorrin", {}, "not at home"}; })},
        {"handover", &rests.signed_by_both, with([=](J job) { return HandOver{job}; })},
        {"the draft of the report", &rests.answered, [](Desk& desk, J job) { return without_value(desk.draft_report(job)); }},
        {"page one", &rests.answered, [](Desk& desk, J job) { return without_value(desk.page_one(job)); }},
        {"the sealed report again", &rests.handed_over, [](Desk& desk, J job) { return without_value(desk.sealed_report(job)); }},
        {"the list of jobs", &rests.handed_over, [](Desk& desk, J) { return without_value(desk.job_rows()); }},
        {"a job on the screen", &rests.begun, [](Desk& desk, J job) { return without_value(desk.job_view(job)); }},
        {"the outbox", &rests.handed_over, [](Desk& desk, J) { return without_value(messages(desk)); }},
        {"messages as files", &rests.handed_over, [](Desk& desk, J) { return without_value(messages_as_files(desk)); }},
        {"a message that is sent", &rests.handed_over,
         [](Desk& desk, J) {
             const auto sent = [](const std::string&, const std::vector<std::string>&, const std::string&) {
                 return post::Attempt{post::PostState::Sent, "250 taken"};
             };
             const auto posted = send_messages(desk, sent, Which::AllWaiting);
             return without_value(posted);
         }},
        {"the week", &rests.handed_over, [](Desk& desk, J) { return without_value(week_view(desk, "2026-W48")); }},
        {"a bundle is made", &rests.handed_over,
         [](Desk& desk, J) {
             return without_value(exchange::pack(desk.journal(), {.since = {}, .passphrase = "six lanterns", .random = seeded("p")}));
         }},
        {"a bundle is taken in", &rests.begun,
         [bundle](Desk& desk, J) {
             return without_value(exchange::unpack(desk.journal(), bundle, {"stick", "six lanterns", 1795579900000LL}));
         }},
        {"the journal is verified", &rests.handed_over,
         [](Desk& desk, J) -> Result<void> {
             const auto report = desk.journal().verify_journal();
             if (!report) return tl::unexpected(report.error());
             if (report->is_genuine()) return {};
             return refused({report->reasons.front(), "journal", "Look at the disk.", ProblemKind::Unreadable});
         }},
        {"a customer is erased", &rests.handed_over, [](Desk& desk, J job) { return desk.erase_customer(job); }},
        {"the folder becomes a new device", &rests.begun, [](Desk& desk, J) { return desk.journal().become_new_device(1795579900000LL); }},
        {"the first PIN", &rests.begun,
         [](Desk& desk, J) { return desk.journal().put_person({"Ilka Marrowby", store::Role::Owner}, memory_pin, {1, 8}); }},
        {"a second PIN", &rests.sealed,
         [](Desk& desk, J) { return desk.journal().put_person({"Ode Brannick", store::Role::Installer}, "604417", {1, 8}); }},
        {"a backup is made", &rests.handed_over, [](Desk& desk, J) { return without_value(back_up(desk)); }},
        {"a backup under sealed keys", &rests.sealed, [](Desk& desk, J) { return without_value(back_up(desk)); }},
        {"an entry under sealed keys", &rests.sealed, with([=](J) { return OpenJob{"kit", facts, "facts.toml", "", false}; })},
    };
}

}  // namespace wm::desk::testing
