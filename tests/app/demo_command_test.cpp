#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("the demo writes only into a folder of its own") {
    Shell shell;
    shell.open_job();
    const auto refusal = shell.json({"demo", "--into", shell.data().string()}, 4);
    CHECK(refusal["problem"]["what"] == "There is a journal already; the demo writes only into a folder of its own.");
}

TEST_CASE("weeks and seed are whole numbers in their range") {
    Shell shell;
    const auto into = (shell.folder() / "demo").string();
    for (const char* weeks : {"0", "53", "-1", "two", "", "1.5", "999999999999"}) {
        CAPTURE(weeks);
        CHECK(shell.run({"demo", "--into", into, "--weeks", weeks}).code == 2);
    }
    for (const char* seed : {"x", "-1", "12345678901"}) CHECK(shell.run({"demo", "--into", into, "--seed", seed}).code == 2);
    CHECK_FALSE(std::filesystem::exists(into));
}

TEST_CASE("a season of one week is made and can be audited") {
    Shell shell;
    const auto into = (shell.folder() / "demo").string();
    const auto made = shell.json({"demo", "--into", into, "--weeks", "1"});
    CHECK(made["jobs"] > 0);
    CHECK(made["first_week"] == "2026-W28");
    const auto week = run_words({"week", "2026-W28", "--data", into, "--json"});
    CHECK(week.code == 0);
    CHECK(testing::Json::parse(week.data)["jobs"] == made["jobs"]);
    CHECK(run_words({"week", "--list", "--data", into}).data == "2026-W28\n");
}

}  // namespace wm::app
