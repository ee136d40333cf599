// Stands for the whole room: whichever call to the disk fails, once, in whatever a person does.
#include <doctest/doctest.h>

#include <cstdlib>
#include <functional>

#include "desk/backup.hpp"
#include "desk/outbox.hpp"
#include "desk/recorded_work.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using store::testing::Image;
using store::testing::image_of;
using store::testing::MemoryDisk;
using testing::RecordedWork;

namespace {

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
Setup setup_on(MemoryDisk& disk, RecordedWork& work) {
    Setup made = work.setup();
    made.disk = &disk;
    made.random = testing::seeded("another start");  // never the same bytes twice
    auto people = store::People::read(made.data, disk);
    if (!people || people->empty()) return made;
    auto in = people->unlocked("Ilka Marrowby", testing::memory_pin, *work.clock.wall_ms);
    if (in) made.sealing_key = in->sealing_key;
    return made;
}

struct Seen {
    Words words;
    std::string fault;
};

/// Opened again with a disk in order: chain, files, folds.
Seen seen_again(MemoryDisk& disk, RecordedWork& work) {
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
        seen.words[line.job] = testing::in_words(record::folded(line.job, journal->read_job(line.job).value().entries));
    return seen;
}

class Rests {
public:
    explicit Rests(RecordedWork& work) : work_{work} {
        work.open();
        work.job = *work.carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "facts.toml", "", false});
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
        work.intent([&] { return work.desk().journal().put_person({"Ilka Marrowby", store::Role::Owner}, testing::memory_pin, {1, 8}); });
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

std::vector<Operation> operations(const Rests& rests, const std::string& bundle) {
    const auto facts = testing::house_facts(testing::tools());
    const auto with = [](auto make) {
        return [make](Desk& desk, const std::string& job) { return without_value(desk.carry_out(make(job))); };
    };
    const auto reading = [](const std::string& job, const char* check, const char* text, bool photo) {
        return TakeReading{.job = job, .check = check, .place = "", .text = text, .instrument = "",
                           .photo = photo ? std::optional{testing::photo_bytes()} : std::nullopt,
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
             return without_value(exchange::pack(desk.journal(), {.since = {}, .passphrase = "six lanterns", .random = testing::seeded("p")}));
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
         [](Desk& desk, J) { return desk.journal().put_person({"Ilka Marrowby", store::Role::Owner}, testing::memory_pin, {1, 8}); }},
        {"a second PIN", &rests.sealed,
         [](Desk& desk, J) { return desk.journal().put_person({"Ode Brannick", store::Role::Installer}, "604417", {1, 8}); }},
        {"a backup is made", &rests.handed_over, [](Desk& desk, J) { return without_value(back_up(desk)); }},
        {"a backup under sealed keys", &rests.sealed, [](Desk& desk, J) { return without_value(back_up(desk)); }},
        {"an entry under sealed keys", &rests.sealed, with([=](J) { return OpenJob{"kit", facts, "facts.toml", "", false}; })},
    };
}

bool is_lost_sync(const std::string& call, int error) {
    return error != EINTR && error != 0 && (call.starts_with("sync") || call.starts_with("sqlite sync"));
}

/// A sample takes every thirtieth call and one kind of failure for each.
enum class Thoroughly { Sample, All };

struct Count {
    std::size_t faults = 0, told = 0, borne = 0;
};

/// Lets call after call fail until the operation makes no further one.
void try_all(const Operation& operation, RecordedWork& work, Thoroughly how, Count& count) {
    static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EINTR, 0};
    Words after;
    std::size_t calls = 0;
    const std::size_t stride = how == Thoroughly::All ? 1 : std::size(errors);
    const std::size_t step = how == Thoroughly::All ? 1 : 30;
    for (std::size_t n = 0; n <= calls; n += n == 0 ? 1 + count.faults % step : step) {
        // n = 0 goes well and tells how many calls there are and what is to be seen afterwards.
        for (std::size_t e = n == 0 ? 0 : n % stride; e < (n == 0 ? 1 : std::size(errors)); e += stride) {
            MemoryDisk disk{work.disk.vfs()};
            for (const auto& [name, file] : operation.from->image) disk.put(name, file);
            work.vfs.work_on(&disk);
            CAPTURE(std::string{operation.name});
            CAPTURE(n);
            CAPTURE(errors[e]);
            Result<void> done;
            bool may_go_on = true;
            {
                auto desk = Desk::open(setup_on(disk, work));
                REQUIRE(desk);
                disk.plan({static_cast<int>(n), errors[e]});
                done = operation.run(*desk, operation.from->job);
                if (n == 0) {
                    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
                    calls = static_cast<std::size_t>(disk.calls);
                }
                const std::string call = disk.failed_call;
                CAPTURE(call);
                disk.plan({});
                const auto further = desk->journal().append({1795579990000LL, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
                may_go_on = further.has_value();
                if (!done) {
                    CHECK_FALSE(done.error().what.empty());
                    CHECK_FALSE(done.error().where.empty());
                    CHECK_FALSE(done.error().what_to_do.empty());
                    // Exit code 4, or 3 where it could not be read; never an answer, never "wrong use".
                    CHECK((done.error().kind == ProblemKind::NotStored || done.error().kind == ProblemKind::Unreadable));
                    for (const char* writes : {"write", "sync", "rename", "mkdir", "unlink", "sqlite write", "sqlite sync"})
                        if (call.starts_with(writes)) CHECK(done.error().kind == ProblemKind::NotStored);
                    ++count.told;
                } else {
                    ++count.borne;
                }
                // What a sync once lost is never trusted again, until the program is started anew.
                if (is_lost_sync(call, errors[e])) CHECK_FALSE(may_go_on);
                if (!may_go_on) CHECK(further.error().kind == ProblemKind::NotStored);
            }
            if (n > 0) ++count.faults;
            const Seen seen = seen_again(disk, work);
            CHECK_MESSAGE(seen.fault.empty(), seen.fault);
            if (n == 0) after = seen.words;
            else if (done) CHECK(seen.words == after);
            else CHECK((seen.words == after || seen.words == operation.from->words));
        }
    }
}

}  // namespace

TEST_CASE("whichever call to the disk fails, nothing acknowledged is lost and the person is told what to do") {
    RecordedWork work{"wm-fallible"};
    const Rests rests{work};
    const std::string bundle = RecordedWork::bundle_of_another();
    Count count;
    const auto all = operations(rests, bundle);
    CHECK(all.size() >= 30);
    // A sample under the sanitizers; scripts/soak faults lets every call fail in all six ways.
    const auto how = std::getenv("WM_ALL_FAULTS") != nullptr ? Thoroughly::All : Thoroughly::Sample;
    for (const auto& operation : all) try_all(operation, work, how, count);
    MESSAGE(count.faults, " failures in ", all.size(), " operations: ", count.told, " told, ", count.borne, " borne");
    CHECK(count.told > 30);
}

}  // namespace wm::desk
