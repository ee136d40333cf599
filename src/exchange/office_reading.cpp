// Reading the office's record, every hash recomputed; the rest of office_store.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>

#include "exchange/office_inside.hpp"

namespace wm::exchange {
namespace {

using record::Written;

bool concerns_every_job(const record::Body& body) {
    return std::holds_alternative<record::Received>(body) || std::holds_alternative<record::ClockJumped>(body) ||
           std::holds_alternative<record::TimeSourceChanged>(body) || std::holds_alternative<record::CustomerErased>(body);
}

bool is_erased(const std::vector<Written>& entries, const std::string& customer) {
    return std::any_of(entries.begin(), entries.end(), [&](const Written& written) {
        const auto* gone = std::get_if<record::CustomerErased>(&written.entry.body);
        return gone != nullptr && gone->customer == customer;
    });
}

/// Words that are nowhere are damage, unless they may be those of a customer who was erased.
void tell(store::WordDoubts doubts, store::Entries& job) {
    const bool may_be_gone = std::any_of(job.entries.begin(), job.entries.end(), [&](const Written& written) {
        const auto* opened = std::get_if<record::JobOpened>(&written.entry.body);
        return opened != nullptr && is_erased(job.entries, opened->customer);
    });
    if (!may_be_gone) std::move(doubts.missing.begin(), doubts.missing.end(), std::back_inserter(job.damaged));
    std::move(doubts.altered.begin(), doubts.altered.end(), std::back_inserter(job.damaged));
}

}  // namespace

Result<store::Entries> OfficeStore::Inside::entries(const std::string& condition, const Values& values) {
    const auto rows = connection.run("SELECT device, seq, prev, hash, time, job, body FROM entry " + condition, values);
    if (!rows) return refused(rows.error());
    store::Entries read;
    for (int row = 0; row < rows->count(); ++row) {
        auto written = store::checked_row({rows->text(row, 0), rows->number(row, 1), rows->text(row, 2), rows->text(row, 4), rows->text(row, 5), {}},
                                          rows->text(row, 3), rows->view(row, 6));
        if (written) read.entries.push_back(std::move(*written));
        else read.damaged.push_back(fmt::format("{}: {}", written.error().where, written.error().what));
    }
    return read;
}

Result<std::vector<record::Head>> OfficeStore::Inside::heads() {
    const auto rows = connection.run(
        "SELECT device, seq, hash FROM entry AS last WHERE NOT EXISTS (SELECT 1 FROM entry AS next WHERE next.device = last.device AND "
        "next.seq = last.seq + 1 AND next.prev = last.hash) ORDER BY device, seq, hash");
    if (!rows) return refused(rows.error());
    std::vector<record::Head> heads;
    for (int row = 0; row < rows->count(); ++row) heads.push_back({rows->text(row, 0), rows->number(row, 1), rows->text(row, 2)});
    return heads;
}

Result<std::vector<record::Head>> OfficeStore::heads() { return inside_->heads(); }

Result<store::Entries> OfficeStore::Inside::stream_for_jobs() {
    auto stream = entries("WHERE job = ''", {});
    if (!stream) return stream;
    std::erase_if(stream->entries, [](const Written& written) { return !concerns_every_job(written.entry.body); });
    return stream;
}

Result<void> OfficeStore::Inside::fill_in(std::vector<Written>& entries, const store::Keys& keys, store::WordDoubts* doubts) {
    std::set<std::string> wanted;
    for (Written& written : entries)
        for (const record::Personal* words : record::personal_in(written.entry.body))
            if (!words->commitment.empty()) wanted.insert(words->commitment);
    std::map<std::string, store::LockedWords> found;
    constexpr std::size_t at_once = 1000;
    for (auto next = wanted.begin(); next != wanted.end();) {
        Values values;
        std::size_t count = 0;
        for (; next != wanted.end() && count < at_once; ++next, ++count) values.text(*next);
        const auto rows = connection.run("SELECT commitment, customer, box FROM personal WHERE commitment IN " + places_for(1, count), values);
        if (!rows) return refused(rows.error());
        for (int row = 0; row < rows->count(); ++row)
            found.emplace(rows->text(row, 0), store::LockedWords{rows->text(row, 0), rows->text(row, 1), rows->bytes(row, 2)});
    }
    const auto find = [&](const std::string& commitment) -> Result<std::optional<store::LockedWords>> {
        const auto at = found.find(commitment);
        return at == found.end() ? std::nullopt : std::optional{at->second};
    };
    return store::fill_in_words(entries, find, keys, doubts);
}

Result<store::Entries> OfficeStore::read_job(std::string_view job, const store::Keys& keys) {
    auto read = inside_->entries("WHERE job = $1", Values{}.text(job));
    if (!read) return read;
    auto stream = inside_->stream_for_jobs();
    if (!stream) return stream;
    std::move(stream->entries.begin(), stream->entries.end(), std::back_inserter(read->entries));
    store::WordDoubts doubts;
    if (auto filled = inside_->fill_in(read->entries, keys, &doubts); !filled) return refused(filled.error());
    tell(std::move(doubts), *read);
    read->entries = record::in_order(std::move(read->entries));
    return read;
}

/// A crew sees only some rows of a chain, so only whoever sees all can count them.
Result<std::vector<std::string>> OfficeStore::Inside::gaps() {
    std::vector<std::string> sentences;
    if (is_crew) return sentences;
    const auto rows = connection.run(
        "SELECT device, count(DISTINCT seq), max(seq) FROM (SELECT device, seq FROM entry UNION ALL SELECT device, NULL FROM head) AS "
        "every GROUP BY device ORDER BY device");
    if (!rows) return refused(rows.error());
    const auto signed_up_to = connection.run("SELECT device, max(seq) FROM head GROUP BY device");
    if (!signed_up_to) return refused(signed_up_to.error());
    std::map<std::string, std::int64_t> ends;
    for (int row = 0; row < signed_up_to->count(); ++row) ends.emplace(signed_up_to->text(row, 0), signed_up_to->number(row, 1));
    for (int row = 0; row < rows->count(); ++row) {
        const std::string device = rows->text(row, 0);
        const std::int64_t there = rows->number(row, 1);
        const std::int64_t last = std::max(rows->number(row, 2), ends[device]);
        if (there != last) sentences.push_back(fmt::format("device {}: {} of its {} entries are missing from the database.", device, last - there, last));
    }
    return sentences;
}

Result<OfficeRead> OfficeStore::read_all(const store::Keys& keys, const EachJob& job) {
    Inside& inside = *inside_;
    const auto moment = OfficeTransaction::begun_to_read(inside.connection);
    if (!moment) return refused(moment.error());
    OfficeRead read;
    auto heads = inside.heads();
    if (!heads) return refused(heads.error());
    read.heads = std::move(*heads);
    auto gaps = inside.gaps();
    if (!gaps) return refused(gaps.error());
    read.damaged = std::move(*gaps);
    auto stream = inside.entries("WHERE job = ''", {});
    if (!stream) return refused(stream.error());
    std::move(stream->damaged.begin(), stream->damaged.end(), std::back_inserter(read.damaged));
    if (auto filled = inside.fill_in(stream->entries, keys, nullptr); !filled) return refused(filled.error());
    std::vector<Written> of_every_job;
    for (const Written& written : stream->entries)
        if (concerns_every_job(written.entry.body)) of_every_job.push_back(written);
    read.stream = record::in_order(std::move(stream->entries));

    const auto names = inside.connection.run("SELECT DISTINCT job FROM entry WHERE job > '' ORDER BY job");
    if (!names) return refused(names.error());
    constexpr int jobs_at_once = 100;
    for (int first = 0; first < names->count(); first += jobs_at_once) {
        const int last = std::min(first + jobs_at_once, names->count()) - 1;
        auto rows = inside.entries("WHERE job >= $1 AND job <= $2 ORDER BY job, time, hash",
                                   Values{}.text(names->text(first, 0)).text(names->text(last, 0)));
        if (!rows) return refused(rows.error());
        // Which job a damaged row is of is not known: it is told once.
        std::move(rows->damaged.begin(), rows->damaged.end(), std::back_inserter(read.damaged));
        for (auto next = rows->entries.begin(); next != rows->entries.end();) {
            const auto end = std::find_if(next, rows->entries.end(), [&](const Written& written) { return written.entry.job != next->entry.job; });
            store::JobLine line{next->entry.job, next->entry.time, std::prev(end)->entry.time, std::prev(end)->hash};
            store::Entries entries{{std::make_move_iterator(next), std::make_move_iterator(end)}, {}};
            next = end;
            entries.entries.insert(entries.entries.end(), of_every_job.begin(), of_every_job.end());
            store::WordDoubts doubts;
            if (auto filled = inside.fill_in(entries.entries, keys, &doubts); !filled) return refused(filled.error());
            tell(std::move(doubts), entries);
            entries.entries = record::in_order(std::move(entries.entries));
            read.jobs.push_back(line);
            if (auto told = job(line, std::move(entries)); !told) return refused(told.error());
        }
    }
    return read;
}

}  // namespace wm::exchange
