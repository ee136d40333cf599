#include "desk/registers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "desk/actions.hpp"
#include "desk/moment.hpp"
#include "desk/view_parts.hpp"
#include "store/people.hpp"

namespace wm::desk {

namespace {

constexpr std::array names{std::pair{Register::Instruments, std::string_view{"instruments"}},
                           std::pair{Register::People, std::string_view{"people"}},
                           std::pair{Register::Checklists, std::string_view{"checklists"}}};

/// Runs over the states of all real jobs, oldest first.
template <class Look>
Result<void> over_jobs(Desk& desk, Look&& look) {
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    for (const auto& row : *rows) {
        if (row.practice) continue;
        // A job that cannot be read is named in the job list and in the week.
        if (const auto hand = desk.in_hand(row.job)) look(row, *hand);
    }
    return {};
}

struct Calibration {
    std::string on, due, certificate, as_found, first_job;
    int jobs = 0;
};
struct InstrumentUse {
    std::string type, uncertainty, last_day, last_crew;
    std::vector<Calibration> calibrations;  ///< in the order of the jobs
    int jobs = 0, readings = 0;
};

void note_instrument(InstrumentUse& use, const record::InstrumentRegistered& card, const JobRow& row) {
    use.type = card.type;
    if (!card.uncertainty.empty()) use.uncertainty = card.uncertainty;
    ++use.jobs;
    const std::string day = row.started.substr(0, 10);
    if (day >= use.last_day) {
        use.last_day = day;
        use.last_crew = row.crew;
    }
    const auto same = std::find_if(use.calibrations.begin(), use.calibrations.end(), [&](const Calibration& each) {
        return each.on == card.calibrated_on && each.due == card.due && each.certificate == card.certificate;
    });
    if (same != use.calibrations.end()) ++same->jobs;
    else use.calibrations.push_back({card.calibrated_on, card.due, card.certificate, card.as_found, row.job, 1});
}

std::string state_of(const InstrumentUse& use, const std::string& latest_due, bool doubted, const std::string& today) {
    if (doubted) return "not to be trusted";
    if (latest_due.empty()) return use.calibrations.empty() ? "" : "no due date";
    const auto days = days_between(today, latest_due);
    if (!days) return "due date unreadable";
    if (*days < 0) return fmt::format("out of date since {}", latest_due);
    return *days <= 30 ? fmt::format("due in {} days", *days) : std::string{"in date"};
}

std::vector<std::string> history_of(const InstrumentUse& use) {
    std::vector<std::string> lines;
    for (auto one = use.calibrations.rbegin(); one != use.calibrations.rend(); ++one) {
        std::string line = fmt::format("calibrated {}, due {}", one->on.empty() ? "on an unknown day" : one->on,
                                       one->due.empty() ? "on an unknown day" : one->due);
        if (!one->certificate.empty()) line += ", certificate " + one->certificate;
        if (!one->as_found.empty()) line += ", found off by " + one->as_found;
        lines.push_back(line + fmt::format("; {} job{} since {}", one->jobs, one->jobs == 1 ? "" : "s", one->first_job));
    }
    return lines;
}

Result<RegisterTable> instruments(Desk& desk) {
    std::map<std::string, InstrumentUse> all;
    const auto looked = over_jobs(desk, [&](const JobRow& row, const JobInHand& hand) {
        for (const auto& [id, card] : hand.state().instruments) note_instrument(all[id], card, row);
        for (const auto& [id, check] : hand.state().checks)
            for (const auto& reading : check.readings)
                if (!reading.taken.instrument.empty()) ++all[reading.taken.instrument].readings;
    });
    if (!looked) return tl::unexpected(looked.error());
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    std::set<std::string> doubted;
    for (const auto& [origin, doubt] : office->doubted_instruments) doubted.insert(doubt.instrument);
    const std::string today = day_of(desk.setup().now());
    RegisterTable table{{"instrument", "type", "state", "calibrated", "due", "uncertainty", "jobs", "readings", "last used", "crew"}, {}};
    for (const auto& [id, use] : all) {
        const Calibration latest = use.calibrations.empty()
                                       ? Calibration{}
                                       : *std::max_element(use.calibrations.begin(), use.calibrations.end(),
                                                           [](const auto& a, const auto& b) { return a.due < b.due; });
        table.rows.push_back({{id, use.type, state_of(use, latest.due, doubted.contains(id), today), latest.on, latest.due, use.uncertainty,
                               std::to_string(use.jobs), std::to_string(use.readings), use.last_day, use.last_crew},
                              history_of(use)});
    }
    return table;
}

Result<RegisterTable> people(Desk& desk) {
    struct Worker {
        std::string plumbing, electrical, height, gear, last_day, role;
        int jobs = 0, failed = 0;
        std::set<std::string> with;
    };
    std::map<std::string, Worker> all;
    const auto looked = over_jobs(desk, [&](const JobRow& row, const JobInHand& hand) {
        const auto& state = hand.state();
        const std::string lead = fact_text(state, "crew.lead");
        if (lead.empty()) return;
        Worker& worker = all[lead];
        ++worker.jobs;
        worker.failed += row.failed;
        const auto newest = [&](std::string& kept, const char* key) {
            if (auto text = fact_text(state, key); !text.empty()) kept = std::move(text);
        };
        newest(worker.plumbing, "crew.plumb_lic");
        newest(worker.electrical, "crew.elec_lic");
        newest(worker.height, "crew.height_card");
        newest(worker.gear, "crew.fall_gear");
        worker.last_day = std::max(worker.last_day, row.started.substr(0, 10));
        if (const auto members = fact_text(state, "crew.members"); !members.empty()) worker.with.insert(members);
    });
    if (!looked) return tl::unexpected(looked.error());
    // Who has a PIN stands in the list even before the first job.
    if (const auto known = desk.journal().people(); known)
        for (const auto& person : *known) all[person.name].role = store::word_of(person.role);
    RegisterTable table{{"person", "role", "jobs led", "open failures", "plumbing", "electrical", "work at height", "fall gear", "last job"}, {}};
    for (const auto& [name, worker] : all) {
        std::vector<std::string> history;
        for (const auto& members : worker.with) history.push_back("with " + members);
        table.rows.push_back({{name, worker.role, std::to_string(worker.jobs), std::to_string(worker.failed), worker.plumbing,
                               worker.electrical, worker.height, worker.gear, worker.last_day},
                              std::move(history)});
    }
    return table;
}

Result<RegisterTable> checklists(Desk& desk) {
    std::map<std::string, std::map<std::string, int>> versions;  // by name: version, jobs
    std::map<std::string, int> open;
    const auto looked = over_jobs(desk, [&](const JobRow& row, const JobInHand& hand) {
        ++versions[row.checklist][std::to_string(hand.state().opened->checklist_version)];
        open[row.checklist] += row.state == "open" ? 1 : 0;
    });
    if (!looked) return tl::unexpected(looked.error());
    RegisterTable table{{"checklist", "title", "version", "of", "checks", "core", "hold points", "jobs", "open jobs"}, {}};
    for (const auto& list : desk.library().checklists) {
        const auto count = [&](auto&& wanted) { return std::to_string(std::count_if(list.checks.begin(), list.checks.end(), wanted)); };
        int jobs = 0;
        std::vector<std::string> history{fmt::format("version {}: {}", list.version, list.reason)};
        for (auto one = versions[list.name].rbegin(); one != versions[list.name].rend(); ++one) {
            jobs += one->second;
            history.push_back(fmt::format("{} job{} with version {}", one->second, one->second == 1 ? "" : "s", one->first));
        }
        table.rows.push_back({{list.name, list.title, std::to_string(list.version), list.date, std::to_string(list.checks.size()),
                               count([](const checklist::Check& check) { return check.core; }),
                               count([](const checklist::Check& check) { return check.hold; }), std::to_string(jobs),
                               std::to_string(open[list.name])},
                              std::move(history)});
    }
    return table;
}

}  // namespace

std::string_view in_words(Register which) {
    for (const auto& [value, word] : names)
        if (value == which) return word;
    return "";
}

std::optional<Register> register_named(std::string_view word) {
    for (const auto& [value, name] : names)
        if (name == word) return value;
    return std::nullopt;
}

Result<RegisterTable> register_table(Desk& desk, Register which) {
    switch (which) {
        case Register::Instruments: return instruments(desk);
        case Register::People: return people(desk);
        case Register::Checklists: return checklists(desk);
    }
    return RegisterTable{};
}

}  // namespace wm::desk
