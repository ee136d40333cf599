#include "app/check_up.hpp"

#include <sys/stat.h>

#include <algorithm>

#include "app/testing.hpp"

namespace wm::app {

using testing::Json;
using testing::Shell;

namespace {

/// The findings of a subject that are in this state.
int found(const Json& answer, std::string_view subject, std::string_view state) {
    const auto& all = answer["findings"];
    return static_cast<int>(
        std::count_if(all.begin(), all.end(), [&](const Json& one) { return one["subject"] == subject && one["state"] == state; }));
}

}  // namespace

TEST_CASE("a fresh computer is fit, and each finding says what, where and what to do") {
    Shell shell;
    const auto answer = shell.json({"check-up"});
    CHECK(answer["fit"] == true);
    for (const auto& finding : answer["findings"]) {
        testing::check_fields(finding, {"subject", "state", "what", "where", "what_to_do"});
        CHECK_FALSE(finding["what"].get<std::string>().empty());
        CHECK_FALSE(finding["where"].get<std::string>().empty());
        CHECK((finding["state"] == "fine" || !finding["what_to_do"].get<std::string>().empty()));
    }
    CHECK(found(answer, "fonts", "fine") == 1);
    CHECK(found(answer, "share folder", "fine") == 1);
    CHECK_FALSE(std::filesystem::exists(shell.data()));
}

TEST_CASE("what is wrong is found: fonts, a clock before its time, keys that others can read, a calibration that ran out") {
    Shell shell;
    shell.open_job();
    shell.at = "2026-12-25T09:00:00+05:00";
    CHECK(shell.json({"check-up"})["fit"] == true);
    SUBCASE("clock") {
        shell.at = "2001-01-01T00:00:00Z";
        CHECK(found(shell.json({"check-up"}, 1), "clock", "wrong") == 1);
    }
    SUBCASE("keys") {
        REQUIRE(::chmod((shell.data() / "keys/company.key").c_str(), 0644) == 0);
        const auto answer = shell.json({"check-up"}, 1);
        CHECK(found(answer, "keys", "wrong") == 1);
        REQUIRE(::chmod((shell.data() / "keys/company.key").c_str(), 0600) == 0);
        CHECK(found(shell.json({"check-up"}), "keys", "wrong") == 0);
    }
    SUBCASE("calibrations") {
        shell.at = "2031-11-25T09:00:00+05:00";
        const auto answer = shell.json({"check-up"}, 1);
        CHECK(found(answer, "instruments", "wrong") == 1);
    }
    SUBCASE("mail") {
        std::ofstream{shell.data() / "settings.toml"} << "[mail]\nserver = \"http://mail.example\"\n";
        CHECK(found(shell.json({"check-up"}, 1), "mail", "wrong") == 1);
        std::ofstream{shell.data() / "settings.toml"} << "[mail]\nserver = \"smtps://mail.example\"\n";
        CHECK(found(shell.json({"check-up"}), "mail", "fine") == 1);
    }
    SUBCASE("journal") {
        std::ofstream{shell.data() / "journal.db", std::ios::trunc} << "no database at all, and long enough to be read as one";
        CHECK(found(shell.json({"check-up"}, 1), "journal", "wrong") == 1);
    }
    SUBCASE("share folder and fonts") {
        ::setenv("WITNESSMARK_SHARE", shell.folder().c_str(), 1);
        std::filesystem::create_directories(shell.folder() / "fonts");
        shell.write("fonts/DejaVuSans.ttf", "no typeface");
        const auto answer = shell.json({"check-up"}, 1);
        CHECK(found(answer, "share folder", "wrong") == 1);
        CHECK(found(answer, "fonts", "wrong") == 1);
    }
}

TEST_CASE("the bundle of diagnostics holds the findings and no place") {
    Shell shell;
    shell.open_job();
    const auto file = (shell.folder() / "diagnostics.txt").string();
    CHECK(shell.run({"check-up", "--bundle", file}).code == 0);
    const auto text = Shell::bytes_of(file);
    CHECK(text.find("Findings\n") != std::string::npos);
    CHECK(text.find("journal: It opens.") != std::string::npos);
    CHECK(text.find(shell.folder().string()) == std::string::npos);
    CHECK(shell.run({"check-up", "--bundle", file + "/below-a-file"}).code == 4);
}

}  // namespace wm::app
