#include "audit/traces.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

record::Reading reading(std::size_t order, const std::string& place, const std::string& text, const std::string& at) {
    record::Reading r;
    r.origin.order = order;
    r.origin.time = "2026-11-25T03:00:00.000Z.0000";
    r.taken.place = place;
    r.taken.text = text;
    r.taken.read_at = "2026-11-25T" + at + "+05:00";
    r.taken.judged.unit = "N·m";
    r.judgements.push_back(r.taken.judged);
    return r;
}

record::JobState torques(const std::vector<std::string>& texts, const std::vector<std::string>& times) {
    record::JobState job;
    auto& check = job.checks["anchor-torque"];
    check.id = "anchor-torque";
    for (std::size_t i = 0; i < texts.size(); ++i)
        check.readings.push_back(reading(i, fmt::format("{}", i + 1), texts[i], times[i]));
    return job;
}

}  // namespace

TEST_CASE("four measured places that read the same are noted, three or a different one are not") {
    const std::vector<std::string> times{"08:00:00", "08:00:20", "08:00:40", "08:01:00"};
    CHECK(trace_of(torques({"20.0", "20.0", "20.0", "20.0"}, times), 3).alike == std::vector<std::string>{"anchor-torque"});
    CHECK(trace_of(torques({"20.0", "20.0", "20.1", "20.0"}, times), 3).alike.empty());
    CHECK(trace_of(torques({"20.0", "20.0", "20.0"}, times), 3).alike.empty());
    CHECK(trace_of(torques({"20.0", "20.0", "20.0"}, times), 3).job == 3);
    auto words = torques({"yes", "yes", "yes", "yes"}, times);
    for (auto& one : words.checks["anchor-torque"].readings) one.taken.judged.unit = "";
    CHECK(trace_of(words, 0).alike.empty());
}

TEST_CASE("haste is one to three seconds; places entered at once and slow ones are not hasty") {
    const std::vector<std::string> same(5, "20.0");
    CHECK(trace_of(torques(same, {"08:00:00", "08:00:01", "08:00:04", "08:00:08", "08:00:08"}), 0).hasty == 2);
    CHECK(trace_of(torques(same, {"08:00:00", "08:00:00", "08:00:00", "08:00:00", "08:00:00"}), 0).hasty == 0);
    auto undone = torques(same, {"08:00:00", "08:00:02", "08:00:04", "08:01:00", "08:02:00"});
    undone.checks["anchor-torque"].readings[1].undone_by = "hash";
    CHECK(trace_of(undone, 0).hasty == 0);
    CHECK(trace_of(undone, 0).entries == 4);
}

TEST_CASE("a check takes from the reading before it to its own last one, shared out over its readings, once, and not across days or at once") {
    record::JobState job;
    const auto add = [&](const std::string& check, std::size_t order, const std::string& at) -> record::Reading& {
        auto& state = job.checks[check];
        state.id = check;
        state.readings.push_back(reading(order, "", "yes", at));
        return state.readings.back();
    };
    add("first", 0, "08:00:00");
    add("places", 1, "08:00:20");
    add("places", 2, "08:01:10");
    add("short", 3, "08:01:25");
    add("at-once", 4, "08:01:25");
    add("places", 5, "09:00:00");  // come back to: neither counts again nor into the next
    add("after", 6, "09:00:30");
    add("failing", 7, "09:01:00");
    add("failing", 8, "09:09:00").correction = record::FaultCorrected{};
    add("last", 9, "09:09:12");
    add("slip", 10, "09:20:00").undone_by = "hash";
    add("night", 11, "09:30:00").taken.read_at = "2026-11-26T09:30:00+05:00";
    add("zone", 12, "09:31:00").taken.read_at = "2026-11-26T09:31:00+06:00";
    CHECK(seconds_of_checks(job) ==
          std::map<std::string, int>{{"places", 35}, {"short", 15}, {"after", 30}, {"failing", 30}, {"last", 12}});
}

TEST_CASE("fingerprints of photos are kept, empty ones are not") {
    auto job = torques({"20.0"}, {"08:00:00"});
    job.checks["anchor-torque"].readings[0].taken.photos = {{"a", "image/jpeg", "f00d", std::nullopt},
                                                            {"b", "image/jpeg", "", std::nullopt}};
    const auto trace = trace_of(job, 0);
    REQUIRE(trace.photos.size() == 1);
    CHECK(trace.photos[0].fingerprint == "f00d");
    CHECK(trace.photos[0].check == "anchor-torque");
}

TEST_CASE("pressures behind the limiting valve come in kPa with their gauge and its calibration") {
    record::JobState job;
    job.instruments["PG-4"].calibrated_on = "2026-06-30";
    auto& check = job.checks["pressure-limit-set"];
    check.readings = {reading(0, "", "3.5 bar", "09:00:00"), reading(1, "", "348", "09:05:00"), reading(2, "", "soon", "09:06:00")};
    for (auto& one : check.readings) one.taken.instrument = "PG-4";
    check.readings.push_back(check.readings[0]);
    check.readings.back().correction = record::FaultCorrected{};
    const auto gauges = gauge_readings(job, 7);
    REQUIRE(gauges.size() == 2);
    CHECK(gauges[0].kpa == doctest::Approx(350.0));
    CHECK(gauges[1].kpa == doctest::Approx(348.0));
    CHECK(gauges[0].instrument == "PG-4");
    CHECK(gauges[0].calibrated == "2026-06-30");
    CHECK(gauges[0].day == "2026-11-25");
    CHECK(gauges[0].job == 7);
}

TEST_CASE("a deferral is closed by the first reading after it") {
    record::JobState job;
    auto& check = job.checks["temp-rise"];
    check.readings = {reading(1, "", "0 min: 1", "09:00:00"), reading(5, "", "0 min: 1", "10:00:00")};
    record::DeferralState deferral;
    deferral.origin.order = 2;
    deferral.origin.time = "2026-11-20T03:00:00.000Z.0000";
    deferral.deferred.until = "2026-12-01";
    check.deferrals = {deferral};
    const auto rows = deferrals_of(job, 0);
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].since == "2026-11-20");
    CHECK(rows[0].closed == "2026-11-25");
    check.readings.pop_back();
    CHECK(deferrals_of(job, 0)[0].closed.empty());
}

}  // namespace wm::audit
