#include "desk/clock_questions.hpp"

#include <algorithm>

#include "desk/persons_at_desk.hpp"
#include "desk/report_of.hpp"
#include "desk/testing.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using testing::Clock;
using testing::Folder;
using testing::house_facts;
using testing::ladder;
using testing::setup_in;
using testing::tools;

namespace {

/// A desk over a machine whose count goes on while the clock is moved.
struct Watched {
    Folder folder;
    Clock clock;
    std::shared_ptr<std::int64_t> counted = std::make_shared<std::int64_t>(5'000);

    [[nodiscard]] Desk open() const {
        auto setup = setup_in(folder.path() / "data", clock, "a");
        setup.since_boot = [counted = counted] { return std::optional{record::SinceBoot{"boot-1", *counted}}; };
        auto desk = Desk::open(std::move(setup));
        REQUIRE(desk);
        return std::move(*desk);
    }
};

/// What the report of the job says of a moved clock: on page one, and in its notes on the record.
struct ToldOfClocks {
    std::vector<std::string> page_one, notes;
    friend bool operator==(const ToldOfClocks&, const ToldOfClocks&) = default;
};

ToldOfClocks told_in_report(Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    REQUIRE(hand);
    const auto view = desk.job_view(job);
    REQUIRE(view);
    ReportSurroundings around;
    around.company = "Witnessmark";
    around.date = "2026-11-25";
    const auto input = report_input(*hand, *view, around);
    ToldOfClocks told;
    const auto of_clocks = [](const std::string& sentence) { return sentence.find("clock of the crew") != std::string::npos; };
    std::ranges::copy_if(input.page_one.questions, std::back_inserter(told.page_one), of_clocks);
    std::ranges::copy_if(input.record_notes, std::back_inserter(told.notes), of_clocks);
    return told;
}

}  // namespace

TEST_CASE("a moved clock is asked about in the job it happened in, in the report and in its week, and nowhere else") {
    const Watched watched;
    auto desk = watched.open();
    const auto before = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(before);
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    REQUIRE(desk.carry_out(ladder(*job)));
    CHECK(desk.job_view(*job)->questions.empty());
    *watched.clock.wall_ms += 3 * 60 * 60'000;
    const auto answers = desk.carry_out(ladder(*job));
    REQUIRE(answers);
    CHECK(answers->front().check == "ladder-set");
    const auto after = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(after);

    const auto view = desk.job_view(*job);
    REQUIRE(view);
    REQUIRE(view->questions.size() == 1);
    CHECK(view->questions.front().starts_with("The clock of the device jumped from 2026-11-25T04:00:"));
    CHECK(desk.job_view(*before)->questions.empty());
    CHECK(desk.job_view(*after)->questions.empty());

    const auto told = told_in_report(desk, *job);
    CHECK(told.page_one == std::vector<std::string>{"a clock of the crew jumped on 2026-11-25"});
    REQUIRE(told.notes.size() == 1);
    CHECK(told.notes.front().starts_with("A clock of the crew was moved from 2026-11-25T04:00:"));
    CHECK(told_in_report(desk, *before) == ToldOfClocks{});
    CHECK(told_in_report(desk, *after) == ToldOfClocks{});

    const auto week = week_view(desk, "2026-W48", {});
    REQUIRE(week);
    REQUIRE(week->questions.size() == 1);
    CHECK(week->questions.front().kind == "clock");
    CHECK(week->questions.front().jobs == std::vector<std::string>{*job});
    CHECK(clock_questions(desk, "2026-11-30", "2026-12-06")->empty());
    // Opened anew the journal says the same.
    {
        auto closed = std::move(desk);
    }
    auto again = watched.open();
    CHECK(again.job_view(*job)->questions == view->questions);
}

}  // namespace wm::desk
