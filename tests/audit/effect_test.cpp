#include "audit/effect.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>

#include "units/calendar.hpp"

namespace wm::audit {

namespace {

/// Jobs of one check, one on each day on which something is tried.
struct Planted {
    AuditTable table;
    std::string check = "ins-ends";

    void add(const std::string& crew, const std::string& day, int failed, int tries, bool vulnerable = false) {
        for (int i = 0; i < tries; ++i) {
            JobCard card;
            card.job = fmt::format("J-{:04}", table.jobs.size());
            card.crew = crew;
            card.vulnerable = vulnerable;
            card.day = day;
            CheckResult result;
            result.job = table.jobs.size();
            result.check = check;
            result.failed = i < failed;
            result.day = day;
            table.jobs.push_back(card);
            table.results.push_back(result);
        }
    }
};

const EffectScope by_crew{"crew and check", "Thimblegate", "ins-ends"};
const EffectSpan span{.done_on = "2027-03-10", .after_days = 90, .before_days = 182};

}  // namespace

TEST_CASE("an effect has the published interval of its two shares") {
    // 56 of 70 and 48 of 80: Newcombe 1998, Statistics in Medicine 17:873-890, Table II (b), method 10.
    // 12 of 50 and 4 of 52: statsmodels 0.13.5, confint_proportions_2indep, method "newcomb".
    struct Row {
        int failed_before, before, failed_after, after;
        double low, high, within;
    };
    for (const Row row : {Row{56, 70, 48, 80, 0.0524, 0.3339, 5e-5}, Row{12, 50, 4, 52, 0.02024929493, 0.3050695862, 1e-9}}) {
        Planted planted;
        planted.add("Thimblegate", "2027-01-05", row.failed_before, row.before);
        planted.add("Thimblegate", "2027-04-05", row.failed_after, row.after);
        const auto effect = effect_of(planted.table, {}, by_crew, span);
        CHECK(effect.before == Tally{row.failed_before, row.before});
        CHECK(effect.after == Tally{row.failed_after, row.after});
        REQUIRE(effect.difference);
        CHECK(std::abs(effect.difference->interval.low - row.low) < row.within);
        CHECK(std::abs(effect.difference->interval.high - row.high) < row.within);
        CHECK(effect.verdict == record::EffectVerdict::Helped);
    }
}

TEST_CASE("it helped, no proof yet, it got worse: by where the interval lies") {
    struct Row {
        int failed_before, before, failed_after, after;
        record::EffectVerdict verdict;
        const char* words;
    };
    for (const Row row : {Row{12, 50, 4, 52, record::EffectVerdict::Helped, "The share fell by 16 percentage points (95 %: 2 to 31)."},
                          Row{4, 52, 12, 50, record::EffectVerdict::Worse, "The share rose by 16 percentage points (95 %: 2 to 31)."},
                          Row{3, 10, 0, 3, record::EffectVerdict::NoProof, "Anything from a fall by"},
                          Row{3, 10, 0, 0, record::EffectVerdict::NoProof, "Too little to compare."},
                          Row{0, 0, 0, 9, record::EffectVerdict::NoProof, "Too little to compare."}}) {
        CAPTURE(row.words);
        Planted planted;
        planted.add("Thimblegate", "2027-01-05", row.failed_before, row.before);
        planted.add("Thimblegate", "2027-04-05", row.failed_after, row.after);
        const auto effect = effect_of(planted.table, {{"ins-ends", {"Pipe ends", 'P', false}}}, by_crew, span);
        CHECK(effect.verdict == row.verdict);
        CHECK_MESSAGE(effect.sentence.find(row.words) != std::string::npos, effect.sentence);
        CHECK(effect.sentence.starts_with("\"Pipe ends\""));
    }
}

TEST_CASE("the day of the action is still before, and both ends of both spans count") {
    Planted planted;
    planted.add("Thimblegate", "2026-09-09", 0, 1);  // the day before the span
    planted.add("Thimblegate", "2026-09-10", 1, 1);  // 182 days with the day of the action
    planted.add("Thimblegate", "2027-03-10", 1, 1);
    planted.add("Thimblegate", "2027-03-11", 0, 1);
    planted.add("Thimblegate", "2027-06-08", 0, 1);  // the 90th day after
    planted.add("Thimblegate", "2027-06-09", 0, 1);
    const auto effect = effect_of(planted.table, {}, by_crew, span);
    CHECK(effect.before == Tally{2, 2});
    CHECK(effect.after == Tally{0, 2});
    CHECK(effect.before_from == "2026-09-10");
    CHECK(effect.after_from == "2027-03-11");
    CHECK(effect.until == "2027-06-08");
    const auto early = effect_of(planted.table, {}, by_crew, {.done_on = "2027-03-10", .after_days = 30});
    CHECK(early.after == Tally{0, 1});
    CHECK(effect_of(planted.table, {}, by_crew, {.done_on = "soon"}).before == Tally{});
}

TEST_CASE("other crews and other checks are no effect of this one, and a general fall is said") {
    Planted planted;
    planted.add("Thimblegate", "2027-01-05", 20, 50);
    planted.add("Thimblegate", "2027-04-05", 2, 50);
    planted.add("Owlcroft", "2027-01-05", 40, 100);
    planted.add("Owlcroft", "2027-04-05", 5, 100);
    planted.check = "coll-tilt";
    planted.add("Thimblegate", "2027-01-05", 30, 30);
    const auto effect = effect_of(planted.table, {}, by_crew, span);
    CHECK(effect.before == Tally{20, 50});
    CHECK(effect.others_before == Tally{40, 100});
    CHECK(effect.others_after == Tally{5, 100});
    CHECK(effect.sentence.find("40 of 100 before, 5 of 100 after") != std::string::npos);
    CHECK(effect.sentence.find("it may not be this action") != std::string::npos);
}

TEST_CASE("what was found in homes with vulnerable people is followed in those") {
    Planted planted;
    planted.check = "outlet-temp";
    planted.add("Saltmurmur", "2027-01-05", 9, 12, true);
    planted.add("Saltmurmur", "2027-01-05", 0, 40, false);
    planted.add("Owlcroft", "2027-01-05", 1, 30, true);
    planted.add("Saltmurmur", "2027-04-05", 0, 14, true);
    const auto effect = effect_of(planted.table, {}, {"crew, check and household", "Saltmurmur", "outlet-temp"}, span);
    CHECK(effect.before == Tally{9, 12});
    CHECK(effect.after == Tally{0, 14});
    CHECK(effect.others_before == Tally{1, 30});
    CHECK(effect.verdict == record::EffectVerdict::Helped);
}

TEST_CASE("a batch that is fitted no more is judged by all jobs of its check") {
    Planted planted;
    planted.check = "relief-lever";
    planted.add("Owlcroft", "2027-01-05", 12, 60);
    planted.add("Saltmurmur", "2027-04-05", 1, 80);
    const auto effect = effect_of(planted.table, {}, {"batch and check", "relief valve RV-K17", "relief-lever"}, span);
    CHECK(effect.before == Tally{12, 60});
    CHECK(effect.after == Tally{1, 80});
    CHECK(effect.verdict == record::EffectVerdict::Helped);
}

TEST_CASE("a deferral is forgotten after 14 days, and one that is younger says nothing yet") {
    AuditTable table;
    JobCard card;
    card.job = "J-1";
    card.crew = "Fenwhistle";
    table.jobs.push_back(card);
    const auto put_off = [&](const char* since, const char* closed) {
        table.deferrals.push_back({.job = 0, .check = "temp-rise", .owner = "", .since = since, .until = "", .closed = closed});
    };
    put_off("2027-02-01", "2027-02-15");  // on the 14th day
    put_off("2027-02-01", "2027-02-16");
    put_off("2027-02-01", "");
    put_off("2027-03-20", "2027-03-25");
    put_off("2027-03-28", "");  // not 14 days old on the last day, 2027-04-09
    const auto effect = effect_of(table, {}, {"crew and deferrals", "Fenwhistle", "temp-rise"},
                                  {.done_on = "2027-03-10", .after_days = 30});
    CHECK(effect.before == Tally{2, 3});
    CHECK(effect.after == Tally{0, 1});
}

TEST_CASE("a gauge put right reads with the others again") {
    AuditTable table;
    const auto read = [&](const char* gauge, int day, double kpa) {
        JobCard card;
        card.job = fmt::format("J-{}", table.jobs.size());
        card.street = "Upper Sill";
        table.gauges.push_back({.job = table.jobs.size(), .check = "pressure-limit-set", .instrument = gauge, .kpa = kpa,
                                .day = units::day_after("2027-01-01", day).value(), .calibrated = ""});
        table.jobs.push_back(card);
    };
    for (int day = 0; day < 120; ++day) {
        for (const char* gauge : {"PG-1", "PG-2", "PG-3"}) read(gauge, day, 310.0 + 3.0 * (day * 7 % 5 - 2));
        read("PG-4", day, 310.0 + 3.0 * (day * 7 % 5 - 2) + (day <= 68 ? 30.0 : 0.0));
    }
    const auto effect = effect_of(table, {}, {"instrument drift", "PG-4", "pressure-limit-set"},
                                  {.done_on = "2027-03-10", .after_days = 30});
    CHECK(effect.before.tries == 69);
    CHECK(effect.before.failed == 69);
    CHECK(effect.after.tries == 30);
    CHECK(effect.after.failed < 10);
    CHECK(effect.verdict == record::EffectVerdict::Helped);
}

}  // namespace wm::audit
