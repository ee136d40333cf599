#include "audit/traces.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "units/reading.hpp"

namespace wm::audit {

namespace {

constexpr int hasty_s = 4;  // nobody turns a nut and reads a scale in less (common practice, no source)
constexpr std::size_t alike_places = 4;

struct Written {
    std::size_t order;
    std::string_view read_at, check;
    bool corrects;
};

std::optional<int> second_of_day(std::string_view moment) {
    if (moment.size() < 19 || moment[13] != ':' || moment[16] != ':') return std::nullopt;
    const auto two = [&](std::size_t at) { return (moment[at] - '0') * 10 + (moment[at + 1] - '0'); };
    return two(11) * 3600 + two(14) * 60 + two(17);
}

// Within one day and one zone; nullopt otherwise, where haste has no meaning.
std::optional<int> seconds_between(std::string_view from, std::string_view to) {
    const auto a = second_of_day(from);
    const auto b = second_of_day(to);
    if (!a || !b || from.substr(0, 10) != to.substr(0, 10) || from.substr(19) != to.substr(19)) return std::nullopt;
    return *b - *a;
}

bool is_measured(const record::Reading& reading) { return !reading.taken.judged.unit.empty(); }

std::vector<Written> standing_readings(const record::JobState& job) {
    std::vector<Written> all;
    for (const auto& [id, check] : job.checks)
        for (const auto& reading : check.readings)
            if (!reading.undone_by) all.push_back({reading.origin.order, reading.taken.read_at, id, reading.correction.has_value()});
    std::sort(all.begin(), all.end(), [](const Written& a, const Written& b) { return a.order < b.order; });
    return all;
}

// Four or more places, measured, and each first reading is the same text.
bool all_alike(const record::CheckState& check) {
    std::set<std::string> texts;
    std::set<std::string_view> places;
    for (const auto& reading : check.readings) {
        if (reading.undone_by || reading.correction || !is_measured(reading)) continue;
        if (places.insert(reading.taken.place).second) texts.insert(record::shown(reading.taken.text));
    }
    return places.size() >= alike_places && texts.size() == 1;
}

}  // namespace

std::string day_of(const record::Reading& reading) {
    const auto& at = reading.taken.read_at;
    return at.size() >= 10 ? at.substr(0, 10) : reading.origin.time.substr(0, 10);
}

JobTrace trace_of(const record::JobState& job, std::size_t index) {
    JobTrace trace{.job = index, .entries = 0, .hasty = 0, .alike = {}, .photos = {}};
    std::string_view before;
    for (const auto& one : standing_readings(job)) {
        ++trace.entries;
        // What was read at one moment was entered at once, several places together.
        const auto pause = seconds_between(before, one.read_at);
        trace.hasty += pause && *pause > 0 && *pause < hasty_s ? 1 : 0;
        before = one.read_at;
    }
    for (const auto& [id, check] : job.checks) {
        if (all_alike(check)) trace.alike.push_back(id);
        for (const auto& reading : check.readings)
            for (const auto& photo : reading.taken.photos)
                if (!reading.undone_by && !photo.fingerprint.empty()) trace.photos.push_back({id, photo.fingerprint});
    }
    return trace;
}

std::map<std::string, int> seconds_of_checks(const record::JobState& job) {
    std::map<std::string, int> took;
    std::set<std::string_view> seen;
    std::string_view before, now, check;
    int readings = 0;
    for (const auto& one : standing_readings(job)) {
        const bool goes_on = one.check == check;
        if (!goes_on) before = now;
        readings = goes_on ? readings + 1 : 1;
        now = one.read_at;
        check = one.check;
        if (one.corrects || (!goes_on && !seen.insert(one.check).second)) {
            check = "";  // neither this nor what follows it at once is the first go
            continue;
        }
        if (const auto passed = seconds_between(before, now); passed && *passed > 0) took[std::string{one.check}] = std::max(1, *passed / readings);
    }
    return took;
}

std::vector<GaugeReading> gauge_readings(const record::JobState& job, std::size_t index) {
    std::vector<GaugeReading> all;
    const auto kpa = units::unit_named("kPa");
    if (!kpa) return all;
    for (const char* id : {"pressure-limit-set"}) {
        const auto* check = job.check(id);
        if (!check) continue;
        for (const auto& reading : check->readings) {
            // A valve set wrong says nothing of the gauge, and after a correction it has been turned until
            // the gauge was content.
            if (reading.judgements.front().place_outcome == measure::Outcome::DoesNotConform) continue;
            if (reading.undone_by || reading.correction || reading.taken.instrument.empty()) continue;
            const auto amount = units::read_amount(record::shown(reading.taken.text), *kpa, "reading");
            if (!amount) continue;
            const auto inst = job.instruments.find(reading.taken.instrument);
            all.push_back({.job = index, .check = id, .instrument = reading.taken.instrument,
                           .kpa = amount->amount().in(*kpa), .day = day_of(reading),
                           .calibrated = inst == job.instruments.end() ? "" : inst->second.calibrated_on});
        }
    }
    return all;
}

std::vector<InstrumentUse> uses_of(const record::JobState& job, std::size_t index) {
    std::vector<InstrumentUse> uses;
    for (const auto& [id, check] : job.checks)
        for (const auto& [place, hash] : check.latest) {
            const auto* reading = check.find(hash);
            if (reading == nullptr || reading->taken.instrument.empty()) continue;
            const auto inst = job.instruments.find(reading->taken.instrument);
            uses.push_back({.job = index, .check = id, .place = place, .instrument = reading->taken.instrument,
                            .day = day_of(*reading),
                            .calibrated = inst == job.instruments.end() ? "" : inst->second.calibrated_on,
                            .is_evidence = reading->judged().place_outcome != measure::Outcome::Open,
                            .text = record::shown(reading->taken.text)});
        }
    return uses;
}

std::vector<DeferralRow> deferrals_of(const record::JobState& job, std::size_t index) {
    std::vector<DeferralRow> rows;
    for (const auto& [id, check] : job.checks)
        for (const auto& one : check.deferrals) {
            if (job.is_undone(one.origin)) continue;
            DeferralRow row{.job = index, .check = id, .owner = one.deferred.owner ? record::shown(*one.deferred.owner) : "",
                            .since = one.origin.time.substr(0, 10), .until = one.deferred.until, .closed = ""};
            for (const auto& reading : check.readings)
                if (!reading.undone_by && reading.origin.order > one.origin.order && row.closed.empty())
                    row.closed = day_of(reading);
            rows.push_back(std::move(row));
        }
    return rows;
}

std::vector<ComplaintRow> complaints_of(const record::JobState& job, std::size_t index) {
    std::vector<ComplaintRow> rows;
    const auto celsius = units::unit_named("°C");
    const auto day_told = [](const std::string& moment, const record::Origin& origin) {
        return moment.size() >= 10 ? moment.substr(0, 10) : origin.time.substr(0, 10);
    };
    for (const auto* one : job.standing_complaints()) {
        ComplaintRow row{.job = index, .complaint = one->told.complaint, .symptom = one->told.symptom,
                         .day = day_told(one->told.told_at, one->origin), .air = one->told.air};
        if (celsius)
            if (const auto air = units::read_amount(row.air, *celsius, "air")) row.frost = air->amount().in(*celsius) <= 0.0;
        if (const auto* closed = job.closing_of(*one)) {
            row.closed = closed->closed_at.size() >= 10 ? closed->closed_at.substr(0, 10) : row.day;
            row.cause = closed->cause;
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

}  // namespace wm::audit
