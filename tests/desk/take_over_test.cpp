#include "desk/desk.hpp"
#include "desk/permission.hpp"
#include "desk/persons_at_desk.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Clock;
using testing::Folder;
using testing::house_facts;
using testing::ladder;
using testing::opened_by;
using testing::tools;

namespace {

const store::Person tindo{"Tindo Quellaby", store::Role::Installer};
const store::Person sella{"Sella Marrow", store::Role::Lead};

}  // namespace

TEST_CASE("a job begun by one is written into by another only after the entry that takes it over") {
    const Folder folder;
    const Clock clock;
    const std::string job = [&] {
        auto desk = opened_by(folder, clock, tindo, "a");
        const auto opened = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
        REQUIRE(opened);
        CHECK(desk.job_view(*opened)->with.empty());
        const auto own = desk.carry_out(TakeOverJob{*opened});
        REQUIRE_FALSE(own);
        CHECK(own.error().what == "The job is with Tindo Quellaby already.");
        return *opened;
    }();
    auto desk = opened_by(folder, clock, sella, "b");
    CHECK(desk.job_view(job)->with == "Tindo Quellaby");
    CHECK_FALSE(desk.carry_out(ladder(job)));
    const auto for_another = desk.carry_out(TakeOverJob{job, "Ode Brannick"});
    REQUIRE_FALSE(for_another);
    CHECK(for_another.error().what == "Sella Marrow cannot take a job over in the name of Ode Brannick.");
    REQUIRE(desk.carry_out(TakeOverJob{job, "Sella Marrow"}));
    CHECK(desk.carry_out(ladder(job)));
    const auto view = desk.job_view(job);
    CHECK(view->with.empty());
    REQUIRE(view->taken_over.size() == 1);
    CHECK(view->taken_over.front().by == "Sella Marrow");
    CHECK(view->taken_over.front().from == "Tindo Quellaby");
    CHECK(view->taken_over.front().at.starts_with("2026-11-25T09:00:"));
    CHECK_FALSE(desk.carry_out(TakeOverJob{job}));  // once is enough
}

TEST_CASE("the crew may go on with a job that another took over, and the second taker is told whose it was") {
    const Folder folder;
    const Clock clock;
    std::string job;
    {
        auto desk = opened_by(folder, clock, tindo, "a");
        job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false}).value();
    }
    {
        auto desk = opened_by(folder, clock, sella, "b");
        REQUIRE(desk.carry_out(TakeOverJob{job}));
    }
    {
        auto desk = opened_by(folder, clock, tindo, "c");
        CHECK(desk.carry_out(ladder(job)));
    }
    auto desk = opened_by(folder, clock, store::Person{"Orla Finch", store::Role::Installer}, "d");
    CHECK(desk.job_view(job)->with == "Sella Marrow");
    REQUIRE(desk.carry_out(TakeOverJob{job}));
    CHECK(desk.in_hand(job)->state().taken_over.back().second.from == "Sella Marrow");
}

TEST_CASE("without PINs the person who takes over is named") {
    const Folder folder;
    const Clock clock;
    auto desk = opened_by(folder, clock, std::nullopt, "a");
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    const auto nobody = desk.carry_out(TakeOverJob{*job});
    REQUIRE_FALSE(nobody);
    CHECK(nobody.error().kind == ProblemKind::WrongUse);
    REQUIRE(desk.carry_out(TakeOverJob{*job, "Orla Finch"}));
    CHECK(desk.job_view(*job)->taken_over.size() == 1);
}

TEST_CASE("the report says who took the job over") {
    const Folder folder;
    const Clock clock;
    auto desk = opened_by(folder, clock, std::nullopt, "a");
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    const auto plain = desk.draft_report(*job);
    REQUIRE(desk.carry_out(TakeOverJob{*job, "Orla Finch"}));
    const auto told = desk.draft_report(*job);
    REQUIRE(told);
    CHECK(told->size() > plain->size());
}

}  // namespace wm::desk
