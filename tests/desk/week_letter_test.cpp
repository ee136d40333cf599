// The letter of the week, read back by other programs.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "desk/testing.hpp"
#include "desk/week.hpp"
#include "handover/seal.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

std::string words_of(const std::string& letter, const std::filesystem::path& folder) {
    const auto file = folder / "letter.pdf";
    std::ofstream{file, std::ios::binary} << letter;
    const auto out = folder / "letter.txt";
    const std::string line = "pdftotext -layout " + file.string() + " " + out.string() + " 2>&1";
    REQUIRE(std::system(line.c_str()) == 0);
    std::ifstream in{out, std::ios::binary};
    return std::string{std::istreambuf_iterator<char>{in}, {}};
}

std::string made(Desk& desk, const WeekView& week) {
    auto letter = week_letter(desk, week);
    REQUIRE_MESSAGE(letter, (letter ? "" : told(letter.error())));
    return *letter;
}

WeekView season_view(Desk& desk) {
    auto week = week_view(desk, "2026-W48");
    REQUIRE(week);
    WeekPointView point;
    for (const char* name : {"2026-W46", "2026-W47", "2026-W48"}) {
        point.week = name;
        point.tries = 60;
        point.share = 0.05;
        point.high = 0.1;
        week->trend.push_back(point);
    }
    week->funnel = FunnelView{.target = 0.1, .spread = 1.0, .points = {{"Owlcroft", 3, 40, 0.075, false}, {"Saltmurmur", 4, 40, 0.1, false}},
                              .limits = {{1.0, 0.0, 1.0, 0.0, 1.0}, {40.0, 0.01, 0.2, 0.0, 0.25}}};
    return std::move(*week);
}

}  // namespace

TEST_CASE("the letter says what the week says, by title, with its charts") {
    if (std::system("command -v pdftotext > /dev/null 2>&1") != 0) {
        MESSAGE("pdftotext is not installed; the check was left out");
        return;
    }
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.enter("anchor-torque", "15 N·m", "1");
    const auto week = season_view(bench.desk());
    const auto words = words_of(made(bench.desk(), week), bench.data().parent_path());
    for (const std::string& printed :
         {std::string{"Week 2026-W48: 1 jobs, 2 results"}, std::string{"Can hurt someone"}, week.severe.front().title, std::string{"NOT put right yet"},
          std::string{"What fails most this week"}, std::string{"Week by week"}, std::string{"W47"}, std::string{"Crews by how much they did"},
          std::string{"Owlcroft"}, std::string{"1 of 1"}}) {
        CAPTURE(printed);
        CHECK(words.find(printed) != std::string::npos);
    }
    for (const char* id : {"coll-tilt", "anchor-torque"}) CHECK(words.find(id) == std::string::npos);
    // Without charts there are no headings of charts.
    WeekView bare;
    bare.week = "2026-W30";
    const auto empty = words_of(made(bench.desk(), bare), bench.data().parent_path());
    CHECK(empty.find("Nothing of severity H failed this week.") != std::string::npos);
    CHECK(empty.find("Crews by how much they did") == std::string::npos);
}

TEST_CASE("a letter about a part of the jobs says which") {
    if (std::system("command -v pdftotext > /dev/null 2>&1") != 0) return;
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto week = week_view(bench.desk(), "2026-W48", settings_for({.check = "coll-tilt", .weeks = 4}));
    REQUIRE(week);
    const auto words = words_of(made(bench.desk(), *week), bench.data().parent_path());
    CHECK(words.find("4 weeks. The findings are compared with all jobs.") != std::string::npos);
}

TEST_CASE("the letter is sealed, and an altered one is not genuine") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto week = week_view(bench.desk(), "2026-W48");
    REQUIRE(week);
    auto letter = made(bench.desk(), *week);
    const auto genuine = handover::attest_report(letter);
    CHECK_MESSAGE(genuine.genuine, (genuine.reasons.empty() ? "" : genuine.reasons.front()));
    CHECK(genuine.job == "week 2026-W48");
    letter[letter.size() / 2] = static_cast<char>(letter[letter.size() / 2] ^ 1);
    CHECK_FALSE(handover::attest_report(letter).genuine);
}

TEST_CASE("what can hurt someone stands before everything else, and long lists go over pages") {
    if (std::system("command -v pdftotext > /dev/null 2>&1") != 0) return;
    Bench bench;
    WeekView week;
    week.week = "2026-W48";
    for (int i = 0; i < 60; ++i) week.severe.push_back({fmt::format("J-{:03}", i), "outlet-temp", "does not conform", false, "Taps not too hot"});
    for (int i = 0; i < 30; ++i) week.open.push_back({fmt::format("K-{:03}", i), "temp-rise", "", "deferred", 16, "Loop carries the heat"});
    const auto words = words_of(made(bench.desk(), week), bench.data().parent_path());
    CHECK(words.find("J-000") < words.find("Stands out"));
    for (int i = 0; i < 60; ++i) CHECK(words.find(fmt::format("J-{:03}", i)) != std::string::npos);
    CHECK(words.find("and 18 more.") != std::string::npos);
    CHECK(words.find("page 2") != std::string::npos);
}

}  // namespace wm::desk
