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

TEST_CASE("without PINs everybody may do everything") {
    CHECK(may(Setup{}, store::Role::Owner, "give PINs"));
    record::JobState job;
    job.opened.emplace();
    CHECK(may_write_into(Setup{}, job, {}));
}

TEST_CASE("each role may what the lesser ones may, and the refusal says who can") {
    Setup setup;
    using store::Role;
    const Role roles[] = {Role::Installer, Role::Lead, Role::Owner};
    for (const Role has : roles)
        for (const Role least : roles) {
            setup.person = store::Person{"Tindo Quellaby", has};
            CHECK(may(setup, least, "do it").has_value() == (static_cast<int>(has) >= static_cast<int>(least)));
        }
    setup.person = store::Person{"Tindo Quellaby", Role::Installer};
    const auto refusal = may(setup, Role::Lead, "give a concession");
    CHECK(refusal.error().what == "Tindo Quellaby is an installer here; only a lead may give a concession.");
    CHECK(refusal.error().what_to_do == "Let a lead do it under the own PIN.");
    CHECK(refusal.error().kind == ProblemKind::Refused);
}

TEST_CASE("an installer neither concedes nor erases") {
    const Folder folder;
    const Clock clock;
    auto desk = opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    CHECK(desk.carry_out(ladder(*job)));
    const auto conceded = desk.carry_out(ConcedeCheck{*job, "coll-tilt", "Tindo Quellaby", "agreed"});
    REQUIRE_FALSE(conceded);
    CHECK(conceded.error().where == "access");
    CHECK_FALSE(desk.erase_customer(*job));
    CHECK(desk.job_view(*job)->facts.size() > 10);
}

TEST_CASE("another crew's job is written into only after an entry that hands it over") {
    const Folder folder;
    const Clock clock;
    std::string job;
    {
        auto desk = opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
        job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false}).value();
    }
    {
        auto member = opened_by(folder, clock, store::Person{"Ode Brannick", store::Role::Installer}, "b");
        CHECK(member.carry_out(ladder(job)));
    }
    auto other = opened_by(folder, clock, store::Person{"Ode", store::Role::Owner}, "c");
    const auto head = other.journal().head();
    const auto refusal = other.carry_out(ladder(job));
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "This job is with Tindo Quellaby, and Ode is not in the crew.");
    CHECK(refusal.error().what_to_do == "Take it over first, which stays on record: witnessmark job take-over " + job + ".");
    CHECK(refusal.error().kind == ProblemKind::Refused);
    CHECK_FALSE(other.carry_out(StateFacts{job, {{"site.t_min_c", "-15"}}}));
    CHECK(other.journal().head() == head);  // nothing was written
    // Nobody names himself into a crew, or another out of it.
    CHECK_FALSE(other.carry_out(StateFacts{job, {{"crew.members", "Tindo Quellaby, Ode Brannick, Ode"}}}));
    CHECK_FALSE(other.carry_out(StateFacts{job, {{"crew.lead", "Ode"}, {"crew.members", "Ode"}}}));
    CHECK(other.journal().head() == head);
    REQUIRE(other.carry_out(TakeOverJob{job}));
    CHECK(other.carry_out(ladder(job)));
    CHECK(other.in_hand(job)->state().check("ladder-set")->readings.back().taken.by == "Ode");
    // Whose it was before stays on record.
    CHECK(other.in_hand(job)->state().taken_over.back().second.from == "Tindo Quellaby");
}

TEST_CASE("the store ticks parts for every crew and states nothing else with them") {
    const Folder folder;
    const Clock clock;
    std::string job;
    {
        auto desk = opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
        job = desk.carry_out(OpenJob{"kit", house_facts(tools()), "facts.toml", "", false}).value();
    }
    auto keeper = opened_by(folder, clock, store::Person{"Ode", store::Role::Installer}, "b");
    CHECK(keeper.carry_out(StateFacts{job, {{"part.relief.store", "there"}, {"batch.relief", "RV-K12"}}}));
    const auto head = keeper.journal().head();
    CHECK_FALSE(keeper.carry_out(StateFacts{job, {{"batch.relief", "RV-K13"}}}));
    CHECK_FALSE(keeper.carry_out(StateFacts{job, {{"part.relief.van", "there"}, {"sys.relief_kpa", "900"}}}));
    CHECK(keeper.journal().head() == head);
}

TEST_CASE("the crew of a job names further members") {
    const Folder folder;
    const Clock clock;
    auto desk = opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false}).value();
    CHECK(desk.carry_out(StateFacts{job, {{"crew.members", "Tindo Quellaby, Ode Brannick, Ilka Marrowby"}}}));
}

TEST_CASE("nobody writes under another's name, and what an office decides a lead decides") {
    const Folder folder;
    const Clock clock;
    auto desk = opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false}).value();
    auto reading = ladder(job);
    reading.by = "Ilka Marrowby";
    const auto refusal = desk.carry_out(reading);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "Tindo Quellaby is at work here, and this would stand under the name of Ilka Marrowby.");
    CHECK(refusal.error().kind == ProblemKind::Refused);
    reading.by = "Tindo Quellaby";
    CHECK(desk.carry_out(reading));

    const auto is_for_a_lead = [&](const record::Body& body) {
        const record::Draft drafts[] = {{"", body}};
        Setup setup;
        const bool open_to_all = may_say(setup, drafts).has_value();
        setup.person = store::Person{"Tindo Quellaby", store::Role::Installer};
        const bool to_installers = may_say(setup, drafts).has_value();
        setup.person->role = store::Role::Lead;
        return open_to_all && !to_installers && may_say(setup, drafts).has_value();
    };
    CHECK(is_for_a_lead(record::ActionDecided{}));
    CHECK(is_for_a_lead(record::ActionEnded{}));
    CHECK(is_for_a_lead(record::InstrumentDoubted{}));
    CHECK(is_for_a_lead(record::BatchDoubted{}));
    CHECK(is_for_a_lead(record::ComplaintClosed{}));
    CHECK_FALSE(is_for_a_lead(record::ReadingTaken{}));
    CHECK_FALSE(is_for_a_lead(record::ComplaintTold{}));
}

}  // namespace wm::desk
