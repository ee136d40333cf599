// Real work of a desk on a disk in memory: two jobs from opening to report, faults, photos, a bundle of
// another device, an erasure, the first PIN. What was promised on the way is written down.
#pragma once

#include <fmt/format.h>

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "desk/testing.hpp"
#include "exchange/bundle.hpp"
#include "record/state.hpp"
#include "store/keys.hpp"
#include "store/power_loss.hpp"

namespace wm::desk::testing {

using store::testing::MemoryDisk;
using store::testing::MemoryVfs;

inline const std::string memory_data = "/data";
inline const std::string memory_journal = "/data/journal.db";
inline constexpr const char* memory_pin = "482913";

/// The connection that was opened last, so that a test can change what the program set.
class Connections {
public:
    Connections() { sqlite3_auto_extension(reinterpret_cast<void (*)()>(&caught)); }
    Connections(const Connections&) = delete;
    Connections& operator=(const Connections&) = delete;
    ~Connections() { sqlite3_cancel_auto_extension(reinterpret_cast<void (*)()>(&caught)); }
    static sqlite3*& last() {
        static sqlite3* connection = nullptr;
        return connection;
    }

private:
    static int caught(sqlite3* connection, char**, const void*) {
        last() = connection;
        return SQLITE_OK;
    }
};

/// A job in words: what a person would see of it. Two folds agree when their words do.
inline std::string in_words(const record::JobState& job) {
    std::string text = fmt::format("{} {} {} {}\n", job.number, record::in_words(job.phase()), job.entries, job.erased);
    for (const auto& [key, fact] : job.facts) text += fmt::format("{}={}\n", key, record::shown(fact.value));
    for (const auto& [id, check] : job.checks) {
        text += fmt::format("{}: {} {} readings, {} failures, {} open, {} conflicts, {} conceded, {} deferred;", id,
                            static_cast<int>(check.outcome), check.readings.size(), check.failures.size(),
                            check.failures_without_correction(), check.conflicts.size(), check.concessions.size(),
                            check.deferrals.size());
        for (const auto& [place, hash] : check.latest)
            text += fmt::format(" {}={}", place, record::shown(check.standing_at(place)->taken.text));
        text += "\n";
    }
    for (const auto& [id, message] : job.messages) text += fmt::format("{} {}\n", id, message.tries.size());
    for (const auto& [origin, note] : job.near_misses) text += record::shown(note.what) + "\n";
    text += fmt::format("{} signatures, {}\n", job.signatures.size(), job.handover ? "handed over" : "not handed over");
    return text;
}

class RecordedWork {
public:
    enum class Promise { AfterCommit, BeforeCommit };

    explicit RecordedWork(const std::string& name, Promise promise = Promise::AfterCommit)
        : disk{name}, vfs{name, &disk}, promise_{promise} {
        promised.counts.push_back(0);
        folds.emplace_back();
    }

    MemoryDisk disk;
    MemoryVfs vfs;
    Connections connections;
    Clock clock;
    std::shared_ptr<std::int64_t> moved = std::make_shared<std::int64_t>(0);  ///< how far the wall clock was set, ms
    store::testing::Promised promised;
    std::vector<std::map<std::string, std::string>> folds;  ///< job → its words, after the n-th intent
    std::string sealing_pin;                                ///< empty until the keys are sealed
    bool syncs_normally = false;                            ///< the weaker setting, for the control
    std::string erased_customer;                            ///< empty before the erasure
    std::size_t erased_at = 0, sealed_at = 0;               ///< the intents that erased the customer and sealed the keys

    [[nodiscard]] Setup setup() const {
        Setup made = setup_in(memory_data, clock);
        made.disk = const_cast<MemoryDisk*>(&disk);
        made.since_boot = [wall = clock.wall_ms, set = moved] { return std::optional{record::SinceBoot{"boot", *wall - *set}}; };
        return made;
    }
    void open() {
        auto opened = Desk::open(unlocked(setup()));
        REQUIRE_MESSAGE(opened, (opened ? "" : told(opened.error())));
        desk_.emplace(std::move(*opened));
        // Often, so that many cuts fall into the moving of the log into the file.
        sqlite3_wal_autocheckpoint(Connections::last(), 20);
        if (syncs_normally) sqlite3_exec(Connections::last(), "PRAGMA synchronous = NORMAL", nullptr, nullptr, nullptr);
    }
    void set_clock(std::int64_t by_ms) const {
        *clock.wall_ms += by_ms;
        *moved += by_ms;
    }
    void close() { desk_.reset(); }
    [[nodiscard]] Desk& desk() { return *desk_; }

    /// Does it and writes down what is promised from here on.
    template <class Work>
    auto intent(Work work) {
        if (promise_ == Promise::BeforeCommit) disk.mark(promised.counts.size());
        auto done = work();
        REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
        note();
        if (promise_ == Promise::AfterCommit) disk.mark(promised.counts.size() - 1);
        return done;
    }
    template <class Wanted>
    auto carry_out(const Wanted& wanted) {
        return intent([&] { return desk().carry_out(wanted); });
    }

    /// The whole of it. The journal is closed afterwards.
    void do_all();
    /// Only readings and a photo: enough for the controls.
    void do_little();

    /// The setup with person and key, when there are PINs.
    [[nodiscard]] Setup unlocked(Setup made) const {
        auto people = store::People::read(made.data, *made.disk);
        if (!people || people->empty()) return made;
        auto in = people->unlocked("", memory_pin, *clock.wall_ms);
        REQUIRE(in);
        made.sealing_key = in->sealing_key;
        made.person = in->person;
        return made;
    }

    [[nodiscard]] TakeReading reading(const std::string& check, const std::string& text, const std::string& place = "") const {
        return {.job = job, .check = check, .place = place, .text = text, .instrument = "", .photo = std::nullopt,
                .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = false};
    }
    /// A job of a second tablet with a photo, as it travels on a stick.
    [[nodiscard]] static std::string bundle_of_another();
    /// Fine answers to up to `most` places that are still open; with a photo where one is wanted.
    void answer(std::size_t most);
    void sign_both();

    std::string job;  ///< the first one

private:
    void note() {
        sqlite3_stmt* rows = nullptr;
        sqlite3_prepare_v2(Connections::last(), "SELECT hash FROM entry ORDER BY rowid", -1, &rows, nullptr);
        std::vector<std::string> all;
        while (sqlite3_step(rows) == SQLITE_ROW) all.emplace_back(reinterpret_cast<const char*>(sqlite3_column_text(rows, 0)));
        sqlite3_finalize(rows);
        promised.entries = std::move(all);
        promised.counts.push_back(promised.entries.size());
        auto& words = folds.emplace_back();
        const auto jobs = desk().journal().jobs().value();
        for (const auto& line : jobs)
            words[line.job] = in_words(desk().in_hand(line.job).value().state());
    }
    Promise promise_;
    std::optional<Desk> desk_;
};

inline void RecordedWork::answer(std::size_t most) {
    const auto hand = desk().in_hand(job);
    REQUIRE(hand);
    std::vector<TakeReading> all;
    for (const auto& planned : hand->list->checks) {
        const auto now = desk().in_hand(job);
        Assessment assessment{*now};
        const auto shown = check_view(assessment, planned);
        if (!shown.applies || shown.outcome == Outcome::Conforms || !(shown.core || shown.hold)) continue;
        if (shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
        for (const auto& [place, text] : fine_entries(shown)) {
            auto intent_of_it = reading(shown.id, text, place);
            with_photo_if_wanted(intent_of_it, shown);
            if (most-- == 0) return;
            carry_out(intent_of_it);
        }
    }
}

inline std::string RecordedWork::bundle_of_another() {
    Bench other{house_facts(tools()), "commissioning", "other tablet"};
    auto taken = other.reading("goods-scan", "ST-1, SC-1, all as on the list");
    taken.photo = photo_bytes(40);
    taken.photo_name = "photo.jpg";
    other.take(taken);
    const auto packed = exchange::pack(other.desk().journal(), {.since = {}, .passphrase = "six lanterns", .random = seeded("p")});
    REQUIRE(packed);
    return packed->bytes;
}

inline void RecordedWork::sign_both() {
    for (const auto role : {Signer::Crew, Signer::Customer})
        carry_out(Sign{job, role, role == Signer::Crew ? "Tindo Quellaby" : "Ansa Velmorrin", {{{1, 1, 0}, {9, 4, 120}, {12, 2, 200}}}, ""});
}

inline void RecordedWork::do_little() {
    disk.recording = true;
    open();
    job = *carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    answer(6);
    close();
}

inline void RecordedWork::do_all() {
    const std::string bundle = bundle_of_another();
    disk.recording = true;
    open();
    job = *carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    carry_out(reading("ladder-set", "52°"));
    carry_out(CorrectFault{reading("ladder-set", "70°"), "set the foot nearer"});
    carry_out(UndoLast{job});
    carry_out(CorrectFault{reading("ladder-set", "71°"), "set the foot nearer"});
    carry_out(StateFacts{job, {{"site.t_min_c", "-15"}}});
    set_clock(3 * 3'600'000);
    carry_out(NoteNearMiss{job, "A tile slid to the gutter."});
    carry_out(DeferCheck{job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"});
    answer(8);
    intent([&] { return exchange::unpack(desk().journal(), bundle, {"stick", "six lanterns", *clock.wall_ms}); });
    // As after a pause: the log was taken into the file and is begun anew.
    close();
    open();
    answer(1000);
    sign_both();
    carry_out(HandOver{job});
    carry_out(OpenJob{"survey", house_facts(tools()), "facts.toml", "", false});
    const std::string second = desk().journal().jobs().value().back().job;
    const std::string customer = desk().in_hand(second).value().state().opened->customer;
    intent([&] { return desk().erase_customer(second); });
    erased_customer = customer;
    erased_at = promised.counts.size() - 1;
    intent([&] { return desk().journal().put_person({"Ilka Marrowby", store::Role::Owner}, memory_pin, {1, 8}); });
    sealed_at = promised.counts.size() - 1;
    close();
    open();
    set_clock(-3'600'000);
    carry_out(OpenJob{"kit", house_facts(tools()), "facts.toml", "", false});
    close();
}

/// What no loss of power may bring back: the key of an erased customer, and keys that lay open before there was a PIN.
inline std::string came_back(const RecordedWork& work, MemoryDisk& disk, const std::string& sealing_key, bool is_erased, bool is_sealed) {
    if (is_sealed)
        for (const char* name : {"device.key", "company.key", "master.key"})
            if (disk.has(memory_data + "/keys/" + name)) return std::string{name} + " lies open after the first PIN";
    if (!is_erased) return {};
    const auto keys = store::Keys::open(memory_data, disk, sealing_key);
    if (!keys) return "the keys cannot be read: " + told(keys.error());
    return keys->customer(work.erased_customer) ? "the key of an erased customer is there" : "";
}

/// Opens a journal on the image as the program would after a loss of power. Empty when chain, files and
/// folds are as promised after that many intents, and the journal can be written on.
inline std::string opened_whole(const RecordedWork& work, const store::testing::Image& image, std::size_t intents) {
    MemoryDisk disk{work.disk.vfs()};
    for (const auto& [name, file] : image) disk.put(name, file);
    const_cast<MemoryVfs&>(work.vfs).work_on(&disk);
    const auto opening = [&] {
        store::Opening made{.folder = memory_data, .random = seeded(fmt::format("again {}", intents)), .wall_ms = *work.clock.wall_ms,
                            .company = "Witnessmark", .vfs = "", .disk = &disk};
        auto people = store::People::read(memory_data, disk);
        if (people && !people->empty())
            if (const auto in = people->unlocked("", memory_pin, made.wall_ms)) made.sealing_key = in->sealing_key;
        return made;
    };
    // What was acknowledged before the last entry that is there holds at once; what may not have been, after the next start.
    if (auto back = came_back(work, disk, opening().sealing_key, !work.erased_customer.empty() && intents > work.sealed_at,
                              work.sealed_at > 0 && intents > work.sealed_at); !back.empty())
        return back;
    for (const bool again : {false, true}) {
        auto made = opening();
        const std::string sealing_key = made.sealing_key;
        auto journal = store::Journal::open_to_write(std::move(made));
        if (!journal) return "it cannot be opened: " + told(journal.error());
        if (!journal->read_only_because().empty()) return "it is read only: " + journal->read_only_because();
        if (auto back = came_back(work, disk, sealing_key, !work.erased_customer.empty() && intents >= work.erased_at, false);
            !back.empty())
            return back;
        if (again) {
            // Of what was there and of what was written since.
            const auto report = journal->verify_journal();
            if (!report) return told(report.error());
            return report->is_genuine() ? "" : "not genuine: " + report->reasons.front();
        }
        for (const auto& [job, words] : work.folds.at(intents)) {
            const auto read = journal->read_job(job);
            if (!read || !read->damaged.empty()) return "job " + job + " cannot be read whole";
            if (const auto now = in_words(record::folded(job, read->entries)); now != words)
                return "the fold of " + job + " is another:\n" + now + "instead of\n" + words;
            for (const auto& written : read->entries)
                for (const auto* file : record::attached_in(written.entry.body))
                    if (!journal->attachment(file->id) && words.find(" true\n") == std::string::npos)
                        return "attachment " + file->id + " cannot be opened";
        }
        const auto written = journal->append({*work.clock.wall_ms + 1000, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
        if (!written) return "nothing can be written: " + told(written.error());
    }
    return {};
}

}  // namespace wm::desk::testing
