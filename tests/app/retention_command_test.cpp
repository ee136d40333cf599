#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("periods are listed with their sources, and an unknown country is told") {
    Shell shell;
    const auto list = shell.json({"retention", "list"});
    check_fields(list, {"country", "name", "rules"});
    CHECK(list["country"] == "none");
    for (const auto& rule : list["rules"]) check_fields(rule, {"record", "years", "from", "early", "why", "source"});
    CHECK(shell.json({"retention", "countries"})["countries"].size() >= 4);
    CHECK(shell.json({"retention", "due"})["due"].empty());
    CHECK(shell.run({"retention", "list"}).talk.find("Local law decides") != std::string::npos);
    shell.open_job();
    std::ofstream{shell.data() / "settings.toml"} << "[retention]\ncountry = \"ZZ\"\n";
    CHECK(shell.run({"retention", "due"}).code == 3);
    CHECK(shell.run({"retention", "soon"}).code == 2);
}

TEST_CASE("where the law wants records kept the erasure is refused with its reason, and a reason given goes on record") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"abandon", job, "--done", "all is shut", "--why", "storm"}).code == 0);
    std::ofstream{shell.data() / "settings.toml"} << "[retention]\ncountry = \"DE\"\n";
    const auto refusal = shell.json({"erase-customer", job}, 1);
    const std::string what = refusal["problem"]["what"];
    CHECK(what.find("mails about the job: kept until 2032-12-31") != std::string::npos);
    CHECK(what.find("HGB section 257") != std::string::npos);
    CHECK(shell.json({"job", "show", job})["facts"]["customer.name"] != "(erased)");
    const auto done = shell.json({"erase-customer", job, "--despite", "no mail was ever sent"});
    CHECK(done["erased"] == true);
    CHECK(done["before_its_period"].size() == 2);
    CHECK(shell.json({"job", "show", job})["facts"]["customer.name"] == "(erased)");
}

TEST_CASE("what may be erased is listed from the day after its period, and then the erasure says nothing against it") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"abandon", job, "--done", "all is shut", "--why", "storm"}).code == 0);
    CHECK(shell.json({"retention", "due"})["next"] == "2036-11-25");
    shell.at = "2036-11-25T09:00:00+05:00";
    CHECK(shell.json({"retention", "due"})["due"].empty());
    shell.at = "2036-11-26T09:00:00+05:00";
    const auto due = shell.json({"retention", "due"});
    REQUIRE(due["due"].size() == 1);
    check_fields(due["due"][0], {"jobs", "customer", "until", "open", "due", "kept"});
    CHECK(due["due"][0]["jobs"][0] == job);
    CHECK(shell.json({"erase-customer", job})["before_its_period"].empty());
    CHECK(shell.json({"retention", "due"})["due"].empty());
}

}  // namespace wm::app
