#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("enter answers with outcome and reason, and its exit code says no") {
    Shell shell;
    const auto job = shell.open_job();
    const auto fine = shell.json({"enter", job, "coll-tilt", "35,4°"});
    check_fields(fine, {"check", "outcome", "why", "probability_conforming", "entry"});
    CHECK(fine["outcome"] == "conforms");
    CHECK(shell.json({"enter", job, "coll-tilt", "41°"}, 1)["outcome"] == "does not conform");
    CHECK(shell.json({"correct", job, "coll-tilt", "35°", "--done", "Moved the legs"})["outcome"] == "conforms");
    CHECK(shell.run({"correct", job, "coll-tilt", "35°"}).code == 2);
    CHECK(shell.run({"correct", job, "coll-tilt", "35°", "--done", "again"}).code == 1);
    CHECK(shell.json({"undo", job})["undone"] == "the correction of coll-tilt");
}

TEST_CASE("several places in one text are answered together") {
    Shell shell;
    const auto job = shell.open_job();
    const auto answer = shell.json({"enter", job, "anchor-torque", "1=20; 2=20,5; 3=19.6; 4=20.2 N·m"});
    CHECK(answer["outcome"] == "conforms");
    CHECK(answer["places"].size() == 4);
    const auto one_wrong = shell.json({"enter", job, "coll-clamps", "1=12; 2=17; 3=12; 4=12 N·m"}, 1);
    CHECK(one_wrong["outcome"] == "does not conform");
}

TEST_CASE("with --said the words beside a figure are kept with it, from a file as well") {
    Shell shell;
    const auto job = shell.open_job();
    const auto wind = shell.json({"enter", job, "site-weather", "3 m/s", "--said"});
    CHECK(wind["outcome"] == "conforms");
    CHECK(wind["places"].size() == 4);
    const auto file = shell.write("said.toml", "[[enter]]\ncheck = \"ladder-set\"\nvalue = \"70°\"\nsaid = true\n");
    CHECK(shell.run({"enter", job, "--from", file}).code == 0);
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"])
        if (check["id"] == "ladder-set") CHECK(check["readings"].size() == 3);
}

TEST_CASE("implausible, unreadable and unknown are exit 3 and store nothing") {
    Shell shell;
    const auto job = shell.open_job();
    for (const char* text : {"120°", "steep", "35 kPa", "35 furlongs", ""}) {
        CAPTURE(text);
        CHECK(shell.run({"enter", job, "coll-tilt", text}).code == 3);
    }
    CHECK(shell.run({"enter", job, "no-check", "1"}).code == 3);
    CHECK(shell.run({"enter", job, "coll-tilt", "35°", "--photo", "/nowhere.jpg"}).code == 3);
    CHECK(shell.run({"enter", job, "coll-tilt", "35°", "--photo", shell.write("p.jpg", "no picture")}).code == 3);
    CHECK(shell.run({"enter", job, "coll-tilt"}).code == 2);
    CHECK(shell.run({"enter", job, "crew-licences", "yes"}).code == 2);
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"])
        if (check["id"] == "coll-tilt") CHECK(check["readings"].empty());
    CHECK(shell.run({"enter", job, "coll-tilt", "85°", "--sure"}).code == 1);
}

TEST_CASE("a file of entries is stored up to the first that cannot be read") {
    Shell shell;
    const auto job = shell.open_job();
    const auto file = shell.write("day.toml",
                                  "[[enter]]\ncheck = \"coll-tilt\"\nvalue = \"35°\"\n"
                                  "[[enter]]\ncheck = \"anchor-torque\"\nvalue = \"20 N·m\"\nplace = \"1\"\ninstrument = \"TW-1\"\n"
                                  "[[enter]]\ncheck = \"tank-level\"\nvalue = \"9 kPa\"\n"
                                  "[[enter]]\ncheck = \"tank-ports\"\nvalue = \"x\"\n");
    const auto stopped = shell.run({"enter", job, "--from", file});
    CHECK(stopped.code == 3);
    CHECK(stopped.talk.find("2 of 4 entries were stored before that.") != std::string::npos);
    CHECK(stopped.data.find("coll-tilt: conforms.") == 0);
    const auto json = shell.json({"enter", job, "--from", file}, 3);
    CHECK(json["stored"] == 2);
    CHECK(json["problem"]["where"].get<std::string>().find("day.toml:9") != std::string::npos);
}

TEST_CASE("a file of entries that is none is refused with its line, and nothing is stored") {
    Shell shell;
    const auto job = shell.open_job();
    for (const char* text : {"[[enter]]\ncheck = \"coll-tilt\"\nvalue = true\n", "[[enter]]\ncheck = \"coll-tilt\"\nvalue = 35\n",
                             "[[enter]]\nchek = \"coll-tilt\"\n", "enter = [1, 2]\n", "enter = 3\n", "", "[[enter]\n",
                             "[[enter]]\ncheck = \"coll-tilt\"\nvalue = \"35°\"\nphoto = \"/nowhere.jpg\"\n"}) {
        CAPTURE(text);
        const auto refusal = shell.json({"enter", job, "--from", shell.write("bad.toml", text)}, 3);
        CHECK_FALSE(refusal["problem"]["what"].get<std::string>().empty());
        CHECK_FALSE(refusal["problem"]["what_to_do"].get<std::string>().empty());
    }
    CHECK(shell.run({"undo", job}).code == 1);
}

TEST_CASE("deferrals, concessions and signatures answer by exit code") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.json({"defer", job, "outlet-temp", "--until", "2026-11-26", "--owner", "Ode", "--why", "cold"})["done"] == true);
    CHECK(shell.run({"defer", job, "outlet-temp", "--until", "2026-12-26", "--owner", "Ode", "--why", "cold"}).code == 1);
    CHECK(shell.run({"defer", job, "outlet-temp"}).code == 2);
    CHECK(shell.run({"enter", job, "anchor-torque", "12 N·m", "--place", "1"}).code == 1);
    CHECK(shell.run({"concede", job, "anchor-torque", "--by", "Odrun", "--why", "fine"}).code == 1);
    CHECK(shell.run({"resolve", job, "anchor-torque", "--keep", "abcdef0123"}).code == 1);
    CHECK(shell.run({"sign", job, "--name", "Tindo"}).code == 2);
    const auto refusal = shell.json({"sign", job, "--as", "crew", "--name", "Tindo"}, 1);
    CHECK(refusal["blockers"].size() > 20);
    check_fields(refusal["blockers"][0], {"check", "outcome", "why"});
    CHECK(shell.run({"sign", job, "--as", "crew", "--name", "T", "--strokes", shell.write("s.svg", "<svg/>")}).code == 3);
    CHECK(shell.run({"near-miss", job, "--why", "A tile slid"}).code == 0);
    CHECK(shell.run({"abandon", job, "--done", "Water shut", "--why", "Storm"}).code == 0);
    CHECK(shell.run({"enter", job, "coll-tilt", "35°"}).code == 1);
}

}  // namespace wm::app
