#include "desk/office_week.hpp"

#include <fmt/format.h>

#include <map>

#include "audit/results.hpp"
#include "audit/columns.hpp"
#include "desk/view_parts.hpp"
#include "desk/week.hpp"

namespace wm::desk {

namespace {

/// What one look at all jobs leaves behind.
struct Counted {
    audit::Columns columns;
    std::vector<JobRow> rows;
    std::vector<std::string> damaged;
    std::map<std::string, DeviceWork, std::less<>> work;
};

/// Folded, counted and let go, as a data folder does it: no office holds all its jobs in memory.
void count(const store::JobLine& line, store::Entries entries, Counted& into) {
    const auto state = record::folded(line.job, entries.entries);
    const auto rows = audit::audit_table({&state, 1});
    if (!rows.jobs.empty()) into.columns.put(rows);
    into.rows.push_back(job_row(state, 0));
    for (const auto& sentence : entries.damaged) into.damaged.push_back(fmt::format("Job {}: {}", line.job, sentence));
}

}  // namespace

Result<WeekView> office_week(exchange::OfficeStore& office, const OfficeReader& reader, const std::string& week,
                             const audit::WeekSettings& settings) {
    const auto days = days_of_week(week);
    if (!days) return tl::unexpected(days.error());
    Counted counted;
    auto read = office.read_all(reader.keys, [&](const store::JobLine& line, store::Entries entries) -> Result<void> {
        for (const auto& [entry, hash] : entries.entries) counted.work[entry.device].add(entry, days->first, days->last);
        count(line, std::move(entries), counted);
        return {};
    });
    if (!read) return tl::unexpected(read.error());
    WeekRecord record{.columns = counted.columns,
                      .stream = std::move(read->stream),
                      .heads = std::move(read->heads),
                      .lines = [&]() -> Result<std::vector<store::JobLine>> { return read->jobs; },
                      .devices = {},
                      .work = [&](const std::string& device) -> Result<DeviceWork> { return counted.work[device]; },
                      .visits = {},
                      .damaged = std::move(read->damaged)};
    record.devices = devices_of(record.stream, record.heads, reader.looking);
    for (const auto& row : counted.rows) add_visit(record, row);
    record.damaged.insert(record.damaged.end(), counted.damaged.begin(), counted.damaged.end());
    return week_of_record(record, {reader.library, reader.failures, reader.now}, week, settings);
}

Result<std::vector<std::string>> office_weeks(exchange::OfficeStore& office, const store::Keys& keys) {
    Counted counted;
    const auto read = office.read_all(keys, [&](const store::JobLine& line, store::Entries entries) -> Result<void> {
        count(line, std::move(entries), counted);
        return {};
    });
    if (!read) return tl::unexpected(read.error());
    return audit::weeks_of(counted.columns);
}

}  // namespace wm::desk
