#include "store/keys.hpp"

#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

Keys made(const Folder& folder, std::string_view company = "") {
    return Keys::open_or_make(folder, counted_bytes("k"), company, some_time).value();
}

}  // namespace

TEST_CASE("keys are made once and read again the same") {
    const Folder folder;
    const Keys first = made(folder, "Tarnhollow Sunworks");
    const Keys again = Keys::open(folder).value();
    CHECK(first.device().secret == again.device().secret);
    CHECK(first.company()->root_key == again.company()->root_key);
    CHECK(first.customers() == again.customers());
    CHECK(again.customer(again.house()).has_value());
    CHECK_FALSE(again.sealed_by_pin());
}

TEST_CASE("key files can be read by their owner alone") {
    const Folder folder;
    made(folder, "Tarnhollow Sunworks");
    int files = 0;
    for (const auto& each : std::filesystem::directory_iterator{folder.path() / "keys"}) {
        CAPTURE(each.path().string());
        CHECK((std::filesystem::status(each).permissions() & std::filesystem::perms::mask) ==
              (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
        ++files;
    }
    CHECK(files == 4);
}

TEST_CASE("no company keys are made without a name") {
    const Folder folder;
    CHECK_FALSE(made(folder).company());
}

TEST_CASE("keys of customers are added, kept and erased without a trace in the file") {
    const Folder folder;
    Keys keys = made(folder);
    const std::string secret(32, 's');
    REQUIRE(keys.add_customers({{"c1", secret}, {"c2", std::string(32, 't')}}, counted_bytes("r")));
    REQUIRE(keys.add_customers({{"c1", std::string(32, 'u')}}, counted_bytes("q")));
    CHECK(Keys::open(folder).value().customer("c1") == secret);
    CHECK(files_holding(folder, secret).empty());
    REQUIRE(keys.erase_customers({"c1"}, counted_bytes("p")));
    CHECK_FALSE(Keys::open(folder).value().customer("c1"));
    CHECK(Keys::open(folder).value().customer("c2"));
}

TEST_CASE("a damaged key file is named and not replaced") {
    for (const char* name : {"device.key", "master.key", "customers.box", "company.key"}) {
        CAPTURE(name);
        const Folder folder;
        made(folder, "Tarnhollow Sunworks");
        const auto file = folder.path() / "keys" / name;
        set_bytes(file, "torn");
        const auto keys =
            Keys::open_or_make(folder, counted_bytes("k"), "Tarnhollow Sunworks", some_time);
        REQUIRE_FALSE(keys);
        CHECK(keys.error().where == file.string());
        CHECK(bytes_of(file) == "torn");
    }
}

TEST_CASE("a new device has another key and knows the one before") {
    const Folder folder;
    Keys keys = made(folder);
    const std::string before = wm::digest::device_id(keys.device().public_key);
    CHECK(keys.become_new_device(counted_bytes("new")).value() == before);
    CHECK(wm::digest::device_id(Keys::open(folder).value().device().public_key) != before);
}
