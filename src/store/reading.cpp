// Reading the journal again, every hash recomputed; the rest of journal.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <utility>

#include "digest/hash.hpp"
#include "store/inside.hpp"

namespace wm::store {

Result<record::Written> checked_row(record::Entry without_body, std::string hash, std::string_view body) {
    record::Written written{std::move(without_body), std::move(hash)};
    const auto line = record::line_with_body(written.entry, body);
    const auto where = [&] { return fmt::format("device {}, entry {}", written.entry.device, written.entry.seq); };
    if (!line || digest::sha256_hex(*line) != written.hash) {
        return refused({.what = "It is not what its hash was made of.",
                        .where = where(),
                        .what_to_do = "Take the entry from another device's bundle or a copy.",
                        .kind = ProblemKind::Unreadable});
    }
    auto read = record::read_body(body, "");
    if (!read) {
        Problem problem = read.error();
        problem.where = where();
        return refused(std::move(problem));
    }
    written.entry.body = std::move(*read);
    return written;
}

Result<Entries> Journal::Inside::read_rows(
    std::string_view condition, const std::function<void(Statement&)>& bind_values) const {
    auto select = database.prepared(
        fmt::format("SELECT device, seq, prev, hash, time, job, body FROM entry {}", condition));
    if (!select) return refused(select.error());
    bind_values(*select);
    Entries read;
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        auto written = checked_row({select->text(0), select->number(1), select->text(2), select->text(4), select->text(5), {}},
                                   select->text(3), select->view(6));
        if (written) {
            read.entries.push_back(std::move(*written));
        } else {
            read.damaged.push_back(
                fmt::format("{}: {}", written.error().where, written.error().what));
        }
    }
    if (!row) {
        // A page in the middle is torn: what was read so far is sound and is given.
        if (database.trouble() != Trouble::FileBroken) return refused(row.error());
        read.damaged.push_back(fmt::format("{}: {}", row.error().where, row.error().what));
    }
    return read;
}

namespace {

/// Rows of one device by number: whether each names one of the number before it.
class Neighbours {
public:
    void next(std::int64_t seq, std::string_view hash, std::string_view prev) {
        if (seq != seq_) {
            before_ = seq == seq_ + 1 ? std::exchange(here_, {}) : std::vector<std::string>{};
            here_.clear();
            seq_ = seq;
        }
        // Where a number is missing its gap is told.
        if (broken_at_ == 0 && !before_.empty() && std::find(before_.begin(), before_.end(), prev) == before_.end()) broken_at_ = seq;
        here_.emplace_back(hash);
    }
    /// The first that does not; 0 = none.
    [[nodiscard]] std::int64_t broken_at() const { return broken_at_; }

private:
    std::int64_t seq_ = 0, broken_at_ = 0;
    std::vector<std::string> before_, here_;
};

}  // namespace

Result<void> Journal::Inside::look_for_gaps() {
    const auto version = database.number("PRAGMA data_version");
    if (!version) return refused(version.error());
    if (gaps && gaps_version == *version) return {};
    std::vector<Gap> found;
    std::map<std::string, std::int64_t> without_signature;
    // The numbers alone lie in the index of the primary key: this reads no entry.
    auto all = database.prepared(
        "SELECT device, max(seq), count(DISTINCT seq), (SELECT max(seq) FROM head WHERE head.device = entry.device) "
        "FROM entry GROUP BY device");
    if (!all) return refused(all.error());
    auto seqs = database.prepared("SELECT DISTINCT seq FROM entry WHERE device = ?1 ORDER BY seq");
    if (!seqs) return refused(seqs.error());
    auto row = all->step();
    for (; row && *row; row = all->step()) {
        const std::string whose = all->text(0);
        const std::int64_t last = all->number(1), signed_up_to = all->number(3);
        const auto open = unsigned_end(whose, last);
        if (!open) return refused(open.error());
        if (*open) without_signature[whose] = **open;
        if (signed_up_to > last) found.push_back({whose, last + 1, signed_up_to});
        if (all->number(2) == last) continue;
        std::int64_t expected = 1;
        auto each = seqs->bind(1, whose).step();
        for (; each && *each; each = seqs->step()) {
            if (seqs->number(0) > expected) found.push_back({whose, expected, seqs->number(0) - 1});
            expected = seqs->number(0) + 1;
        }
        if (!each) return refused(each.error());
    }
    if (!row) return refused(row.error());
    if (auto done = look_at_index(); !done) return done;
    gaps = std::move(found);
    unsigned_after = std::move(without_signature);
    gaps_version = *version;
    return {};
}

// A page of the index whose number of rows was altered can make whole jobs vanish without any error.
Result<void> Journal::Inside::look_at_index() {
    const auto version = database.number("PRAGMA data_version");
    if (!version) return refused(version.error());
    if (index_version == *version) return {};
    index_doubt.clear();
    if (!altered_parts.empty()) return {};  // told already; the index may not even be there
    const auto entries = database.number("SELECT count(*) FROM entry");
    if (!entries) return refused(entries.error());
    // With a condition, for without one SQLite counts in whichever index is smallest.
    const auto named = database.number("SELECT count(*) FROM entry INDEXED BY entry_of_job WHERE job >= ''");
    if (!named && database.trouble() != Trouble::FileBroken) return refused(named.error());
    index_version = *version;
    if (named && *named == *entries) return {};
    index_doubt = named ? fmt::format("The index of the jobs names {} entries and there are {}; the file is damaged.", *named, *entries)
                        : fmt::format("The index of the jobs cannot be read; the file is damaged. {}", named.error().what);
    if (read_only_because.empty()) read_only_because = index_doubt;
    return {};
}

Result<std::optional<std::int64_t>> Journal::Inside::unsigned_end(const std::string& of, std::int64_t last) const {
    auto select = database.prepared(
        "SELECT seq, hash, public_key, signature, EXISTS (SELECT 1 FROM entry WHERE entry.device = head.device AND "
        "entry.seq = head.seq AND entry.hash = head.hash) FROM head WHERE device = ?1 ORDER BY seq DESC");
    if (!select) return refused(select.error());
    auto row = select->bind(1, of).step();
    for (; row && *row; row = select->step()) {
        if (select->number(4) == 0) continue;
        const record::SignedHead end{{of, select->number(0), select->text(1)}, select->text(2), select->text(3)};
        if (record::is_genuine(end)) return end.head.seq < last ? std::optional{end.head.seq} : std::nullopt;
    }
    if (!row) return refused(row.error());
    return std::optional<std::int64_t>{0};
}

Result<void> Journal::Inside::complete(std::string_view job, Entries& read) {
    if (auto done = look_for_gaps(); !done) return done;
    struct Span {
        std::int64_t first = 0, last = 0;
        std::set<std::string> hashes;
    };
    std::map<std::string, Span> spans;
    for (const record::Written& written : read.entries) {
        if (written.entry.job != job) continue;
        Span& span = spans[written.entry.device];
        if (span.hashes.empty()) span.first = span.last = written.entry.seq;
        span.first = std::min(span.first, written.entry.seq);
        span.last = std::max(span.last, written.entry.seq);
        span.hashes.insert(written.hash);
    }
    for (const Gap& gap : *gaps) {
        const auto span = spans.find(gap.device);
        if (span == spans.end() || gap.last < span->second.first) continue;
        read.damaged.push_back(fmt::format("device {}: entries {} to {} are missing; one of this job may be among them.", gap.device,
                                           gap.first, gap.last));
    }
    for (const std::string& altered : altered_parts) read.damaged.push_back(altered);
    if (!index_doubt.empty()) read.damaged.push_back(index_doubt);
    for (const auto& [of, last] : unsigned_after) {
        const auto span = spans.find(of);
        if (span == spans.end() || span->second.last <= last) continue;
        read.damaged.push_back(fmt::format("device {}: it did not sign what stands after its entry {}; somebody else may have written it.",
                                           of, last));
    }
    // The index may have lost a row that the table still has. Around the rows of the job, and as far from them as costs
    // nothing to speak of, the table is asked itself; the whole of it is compared by verify_journal().
    constexpr std::int64_t further = 500;
    std::vector<std::pair<std::int64_t, std::string>> left_out;
    auto around = database.prepared(
        "SELECT seq, hash, prev, job FROM entry WHERE device = ?1 AND seq BETWEEN ?2 AND ?3 ORDER BY seq, hash");
    if (!around) return refused(around.error());
    for (const auto& [device_of, span] : spans) {
        around->bind(1, device_of).bind(2, span.first - further).bind(3, span.last + further);
        left_out.clear();
        Neighbours neighbours;
        auto row = around->step();
        for (; row && *row; row = around->step()) {
            neighbours.next(around->number(0), around->view(1), around->view(2));
            if (around->view(3) == job && !span.hashes.contains(around->text(1))) left_out.emplace_back(around->number(0), around->text(1));
        }
        if (neighbours.broken_at() > 0)
            read.damaged.push_back(fmt::format("device {}: entry {} does not continue the one before it; one of the two was altered.",
                                               device_of, neighbours.broken_at()));
        if (!row && database.trouble() != Trouble::FileBroken) return refused(row.error());
        if (!row) read.damaged.push_back(fmt::format("{}: {}", row.error().where, row.error().what));
        for (const auto& [seq, hash] : left_out) {
            auto more = read_rows("WHERE device = ?1 AND seq = ?2 AND hash = ?3",
                                  [&, at = seq, of = hash](Statement& s) { s.bind(1, device_of).bind(2, at).bind(3, of); });
            if (!more) return refused(more.error());
            std::move(more->entries.begin(), more->entries.end(), std::back_inserter(read.entries));
            // Damaged ones were named already, where the index found them.
            if (read.damaged.empty())
                read.damaged.push_back(fmt::format("device {}, entry {}: the list of this job does not name it; the file is damaged.",
                                                   device_of, seq));
        }
    }
    return {};
}

Result<Entries> Journal::Inside::rows_of_job(std::string_view job, std::string_view by) const {
    return read_rows(fmt::format("{} WHERE job = ?1 OR (job = '' AND (body LIKE '%\"kind\":\"received\"}}' OR "
                                 "body LIKE '%\"kind\":\"clock-jumped\",%' OR "
                                 "body LIKE '%\"kind\":\"time-source-changed\",%' OR body LIKE '%\"kind\":\"customer-erased\"}}'))",
                                 by),
                     [&](Statement& s) { s.bind(1, job); });
}

Result<Entries> Journal::read_job(std::string_view job) const {
    if (auto done = inside_->look_for_gaps(); !done) return refused(done.error());
    auto read = inside_->rows_of_job(job, inside_->by_job());
    if (!read) return read;
    const auto is_of_it = [&](const record::Written& written) { return written.entry.job == job; };
    if (!job.empty() && read->damaged.empty() && std::none_of(read->entries.begin(), read->entries.end(), is_of_it)) {
        // Before it is said that there is no such job the table is asked: an altered index may lead past it.
        read = inside_->rows_of_job(job, "NOT INDEXED");
        if (!read) return read;
        if (std::any_of(read->entries.begin(), read->entries.end(), is_of_it))
            read->damaged.push_back("The index of the jobs does not lead to this one; the file is damaged.");
    }
    if (auto done = inside_->complete(job, *read); !done) return refused(done.error());
    WordDoubts doubts;
    if (auto filled = inside_->fill_in_words(read->entries, &doubts); !filled)
        return refused(filled.error());
    if (!doubts.missing.empty()) {
        const auto erased = inside_->erased_customers();
        if (!erased) return refused(erased.error());
        const bool may_be_gone = std::any_of(read->entries.begin(), read->entries.end(), [&](const record::Written& written) {
            const auto* opened = std::get_if<record::JobOpened>(&written.entry.body);
            return opened != nullptr && erased->contains(opened->customer);
        });
        if (!may_be_gone) std::move(doubts.missing.begin(), doubts.missing.end(), std::back_inserter(read->damaged));
    }
    std::move(doubts.altered.begin(), doubts.altered.end(), std::back_inserter(read->damaged));
    read->entries = record::in_order(std::move(read->entries));
    return read;
}

Result<Entries> Journal::read_all() const {
    auto read = inside_->read_rows("", [](Statement&) {});
    if (!read) return read;
    if (auto filled = inside_->fill_in_words(read->entries); !filled)
        return refused(filled.error());
    read->entries = record::in_order(std::move(read->entries));
    return read;
}

Result<Entries> Journal::read_stream() const {
    auto read = inside_->read_rows(fmt::format("{} WHERE job = ''", inside_->by_job()), [](Statement&) {});
    if (!read) return read;
    if (auto filled = inside_->fill_in_words(read->entries); !filled)
        return refused(filled.error());
    read->entries = record::in_order(std::move(read->entries));
    return read;
}

Result<Entries> Journal::read_chain(std::string_view device, std::int64_t from_seq) const {
    auto read = inside_->read_rows("WHERE device = ?1 AND seq >= ?2 ORDER BY seq, hash",
                                   [&](Statement& s) { s.bind(1, device).bind(2, from_seq); });
    if (!read) return read;
    if (auto filled = inside_->fill_in_words(read->entries); !filled)
        return refused(filled.error());
    return read;
}

Result<std::vector<JobLine>> Journal::Inside::jobs_by_table() const {
    auto select = database.prepared("SELECT job, time, hash FROM entry NOT INDEXED WHERE job > '' ORDER BY job, time, hash");
    if (!select) return refused(select.error());
    std::vector<JobLine> jobs;
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        if (jobs.empty() || jobs.back().job != select->view(0)) jobs.push_back({select->text(0), select->text(1), {}, {}});
        jobs.back().last_time = select->text(1);
        jobs.back().last_hash = select->text(2);
    }
    if (!row) return refused(row.error());
    return jobs;
}

Result<std::vector<JobLine>> Journal::jobs() const {
    if (auto done = inside_->look_at_index(); !done) return refused(done.error());
    if (!inside_->index_doubt.empty()) return inside_->jobs_by_table();
    // Grouping would walk every entry; the index tells the first of the next job and its last.
    auto next = inside_->database.prepared(
        "SELECT job, time FROM entry WHERE job > ?1 ORDER BY job, time, hash LIMIT 1");
    if (!next) return refused(next.error());
    auto last = inside_->database.prepared(
        "SELECT time, hash FROM entry WHERE job = ?1 ORDER BY job DESC, time DESC, hash DESC LIMIT 1");
    if (!last) return refused(last.error());
    std::vector<JobLine> jobs;
    std::string before;
    while (true) {
        const auto there = next->bind(1, before).step();
        if (!there) return refused(there.error());
        if (!*there) return jobs;
        JobLine line{next->text(0), next->text(1), {}, {}};
        next->reset();
        const auto end = last->bind(1, line.job).step();
        if (!end) return refused(end.error());
        line.last_time = last->text(0);
        line.last_hash = last->text(1);
        last->reset();
        before = line.job;
        jobs.push_back(std::move(line));
    }
}

Result<std::optional<JobLine>> Journal::job_line(std::string_view job) const {
    auto select = inside_->database.prepared(
        fmt::format("SELECT time, hash, (SELECT min(time) FROM entry {0} WHERE job = ?1) FROM entry {0} WHERE job = ?1 "
                    "ORDER BY job DESC, time DESC, hash DESC LIMIT 1",
                    inside_->by_job()));
    if (!select) return refused(select.error());
    const auto row = select->bind(1, job).step();
    if (!row) return refused(row.error());
    if (!*row) return std::optional<JobLine>{};
    return std::optional{JobLine{std::string{job}, select->text(2), select->text(0), select->text(1)}};
}

std::int64_t Journal::erasures() const {
    const auto all = inside_->erased_customers();
    return all ? static_cast<std::int64_t>(all->size()) : 0;
}

std::int64_t Journal::version() const {
    return inside_->database.number("PRAGMA data_version").value_or(0);
}

Result<std::vector<record::Head>> Journal::heads() const {
    std::vector<record::Head> heads;
    // An entry that none continues.
    auto select = inside_->database.prepared(
        "SELECT device, seq, hash FROM entry AS last WHERE NOT EXISTS (SELECT 1 FROM entry AS next "
        "WHERE next.device = last.device AND next.seq = last.seq + 1 AND next.prev = last.hash) "
        "ORDER BY device, seq, hash");
    if (!select) return refused(select.error());
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        heads.push_back({select->text(0), select->number(1), select->text(2)});
    }
    if (!row) return refused(row.error());
    return heads;
}

Result<std::vector<record::SignedHead>> Journal::signed_heads() const {
    std::vector<record::SignedHead> heads;
    auto select = inside_->database.prepared(
        "SELECT device, seq, hash, public_key, signature FROM head ORDER BY device, seq, hash");
    if (!select) return refused(select.error());
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        heads.push_back({{select->text(0), select->number(1), select->text(2)},
                         select->text(3),
                         select->text(4)});
    }
    if (!row) return refused(row.error());
    return heads;
}

}  // namespace wm::store
