#include "audit/reverse_trace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace wm::audit {

std::vector<std::string> ReverseIndex::instruments() const {
    std::vector<bool> used(columns_.names().instrument.size());
    for (const auto instrument : columns_.uses().instrument) used[instrument] = true;
    std::vector<std::string> names;
    for (Code code = 0; code < used.size(); ++code)
        if (used[code]) names.push_back(columns_.names().instrument.text(code));
    std::sort(names.begin(), names.end());
    return names;
}

std::vector<std::string> ReverseIndex::batches() const {
    std::set<std::string> names;
    for (std::size_t job = 0; job < columns_.job_count(); ++job)
        for (const auto& [material, batch] : columns_.batches(job))
            names.insert(fmt::format("{} {}", columns_.names().material.text(material), columns_.names().batch.text(batch)));
    return {names.begin(), names.end()};
}

std::vector<std::size_t> ReverseIndex::uses_of(const InstrumentDays& asked) const {
    std::vector<std::size_t> found;
    const auto& uses = columns_.uses();
    const auto instrument = columns_.names().instrument.find(asked.instrument);
    if (!instrument) return found;
    const Day from = day_code(asked.from);
    const Day until = day_code(asked.until);
    for (std::size_t use = 0; use < uses.instrument.size(); ++use) {
        if (uses.instrument[use] != *instrument || uses.day[use] < from) continue;
        if (!asked.until.empty() && uses.day[use] > until) continue;
        // Calibrated since: what it reads from that day on is sound again.
        if (asked.until.empty() && !asked.from.empty() && uses.calibrated[use] > from && uses.calibrated[use] <= uses.day[use]) continue;
        found.push_back(use);
    }
    std::stable_sort(found.begin(), found.end(), [&](std::size_t a, std::size_t b) { return uses.day[a] < uses.day[b]; });
    return found;
}

std::vector<BatchUse> ReverseIndex::jobs_with(std::string_view batch) const {
    std::vector<BatchUse> found;
    std::vector<BatchUse> with_material;
    for (std::size_t job = 0; job < columns_.job_count(); ++job)
        for (const auto& [material_code, batch_code] : columns_.batches(job)) {
            const std::string_view material = columns_.names().material.text(material_code);
            const std::string_view name = columns_.names().batch.text(batch_code);
            if (name == batch) found.push_back({job, material});
            else if (batch.size() == material.size() + 1 + name.size() && batch.starts_with(material) && batch.ends_with(name))
                with_material.push_back({job, material});
        }
    // A batch may be called what another is called with its material before it.
    if (found.empty()) found = std::move(with_material);
    std::stable_sort(found.begin(), found.end(),
                     [&](const BatchUse& a, const BatchUse& b) { return columns_.codes(a.job).day < columns_.codes(b.job).day; });
    return found;
}

}  // namespace wm::audit
