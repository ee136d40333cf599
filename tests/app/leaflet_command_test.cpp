#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("the leaflet of an open job is a draft in words, in JSON and on paper, and a survey has none") {
    Shell shell;
    const auto job = shell.open_job();
    const auto paper = (shell.folder() / "leaflet.pdf").string();
    const auto told = shell.json({"leaflet", job, "--out", paper});
    CHECK(told["job"] == job);
    CHECK(told["headline"] == "Draft: not finished yet");
    CHECK(told["finished"] == false);
    CHECK(told["said"].is_null());
    CHECK(told["cautions"][0]["signal"] == "DANGER");
    CHECK(told["settings"][0]["value"] == "not on record");
    CHECK(testing::fs::exists(paper));
    CHECK(shell.run({"leaflet", job}).data.find("Electric heater: not on record. Ask us for it.") != std::string::npos);
    const std::string survey = shell.json({"job", "new", "--checklist", "survey", "--after", job})["job"];
    CHECK(shell.json({"leaflet", survey}, 1)["problem"]["what"] == "In this job nothing is set and nobody is shown anything.");
    CHECK(shell.run({"leaflet"}).code == 2);
    CHECK(shell.run({"leaflet", "J-none"}).code == 3);
}

}  // namespace wm::app
