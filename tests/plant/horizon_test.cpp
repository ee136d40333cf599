#include "plant/horizon.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>

#include "plant/expected_year.hpp"

using namespace wm;
using namespace wm::plant;
using units::Angle;

namespace {

Horizon line_of(std::string_view text) {
    const auto line = read_horizon(text);
    REQUIRE_MESSAGE(line, (line ? "" : told(line.error())));
    return *line;
}

double degrees_at(const Horizon& line, double azimuth) { return height_of(line, Angle::degrees(azimuth)).in_degrees(); }

SkyOfPlace sky_with(std::string_view line, double latitude = 29.4) {
    return {.latitude = Angle::degrees(latitude),
            .tilt = Angle::degrees(30.0),
            .azimuth = Angle::degrees(180.0),
            .pressure = units::AbsolutePressure::kilopascals(101.325),
            .sunshine = 0.6,
            .horizon = line_of(line)};
}

double share_of(const SkyOfPlace& sky, int month) {
    const auto share = shaded_share(sky, month);
    REQUIRE(share);
    return *share;
}

}  // namespace

TEST_CASE("a line is read in any order, with comma or point, and half-way lies half-way") {
    const auto line = line_of(" 270:20 ; 90:10,5; 180:0;");
    REQUIRE(line.size() == 3);
    CHECK(std::abs(degrees_at(line, 90.0) - 10.5) < 1e-9);
    CHECK(std::abs(degrees_at(line, 135.0) - 5.25) < 1e-9);
    CHECK(std::abs(degrees_at(line, 225.0) - 10.0) < 1e-9);
    // Over north: from 20° at 270° to 10.5° at 90°.
    CHECK(std::abs(degrees_at(line, 0.0) - 15.25) < 1e-9);
    CHECK(std::abs(degrees_at(line, 360.0) - 15.25) < 1e-9);
    CHECK(degrees_at(line_of("40:7"), 200.0) == doctest::Approx(7.0));
    CHECK(degrees_at(line_of(""), 200.0) == 0.0);
    CHECK(line_of("360:3").front().azimuth.in_degrees() == 0.0);
}

TEST_CASE("what is no line is refused, with what was not understood") {
    struct Row {
        const char* text;
        const char* says;
    };
    for (const auto& row : {Row{"90", "\"90\" is no pair."}, Row{"90:high", "\"high\" is no height in degrees."},
                            Row{"400:5", "The azimuth 400 lies outside 0 to 360°."}, Row{"90:90", "The height 90 lies outside 0 to 89°."},
                            Row{"90:-1", "The height -1 lies outside 0 to 89°."}, Row{"90:5; ; 100:5", "\"\" is no pair."},
                            Row{"10:5; 10:6", "The azimuth 10° stands twice."}, Row{"0:5; 360:6", "The azimuth 0° stands twice."}}) {
        CAPTURE(row.text);
        const auto line = read_horizon(row.text);
        REQUIRE_FALSE(line);
        CHECK(line.error().what == row.says);
    }
}

TEST_CASE("the sun goes behind the line where its published place says so") {
    // Source: NREL/TP-560-34302 (2003), worked example of appendix A.5: apparent zenith 50.11162°, azimuth
    // 194.34024°; and two places of the sun by an independent implementation of that algorithm. 0.05° on either side.
    namespace date = std::chrono;
    using date::hours, date::minutes, date::seconds, date::sys_days, date::year;
    struct Row {
        date::sys_seconds utc;
        double latitude, longitude, kilopascals, celsius, zenith, azimuth;
    };
    for (const auto& row :
         {Row{sys_days{year{2003} / 10 / 17} + hours{19} + minutes{30} + seconds{30}, 39.74248, -105.1786, 82.0, 11.0, 50.11162, 194.34024},
          Row{sys_days{year{2026} / 1 / 15} + hours{9}, -33.9, 18.4, 101.3, 26.0, 28.538615, 70.854999},
          Row{sys_days{year{2026} / 6 / 21} + hours{5} + minutes{30}, 38.0, 23.7, 101.0, 22.0, 63.785253, 79.728801}}) {
        CAPTURE(row.zenith);
        const auto sun = sun_position(row.utc, {Angle::degrees(row.latitude), Angle::degrees(row.longitude)},
                                      {units::AbsolutePressure::kilopascals(row.kilopascals), units::Temperature::celsius(row.celsius)});
        REQUIRE(sun);
        const double height = 90.0 - row.zenith;
        for (const double over : {-0.05, 0.05}) {
            // The line is as high only where the sun stands.
            const auto line = line_of(fmt::format("{0:.5f}:0; {1:.5f}:{4:.5f}; {2:.5f}:{4:.5f}; {3:.5f}:0", row.azimuth - 2.0, row.azimuth - 1.0,
                                                  row.azimuth + 1.0, row.azimuth + 2.0, height + over));
            CHECK(is_hidden(*sun, line) == (over > 0.0));
        }
    }
}

TEST_CASE("shade by month: none on open land, all in a pit, and more under a higher hill") {
    for (const int month : {1, 4, 7, 10}) {
        CAPTURE(month);
        CHECK(share_of(sky_with(""), month) == 0.0);
        CHECK(share_of(sky_with("0:89"), month) == 1.0);
        CHECK(share_of(sky_with("0:5"), month) <= share_of(sky_with("0:15"), month));
        CHECK(share_of(sky_with("0:15"), month) < share_of(sky_with("0:25"), month));
        // Behind the collector: the sun of 29° north never comes there high enough to strike it.
        CHECK(share_of(sky_with("300:0; 330:40; 30:40; 60:0"), month) < 0.02);
    }
    CHECK_FALSE(shaded_share(sky_with(""), 13));
}

TEST_CASE("a hill in the south takes the winter sun below its ridge and leaves the summer sun above it") {
    // The sun of noon stands 90° less latitude plus declination high: at 47.5° north 19.1° on the shortest and 65.9° on the
    // longest day. Source: spherical trigonometry; obliquity 23.44°. A ridge of 30° all round the south hides it all day in
    // December; in June only the first and last hours are behind it.
    const auto valley = sky_with("80:30; 280:30; 281:0; 79:0", 47.5);
    CHECK(share_of(valley, 12) == 1.0);
    CHECK(share_of(valley, 6) > 0.0);
    CHECK(share_of(valley, 6) < 0.25);
}

TEST_CASE("shade takes direct sun and leaves the light of the sky, in the day and in the year of a house") {
    for (const int month : {1, 6}) {
        const auto open = mean_day_on_plane(sky_with(""), month);
        const auto pit = mean_day_on_plane(sky_with("0:89"), month);
        REQUIRE(open);
        REQUIRE(pit);
        CHECK(pit->si() > 0.1 * open->si());
        CHECK(pit->si() < 0.7 * open->si());
    }
    HouseInSun house{.sky = sky_with(""),
                     .air = {units::Temperature::celsius(6.0), units::Temperature::celsius(22.0)},
                     .collector = units::square_metres(2.0),
                     .loss_product = units::Quantity<0, 1, -3, -1>::from_si(4.3),
                     .optical_product = 0.74,
                     .exchanger_ratio = 0.97,
                     .store = units::litres(150.0),
                     .draw = units::VolumeFlow::from_si(0.18 / 86400.0),
                     .set_point = units::Temperature::celsius(60.0)};
    const auto year_of = [&](std::string_view line) {
        house.sky.horizon = line_of(line);
        const auto year = expected_year(house);
        REQUIRE(year);
        double sum = 0.0;
        for (const auto& month : *year) sum += month.solar.si();
        return sum;
    };
    CHECK(year_of("0:25") < year_of("0:10"));
    CHECK(year_of("0:10") < year_of(""));
}
