#include "audit/questions.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

namespace wm::audit {

namespace {

struct Home {
    std::string crew = "C1", day = "2026-11-25", batch = "RV-1";
    bool vulnerable = false;
};

void add(AuditTable& table, const Home& home, const std::string& check, int failed, int tries) {
    for (int i = 0; i < tries; ++i) {
        table.results.push_back({.job = table.jobs.size(), .check = check, .failed = i < failed, .inconclusive = false,
                                 .corrected = false, .outcome = "", .day = home.day});
        JobCard card;
        card.job = fmt::format("J-{}", table.jobs.size());
        card.crew = home.crew;
        card.roof = "slate";
        card.system = "indirect";
        card.vulnerable = home.vulnerable;
        card.day = home.day;
        card.batches = {{"relief valve", home.batch}};
        table.jobs.push_back(std::move(card));
    }
}

const Question* find(const std::vector<Question>& all, QuestionKind kind, const std::string& subject) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Question& q) { return q.kind == kind && q.subject == subject; });
    return found == all.end() ? nullptr : &*found;
}

const QuestionSpan span{.first_day = "2026-06-01", .last_day = "2026-11-29"};

}  // namespace

TEST_CASE("a batch is compared within each crew, and a crew within each batch") {
    AuditTable table;
    add(table, {.crew = "C1", .batch = "RV-1"}, "relief-lever", 1, 10);
    add(table, {.crew = "C1", .batch = "RV-2"}, "relief-lever", 4, 10);
    add(table, {.crew = "C2", .batch = "RV-2"}, "relief-lever", 3, 20);
    const auto all = questions_of(table, span);
    const auto* batch = find(all, QuestionKind::Material, "relief valve RV-2");
    REQUIRE(batch);
    CHECK(batch->own == Tally{7, 30});
    CHECK(batch->others == Tally{1, 10});
    REQUIRE(batch->strata.size() == 2);
    CHECK(batch->strata[0].first == Tally{4, 10});
    CHECK(batch->strata[0].second == Tally{1, 10});
    CHECK(batch->strata[1].second == Tally{0, 0});
    CHECK(batch->jobs.size() == 7);
    CHECK_FALSE(batch->only_later);
    const auto* crew = find(all, QuestionKind::Crew, "C1");
    REQUIRE(crew);
    CHECK(crew->strata.size() == 2);
    CHECK(crew->strata[1].first == Tally{4, 10});
    CHECK(crew->strata[1].second == Tally{3, 20});
}

TEST_CASE("a batch whose jobs are all later than the others says so") {
    AuditTable table;
    add(table, {.day = "2026-07-01", .batch = "RV-1"}, "relief-lever", 1, 10);
    add(table, {.day = "2026-08-01", .batch = "RV-2"}, "relief-lever", 4, 10);
    const auto all = questions_of(table, span);
    CHECK(find(all, QuestionKind::Material, "relief valve RV-2")->only_later);
    CHECK_FALSE(find(all, QuestionKind::Material, "relief valve RV-1")->only_later);
}

TEST_CASE("homes with vulnerable people are asked about alone, with the rest beside") {
    AuditTable table;
    add(table, {.crew = "C2", .vulnerable = true}, "outlet-temp", 5, 10);
    add(table, {.crew = "C2", .vulnerable = false}, "outlet-temp", 1, 30);
    add(table, {.crew = "C1", .vulnerable = true}, "outlet-temp", 1, 40);
    const auto all = questions_of(table, span);
    const auto* question = find(all, QuestionKind::Household, "C2");
    REQUIRE(question);
    CHECK(question->own == Tally{5, 10});
    CHECK(question->others == Tally{1, 40});
    CHECK(question->elsewhere == Tally{1, 30});
    CHECK(find(all, QuestionKind::Crew, "C2")->own == Tally{6, 40});
}

TEST_CASE("the last eight weeks are compared with the weeks before") {
    AuditTable table;
    add(table, {.day = "2026-10-04"}, "ins-ends", 1, 20);
    add(table, {.day = "2026-10-05"}, "ins-ends", 4, 12);
    add(table, {.day = "2026-11-30"}, "ins-ends", 9, 9);  // after the last day
    const auto all = questions_of(table, span);
    const auto* recent = find(all, QuestionKind::Recent, "");
    REQUIRE(recent);
    CHECK(recent->own == Tally{4, 12});
    CHECK(recent->others == Tally{1, 20});
}

TEST_CASE("a deferral counts once it is fourteen days old, and one closed too late was forgotten too") {
    AuditTable table;
    add(table, {.crew = "C5"}, "ins-ends", 0, 1);
    add(table, {.crew = "C1"}, "ins-ends", 0, 1);
    const auto put_off = [&](std::size_t job, const std::string& since, const std::string& closed) {
        table.deferrals.push_back({.job = job, .check = "temp-rise", .owner = "", .since = since, .until = "", .closed = closed});
    };
    put_off(0, "2026-11-01", "");
    put_off(0, "2026-11-01", "2026-11-20");
    put_off(0, "2026-11-01", "2026-11-15");
    put_off(0, "2026-11-20", "");  // nine days old
    put_off(1, "2026-11-02", "2026-11-03");
    const auto all = questions_of(table, span);
    const auto* question = find(all, QuestionKind::Deferral, "C5");
    REQUIRE(question);
    CHECK(question->own == Tally{2, 3});
    CHECK(question->others == Tally{0, 1});
    CHECK(question->check == "temp-rise");
}

TEST_CASE("two materials that divide the jobs alike are one question") {
    AuditTable table;
    add(table, {}, "loop-freeze-point", 1, 10);
    add(table, {}, "loop-freeze-point", 4, 10);
    for (std::size_t i = 0; i < 20; ++i)
        table.jobs[i].batches = {{"fluid", i < 10 ? "PG-1" : "PG-2"}, {"fluid kind", i < 10 ? "premix" : "concentrate"}};
    const auto all = questions_of(table, span);
    CHECK(std::count_if(all.begin(), all.end(), [](const Question& q) { return q.kind == QuestionKind::Material; }) == 2);
    CHECK(find(all, QuestionKind::Material, "fluid PG-2"));
}

}  // namespace wm::audit
