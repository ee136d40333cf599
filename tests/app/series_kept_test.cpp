#include "app/series_kept.hpp"

#include <doctest/doctest.h>

#include "app/world.hpp"
#include "temporary_folder.hpp"

namespace wm::app {

TEST_CASE("what is kept of a series is read again as it was, and typed as people type it") {
    const TemporaryFolder folder;
    const auto file = series_file(folder.path(), "J-1A2B-0001", "test-hold");
    CHECK_FALSE(read_series_kept(file).value());
    const KeptSeries series{"J-1A2B-0001", "test-hold", "", "PG-1", "2027-03-04T09:10:00+02:00",
                            {{0, "480 kPa", "shown: 480 kPa\nsent: \"01\"\n"}, {120, "479,5 kPa", "received: \\\x01\n"}}};
    REQUIRE(keep_series(file, series));
    const auto again = read_series_kept(file);
    REQUIRE(again);
    REQUIRE(again->has_value());
    CHECK((*again)->job == series.job);
    CHECK((*again)->check == series.check);
    CHECK((*again)->instrument == "PG-1");
    CHECK((*again)->started == series.started);
    REQUIRE((*again)->readings.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK((*again)->readings[i].at_s == series.readings[i].at_s);
        CHECK((*again)->readings[i].text == series.readings[i].text);
        CHECK((*again)->readings[i].evidence == series.readings[i].evidence);
    }
    CHECK(typed_form(**again) == "0 s=480 kPa; 120 s=479,5 kPa");
}

TEST_CASE("a file that is none of a series is refused, and stays where it is") {
    const TemporaryFolder folder;
    const auto file = folder.path() / "x.toml";
    const std::string head = "job = \"J\"\ncheck = \"c\"\nstarted = \"2027-03-04T09:10:00+02:00\"\n";
    for (const std::string& text : {std::string{"job = \"J\"\n"}, head + "[[reading]]\nat_s = 4\n", head + "[[reading]]\nat_s = -1\ntext = \"1\"\n", std::string{"["},
                                    head + "[[reading]]\nat_s = 4\ntext = \"1\"\n[[reading]]\nat_s = 4\ntext = \"2\"\n"}) {
        CAPTURE(text);
        REQUIRE(write_file(file, text));
        CHECK_FALSE(read_series_kept(file));
        CHECK(read_file(file).value() == text);
    }
}

}  // namespace wm::app
