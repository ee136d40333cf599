#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("parts lists each part with its amount and how it came about, and writes the sheet to tick") {
    Shell shell;
    const auto job = shell.open_job();
    const auto list = shell.json({"parts", job});
    check_fields(list, {"job", "place", "parts_version", "parts", "instruments"});
    REQUIRE(list["parts"].size() > 15);
    check_fields(list["parts"][0], {"part", "check", "name", "amount", "note", "how", "missing", "sources"});
    CHECK(list["job"] == job);
    const auto file = shell.folder() / "sheet.pdf";
    const auto text = shell.run({"parts", job, "--out", file.string()});
    CHECK(text.code == 0);
    CHECK(text.data.find("Copper pipe of the loop") != std::string::npos);
    CHECK(text.data.find("run of the hot loop pipe = ") != std::string::npos);
    CHECK(Shell::bytes_of(file).starts_with("%PDF-"));
    CHECK(shell.run({"parts", "J-none"}).code == 3);
    CHECK(shell.run({"parts"}).code == 2);
    CHECK(shell.run({"parts", job, "--out", "/proc/none/all.pdf"}).code == 4);
}

TEST_CASE("an instrument can be added to a job that is under way, and is taken over by its mark to the next") {
    Shell shell;
    const auto job = shell.open_job();
    REQUIRE(shell.run({"job", "instrument", job, "--id", "TW-77", "--type", "torque wrench", "--uncertainty", "0.4 N·m", "--resolution",
                       "0.1 N·m", "--cal-due", "2027-06-30"}).code == 0);
    const auto other = shell.open_job();
    CHECK(shell.run({"job", "instrument", other, "--id", "TW-77"}).code == 0);
    for (const auto& one : {job, other}) {
        const auto instruments = shell.json({"parts", one})["instruments"];
        CHECK(instruments.dump().find("TW-77, calibrated until 2027-06-30") != std::string::npos);
    }
    CHECK(shell.run({"job", "instrument", other, "--id", "TW-99"}).code == 3);
    CHECK(shell.run({"job", "instrument", other, "--id", "TW-99", "--type", "crystal ball"}).code == 3);
    CHECK(shell.run({"job", "instrument", other, "--id", "TW-99", "--type", "torque wrench", "--uncertainty", "much"}).code == 3);
    CHECK(shell.run({"job", "instrument", other}).code == 3);
}

TEST_CASE("a job may begin with no fact at all") {
    Shell shell;
    CHECK(shell.run({"job", "new", "--checklist", "survey"}).code == 2);
    const auto job = shell.json({"job", "new", "--checklist", "survey", "--no-facts"})["job"].get<std::string>();
    CHECK(shell.json({"job", "show", job})["facts"].empty());
    CHECK(shell.run({"job", "facts", job, "--set", "customer.vulnerable=yes"}).code == 0);
    CHECK(shell.json({"job", "show", job})["facts"].size() == 1);
}

}  // namespace wm::app
