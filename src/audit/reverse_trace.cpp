#include "audit/reverse_trace.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::audit {

ReverseIndex::ReverseIndex(const AuditTable& table) : table_{table} {
    for (std::size_t i = 0; i < table.uses.size(); ++i)
        uses_[table.uses[i].instrument].push_back(static_cast<std::uint32_t>(i));
    for (auto& [instrument, rows] : uses_)
        std::stable_sort(rows.begin(), rows.end(),
                         [&](std::uint32_t a, std::uint32_t b) { return table.uses[a].day < table.uses[b].day; });
    for (std::size_t i = 0; i < table.jobs.size(); ++i)
        for (const auto& [material, batch] : table.jobs[i].batches) jobs_[batch][material].push_back(static_cast<std::uint32_t>(i));
    for (auto& [batch, materials] : jobs_)
        for (auto& [material, rows] : materials)
            std::stable_sort(rows.begin(), rows.end(),
                             [&](std::uint32_t a, std::uint32_t b) { return table.jobs[a].day < table.jobs[b].day; });
}

std::vector<std::string> ReverseIndex::instruments() const {
    std::vector<std::string> names;
    for (const auto& [instrument, rows] : uses_) names.emplace_back(instrument);
    return names;
}

std::vector<std::string> ReverseIndex::batches() const {
    std::vector<std::string> names;
    for (const auto& [batch, materials] : jobs_)
        for (const auto& [material, rows] : materials) names.push_back(fmt::format("{} {}", material, batch));
    std::sort(names.begin(), names.end());
    return names;
}

std::vector<std::size_t> ReverseIndex::uses_of(const InstrumentDays& asked) const {
    std::vector<std::size_t> found;
    const auto rows = uses_.find(asked.instrument);
    if (rows == uses_.end()) return found;
    auto at = std::lower_bound(rows->second.begin(), rows->second.end(), asked.from,
                               [&](std::uint32_t use, const std::string& day) { return table_.uses[use].day < day; });
    for (; at != rows->second.end(); ++at) {
        const auto& use = table_.uses[*at];
        if (!asked.until.empty() && use.day > asked.until) break;
        // Calibrated since: what it reads from that day on is sound again.
        if (asked.until.empty() && !asked.from.empty() && use.calibrated > asked.from && use.calibrated <= use.day) continue;
        found.push_back(*at);
    }
    return found;
}

std::vector<BatchUse> ReverseIndex::jobs_with(std::string_view batch) const {
    std::vector<BatchUse> found;
    const auto add = [&](std::string_view material, const std::vector<std::uint32_t>& rows) {
        for (const auto row : rows) found.push_back({row, material});
    };
    if (const auto exact = jobs_.find(batch); exact != jobs_.end())
        for (const auto& [material, rows] : exact->second) add(material, rows);
    if (found.empty())
        for (const auto& [name, materials] : jobs_)
            for (const auto& [material, rows] : materials)
                if (batch.size() == material.size() + 1 + name.size() && batch.starts_with(material) && batch.ends_with(name))
                    add(material, rows);
    std::stable_sort(found.begin(), found.end(),
                     [&](const BatchUse& a, const BatchUse& b) { return table_.jobs[a.job].day < table_.jobs[b.job].day; });
    return found;
}

}  // namespace wm::audit
