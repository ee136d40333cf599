#include "audit/proofs.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

/// Commissionings of one kind and frost class, each with one other check, all done on 6 July 2026.
struct Homes {
    AuditTable table;

    std::size_t add(const std::string& outcome, const std::string& frost_class = "regular", const std::string& read_on = "2026-07-06") {
        const auto job = table.jobs.size();
        JobCard card;
        card.job = fmt::format("J-{:02}", job);
        card.system = "indirect";
        card.frost_class = frost_class;
        card.kind = "commissioning";
        card.day = "2026-07-06";
        table.jobs.push_back(card);
        read(job, "ladder-set", "conforms", card.day);
        if (!outcome.empty()) read(job, "frost-cold-feed", outcome, read_on);
        return job;
    }
    void read(std::size_t job, const std::string& check, const std::string& outcome, const std::string& day) {
        table.results.push_back({.job = job, .check = check, .failed = outcome == "does not conform", .inconclusive = false, .corrected = false,
                                 .outcome = outcome, .day = day});
    }
    [[nodiscard]] std::vector<Proof> proofs(Day on = 0) const {
        const Columns columns{table};
        return proofs_of(columns, {{columns.names().check.find("frost-cold-feed").value(), on}}).front();
    }
};

}  // namespace

TEST_CASE("a check without a result is unproved where it is read elsewhere, and not asked where it is not") {
    Homes homes;
    for (int i = 0; i < 9; ++i) (void)homes.add("conforms");
    const auto bare = homes.add("");
    const auto failed = homes.add("does not conform");
    const auto put_right = homes.add("conforms");
    const auto left_out = homes.add("not applicable");
    const auto mild = homes.add("", "none");
    const auto proofs = homes.proofs();
    CHECK(proofs[bare] == Proof::Unproved);
    CHECK(proofs[failed] == Proof::Unproved);
    CHECK(proofs[put_right] == Proof::Proved);
    CHECK(proofs[left_out] == Proof::NotAsked);
    CHECK(proofs[mild] == Proof::NotAsked);
}

TEST_CASE("seven homes alike are too few to say what is asked of them, eight are enough") {
    Homes homes;
    for (int i = 0; i < 8; ++i) (void)homes.add("conforms");
    homes.table.results.pop_back();  // seven of eight is under nine in ten
    CHECK(homes.proofs().back() == Proof::NotAsked);
    Homes more;
    for (int i = 0; i < 9; ++i) (void)more.add("conforms");
    (void)more.add("");
    CHECK(more.proofs().back() == Proof::Unproved);  // nine of ten
}

TEST_CASE("a home where nothing was read at all is asked nothing, and is like nobody") {
    Homes homes;
    for (int i = 0; i < 9; ++i) (void)homes.add("conforms");
    const auto bare = homes.add("");
    for (int i = 0; i < 9; ++i) {
        (void)homes.add("");
        homes.table.results.pop_back();
    }
    CHECK(homes.proofs()[bare] == Proof::Unproved);
    CHECK(homes.proofs().back() == Proof::NotAsked);
}

TEST_CASE("what was read after the day, or on it by a later visit, was not there on the day") {
    Homes homes;
    for (int i = 0; i < 9; ++i) (void)homes.add("conforms");
    const auto later = homes.add("conforms", "regular", "2026-12-05");
    CHECK(homes.proofs()[later] == Proof::Proved);
    CHECK(homes.proofs(20261206)[later] == Proof::Proved);
    CHECK(homes.proofs(20261205)[later] == Proof::Unproved);
    CHECK(homes.proofs(20261204)[later] == Proof::Unproved);
    // The day of the first reading is the day of the work, not of a visit after a call.
    CHECK(homes.proofs(20260706).front() == Proof::Proved);
    CHECK(homes.proofs(20260705).front() == Proof::Unproved);
    const Columns columns{homes.table};
    const auto feed = columns.names().check.find("frost-cold-feed").value();
    CHECK_FALSE(outcome_on(columns, later, {feed, 20261205}));
    CHECK(outcome_on(columns, later, {feed, 0}) == "conforms");
}

TEST_CASE("a home done before the day from which homes count is not asked") {
    Homes homes;
    for (int i = 0; i < 9; ++i) (void)homes.add("conforms");
    const auto bare = homes.add("");
    const Columns columns{homes.table};
    const auto feed = columns.names().check.find("frost-cold-feed").value();
    CHECK(proofs_of(columns, {{feed, 0}}, 20260706).front()[bare] == Proof::Unproved);
    const auto later = proofs_of(columns, {{feed, 0}}, 20260707);
    for (const auto proof : later.front()) CHECK(proof == Proof::NotAsked);
}

TEST_CASE("several checks and days are answered in one pass, each by itself") {
    Homes homes;
    for (int i = 0; i < 9; ++i) (void)homes.add("conforms");
    const auto later = homes.add("conforms", "regular", "2026-12-05");
    const Columns columns{homes.table};
    const auto feed = columns.names().check.find("frost-cold-feed").value();
    const auto ladder = columns.names().check.find("ladder-set").value();
    const auto proofs = proofs_of(columns, {{feed, 20261201}, {ladder, 20261201}, {feed, 0}});
    REQUIRE(proofs.size() == 3);
    CHECK(proofs[0][later] == Proof::Unproved);
    CHECK(proofs[1][later] == Proof::Proved);
    CHECK(proofs[2][later] == Proof::Proved);
}

}  // namespace wm::audit
