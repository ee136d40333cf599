#include "desk/figure_origins.hpp"

#include <algorithm>
#include <set>

#include "checklist/derived_names.hpp"
#include "desk/report_of.hpp"
#include "desk/testing.hpp"
#include "measure/computations.hpp"
#include "plant/workout.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

handover::ReportInput report_of(Bench& bench) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    ReportSurroundings around;
    around.date = "2026-11-25";
    return report_input(*hand, bench.view(), around);
}

const handover::FigureOrigin* origin_of(const handover::ReportInput& input, std::string_view figure) {
    const auto found = std::find_if(input.origins.begin(), input.origins.end(),
                                    [&](const auto& origin) { return origin.figure == figure; });
    return found == input.origins.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("each derived value says where its equation comes from, and names a computation that is there") {
    std::set<std::string, std::less<>> known;
    for (const auto& each : plant::plant_computations()) known.insert(each.name);
    for (const auto& spec : checklist::derived_table()) {
        CAPTURE(spec.name);
        CHECK_FALSE(spec.source.empty());
        if (!spec.work_out.empty()) CHECK(known.contains(spec.work_out));
    }
}

TEST_CASE("whatever a figure of the evidence was worked out from has its origin on the report") {
    Bench bench;
    bench.do_all();
    const auto input = report_of(bench);
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    int followed = 0;
    for (const auto& stage : input.stages)
        for (const auto& check : stage.checks) {
            CAPTURE(check.id);
            if (check.rule == "guarded" && !check.readings.empty()) CHECK(origin_of(input, "limits of a guarded decision"));
            if (!check.doubt.empty()) CHECK(origin_of(input, "doubt left"));
            if (check.readings.empty()) continue;
            for (const auto& line : check.derivation) {
                CAPTURE(line);
                for (const auto& spec : checklist::derived_table())
                    if (line.starts_with(std::string{spec.meaning} + " = ")) {
                        const auto* origin = origin_of(input, spec.meaning);
                        REQUIRE(origin);
                        CHECK(origin->equation == spec.formula);
                        ++followed;
                    }
                for (const auto& setting : hand->library->settings)
                    if (line.starts_with(setting.meaning + " = ")) {
                        const auto* origin = origin_of(input, setting.meaning);
                        REQUIRE(origin);
                        CHECK_FALSE(origin->source.empty());
                        ++followed;
                    }
                CHECK(line.find("setting.") == std::string::npos);
                CHECK(line.find("d.") != 0);
            }
        }
    CHECK(followed >= 15);
    for (const auto& origin : input.origins) {
        CAPTURE(origin.figure);
        CHECK_FALSE(origin.equation.empty());
        CHECK_FALSE(origin.source.empty());
    }
}

TEST_CASE("what judged the holding test and the warm-up is named with its source") {
    Bench bench;
    bench.do_all();
    const auto input = report_of(bench);
    const auto* line = origin_of(input, "line of a holding test, its band and its verdict");
    REQUIRE(line);
    CHECK(line->work_out == "leak-verdict");
    CHECK((origin_of(input, "heat from the sun in a month") != nullptr) == !input.expectation.months.empty());
    Bench untouched;
    CHECK_FALSE(origin_of(report_of(untouched), "limits of a guarded decision"));
}

}  // namespace wm::desk
