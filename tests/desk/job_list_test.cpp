#include "desk/job_list.hpp"

#include <fstream>
#include <iterator>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

const JobRow* row_of(const std::vector<JobRow>& rows, const std::string& job) {
    for (const auto& row : rows)
        if (row.job == job) return &row;
    return nullptr;
}

}  // namespace

TEST_CASE("rows come back from their text, whatever stands in them, and a torn text gives none") {
    ListedJobs jobs;
    jobs["J-1"] = {"hash", "2027-03-02T15:06:45.000Z.0000", {.job = "J-1", .checklist = "commissioning", .kind = "new",
                   .place = "12:Row\n\x1f", .crew = "Tindo", .started = "", .state = "open", .customer = "Ünsa \"V\"",
                   .open = 2, .failed = 3, .practice = true, .due = "2026-12-01", .day = "2026-12-03"}};
    jobs["J-2"] = {};
    jobs["J-2"].row.job = "J-2";
    const auto text = text_of(jobs);
    const auto back = read_listed(text);
    REQUIRE(back);
    CHECK(back->size() == 2);
    CHECK(back->at("J-1").row.place == "12:Row\n\x1f");
    CHECK(back->at("J-1").row.customer == "Ünsa \"V\"");
    CHECK(back->at("J-1").row.failed == 3);
    CHECK(back->at("J-1").row.practice);
    CHECK(back->at("J-1").row.day == "2026-12-03");
    CHECK(text_of(*back) == text);
    for (std::size_t end = 1; end < text.size(); ++end) {
        // A cut between two rows leaves a shorter list, which the hashes of the jobs mend.
        const auto cut = read_listed(std::string_view{text}.substr(0, end));
        CHECK((!cut || cut->size() == 1));
    }
    CHECK_FALSE(read_listed("99999999999999999999:x"));
    CHECK_FALSE(read_listed("-1:x"));
    CHECK_FALSE(read_listed("nonsense"));
}

TEST_CASE("the list follows what is written, and a second desk sees it too") {
    Bench bench;
    auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    REQUIRE(rows->size() == 1);
    CHECK(rows->front().customer == "Ansa Velmorrin");
    CHECK(rows->front().failed == 0);
    bench.enter("coll-tilt", "41°");
    rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(rows->front().failed == 1);
    const auto second = bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f", "", false});
    REQUIRE(second);
    rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(rows->size() == 2);
    REQUIRE(row_of(*rows, *second) != nullptr);

    auto setup = bench.desk().setup();
    setup.access = Access::Read;
    auto other = Desk::open(setup);
    REQUIRE(other);
    CHECK(other->job_rows()->size() == 2);
    bench.correct("coll-tilt", "35°", "Frame set anew");
    const auto seen = other->job_rows();
    const auto ours = bench.desk().job_rows();
    REQUIRE(seen);
    REQUIRE(ours);
    for (const auto& row : *ours) {
        const auto* there = row_of(*seen, row.job);
        REQUIRE(there != nullptr);
        CHECK(row.failed == 0);
        CHECK(there->failed == row.failed);
        CHECK(there->state == row.state);
    }
}

TEST_CASE("what is put off in a practice job is nobody's duty") {
    Bench bench;
    const auto practice =
        bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f.toml", "", true});
    REQUIRE(practice);
    for (const auto& job : {bench.job, *practice})
        REQUIRE(bench.desk().carry_out(DeferCheck{job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    const auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(row_of(*rows, bench.job)->due == "2026-11-26");
    CHECK(row_of(*rows, *practice)->due.empty());
    CHECK(bench.desk().job_view(*practice)->row.due.empty());
    const auto due = bench.desk().due();
    REQUIRE(due);
    REQUIRE(due->size() == 1);
    CHECK(due->front().job == bench.job);
}

TEST_CASE("an erased customer leaves the list at once, also the one that is kept") {
    Bench bench;
    for (int i = 0; i < 17; ++i)
        REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f", "", false}));
    REQUIRE(bench.desk().job_rows());
    REQUIRE(bench.desk().journal().cache("job list"));
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK_FALSE(bench.desk().journal().cache("job list"));
    const auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(rows->size() == 18);
    CHECK(row_of(*rows, bench.job)->customer.find("Velmorrin") == std::string::npos);
}

TEST_CASE("a job with entries that cannot be read is called damaged and takes no further entry") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    bench.enter("coll-azimuth", "181°");
    auto setup = bench.desk().setup();
    const auto file = bench.data() / "journal.db";
    bench.close();
    // One figure of one entry, changed behind the program's back.
    std::string bytes;
    {
        std::ifstream in{file, std::ios::binary};
        bytes.assign(std::istreambuf_iterator<char>{in}, {});
    }
    const std::string true_text = "35°";
    std::size_t changed = 0;
    for (auto at = bytes.find(true_text); at != std::string::npos; at = bytes.find(true_text, at + 1)) {
        bytes[at + 1] = '6';
        ++changed;
    }
    REQUIRE(changed > 0);
    std::ofstream{file, std::ios::binary} << bytes;
    auto desk = Desk::open(setup);
    REQUIRE(desk);
    const auto rows = desk->job_rows();
    REQUIRE(rows);
    REQUIRE(rows->size() == 1);
    CHECK(rows->front().state == "damaged");
    const auto refused = desk->carry_out(bench.reading("coll-tilt", "35°"));
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what.find("cannot be read") != std::string::npos);
    CHECK(refused.error().kind == ProblemKind::NotStored);
}

}  // namespace wm::desk
