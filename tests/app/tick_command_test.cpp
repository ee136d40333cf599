#include <algorithm>

#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Json;
using testing::Shell;

namespace {

Json row_of(const Json& rows, const std::string& part) {
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Json& each) { return each["part"] == part; });
    REQUIRE_MESSAGE(found != rows.end(), part);
    return *found;
}

}  // namespace

TEST_CASE("parts are ticked by command, and what is not as listed answers no and is asked about at its checks") {
    Shell shell;
    const auto job = shell.open_job();
    const auto there = shell.json({"parts", "tick", job, "pipe-loop", "--place", "store"});
    check_fields(there, {"job", "place", "ticked"});
    REQUIRE(there["ticked"].size() == 1);
    CHECK(there["ticked"][0]["store"]["said"] == "there");
    CHECK(there["ticked"][0]["store"]["counted"] == there["ticked"][0]["amount"]);
    CHECK(there["ticked"][0]["van"].is_null());
    const auto missing = shell.json({"parts", "tick", job, "pipe-loop", "--place", "van", "--missing", "--why", "lies in the yard"}, 1);
    CHECK(missing["ticked"][0]["van"]["words"] == "lies in the yard");
    REQUIRE(missing["ticked"][0]["in_doubt"].size() == 1);
    const std::string question = missing["ticked"][0]["in_doubt"][0];
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"]) {
        const bool asked = std::find(check["beforehand"].begin(), check["beforehand"].end(), question) != check["beforehand"].end();
        CAPTURE(check["id"]);
        CHECK(asked == (check["id"] == "loop-rise"));
    }
    CHECK(std::find(shown["questions"].begin(), shown["questions"].end(), question) != shown["questions"].end());
    CHECK(shell.json({"parts", "tick", job, "strainer", "--place", "van", "--changed", "a finer one"}, 1)["ticked"][0]["van"]["said"] == "changed");
    // All stands for what is not ticked there yet, and once it is, for nothing.
    const auto rest = shell.json({"parts", "tick", job, "all", "--place", "van"});
    CHECK(rest["ticked"].size() == shell.json({"parts", job})["parts"].size() - 2);
    CHECK(shell.json({"parts", "tick", job, "all", "--place", "van"})["ticked"].empty());
    CHECK(row_of(shell.json({"parts", job})["parts"], "pipe-loop")["van"]["said"] == "missing");
    CHECK(shell.run({"parts", job}).data.find("[store: there, van: missing]") != std::string::npos);
    // A count that is short.
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "--place", "van", "--counted", "0.1 m"}).code == 1);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "--place", "van", "--counted", "100 m"}).code == 0);
    CHECK(shell.run({"job", "facts", job, "--set", "part.pipe-loop.van=open"}).code == 0);
    CHECK(row_of(shell.json({"parts", job})["parts"], "pipe-loop")["van"].is_null());
}

TEST_CASE("a plate goes to the fact the list names, and a serial number of another house is asked about") {
    Shell shell;
    const auto job = shell.open_job();
    const auto other = shell.open_job();
    CHECK(shell.run({"parts", "tick", job, "store", "--place", "store", "--serial", "ST-90417"}).code == 0);
    CHECK(shell.json({"job", "show", job})["facts"]["serial.tank"] == "ST-90417");
    const auto twice = shell.json({"parts", "tick", other, "store", "--place", "store", "--serial", "ST-90417"}, 1);
    REQUIRE(twice["ticked"][0]["in_doubt"].size() == 1);
    CHECK(twice["ticked"][0]["in_doubt"][0].get<std::string>().find("ST-90417 stands in " + job) != std::string::npos);
    CHECK(shell.run({"parts", "tick", job, "relief", "--place", "store", "--batch", "RV-K90"}).code == 0);
    CHECK(shell.json({"job", "show", job})["facts"]["batch.relief"] == "RV-K90");
}

TEST_CASE("a tick that is not understood is refused with the right code") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"parts", "tick"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "--place", "shed"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "--place", "van"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "--place", "van", "--missing", "--counted", "2 m"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "strainer", "--place", "van", "--counted", "2 m"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "pipe-loop", "--place", "van", "--serial", "S-1"}).code == 2);
    CHECK(shell.run({"parts", "tick", job, "rope", "--place", "van"}).code == 3);
    CHECK(shell.run({"parts", "tick", "J-none", "rope", "--place", "van"}).code == 3);
    CHECK(shell.run({"parts", "tick", job, "--place", "van", "--photo", "/none.png"}).code == 3);
    CHECK(shell.run({"parts", "tick", job, "store", "--place", "van", "--plate", "/none.png"}).code == 3);
    const auto listed = shell.json({"parts", job});
    for (const auto& row : listed["parts"]) CHECK((row["store"].is_null() && row["van"].is_null()));
}

}  // namespace wm::app
