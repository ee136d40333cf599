// What the week counts, kept up to date and kept between starts, against a full rebuild.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::many_jobs;

namespace {

// Made anew of every job, with the entry each row was made after left out.
audit::AuditTable rebuilt(Desk& desk) {
    const auto states = desk.all_states();
    REQUIRE(states);
    auto table = audit::audit_table(*states);
    for (auto& job : table.jobs)
        for (const auto& state : *states)
            if (state.number == job.job) job.visit = audit::visit_facts_of(state);
    return table;
}

audit::AuditTable counted(Desk& desk) {
    const auto columns = desk.audit_columns();
    REQUIRE_MESSAGE(columns, (columns ? "" : told(columns.error())));
    auto table = audit::table_of(**columns);
    for (auto& job : table.jobs) job.made_after.clear();
    return table;
}

}  // namespace

TEST_CASE("after each entry the week counts what a full rebuild counts") {
    Bench bench;
    const auto same = [&] {
        CHECK(counted(bench.desk()) == rebuilt(bench.desk()));
    };
    same();
    bench.enter("coll-tilt", "41°");
    same();
    CHECK(counted(bench.desk()).results.size() == 1);
    bench.correct("coll-tilt", "35°", "Frame set anew");
    same();
    bench.enter("anchor-torque", "20 N·m", "1");
    bench.enter("anchor-torque", "20.5 N·m", "2");
    same();
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-01", "Odrun Vassamy", "It rains."}));
    same();
    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    same();
    REQUIRE(bench.desk().carry_out(DoubtInstrument{"TW-1", "2026-11-01", "", "", "It fell.", ""}));
    same();
    const auto after = counted(bench.desk());
    REQUIRE(after.uses.size() == 3);
    CHECK(std::count_if(after.uses.begin(), after.uses.end(), [](const audit::InstrumentUse& use) { return !use.is_evidence; }) == 2);
    many_jobs(bench, 3);
    same();
    REQUIRE(bench.desk().erase_customer(bench.job));
    same();
}

TEST_CASE("the next start counts only what is new, and comes to the same") {
    Bench bench;
    many_jobs(bench, 17);
    const auto before = counted(bench.desk());
    REQUIRE(bench.desk().journal().cache("week columns"));
    bench.enter("coll-tilt", "41°");
    const auto setup = bench.desk().setup();
    bench.close();
    auto next = Desk::open(setup);
    REQUIRE(next);
    const auto after = counted(*next);
    CHECK(after == rebuilt(*next));
    CHECK(after.results.size() == before.results.size() + 1);
}

TEST_CASE("what is kept lies locked, is not believed from another program, and goes with an erasure") {
    Bench bench;
    many_jobs(bench, 17);
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-01", "Gunnvor Deferral-Owner", "It rains."}));
    many_jobs(bench, 17);
    const auto all = counted(bench.desk());
    const auto kept = bench.desk().journal().cache("week columns");
    REQUIRE(kept);
    CHECK(kept->body.find("coll-tilt") != std::string::npos);
    std::string bytes;
    for (const auto& file : std::filesystem::recursive_directory_iterator(bench.data()))
        if (file.is_regular_file()) {
            std::ifstream in{file.path(), std::ios::binary};
            bytes.append(std::istreambuf_iterator<char>{in}, {});
        }
    CHECK(bytes.find("Gunnvor") == std::string::npos);
    for (const auto& spoilt : {store::Cached{"columns 0", kept->body}, store::Cached{kept->made_from, kept->body.substr(0, 99)},
                               store::Cached{kept->made_from, ""}}) {
        REQUIRE(bench.desk().journal().put_cache("week columns", spoilt));
        auto setup = bench.desk().setup();
        setup.access = Access::Read;
        auto other = Desk::open(setup);
        REQUIRE(other);
        CHECK(counted(*other) == all);
    }
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK_FALSE(bench.desk().journal().cache("week columns"));
}

}  // namespace wm::desk
