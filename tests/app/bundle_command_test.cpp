#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a bundle carries a job to another folder, once") {
    Shell home;
    const auto job = home.open_job();
    CHECK(home.run({"enter", job, "coll-tilt", "35°"}).code == 0);
    const auto file = (home.folder() / "job.bundle").string();
    const auto packed = home.json({"pack", file});
    check_fields(packed, {"bundle", "entries", "attachments", "heads"});
    CHECK(home.json({"attest", file})["genuine"] == true);

    Shell away;
    const auto taken = away.json({"unpack", file});
    check_fields(taken, {"new_entries", "known_entries", "conflicts", "missing", "new_devices"});
    CHECK(taken["new_devices"].size() == 1);
    CHECK(taken["new_entries"] == packed["entries"]);
    const auto again = away.json({"unpack", file});
    CHECK(again["new_entries"] == 0);
    CHECK(again["new_devices"].empty());
    const auto show = away.json({"job", "show", job});
    CHECK(show["facts"]["customer.name"] == "(erased)");
    CHECK(away.json({"attest", "--journal"})["genuine"] == true);

    auto bytes = Shell::bytes_of(file);
    bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 1);
    Shell third;
    CHECK(third.run({"unpack", third.write("bad.bundle", bytes)}).code != 0);
    CHECK(third.run({"unpack", "/nowhere"}).code == 3);
    CHECK(third.run({"pack"}).code == 2);
}

}  // namespace wm::app
