#include "desk/trace.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a trace leads from the instrument to readings, house, letter and visit") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    bench.enter("anchor-torque", "20 N·m", "1");
    bench.enter("anchor-torque", "20.5 N·m", "2");
    const auto view = trace_view(bench.desk(), {.instrument = "TW-1", .from = "2026-11-01", .until = "", .batch = ""});
    REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
    CHECK(view->results == 2);
    REQUIRE(view->rows.size() == 2);
    CHECK(view->rows[0].check == "anchor-torque");
    CHECK(view->rows[0].text == "20 N·m");
    CHECK(view->rows[0].severity == "H");
    CHECK(view->rows[0].day == "2026-11-25");
    REQUIRE(view->jobs.size() == 1);
    CHECK(view->jobs[0].job == bench.job);
    CHECK(view->jobs[0].severe == 2);
    CHECK(view->jobs[0].letter.find("Ansa Velmorrin") != std::string::npos);
    CHECK(view->jobs[0].letter.find("licensed person") != std::string::npos);
    CHECK(view->jobs[0].revisit.empty());
    CHECK_FALSE(view->doubted);

    const auto visit = bench.desk().carry_out(OpenRevisit{bench.job, view->sentence});
    REQUIRE(visit);
    REQUIRE(bench.desk().carry_out(DoubtInstrument{"TW-1", "2026-11-01", "", "2 N·m", "It fell.", ""}));
    const auto after = trace_view(bench.desk(), {.instrument = "TW-1", .from = "2026-11-01", .until = "", .batch = ""});
    REQUIRE(after);
    CHECK(after->doubted);
    CHECK(after->jobs[0].revisit == *visit);
    CHECK(after->rows[0].outcome == "open");
}

TEST_CASE("a trace of a later day, of a house that was erased, of a name nobody used") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    CHECK(trace_view(bench.desk(), {"IN-1", "2026-11-26", "", ""})->jobs.empty());
    REQUIRE(bench.desk().erase_customer(bench.job));
    const auto erased = trace_view(bench.desk(), {"IN-1", "", "", ""});
    REQUIRE(erased);
    REQUIRE(erased->jobs.size() == 1);
    CHECK(erased->jobs[0].letter.empty());
    CHECK_FALSE(trace_view(bench.desk(), {"IN-9", "", "", ""}));
    CHECK_FALSE(trace_view(bench.desk(), {"", "", "", "RV-K17"}));
    CHECK_FALSE(trace_view(bench.desk(), {"", "", "", ""}));
    CHECK_FALSE(trace_view(bench.desk(), {"IN-1", "soon", "", ""}));
}

TEST_CASE("a batch leads to its jobs and to the checks it stands behind") {
    Bench bench{testing::house_facts("batch.relief = \"RV-K17\"\n" + testing::tools())};
    bench.enter("coll-tilt", "35°");
    bench.enter("relief-lever", "flows and closes");
    for (const char* name : {"RV-K17", "relief valve RV-K17"}) {
        const auto view = trace_view(bench.desk(), {"", "", "", name});
        REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
        REQUIRE(view->jobs.size() == 1);
        REQUIRE(view->rows.size() == 1);
        CHECK(view->rows[0].check == "relief-lever");
    }
}

}  // namespace wm::desk
