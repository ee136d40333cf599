#include "demo/one_job.hpp"

#include "demo/testing.hpp"
#include "desk/attest.hpp"
#include "desk/outbox.hpp"

namespace wm::demo {

TEST_CASE("the demo job goes from facts to a sealed report and a queued message") {
    testing::DemoDesk own;
    const auto done = do_demo_job(own.desk(), own.clock);
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
    CHECK(done->handed.report.starts_with("%PDF-"));
    CHECK(done->handed.state == "full");
    CHECK_FALSE(done->handed.message.empty());
    CHECK(desk::messages(own.desk())->size() == 1);
    const auto attested = desk::attest_file(done->handed.report, "", &own.desk().journal());
    CHECK(attested.genuine);
    CHECK(attested.in_journal == true);
    CHECK(desk::attest_journal(own.desk())->genuine);

    const auto view = own.desk().job_view(done->job);
    REQUIRE(view);
    int corrected = 0;
    int photos = 0;
    for (const auto& check : view->checks) {
        corrected += check.failed_once ? 1 : 0;
        for (const auto& reading : check.readings) photos += static_cast<int>(reading.photos.size());
    }
    CHECK(corrected == 3);
    CHECK(photos == 12);
    CHECK(view->row.state == "handed over");
}

TEST_CASE("a drawn name keeps its order in time, and differs from another name") {
    const auto strokes = demo_strokes("Ansa Velmorrin");
    CHECK(strokes.size() == 2);
    int last = -1;
    for (const auto& stroke : strokes)
        for (const auto& point : stroke) {
            CHECK(point.ms > last);
            last = point.ms;
        }
    CHECK(demo_strokes("Tindo Quellaby")[0].size() != strokes[0].size());
}

}  // namespace wm::demo
