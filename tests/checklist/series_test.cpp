#include <doctest/doctest.h>

#include "checklist/readings.hpp"

namespace wm::checklist {
namespace {

Check pressure_series() {
    Check check;
    check.id = CheckId{"hold"};
    check.kind = Kind::Series;
    check.unit = units::unit_named("kPa");
    check.series = SeriesPlan{};
    check.series->extras = {{"water start", *units::unit_named("°C")}};
    return check;
}

Check two_channels() {
    Check check;
    check.id = CheckId{"rise"};
    check.kind = Kind::Series;
    check.unit = units::unit_named("°C");
    check.series = SeriesPlan{};
    check.series->channels = {"riser", "downcomer"};
    return check;
}

}  // namespace

TEST_CASE("a series of one channel takes times, bare numbers in the unit written, and extras") {
    const auto answer = read_series(pressure_series(),
                                    "0 min=4.8 bar; 2 min=4,79; 240 s=4.78; water start=18.2 °C");
    REQUIRE(answer);
    CHECK(answer->points->times_s == std::vector<double>{0, 120, 240});
    CHECK(answer->points->rows[1][0].si == doctest::Approx(479000));
    CHECK(answer->extras.at("water_start").si == doctest::Approx(291.35));
}

TEST_CASE("a series of several channels takes all of them at each time, decimal commas included") {
    const auto answer = read_series(
        two_channels(), "0 min: riser=41,5 °C, downcomer=33; 5 min: downcomer=35 °C, riser=44 °C");
    REQUIRE(answer);
    CHECK(answer->points->channels == std::vector<std::string>{"riser", "downcomer"});
    CHECK(answer->points->rows[0][0].si == doctest::Approx(314.65));
    CHECK(answer->points->rows[1][1].si == doctest::Approx(308.15));
}

TEST_CASE("what is no series is refused in words") {
    struct Row {
        Check check;
        std::string text, what;
    };
    for (const Row& row : {
             Row{pressure_series(), "480 kPa", "\"480 kPa\" is no reading with its time."},
             Row{pressure_series(), "0 min=480; 0 min=479",
                 "The time 0 min is not later than the one before it."},
             Row{pressure_series(), "soon=480", "\"soon\" is no time."},
             Row{pressure_series(), "0 min=480;; 2 min=479",
                 "A reading is missing between two semicolons."},
             Row{pressure_series(), "0 min=4.8 bar; 2 min=480 kPa; 4 min=479",
                 "Some readings have no unit, and the others have several."},
             Row{pressure_series(), "0 min=480 K",
                 "\"480 K\" is a temperature difference, but a pressure is wanted here."},
             Row{pressure_series(), "0 min=480; water start=18; water start=19",
                 "\"water start\" is there twice."},
             Row{pressure_series(), "water start=18 °C", "The series has no reading."},
             Row{two_channels(), "0 min: riser=41",
                 "The channel downcomer is missing at one of the times."},
             Row{two_channels(), "0 min: riser=41, cellar=33",
                 "\"cellar=33\" names no channel of this check."},
             Row{two_channels(), "0 min=41", "\"0 min\" is no reading of this check."},
         }) {
        CAPTURE(row.text);
        const auto answer = read_series(row.check, row.text);
        REQUIRE(!answer);
        CHECK(answer.error().what == row.what);
        CHECK(!answer.error().what_to_do.empty());
    }
}

TEST_CASE("a series of more than 5000 points is refused") {
    std::string text;
    for (int i = 0; i <= 5000; ++i) text += std::to_string(i) + " s=480; ";
    const auto answer = read_series(pressure_series(), text);
    REQUIRE(!answer);
    CHECK(answer.error().what == "The series has more than 5000 points.");
}

}  // namespace wm::checklist
