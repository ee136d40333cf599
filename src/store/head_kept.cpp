// The last head of this device, kept beside the journal too.
//
// SQLite ends its log at the first page whose checksum is wrong, and takes what stood behind it for a write that a loss of power
// cut short. One bit that changed there takes entries away that were saved, with the signed head among them, and nothing inside
// the file can tell. head.txt is written after the commit, seldom: it may stand behind the journal, never before it. So a
// journal that ends before it has lost what was saved. What was lost may be known to others by now: a new device goes on, for a
// second entry of the same number would look as if the folder had been copied.
#include "store/inside.hpp"

#include <fmt/format.h>

#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::store {

namespace {

namespace fs = std::filesystem;

constexpr const char* log_name = "journal.db-wal";

fs::path head_file(const Opening& opening) { return opening.folder / "head.txt"; }

/// "device number hash", and the hash of these: a line that was torn between two of them is none.
std::string line_of(const record::Head& head) {
    const std::string line = fmt::format("{} {} {}", head.device, head.seq, head.hash);
    return fmt::format("{} {}\n", line, digest::sha256_hex(line));
}

/// nullopt where the line is not of this device, or torn.
std::optional<std::int64_t> number_in(const std::string& text, const std::string& device) {
    if (!text.starts_with(device + ' ')) return std::nullopt;
    const auto after = text.find(' ', device.size() + 1);
    if (after == std::string::npos) return std::nullopt;
    std::int64_t number = 0;
    for (std::size_t i = device.size() + 1; i < after; ++i) {
        if (text[i] < '0' || text[i] > '9' || number > (std::int64_t{1} << 40U)) return std::nullopt;
        number = number * 10 + (text[i] - '0');
    }
    const auto hash = text.find(' ', after + 1);
    if (hash == std::string::npos) return std::nullopt;
    if (text != line_of({device, number, text.substr(after + 1, hash - after - 1)})) return std::nullopt;
    return number;
}

}  // namespace

void Journal::Inside::keep_head() {
    constexpr std::int64_t seldom_ms = 30'000;
    if (head_kept_ms && clock.wall_ms >= *head_kept_ms && clock.wall_ms - *head_kept_ms < seldom_ms) return;
    head_kept_ms = clock.wall_ms;
    static_cast<void>(write_file(head_file(opening), line_of(head), *disk));
}

std::optional<record::EntriesLost> Journal::Inside::entries_lost() const {
    const auto there = look_at_file(head_file(opening), *disk);
    if (!there || !*there) return std::nullopt;
    const auto text = read_file(head_file(opening), *disk);
    const auto number = text ? number_in(*text, device) : std::nullopt;
    if (!number || *number <= head.seq) return std::nullopt;
    return record::EntriesLost{device, head.seq + 1, *number};
}

std::string log_as_left(const fs::path& folder, Disk& disk) {
    const auto there = look_at_file(folder / log_name, disk);
    if (!there || !*there || (*there)->size == 0) return {};
    return read_file(folder / log_name, disk).value_or("");
}

Result<void> Journal::go_on_after_loss(const record::EntriesLost& lost, const std::string& log) {
    // Who knows how may read more out of it.
    if (!log.empty()) {
        const fs::path aside = inside_->opening.folder / "set-aside" / fmt::format("log-{}-{}", lost.device.substr(0, 8), lost.to);
        if (auto kept = write_file(aside / log_name, log, *inside_->disk); !kept) return kept;
    }
    if (auto done = become_new_device(inside_->opening.wall_ms); !done) return done;
    const auto told = append({.wall_ms = inside_->opening.wall_ms, .customer = {}, .drafts = {{"", lost}}});
    if (!told) return refused(told.error());
    inside_->lost_at_opening = lost;
    return {};
}

const std::optional<record::EntriesLost>& Journal::lost_at_opening() const { return inside_->lost_at_opening; }

}  // namespace wm::store
