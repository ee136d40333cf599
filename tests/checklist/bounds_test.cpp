#include "checklist/bounds.hpp"

#include <doctest/doctest.h>

#include <string>

#include "checklist/testing.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

const Library no_library;

// "low..high" in mm of the first subject, then the number of conditions beside it.
std::string bounds_text(const std::string& text) {
    const auto facts = testing::facts_with(
        {{"sys.kind", "direct"}, {"sys.min_rise_mm", "100"}, {"sys.anti_reverse", "no"}});
    const Context context{facts, no_library, "2027-03-04", {}, {}, {}, {}};
    const auto e = Expression::parse(text);
    REQUIRE_MESSAGE(e, text);
    const auto bounds = bounds_of(*e, {context, {}, nullptr}, mentions_reading(*e));
    const auto side = [](const std::optional<units::Amount>& limit) {
        return limit ? units::print_short(limit->in(*units::unit_named("mm"))) : std::string{};
    };
    std::string all;
    if (!bounds.of_subjects.empty())
        all = side(bounds.of_subjects[0].low) + ".." + side(bounds.of_subjects[0].high);
    all += " +" + std::to_string(bounds.conditions.size());
    if (!bounds.missing.none()) all += " missing";
    return all;
}

}  // namespace

TEST_CASE("limits are taken out of conjunctions and of the true side of a choice") {
    struct Row {
        std::string text, bounds;
    };
    for (const Row& row : {
             Row{"reading at least 5 mm", "5.. +0"},
             Row{"5 mm at most reading", "5.. +0"},
             Row{"reading at least 5 mm and reading at most 9 mm and reading at least 6 mm",
                 "6..9 +0"},
             Row{"reading between 2 mm and 4 mm", "2..4 +0"},
             Row{"reading within 10 % of sys.min_rise_mm", "90..110 +0"},
             Row{"reading within 5 mm of sys.min_rise_mm", "95..105 +0"},
             Row{"abs(reading) at most 3 mm", "-3..3 +0"},
             Row{"abs(reading - 10 mm) at most 3 mm", "7..13 +0"},
             Row{"reading is 0 mm", "0..0 +0"},
             Row{"if sys.kind is 'direct' then reading at most 5 mm else reading at most 9 mm",
                 "..5 +0"},
             Row{"if known(sys.ua_wk) then reading at most 5 mm else yes", " +0"},
             Row{"sys.anti_reverse or reading at least 5 mm", "5.. +0"},
             Row{"sys.kind is 'direct' or reading at least 5 mm", " +0"},
             Row{"reading at least 5 mm and sys.kind is 'direct'", "5.. +1"},
             Row{"reading at most sys.coll_w_m", " +0 missing"},
             Row{"reading at least 5 mm or reading at most 2 mm", " +1"},
             Row{"not reading at least 5 mm", " +1"},
         }) {
        CAPTURE(row.text);
        CHECK(bounds_text(row.text) == row.bounds);
    }
}

TEST_CASE("only forms whose limits can be drawn pass") {
    const auto faults = [](const std::string& text) {
        const auto e = Expression::parse(text);
        REQUIRE(e);
        return undrawable(*e, mentions_reading(*e)).size();
    };
    CHECK(faults("reading at least 5 mm and (sys.anti_reverse or reading at most 9 mm)") == 0);
    CHECK(faults("mean(reading) at most 10 % and largest(reading) at most 30 %") == 0);
    CHECK(faults("bearing_gap(reading, 180°) at most 10°") == 0);
    CHECK(faults("reading at least 5 mm or reading at most 2 mm") == 1);
    CHECK(faults("not reading at least 5 mm") == 1);
    CHECK(faults("2 * reading at most 5 mm") == 1);
    CHECK(faults("reading is not 5 mm") == 1);
    CHECK(faults("reading within reading of 5 mm") == 1);
}

}  // namespace wm::checklist
