// Plates as a telephone takes them, by the command line: the code is drawn by another library than the one that reads it.
#include "app/testing.hpp"
#include "drawing/recorded.hpp"
#include "handover/code_picture.hpp"
#include "handover/square_code.hpp"

namespace wm::app {

using testing::Shell;

namespace {

std::string picture_of(const std::string& text) {
    constexpr int dots = 12, side = 50 * dots;
    drawing::RecordedCanvas canvas;
    REQUIRE(handover::draw_square_code(canvas, {5, 5, 40, 40}, text));
    return handover::testing::picture_of(canvas, side, dots);
}

}  // namespace

TEST_CASE("serial number and batch are read off a plate, and what does not fit is not kept") {
    Shell shell;
    const auto job = shell.open_job();
    const auto tick = [&](const std::string& part, const std::string& text, int code) {
        const auto file = shell.write("plate.jpg", picture_of(text));
        return shell.json({"parts", "tick", job, part, "--place", "store", "--plate", file}, code);
    };
    const auto facts = [&] { return shell.json({"job", "show", job})["facts"]; };
    (void)tick("relief", "https://id.example/01/09506000134352/10/RV-K91/21/0007", 0);
    CHECK(facts()["batch.relief"] == "RV-K91");
    (void)tick("store", "ST-90418", 0);
    CHECK(facts()["serial.tank"] == "ST-90418");
    const auto before = facts();
    // A check digit that does not fit, a plate that says nothing that is kept, and a part of which nothing is kept.
    (void)tick("relief", "https://id.example/01/09506000134353/10/RV-K92", 3);
    (void)tick("relief", "https://id.example/01/09506000134352/21/0008", 3);
    (void)tick("strainer", "ST-1", 3);
    CHECK(facts() == before);
    // The clock of the test stands in November 2026.
    const auto old = tick("relief", "https://id.example/01/09506000134352/10/RV-K93?17=261031", 1);
    CHECK(old["ticked"][0]["in_doubt"][0].get<std::string>().find("2026-10-31, has passed") != std::string::npos);
    (void)tick("relief", "https://id.example/01/09506000134352/10/RV-K94?17=261130", 0);
    // What was typed goes before what was read.
    const auto file = shell.write("plate.jpg", picture_of("ST-1"));
    CHECK(shell.run({"parts", "tick", job, "store", "--place", "store", "--plate", file, "--serial", "ST-90419"}).code == 0);
    CHECK(facts()["serial.tank"] == "ST-90419");
}

}  // namespace wm::app
