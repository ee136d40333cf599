// The two clocks of the device as they stood, kept beside the journal from intent to intent.
//
// clock.txt holds what record/clock_watch.hpp says. It is written at the first intent after a start of the
// machine, before the entries, and after a jump, once the entry that tells it is durable: whatever is cut
// short, a jump is told twice rather than not at all. A file that is missing or altered costs the
// comparison within this start once; the journal itself still tells a clock that went back. Whether times are given
// by hand is kept nowhere else than in the chain itself.
#include "store/inside.hpp"

#include <algorithm>

#include "store/files.hpp"

namespace wm::store {

namespace {

std::filesystem::path clock_file(const Opening& opening) { return opening.folder / "clock.txt"; }

}  // namespace

// An entry with counter 0 was timed by the wall clock itself; others by what was seen before.
Result<std::int64_t> Journal::Inside::last_wall_after(std::int64_t seq) const {
    auto find = database.prepared(
        "SELECT time FROM entry WHERE device = ?1 AND seq > ?2 AND time LIKE '%.0000' ORDER BY seq DESC LIMIT 1");
    if (!find) return refused(find.error());
    const auto row = find->bind(1, device).bind(2, seq).step();
    if (!row) return refused(row.error());
    const auto stamp = *row ? record::stamp_of(find->text(0)) : std::nullopt;
    return stamp ? stamp->wall_ms : 0;
}

// The signs keep SQLite from walking the whole chain by its number: what belongs to no job is little.
Result<record::TimeSource> Journal::Inside::source_said() const {
    auto find = database.prepared(
        "SELECT body FROM entry WHERE job = '' AND +device = ?1 AND body LIKE '%\"kind\":\"time-source-changed\",%' "
        "ORDER BY +seq DESC LIMIT 1");
    if (!find) return refused(find.error());
    const auto row = find->bind(1, device).step();
    if (!row) return refused(row.error());
    if (!*row) return record::TimeSource::Clock;
    // One that was altered is told where entries are read.
    const auto body = record::read_body(find->text(0), "");
    const auto* said = body ? std::get_if<record::TimeSourceChanged>(&*body) : nullptr;
    return said != nullptr ? record::time_source_of(*said) : record::TimeSource::Clock;
}

Result<record::ClockWatch> Journal::Inside::watch_clock(std::int64_t wall_ms) {
    record::ClockWatch told;
    if (!source_told) {
        const auto said = source_said();
        if (!said) return refused(said.error());
        source_told = *said;
    }
    if (*source_told != opening.time_source) told.source = record::told_of(opening.time_source);
    const auto since_boot = opening.since_boot ? opening.since_boot() : std::nullopt;
    if (!since_boot) return told;
    if (!clock_known) {
        clock_known = true;
        const auto there = look_at_file(clock_file(opening), *disk);
        if (!there) return refused(there.error());
        if (*there) {
            const auto text = read_file(clock_file(opening), *disk);
            if (!text) return refused(text.error());
            clock_kept = record::clock_kept_of(*text);
        }
    }
    std::int64_t last_wall_ms = 0;
    if (!clock_kept || clock_kept->anchor.since_boot.boot != since_boot->boot) {
        const auto last = last_wall_after(clock_kept ? clock_kept->after_seq : 0);
        if (!last) return refused(last.error());
        last_wall_ms = *last;
    }
    auto watch = record::watched(clock_kept, last_wall_ms, {wall_ms, *since_boot}, record::next_stamp(clock, wall_ms), head.seq);
    watch.source = told.source;
    if (watch.jump || !watch.keep) return watch;
    if (auto done = write_file(clock_file(opening), record::text_of(*watch.keep), *disk); !done) return refused(done.error());
    clock_kept = watch.keep;
    return told;
}

void Journal::Inside::clock_told(const record::ClockWatch& watch) {
    if (watch.source) source_told = opening.time_source;
    told_of_clocks += (watch.source ? 1 : 0) + (watch.jump ? 1 : 0);
    if (!watch.keep) return;
    clock_kept = watch.keep;
    clock_kept->after_seq = head.seq;
    // Not kept: the next program tells the same jump once more.
    static_cast<void>(write_file(clock_file(opening), record::text_of(*clock_kept), *disk));
}

int put_told_into(std::vector<record::Draft>& drafts, const record::ClockWatch& watch) {
    std::vector<record::Draft> told;
    if (watch.source) told.push_back({"", *watch.source});
    if (watch.jump) told.push_back({"", *watch.jump});
    const bool starts = !drafts.empty() && std::holds_alternative<record::DeviceStarted>(drafts.front().body);
    drafts.insert(drafts.begin() + (starts ? 1 : 0), told.begin(), told.end());
    return static_cast<int>(told.size());
}

}  // namespace wm::store
