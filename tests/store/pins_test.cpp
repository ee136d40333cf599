#include "store/pins.hpp"

#include <doctest/doctest.h>
#include <unistd.h>

#include <fstream>

#include "digest/hash.hpp"

namespace wm::store {

namespace {
struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("wm-pins-" + std::to_string(::getpid()));
    Folder() { std::filesystem::create_directories(path); }
    ~Folder() { std::filesystem::remove_all(path); }
};
}  // namespace

TEST_CASE("a pinned text comes back under its own hash") {
    const Folder folder;
    const auto hash = keep_pin(folder.path, "a checklist");
    REQUIRE(hash);
    CHECK(*hash == digest::sha256_hex("a checklist"));
    CHECK(keep_pin(folder.path, "a checklist") == *hash);
    CHECK(read_pin(folder.path, *hash) == "a checklist");
}

TEST_CASE("a changed pin is refused") {
    const Folder folder;
    const auto hash = keep_pin(folder.path, "a checklist");
    REQUIRE(hash);
    std::ofstream{folder.path / "pins" / *hash} << "another";
    const auto answer = read_pin(folder.path, *hash);
    REQUIRE_FALSE(answer);
    CHECK(answer.error().what ==
          "The checklist this job was opened with was changed after it was kept.");
}

TEST_CASE("a pin that is not here, and a name that is no hash, are refused") {
    const Folder folder;
    CHECK_FALSE(read_pin(folder.path, std::string(64, 'a')));
    CHECK_FALSE(read_pin(folder.path, "../../etc/passwd"));
}

TEST_CASE("a pin is asked for, and taken away again") {
    const Folder folder;
    const auto hash = keep_pin(folder.path, "a checklist").value();
    CHECK(has_pin(folder.path, hash) == true);
    REQUIRE(drop_pin(folder.path, hash));
    CHECK(has_pin(folder.path, hash) == false);
    CHECK(drop_pin(folder.path, hash));
    CHECK(has_pin(folder.path, "../../etc/passwd") == false);
}

}  // namespace wm::store
