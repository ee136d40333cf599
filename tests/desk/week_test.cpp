#include "desk/week.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a week counts first tries, with the failures and their jobs beside them") {
    Bench bench;  // 2026-11-25 is a Wednesday of week 48 (ISO 8601)
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the legs");
    bench.enter("tank-level", "0.2°");
    bench.enter("anchor-torque", "15 N·m", "1");
    const auto week = week_view(bench.desk(), "2026-W48");
    REQUIRE(week);
    CHECK(week->jobs == 1);
    CHECK(week->weeks == std::vector<std::string>{"2026-W48"});
    const auto row = [&](const std::string& check) -> const ShareView* {
        for (const auto& r : week->failed)
            if (r.check == check) return &r;
        return nullptr;
    };
    REQUIRE(row("coll-tilt") != nullptr);
    CHECK(row("coll-tilt")->failed == 1);
    CHECK(row("coll-tilt")->tries == 1);
    CHECK(row("coll-tilt")->share == doctest::Approx(1.0));
    CHECK(row("coll-tilt")->low < 0.5);
    CHECK(row("coll-tilt")->jobs == std::vector<std::string>{bench.job});
    CHECK(row("tank-level") == nullptr);
    REQUIRE(week->severe.size() == 1);
    CHECK(week->severe[0].check == "anchor-torque");
    CHECK_FALSE(week->severe[0].corrected);
    CHECK(weeks(bench.desk()) == week->weeks);
}

TEST_CASE("a job without any reading is in the week with its complaint and what it puts off, and in no share") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(TakeComplaint{.job = bench.job, .symptom = "no-water", .words = "", .since = "", .air = "-6 °C"}));
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "temp-rise", "2026-12-09", "Tindo Quellaby", "No clear sky today"}));
    const auto week = week_view(bench.desk(), "2026-W48");
    REQUIRE(week);
    CHECK(week->jobs == 0);
    CHECK(week->results == 0);
    CHECK(week->by_crew.empty());
    REQUIRE(week->complaints.size() == 1);
    CHECK(week->complaints[0].job == bench.job);
    CHECK(week->complaints[0].is_open);
    CHECK(week->complaints[0].commissioning == bench.job);
    REQUIRE(week->open.size() == 1);
    CHECK(week->open[0].check == "temp-rise");
    CHECK(week->places.contains(bench.job));
    // It goes on waiting in later weeks, and is gone where a filter leaves the job out.
    const auto later = week_view(bench.desk(), "2026-W51");
    REQUIRE(later);
    CHECK(later->complaints.size() == 1);
    CHECK(later->open.size() == 1);
    WeekFilterView only;
    only.street = "Dovetail Steps";
    CHECK(week_view(bench.desk(), "2026-W48", settings_for(only))->complaints.size() == 1);
    CHECK(week_view(bench.desk(), "2026-W48", settings_for(only))->open.size() == 1);
    const auto survey = bench.desk().carry_out(OpenJob{"survey", testing::house_facts(testing::tools()), "f.toml", "", false});
    REQUIRE(survey);
    REQUIRE(bench.desk().carry_out(TakeComplaint{.job = *survey, .symptom = "wet"}));
    only = {};
    only.kind = "survey";
    const auto surveys = week_view(bench.desk(), "2026-W48", settings_for(only));
    REQUIRE(surveys);
    REQUIRE(surveys->complaints.size() == 1);
    CHECK(surveys->complaints[0].job == *survey);
    CHECK(surveys->open.empty());
}

TEST_CASE("a practice job is in no figure") {
    Bench bench;
    const auto practice =
        bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f.toml", "", true});
    REQUIRE(practice);
    auto reading = bench.reading("coll-tilt", "41°");
    reading.job = *practice;
    bench.take(reading);
    const auto week = week_view(bench.desk(), "2026-W48");
    REQUIRE(week);
    CHECK(week->failed.empty());
}

TEST_CASE("what is no week is refused, a week without results is empty") {
    Bench bench;
    for (const char* text : {"2026-48", "2026-W54", "2026-W00", "W48", ""}) {
        CAPTURE(text);
        const auto week = week_view(bench.desk(), text);
        REQUIRE_FALSE(week);
        CHECK(week.error().kind == ProblemKind::WrongUse);
    }
    const auto quiet = week_view(bench.desk(), "2020-W10");
    REQUIRE(quiet);
    CHECK(quiet->jobs == 0);
    CHECK(quiet->failed.empty());
}

TEST_CASE("every check has a card with its severity") {
    Bench bench;
    const auto cards = cards_of(bench.desk().library());
    CHECK(cards.at("anchor-torque").severity == 'H');
    CHECK(cards.at("anchor-torque").hold);
}

TEST_CASE("erasing a customer moves no figure of the week") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto before = week_view(bench.desk(), "2026-W48");
    REQUIRE(before);
    REQUIRE(before->by_crew.front().name == "Tindo Quellaby");
    REQUIRE(bench.desk().erase_customer(bench.job));
    const auto after = week_view(bench.desk(), "2026-W48");
    REQUIRE(after);
    CHECK(after->results == before->results);
    CHECK(after->failed.size() == before->failed.size());
    REQUIRE(after->by_crew.size() == before->by_crew.size());
    CHECK(after->by_crew.front().name == "Tindo Quellaby");
    CHECK(bench.desk().job_rows()->front().place == "Dovetail Steps");
}

}  // namespace wm::desk
