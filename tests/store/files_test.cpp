#include "store/files.hpp"

#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::store;
using testing::Folder;

TEST_CASE("a file is written whole, replaced whole and read back") {
    const Folder folder;
    const auto path = folder.path() / "a" / "b" / "file";
    REQUIRE(write_file(path, std::string("one\0two", 7)));
    CHECK(read_file(path).value() == std::string("one\0two", 7));
    REQUIRE(write_file(path, ""));
    CHECK(read_file(path).value().empty());
    CHECK_FALSE(std::filesystem::exists(folder.path() / "a" / "b" / "file.new"));
}

TEST_CASE("a missing file cannot be read and its removal is no trouble") {
    const Folder folder;
    const auto missing = read_file(folder.path() / "none");
    REQUIRE_FALSE(missing);
    CHECK(missing.error().where == (folder.path() / "none").string());
    CHECK(remove_file(folder.path() / "none"));
    CHECK_FALSE(read_file(folder.path()));
}

TEST_CASE("a file cannot be written where a file stands for its folder") {
    const Folder folder;
    REQUIRE(write_file(folder.path() / "file", "x"));
    const auto written = write_file(folder.path() / "file" / "below", "y");
    REQUIRE_FALSE(written);
    CHECK(written.error().kind == wm::ProblemKind::NotStored);
}

TEST_CASE("the lock has one holder at a time and passes on") {
    const Folder folder;
    {
        auto lock = WriterLock::taken(folder.path() / "writer.lock");
        REQUIRE(lock);
        CHECK_FALSE(WriterLock::taken(folder.path() / "writer.lock"));
        WriterLock moved = std::move(*lock);
        CHECK_FALSE(WriterLock::taken(folder.path() / "writer.lock"));
    }
    CHECK(WriterLock::taken(folder.path() / "writer.lock"));
}
