// What every job counts for in the week: kept up to date in memory, and between two starts beside the journal.
#include "audit/results.hpp"
#include "desk/desk.hpp"
#include "desk/kept_columns.hpp"

namespace wm::desk {

namespace {

// Changes when rows are made otherwise, so that no row of an older program is believed.
constexpr const char* columns_made_from = "columns 5";
constexpr const char* columns_name = "week columns";
// Written rarely: what a few jobs cost to count again is less than writing all of them.
constexpr std::size_t worth_keeping = 16;

}  // namespace

// Whether the job was folded. Folded and let go: ten thousand folded jobs would fill the memory of a tablet.
Result<bool> Desk::count_again(const store::JobLine& line) {
    auto& after = audited_after_[line.job];
    if (after == line.last_hash && !after.empty()) return false;
    audit::AuditTable rows;
    if (const auto at_hand = states_.find(line.job); at_hand != states_.end() && at_hand->second->last_time == line.last_time) {
        rows = audit::audit_table({at_hand->second.get(), 1});
        after = line.last_hash;
    } else {
        auto entries = journal_.read_job(line.job);
        if (!entries) return tl::unexpected(entries.error());
        const auto state = record::folded(line.job, entries->entries);
        rows = audit::audit_table({&state, 1});
        // A damaged job may be mended by a bundle, which leaves its last entry as it was.
        after = entries->damaged.empty() ? line.last_hash : "";
        if (entries->damaged.empty()) damaged_.erase(line.job);
        else damaged_[line.job] = std::move(entries->damaged);
    }
    if (rows.jobs.empty()) {
        audited_.remove(line.job);
    } else {
        rows.jobs.front().made_after = after;
        audited_.put(rows);
    }
    return true;
}

Result<const audit::Columns*> Desk::audit_columns() {
    const auto erasures = journal_.erasures();
    if (!audited_version_) {
        if (auto kept = journal_.cache(columns_name); kept && kept->made_from == columns_made_from)
            audited_ = audit::Columns::read_kept(kept->body).value_or(audit::Columns{});
        // An erasure throws away what is kept, so what is there knows of all of them.
        audited_erasures_ = erasures;
        for (const auto& job : audited_.rest().jobs) audited_after_[job.job] = job.made_after;
    }
    const auto version = journal_.version();
    if (audited_version_ == version && audited_head_ == journal_.head().hash && audited_erasures_ == erasures) return &audited_;
    const auto lines = journal_.jobs();
    if (!lines) return tl::unexpected(lines.error());
    // The rows hold owners by name, which an erasure takes away.
    if (audited_erasures_ != erasures) {
        audited_ = {};
        audited_after_.clear();
        audited_erasures_ = erasures;
    }
    std::size_t counted = 0;
    for (const auto& line : *lines) {
        const auto again = count_again(line);
        if (!again) return tl::unexpected(again.error());
        counted += *again ? 1 : 0;
    }
    audited_version_ = version;
    audited_head_ = journal_.head().hash;
    if (counted >= worth_keeping && setup_.access == Access::Write)
        if (auto kept = journal_.put_cache(columns_name, {columns_made_from, audited_.kept()}); !kept) return tl::unexpected(kept.error());
    return &audited_;
}

Result<bool> columns_are_kept(Desk& desk) {
    const auto columns = desk.audit_columns();
    if (!columns) return tl::unexpected(columns.error());
    const auto kept = desk.journal().cache(columns_name);
    if (!kept || kept->made_from != columns_made_from) return (*columns)->job_count() == 0;
    const auto read = audit::Columns::read_kept(kept->body);
    if (!read) return false;
    std::map<std::string_view, std::string_view> after;
    for (const auto& card : read->rest().jobs) after.emplace(card.job, card.made_after);
    std::size_t missing = 0;
    for (const auto& card : (*columns)->rest().jobs)
        if (const auto found = after.find(card.job); found == after.end() || found->second != card.made_after) ++missing;
    return missing < worth_keeping;
}

Result<void> keep_columns(Desk& desk, store::Journal& writer) {
    const auto columns = desk.audit_columns();
    if (!columns) return tl::unexpected(columns.error());
    return writer.put_cache(columns_name, {columns_made_from, (*columns)->kept()});
}

}  // namespace wm::desk
