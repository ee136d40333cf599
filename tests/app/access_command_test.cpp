#include <fstream>
#include <iterator>
#include <regex>

#include "app/testing.hpp"
#include "digest/hash.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

namespace {

/// Files below the folder that hold the bytes.
std::vector<std::string> holding(const testing::fs::path& folder, const std::string& bytes) {
    std::vector<std::string> found;
    for (const auto& entry : testing::fs::recursive_directory_iterator{folder})
        if (entry.is_regular_file() && Shell::bytes_of(entry.path()).find(bytes) != std::string::npos)
            found.push_back(entry.path().string());
    return found;
}

}  // namespace

TEST_CASE("without PINs everything works and the list says that keys are not sealed") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "35°"}).code == 0);
    const auto list = shell.json({"access", "list"});
    check_fields(list, {"sealed", "people"});
    CHECK(list["sealed"] == false);
    const auto told = shell.run({"access", "list"});
    CHECK(told.talk == "Nobody has a PIN. The keys of this folder are not sealed: who can read the folder can sign with them.\n");
}

TEST_CASE("with a PIN nothing opens without it, and the signing key is in no file") {
    Shell shell;
    const auto job = shell.open_job();
    const auto device_key = Shell::bytes_of(shell.data() / "keys" / "device.key").substr(0, 64);
    const auto company_key = Shell::bytes_of(shell.data() / "keys" / "company.key");
    REQUIRE(device_key.size() == 64);
    REQUIRE(holding(shell.data(), device_key).size() == 1);  // the scan finds what is there
    const auto owner_pin = shell.write("owner.pin", "482913\n");
    const auto pin = shell.write("installer.pin", "775021\n");
    CHECK(shell.run({"access", "add", "Ilka Marrowby", "--role", "lead", "--new-pin-file", owner_pin}).code == 2);
    CHECK(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", shell.write("easy.pin", "123456")}).code == 2);
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", owner_pin}).code == 0);

    const std::vector<std::string> as_owner{"--person", "Ilka Marrowby", "--pin-file", owner_pin};
    const auto with = [](std::vector<std::string> words, const std::vector<std::string>& more) {
        words.insert(words.end(), more.begin(), more.end());
        return words;
    };
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"job", "list"}, {"job", "show", job}, {"enter", job, "coll-tilt", "35°"},
          {"pack", (shell.folder() / "b").string()}, {"week", "--list"}, {"post", "list"}, {"handover", job}}) {
        CAPTURE(words.front());
        const auto shut = shell.run(words);
        CHECK(shut.code == 1);
        CHECK(shut.talk.find("sealed by PINs") != std::string::npos);
    }
    CHECK(shell.run(with({"job", "list"}, as_owner)).code == 0);
    // One person only: the name may be left out.
    CHECK(shell.run({"job", "list", "--pin-file", owner_pin}).code == 0);

    // An installer is added by the owner alone, and gives no PINs.
    CHECK(shell.run({"access", "add", "Tindo Quellaby", "--new-pin-file", pin}).code == 1);
    REQUIRE(shell.run(with({"access", "add", "Tindo Quellaby", "--new-pin-file", pin}, as_owner)).code == 0);
    const std::vector<std::string> as_installer{"--person", "Tindo Quellaby", "--pin-file", pin};
    CHECK(shell.run(with({"access", "add", "Ode Brannick", "--new-pin-file", pin}, as_installer)).code == 1);
    CHECK(shell.run(with({"access", "remove", "Ilka Marrowby"}, as_installer)).code == 1);
    CHECK(shell.run(with({"access", "add", "Tindo Quellaby", "--role", "owner", "--new-pin-file", pin}, as_installer)).code == 1);
    // The own PIN may be changed.
    const auto new_pin = shell.write("new.pin", "604417\n");
    CHECK(shell.run(with({"access", "add", "Tindo Quellaby", "--new-pin-file", new_pin}, as_installer)).code == 0);
    CHECK(shell.run(with({"job", "list"}, as_installer)).code == 1);
    CHECK(shell.run({"job", "list", "--person", "Tindo Quellaby", "--pin-file", new_pin}).code == 0);

    // Journal, attachments, boxes, bundle: none holds the open keys any more.
    const auto bundle = (shell.folder() / "all.bundle").string();
    REQUIRE(shell.run(with({"pack", bundle, "--password-file", owner_pin}, as_owner)).code == 0);
    CHECK(holding(shell.folder(), device_key).empty());
    CHECK(holding(shell.folder(), company_key).empty());
    const std::string raw = digest::from_hex(device_key).value();
    CHECK(holding(shell.folder(), raw).empty());
    CHECK(shell.json(with({"attest", "--journal"}, as_owner))["genuine"] == true);
    const auto list = shell.json({"access", "list"});
    CHECK(list["people"].size() == 2);
}

TEST_CASE("wrong PINs wait and delete nothing") {
    Shell shell;
    shell.open_job();
    const auto pin = shell.write("owner.pin", "482913\n");
    const auto wrong = shell.write("wrong.pin", "000111\n");
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", pin}).code == 0);
    for (int i = 0; i < 3; ++i) CHECK(shell.run({"job", "list", "--pin-file", wrong}).code == 1);
    const auto waits = shell.json({"job", "list", "--pin-file", pin}, 1);
    CHECK(waits["problem"]["what"] == "After 3 wrong PINs the next can be tried in 30 s.");
    // The machine's clock counts, whatever --at says.
    shell.at = "2026-11-26T09:00:31+05:00";
    CHECK(shell.json({"job", "list", "--pin-file", pin}, 1)["problem"]["what"] == waits["problem"]["what"]);
    const auto tries = shell.data() / "keys/tries.json";
    std::ifstream in{tries};
    std::string text{std::istreambuf_iterator<char>{in}, {}};
    in.close();
    text = std::regex_replace(text, std::regex{"\"not_before_ms\":[0-9]+"}, "\"not_before_ms\":1");  // as after the wait
    std::ofstream{tries} << text;
    CHECK(shell.json({"job", "list", "--pin-file", pin})["jobs"].size() == 1);
    CHECK(shell.run({"job", "list", "--pin-file", "/nowhere"}).code == 3);
    CHECK(shell.run({"access", "dance"}).code == 2);
}

}  // namespace wm::app
