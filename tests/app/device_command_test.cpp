#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("a device that came by bundle is accepted or refused by its id, and of a refused one nothing more is taken") {
    Shell home;
    const auto job = home.open_job();
    const auto file = (home.folder() / "job.bundle").string();
    REQUIRE(home.run({"pack", file}).code == 0);
    Shell away;
    CHECK(away.json({"device", "list"})["devices"].empty());
    const std::string device = away.json({"unpack", file})["new_devices"][0];
    const auto standing = [&] {
        const auto rows = away.json({"device", "list"});
        for (const auto& row : rows["devices"])
            if (row["device"] == device) return row["standing"].get<std::string>();
        return std::string{};
    };
    CHECK(standing() == "known to nobody");
    CHECK(away.run({"device", "list"}).data.find(device + "  known to nobody") != std::string::npos);
    const auto asked = [&] { return away.json({"job", "show", job})["questions"].size(); };
    const auto before = asked();
    CHECK(away.json({"device", "accept", device.substr(0, 10)})["standing"] == "accepted");
    CHECK(standing() == "accepted");
    CHECK(asked() == before - 1);
    CHECK(away.run({"unpack", file}).code == 0);
    CHECK(away.run({"device", "refuse", device}).code == 0);
    CHECK(standing() == "refused");
    const auto refused = away.run({"unpack", file});
    CHECK(refused.code == 1);
    CHECK(refused.talk.find("This bundle was made by device " + device + ", which was refused here.") != std::string::npos);
    CHECK(away.json({"attest", "--journal"})["genuine"] == true);
    CHECK(away.run({"device", "accept", device}).code == 0);
    CHECK(away.run({"unpack", file}).code == 0);
    CHECK(away.run({"device"}).code == 2);
    CHECK(away.run({"device", "marry", device}).code == 2);
    CHECK(away.run({"device", "accept"}).code == 2);
    CHECK(away.run({"device", "accept", "0000000000"}).code == 3);
}

}  // namespace wm::app
