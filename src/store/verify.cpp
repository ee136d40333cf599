// The whole journal recomputed: chains, heads, trust, words and files; the rest of journal.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "digest/hash.hpp"
#include "store/inside.hpp"
#include "store/look_through.hpp"

namespace wm::store {
namespace {

using record::Written;

/// A signed head that no entry stands for shows that the end of a chain was taken away.
void check_heads(const std::vector<record::SignedHead>& heads, const std::vector<record::Link>& links,
                 JournalReport& report) {
    std::set<std::string_view> wanted, hashes;
    for (const record::SignedHead& head : heads) wanted.insert(head.head.hash);
    for (const record::Link& link : links)
        if (wanted.contains(link.hash)) hashes.insert(link.hash);
    for (const record::SignedHead& head : heads) {
        if (!record::is_genuine(head)) {
            report.reasons.push_back(fmt::format(
                "The signature of the head of device {} does not fit.", head.head.device));
        } else if (!hashes.contains(head.head.hash)) {
            report.reasons.push_back(
                fmt::format("Device {} had signed entry {} as its last, and it is not here: the "
                            "journal was set back.",
                            head.head.device, head.head.seq));
        }
    }
}

/// The end of each chain is signed by its device: the entries before it are named by those behind.
void check_ends(const std::vector<record::SignedHead>& heads, JournalReport& report) {
    std::set<std::pair<std::string_view, std::string_view>> settled;
    std::map<std::string_view, std::int64_t> signed_up_to;
    for (const record::SignedHead& head : heads) {
        if (!record::is_genuine(head)) continue;
        settled.emplace(head.head.device, head.head.hash);
        signed_up_to[head.head.device] = std::max(signed_up_to[head.head.device], head.head.seq);
    }
    // Where a later one is signed and missing, that is told.
    for (const record::Head& end : report.chains.heads)
        if (!settled.contains({end.device, end.hash}) && signed_up_to[end.device] <= end.seq)
            report.reasons.push_back(fmt::format("Device {} did not sign its last entry here, {}: somebody else wrote it.", end.device, end.seq));
}

/// The company's word on its devices.
void check_trust(const std::vector<Written>& entries, const std::vector<record::Link>& links, JournalReport& report) {
    std::map<std::string, std::string> root_of;
    for (const Written& written : entries) {
        const auto* started = std::get_if<record::DeviceStarted>(&written.entry.body);
        if (started == nullptr || started->company_signature.empty()) continue;
        const auto root = digest::from_hex(started->root_certificate).value_or("");
        const auto key = digest::from_hex(started->public_key).value_or("");
        const auto signature = digest::from_hex(started->company_signature).value_or("");
        if (!digest::is_signed_by_company(root, record::device_claim(started->device, key),
                                          signature)) {
            report.reasons.push_back(
                fmt::format("The company did not sign the key of device {}.", started->device));
        }
        root_of[started->device] = root;
    }
    for (const Written& written : entries) {
        const auto* revoked = std::get_if<record::DeviceRevoked>(&written.entry.body);
        if (revoked == nullptr) continue;
        const std::string claim = record::revocation_claim(revoked->device, revoked->from_seq);
        const auto signature = digest::from_hex(revoked->company_signature).value_or("");
        if (!digest::is_signed_by_company(root_of[revoked->device], claim, signature)) continue;
        const auto late = std::count_if(links.begin(), links.end(), [&](const record::Link& each) {
            return each.device == revoked->device && each.seq >= revoked->from_seq;
        });
        if (late > 0) {
            report.reasons.push_back(
                fmt::format("Device {} was revoked from entry {} on and has {} later.",
                            revoked->device, revoked->from_seq, late));
        }
    }
}

/// How many entries stand where their device said that the times are given by hand.
std::int64_t count_by_hand(const std::vector<Written>& entries, const std::vector<record::Link>& links) {
    std::map<std::string, std::map<std::int64_t, record::TimeSource>, std::less<>> said;
    for (const Written& written : entries)
        if (const auto* told = std::get_if<record::TimeSourceChanged>(&written.entry.body))
            said[written.entry.device].insert_or_assign(written.entry.seq, record::time_source_of(*told));
    return std::count_if(links.begin(), links.end(), [&](const record::Link& link) {
        const auto of = said.find(link.device);
        if (of == said.end()) return false;
        const auto after = of->second.upper_bound(link.seq);
        return after != of->second.begin() && std::prev(after)->second == record::TimeSource::Hand;
    });
}

}  // namespace

namespace {

/// What was told as lost, or is seen to be, and did not come back by bundle.
void check_lost(const std::vector<Written>& entries, const std::vector<record::Link>& links, const std::optional<record::EntriesLost>& seen,
                JournalReport& report) {
    std::vector<record::EntriesLost> all;
    for (const Written& written : entries)
        if (const auto* told = std::get_if<record::EntriesLost>(&written.entry.body)) all.push_back(*told);
    if (seen && std::find(all.begin(), all.end(), *seen) == all.end()) all.push_back(*seen);
    for (const auto& lost : all) {
        const bool is_back = std::any_of(links.begin(), links.end(),
                                         [&](const record::Link& link) { return link.device == lost.device && link.seq >= lost.to; });
        if (!is_back)
            report.reasons.push_back(fmt::format("Entries {} to {} of device {} had been saved and are missing.", lost.from, lost.to, lost.device));
    }
}

}  // namespace

Result<JournalReport> Journal::verify_journal(Files files) const {
    const auto moment = Transaction::begun_to_read(inside_->database);
    if (!moment) return refused(moment.error());
    // Tables and indexes against each other too: an index that lost a row hides an entry from its job.
    const auto whole = inside_->database.text("PRAGMA integrity_check(1)");
    auto read = look_through(inside_->database);
    if (!read) return refused(read.error());
    const auto heads = signed_heads();
    if (!heads) return refused(heads.error());
    const auto marked = inside_->erased_without_entry();
    if (!marked) return refused(marked.error());
    const auto erased = inside_->erased_customers();
    if (!erased) return refused(erased.error());
    JournalReport report;
    report.chains = record::verify_links(read->links);
    report.reasons = read->damaged;
    if (!whole || *whole != "ok") {
        report.reasons.push_back(
            fmt::format("The journal file is damaged: {}.", whole ? *whole : whole.error().what));
    }
    for (const std::string& broken : report.chains.broken) report.reasons.push_back(broken);
    for (const record::Fork& fork : report.chains.forks) {
        report.reasons.push_back(fmt::format(
            "Device {} wrote {} different entries {}: its folder was copied or set back.",
            fork.device, fork.hashes.size(), fork.seq));
    }
    check_heads(*heads, read->links, report);
    // Ours is signed with every entry; without it a cut tail would leave no trace.
    const auto is_ours = [&](const auto& each) { return each.device == inside_->device; };
    const bool wrote = std::any_of(read->links.begin(), read->links.end(), is_ours);
    const bool has_head = std::any_of(heads->begin(), heads->end(),
                                      [&](const record::SignedHead& head) { return is_ours(head.head); });
    if (wrote && !has_head)
        report.reasons.emplace_back("The signed head of this device is missing: whether the end is whole cannot be told.");
    check_ends(*heads, report);
    for (const std::string& altered : inside_->altered_parts) report.reasons.push_back(altered);
    for (const std::string& customer : *marked)
        report.reasons.push_back(fmt::format("Customer {} is marked as erased, and no entry says so.", customer));
    check_trust(read->kept, read->links, report);
    check_lost(read->kept, read->links, inside_->lost_at_opening, report);
    report.by_hand = count_by_hand(read->kept, read->links);
    check_personal(read->kept, *erased, files, report);
    return report;
}

void Journal::check_personal(const std::vector<Written>& entries,
                             const std::set<std::string>& erased, Files files,
                             JournalReport& report) const {
    std::map<std::string, std::string> customer_of;
    for (const Written& written : entries) {
        if (const auto* opened = std::get_if<record::JobOpened>(&written.entry.body)) {
            customer_of.emplace(opened->number, opened->customer);
        }
    }
    auto find_words =
        inside_->database.prepared("SELECT customer FROM personal WHERE commitment = ?1");
    auto find_file = inside_->database.prepared("SELECT customer FROM attachment WHERE id = ?1");
    if (!find_words || !find_file) {
        report.reasons.push_back("The words and files beside the journal cannot be looked up.");
        return;
    }
    std::vector<Written> filled = entries;
    if (auto done = inside_->fill_in_words(filled); !done)
        report.reasons.push_back(done.error().what);
    for (Written& written : filled) {
        const std::string where =
            fmt::format("Device {}, entry {}", written.entry.device, written.entry.seq);
        const auto owner = customer_of.find(written.entry.job);
        const bool may_be_gone = owner != customer_of.end() && erased.contains(owner->second);
        for (const record::Personal* words : record::personal_in(written.entry.body)) {
            const auto row = find_words->bind(1, words->commitment).step();
            const bool is_here = row && *row;
            const auto key = is_here ? inside_->keys.customer(find_words->text(0)) : std::nullopt;
            find_words->reset();
            if (!is_here) {
                ++report.erased_words;
                if (!may_be_gone)
                    report.reasons.push_back(where + ": words of a person are missing.");
            } else if (key && (!words->text || digest::to_hex(digest::hmac_sha256(
                                                   *key, *words->text)) != words->commitment)) {
                report.reasons.push_back(where +
                                         ": words of a person are not those that were entered.");
            }
        }
        for (const record::Attached* file : record::attached_in(written.entry.body)) {
            const auto row = find_file->bind(1, file->id).step();
            const bool is_here = row && *row;
            find_file->reset();
            if (!is_here && may_be_gone) continue;
            if (files == Files::LeaveOut) continue;
            ++report.attachments;
            if (files == Files::LookOnly) {
                const auto there = look_at_file(inside_->file_of(file->id), *inside_->disk);
                if (!there || !*there)
                    report.reasons.push_back(
                        fmt::format("{}: attachment {} is missing.", where, file->id));
                continue;
            }
            const auto bytes = read_file(inside_->file_of(file->id), *inside_->disk);
            if (!bytes) {
                report.reasons.push_back(
                    fmt::format("{}: attachment {} is missing.", where, file->id));
            } else if (digest::sha256_hex(*bytes) != file->id) {
                report.reasons.push_back(
                    fmt::format("{}: attachment {} was changed.", where, file->id));
            }
        }
    }
}

}  // namespace wm::store
