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
    const auto random = counted_bytes("new");
    REQUIRE(keys.take_device(wm::digest::device_key(random(32)).value(), random));
    CHECK(wm::digest::device_id(keys.device().public_key) != before);
    CHECK(wm::digest::device_id(Keys::open(folder).value().device().public_key) != before);
}

TEST_CASE("sealed keys open with the sealing key alone and leave no open copy") {
    const Folder folder;
    const std::string seal(32, 's');
    const auto random = counted_bytes("seal");
    std::string secret, master_house, root;
    {
        Keys keys = made(folder, "Tarnhollow Sunworks");
        secret = keys.device().secret;
        master_house = keys.house();
        root = keys.company()->root_key;
        REQUIRE(keys.write_sealed(seal, random));
        // Until the open ones are gone, they count.
        CHECK_FALSE(Keys::open(folder).value().sealed_by_pin());
        REQUIRE(keys.drop_unsealed(seal));
        CHECK(keys.sealed_by_pin());
    }
    const auto shut = Keys::open(folder);
    REQUIRE_FALSE(shut);
    CHECK(shut.error().kind == wm::ProblemKind::Refused);
    CHECK(shut.error().what == "The keys of this data folder are sealed by PINs.");
    CHECK_FALSE(Keys::open(folder, system_disk(), std::string(32, 't')));
    // Never made anew for want of the right one.
    CHECK_FALSE(Keys::open_or_make(folder, random, "Tarnhollow Sunworks", some_time));
    Keys again = Keys::open(folder, system_disk(), seal).value();
    CHECK(again.sealed_by_pin());
    CHECK(again.device().secret == secret);
    CHECK(again.house() == master_house);
    CHECK(again.company()->root_key == root);
    CHECK(files_holding(folder, secret).empty());
    CHECK(files_holding(folder, wm::digest::to_hex(secret)).empty());
    // A new device's key is sealed at once.
    REQUIRE(again.take_device(wm::digest::device_key(random(32)).value(), random));
    CHECK(files_holding(folder, wm::digest::to_hex(again.device().secret)).empty());
    CHECK(Keys::open(folder, system_disk(), seal).value().device().secret == again.device().secret);
}
