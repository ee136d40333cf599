#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("the demo ends in a genuine report, and the same report can be written again") {
    Shell shell;
    const auto into = (shell.folder() / "demo").string();
    const auto made = shell.json({"demo", "--into", into});
    check_fields(made, {"job", "report", "message", "journal"});
    const std::string report = made["report"];
    const auto at_home = [&](std::vector<std::string> words) {
        words.insert(words.end(), {"--data", into});
        return run_words(words);
    };
    const auto attested = at_home({"attest", report, "--json"});
    CHECK(attested.code == 0);
    const auto json = testing::Json::parse(attested.data);
    check_fields(json, {"genuine", "reasons", "signer", "signed_at", "job", "head", "in_journal"});
    CHECK(json["genuine"] == true);
    CHECK(json["in_journal"] == true);
    CHECK(json["job"] == made["job"]);

    const auto copy = (shell.folder() / "again.pdf").string();
    CHECK(at_home({"job", "report", made["job"], "--out", copy}).code == 0);
    CHECK(Shell::bytes_of(copy) == Shell::bytes_of(report));
    CHECK(at_home({"handover", made["job"]}).code == 1);

    // Elsewhere the file is as genuine, but no journal knows it.
    const auto away = shell.json({"attest", report});
    CHECK(away["in_journal"].is_null());
    CHECK(shell.json({"attest", report, "--expect", std::string(64, 'a')}, 1)["genuine"] == false);
    auto bytes = Shell::bytes_of(report);
    bytes[bytes.size() / 3] = static_cast<char>(bytes[bytes.size() / 3] ^ 4);
    CHECK(shell.json({"attest", shell.write("altered.pdf", bytes)}, 1)["genuine"] == false);
}

TEST_CASE("a job that is not handed over has a draft to be read, that nobody takes for the report") {
    Shell shell;
    const auto job = shell.open_job();
    const auto file = (shell.folder() / "draft.pdf").string();
    CHECK(shell.json({"job", "report", job, "--draft", "--out", file})["report"] == file);
    CHECK(Shell::bytes_of(file).starts_with("%PDF-"));
    CHECK(shell.json({"attest", file}, 1)["genuine"] == false);
    CHECK(shell.run({"job", "report", job, "--draft", "--issue", "1", "--out", file}).code == 2);
    CHECK(shell.run({"job", "report", job, "--out", file}).code == 1);
    const auto into = (shell.folder() / "demo").string();
    const auto made = shell.json({"demo", "--into", into});
    CHECK(run_words({"job", "report", made["job"], "--draft", "--out", file, "--data", into}).code == 1);
}

TEST_CASE("the journal is attested, with the files to do it by hand") {
    Shell shell;
    shell.open_job();
    const auto json = shell.json({"attest", "--journal"});
    check_fields(json, {"genuine", "entries", "devices", "reasons"});
    check_fields(json["devices"][0], {"device", "entries", "head"});
    // All but the entry that starts the device was written under --at.
    CHECK(json["times_by_hand"] == json["entries"].get<int>() - 1);
    CHECK(shell.run({"attest", "--journal"}).data.find(" entries carry a time that was given by hand, not read from a clock.") != std::string::npos);
    const auto by_hand = shell.run({"attest", "--journal", "--explain"});
    CHECK(by_hand.code == 0);
    for (const char* name : {"chain.txt", "device.pem", "head.txt", "head.sig"})
        CHECK(std::filesystem::exists(shell.data() / "by-hand" / name));
}

TEST_CASE("what is no report is not genuine, and a missing file is said to be missing") {
    Shell shell;
    CHECK(shell.run({"attest", shell.write("note.txt", "hello")}).code == 1);
    CHECK(shell.run({"attest", "/nowhere.pdf"}).code == 3);
    CHECK(shell.run({"attest"}).code == 2);
    CHECK(shell.run({"attest", "--journal"}).code == 3);
    CHECK(shell.run({"attest", "--qr", shell.write("p.jpg", "no picture")}).code == 3);
    CHECK(shell.run({"handover", "J-X-1"}).code == 3);
}

}  // namespace wm::app
