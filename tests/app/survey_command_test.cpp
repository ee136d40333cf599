#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("the report of a survey is refused in words while the survey is open, and for a job that is none") {
    Shell shell;
    const auto fitted = shell.open_job();
    const auto other = shell.json({"survey-report", fitted}, 1);
    CHECK(other["problem"]["what"] == "This job is no survey.");
    const std::string survey = shell.json({"job", "new", "--checklist", "survey", "--after", fitted})["job"];
    const auto paper = (shell.folder() / "survey.pdf").string();
    const auto open = shell.json({"survey-report", survey, "--out", paper}, 1);
    CHECK(std::string{open["problem"]["what"]}.find("The survey is not finished: ") == 0);
    CHECK_FALSE(testing::fs::exists(paper));
    CHECK(shell.run({"survey-report"}).code == 2);
    CHECK(shell.run({"survey-report", "J-none"}).code == 3);
}

}  // namespace wm::app
