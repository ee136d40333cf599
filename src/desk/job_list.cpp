#include "desk/job_list.hpp"

#include <charconv>

#include "desk/desk.hpp"
#include "desk/moment.hpp"
#include "desk/view_parts.hpp"
#include "record/state.hpp"

namespace wm::desk {

namespace {

constexpr const char* damaged_state = "damaged";

void put(std::string& text, std::string_view field) {
    text += std::to_string(field.size());
    text += ':';
    text += field;
}

class FieldReader {
public:
    explicit FieldReader(std::string_view text) : rest_{text} {}

    std::string text() {
        const auto colon = rest_.find(':');
        std::size_t size = 0;
        const auto* end = rest_.data() + (colon == std::string_view::npos ? 0 : colon);
        const auto read = std::from_chars(rest_.data(), end, size);
        if (colon == std::string_view::npos || read.ec != std::errc{} || read.ptr != end || size > rest_.size() - colon - 1) {
            torn_ = true;
            rest_ = {};
            return {};
        }
        std::string field{rest_.substr(colon + 1, size)};
        rest_.remove_prefix(colon + 1 + size);
        return field;
    }

    int number() {
        const auto field = text();
        int value = 0;
        const auto* end = field.data() + field.size();
        const auto read = std::from_chars(field.data(), end, value);
        if (read.ec != std::errc{} || read.ptr != end) torn_ = true;
        return value;
    }

    [[nodiscard]] bool is_at_end() const { return rest_.empty(); }
    [[nodiscard]] bool is_torn() const { return torn_; }

private:
    std::string_view rest_;
    bool torn_ = false;
};

}  // namespace

std::string text_of(const ListedJobs& jobs) {
    std::string text;
    for (const auto& [number, job] : jobs) {
        for (const std::string* field :
             {&number, &job.last_hash, &job.opened_at, &job.row.checklist, &job.row.kind, &job.row.place, &job.row.crew,
              &job.row.state, &job.row.customer, &job.row.due, &job.row.after, &job.row.day})
            put(text, *field);
        put(text, std::to_string(job.row.open));
        put(text, std::to_string(job.row.failed));
        put(text, std::to_string(job.row.complaints));
        put(text, std::to_string(job.row.complaints_open));
        put(text, job.row.practice ? "1" : "0");
    }
    return text;
}

std::optional<ListedJobs> read_listed(std::string_view text) {
    ListedJobs jobs;
    FieldReader reader{text};
    while (!reader.is_at_end()) {
        ListedJob job;
        job.row.job = reader.text();
        for (std::string* field : {&job.last_hash, &job.opened_at, &job.row.checklist, &job.row.kind, &job.row.place,
                                   &job.row.crew, &job.row.state, &job.row.customer, &job.row.due, &job.row.after, &job.row.day})
            *field = reader.text();
        job.row.open = reader.number();
        job.row.failed = reader.number();
        job.row.complaints = reader.number();
        job.row.complaints_open = reader.number();
        job.row.practice = reader.number() == 1;
        if (reader.is_torn()) return std::nullopt;
        auto number = job.row.job;
        jobs.insert_or_assign(std::move(number), std::move(job));
    }
    return jobs;
}

// Rows that are read again are folded and let go: ten thousand folded jobs would fill the memory of a tablet.
Result<ListedJob> Desk::row_made_of(const store::JobLine& line) {
    std::shared_ptr<const record::JobState> state;
    bool damaged = damaged_.contains(line.job);
    if (const auto found = states_.find(line.job); found != states_.end()) {
        state = found->second;
    } else {
        const auto entries = journal_.read_job(line.job);
        if (!entries) return tl::unexpected(entries.error());
        damaged = !entries->damaged.empty();
        state = std::make_shared<record::JobState>(record::folded(line.job, entries->entries));
    }
    ListedJob job{line.last_hash, state->opened ? state->opened_at : line.first_time, job_row(*state, 0)};
    // What is left of it would look like another job: open again, or without a place.
    if (damaged) job.row.state = damaged_state;
    return job;
}

Result<void> Desk::look_through_jobs() {
    const auto lines = journal_.jobs();
    if (!lines) return tl::unexpected(lines.error());
    const auto erasures = journal_.erasures();
    if (listed_erasures_ != erasures) listed_.clear();
    listed_erasures_ = erasures;
    ListedJobs now;
    std::size_t read_again = 0;
    for (const auto& line : *lines) {
        const auto before = listed_.find(line.job);
        // A damaged job may have been mended by a bundle, which leaves its last entry as it was.
        if (before != listed_.end() && before->second.last_hash == line.last_hash &&
            before->second.row.state != damaged_state) {
            now.insert(now.end(), listed_.extract(before));
            continue;
        }
        auto job = row_made_of(line);
        if (!job) continue;  // a torn job is named when it is opened; the others stay usable
        ++read_again;
        now.emplace_hint(now.end(), line.job, std::move(*job));
    }
    listed_ = std::move(now);
    // Written rarely: what a few jobs cost to read again is less than writing the whole list.
    constexpr std::size_t worth_keeping = 16;
    if (read_again >= worth_keeping && setup_.access == Access::Write)
        if (auto kept = journal_.put_cache("job list", {std::string{job_list_made_from}, text_of(listed_)}); !kept)
            return kept;
    return {};
}

Result<std::vector<JobRow>> Desk::job_rows() {
    const bool first = !listed_version_;
    if (first) {
        if (auto kept = journal_.cache("job list"); kept && kept->made_from == job_list_made_from)
            listed_ = read_listed(kept->body).value_or(ListedJobs{});
        // An erasure throws away what is kept, so what is there knows of all of them.
        listed_erasures_ = journal_.erasures();
    }
    const auto version = journal_.version();
    // Another program wrote, or this one took in a bundle.
    if (first || *listed_version_ != version || listed_after_ != journal_.head().hash) {
        if (auto done = look_through_jobs(); !done) return tl::unexpected(done.error());
        touched_.clear();
    }
    for (const auto& number : touched_) {
        const auto line = journal_.job_line(number);
        if (!line) return tl::unexpected(line.error());
        if (!*line) continue;
        auto job = row_made_of(**line);
        if (!job) return tl::unexpected(job.error());
        listed_.insert_or_assign(number, std::move(*job));
    }
    touched_.clear();
    listed_version_ = version;
    listed_after_ = journal_.head().hash;
    std::vector<JobRow> rows;
    rows.reserve(listed_.size());
    const int zone = setup_.now().zone_minutes;
    for (const auto& [number, job] : listed_) {
        rows.push_back(job.row);
        rows.back().started = local_text(job.opened_at, zone);
    }
    return rows;
}

}  // namespace wm::desk
