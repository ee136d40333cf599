#include "audit/filter.hpp"

#include <algorithm>
#include <functional>
#include <optional>

namespace wm::audit {

namespace {

/// A name that is asked for, as a number of the columns.
struct Wanted {
    bool any = true;
    std::optional<Code> code;  ///< none: nobody has that name

    Wanted(const Names& names, const std::string& name) : any{name.empty()}, code{names.find(name)} {}
    [[nodiscard]] bool fits(Code other) const { return any || code == other; }
};

bool has_batch(const Columns& columns, std::size_t job, const std::string& batch) {
    return batch.empty() || std::ranges::any_of(columns.batches(job), [&](const auto& part) {
        const auto& name = columns.names().batch.text(part.second);
        return name == batch || columns.names().material.text(part.first) + " " + name == batch;
    });
}

class Sieve {
public:
    Sieve(const Columns& columns, const Filter& filter)
        : columns_{columns}, filter_{filter}, crew_{columns.names().crew, filter.crew}, roof_{columns.names().roof, filter.roof},
          kind_{columns.names().kind, filter.kind}, street_{columns.names().street, filter.street},
          check_{columns.names().check, filter.check}, instrument_{columns.names().instrument, filter.instrument} {}

    [[nodiscard]] bool keeps(std::size_t job) const {
        const auto& codes = columns_.codes(job);
        return crew_.fits(codes.crew) && roof_.fits(codes.roof) && kind_.fits(codes.kind) && street_.fits(codes.street) &&
               has_batch(columns_, job, filter_.batch);
    }
    [[nodiscard]] bool keeps(std::size_t job, Code check) const {
        if (!check_.fits(check)) return false;
        if (instrument_.any) return true;
        const auto range = columns_.uses_of(job);
        for (auto row = range.first; row < range.last; ++row)
            if (columns_.uses().check[row] == check && instrument_.fits(columns_.uses().instrument[row])) return true;
        return false;
    }
    [[nodiscard]] bool keeps(std::size_t job, const std::string& check) const {
        if (check_.any && instrument_.any) return true;
        const auto code = columns_.names().check.find(check);
        return code ? keeps(job, *code) : check_.any && instrument_.any;
    }
    [[nodiscard]] bool keeps_use(std::size_t row) const {
        return check_.fits(columns_.uses().check[row]) && instrument_.fits(columns_.uses().instrument[row]);
    }

private:
    const Columns& columns_;
    const Filter& filter_;
    Wanted crew_, roof_, kind_, street_, check_, instrument_;
};

std::vector<std::string> sorted(const Names& names) {
    std::vector<std::string> all;
    for (Code code = 0; code < names.size(); ++code)
        if (!names.text(code).empty()) all.push_back(names.text(code));
    std::sort(all.begin(), all.end());
    return all;
}

}  // namespace

Columns filtered(const Columns& all, const Filter& filter) {
    const Sieve sieve{all, filter};
    return all.only([&](std::size_t job) { return sieve.keeps(job); },
                    [&](std::size_t job, std::size_t row) { return sieve.keeps(job, all.results().check[row]); },
                    [&](std::size_t, std::size_t use) { return sieve.keeps_use(use); },
                    [&](std::size_t job, const std::string& check) { return sieve.keeps(job, check); });
}

FilterChoices choices_of(const Columns& columns) {
    const auto& names = columns.names();
    FilterChoices choices{.crews = sorted(names.crew), .checks = {}, .roofs = sorted(names.roof), .kinds = sorted(names.kind), .batches = {},
                          .instruments = sorted(names.instrument), .streets = sorted(names.street)};
    // Results by the million are marked, not sorted.
    std::vector<bool> there(names.check.size());
    for (const auto check : columns.results().check) there[check] = true;
    for (Code check = 0; check < there.size(); ++check)
        if (there[check]) choices.checks.push_back(names.check.text(check));
    std::sort(choices.checks.begin(), choices.checks.end());
    std::vector<std::vector<bool>> batches(names.material.size(), std::vector<bool>(names.batch.size()));
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        for (const auto& [material, batch] : columns.batches(job)) batches[material][batch] = true;
    for (Code material = 0; material < batches.size(); ++material)
        for (Code batch = 0; batch < batches[material].size(); ++batch)
            if (batches[material][batch]) choices.batches.push_back(names.material.text(material) + " " + names.batch.text(batch));
    std::sort(choices.batches.begin(), choices.batches.end());
    return choices;
}

std::string unknown_in(const Columns& columns, const Filter& filter) {
    const auto& names = columns.names();
    const std::pair<const Names*, std::pair<const char*, const std::string*>> asked[] = {
        {&names.crew, {"crew", &filter.crew}}, {&names.check, {"check", &filter.check}}, {&names.roof, {"roof", &filter.roof}},
        {&names.kind, {"kind", &filter.kind}}, {&names.instrument, {"instrument", &filter.instrument}},
        {&names.street, {"street", &filter.street}}};
    for (const auto& [known, what] : asked)
        if (!what.second->empty() && !known->find(*what.second)) return std::string{what.first} + " " + *what.second;
    if (filter.batch.empty()) return "";
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        if (has_batch(columns, job, filter.batch)) return "";
    return "batch " + filter.batch;
}

}  // namespace wm::audit
