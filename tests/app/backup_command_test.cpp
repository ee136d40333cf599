#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Json;
using testing::Shell;
namespace fs = std::filesystem;

TEST_CASE("the first writing of a day backs up what was there, and restore brings it back") {
    Shell shell;
    CHECK(shell.run({"backup"}).code == 0);  // no journal yet: nothing to do, and it says so
    const auto job = shell.open_job();
    shell.at = "2026-11-26T08:00:00+05:00";
    CHECK(shell.run({"enter", job, "ladder-set", "70°"}).talk.find("backup") == std::string::npos);
    const auto status = shell.json({"backup", "--status"});
    check_fields(status, {"folder", "beside_the_journal", "due", "signing_keys", "backups", "not_exchanged"});
    REQUIRE(status["backups"].size() == 1);
    CHECK(status["backups"][0]["name"] == "2026-11-26");
    CHECK(status["due"] == false);
    CHECK(status["not_exchanged"]["jobs"] == Json::array({job}));

    // That one knows the job and not the reading of this day.
    const auto kept_out = shell.json({"restore"}, 1);
    CHECK(kept_out["problem"]["what"] == "The journal here holds 1 entry that the backup of 2026-11-26 does not.");
    const auto made = shell.json({"backup"});
    check_fields(made, {"backup", "name", "entries", "jobs", "attachments", "good", "dropped"});
    CHECK(made["good"] == true);
    CHECK(made["entries"].get<int>() == status["backups"][0]["entries"].get<int>() + 1);
    const auto before = shell.json({"job", "show", job})["checks"];
    fs::remove(shell.data() / "journal.db");
    CHECK(shell.run({"job", "list"}).code == 0);
    const auto restored = shell.json({"restore"});
    CHECK(restored["restored"] == "2026-11-26");
    CHECK(restored["device"] != "");
    CHECK((shell.json({"job", "show", job})["checks"] == before));
    CHECK(shell.json({"attest", "--journal"})["genuine"] == true);
    CHECK(shell.run({"enter", job, "coll-tilt", "35°"}).code == 0);
}

TEST_CASE("a folder under PINs is put back by a lead, and a new tablet by anybody") {
    Shell shell;
    shell.open_job();
    const auto owner = shell.write("owner.pin", "482913\n");
    const auto other = shell.write("other.pin", "770164\n");
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", owner}).code == 0);
    const std::vector<std::string> as_owner{"--person", "Ilka Marrowby", "--pin-file", owner};
    const auto with = [](std::vector<std::string> words, const std::vector<std::string>& more) {
        words.insert(words.end(), more.begin(), more.end());
        return words;
    };
    REQUIRE(shell.run(with({"access", "add", "Tindo Quellaby", "--new-pin-file", other}, as_owner)).code == 0);
    REQUIRE(shell.run(with({"backup"}, as_owner)).code == 0);
    CHECK(shell.json({"restore", "--move-aside"}, 1)["problem"]["what"] == "Persons have PINs here, and none was given.");
    const auto refused = shell.json({"restore", "--move-aside", "--person", "Tindo Quellaby", "--pin-file", other}, 1);
    CHECK(refused["problem"]["what"] == "Tindo Quellaby is an installer here; only a lead may put a folder back from a backup.");
    CHECK_FALSE(fs::exists(shell.data() / "set-aside"));
    CHECK(shell.run(with({"restore", "--move-aside"}, as_owner)).code == 0);
    fs::rename(shell.data() / "backups", shell.folder() / "stick");
    fs::remove_all(shell.data());
    CHECK(shell.run({"restore", "--from", (shell.folder() / "stick").string()}).code == 0);
}

TEST_CASE("a backup folder of one's own is used, and a folder that is away stops nobody") {
    Shell shell;
    const auto job = shell.open_job();
    const auto stick = shell.folder() / "stick";
    std::ofstream{shell.data() / "settings.toml"} << "[backup]\nfolder = \"" << stick.string() << "\"\npassword_file = \""
                                                  << shell.write("words", "six lanterns\n") << "\"\n";
    CHECK(shell.run({"enter", job, "ladder-set", "70°"}).code == 0);
    CHECK(fs::exists(stick / "2026-11-25.journal"));
    CHECK(fs::exists(stick / "keys/keys.box"));
    CHECK_FALSE(fs::exists(shell.data() / "backups"));
    const auto status = shell.json({"backup", "--status"});
    CHECK(status["beside_the_journal"] == false);
    CHECK(status["signing_keys"] == "locked under a passphrase");

    // The folder is lost; a new one comes up from the stick.
    fs::remove_all(shell.data());
    CHECK(shell.run({"restore", "--from", stick.string()}).code == 1);
    const auto restored = shell.json({"restore", "--from", (stick / "2026-11-25.journal").string(), "--password-file",
                                      (shell.folder() / "words").string()});
    CHECK(restored["signing_keys"] == true);
    CHECK(shell.json({"job", "show", job})["facts"]["customer.name"] != "(erased)");

    fs::remove_all(stick);
    shell.write("stick", "no folder");
    const auto told = shell.run({"enter", job, "coll-tilt", "35°"});
    CHECK(told.code == 0);
    CHECK(told.talk.find("The backup of this day was not made") != std::string::npos);
}

TEST_CASE("what no bundle holds yet is told, and is nothing right after packing") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"backup", "--status"}).talk.find("Not in any bundle yet: ") != std::string::npos);
    shell.json({"pack", (shell.folder() / "day.bundle").string()});
    const auto talk = shell.run({"backup", "--status"}).talk;
    CHECK(talk.find("Everything recorded here is in a bundle; the last was made at 2026-11-25T09:00:00+05:00.") != std::string::npos);
    CHECK(shell.run({"enter", job, "ladder-set", "70°"}).code == 0);
    CHECK(shell.json({"backup", "--status"})["not_exchanged"]["entries"] == 1);
}

}  // namespace wm::app
