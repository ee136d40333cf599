#include "store/disk.hpp"

#include <doctest/doctest.h>

#include "store/files.hpp"
#include "store/memory_disk.hpp"

using namespace wm::store;
using testing::Change;
using testing::MemoryDisk;

TEST_CASE("a watched disk remembers a failed sync and nothing else") {
    for (const bool of_sync : {true, false}) {
        MemoryDisk disk{"none"};
        WatchedDisk watched{disk};
        REQUIRE(write_file("/data/a", "one", watched));
        CHECK_FALSE(watched.sync_failed());
        // Of a file that is there: stat, open, write, sync, rename, open folder, sync.
        disk.plan({of_sync ? 4 : 3, EIO});
        CHECK_FALSE(write_file("/data/a", "two", watched));
        CHECK(disk.failed_call.starts_with(of_sync ? "sync" : "write"));
        CHECK(watched.sync_failed() == of_sync);
        CHECK(read_file("/data/a", watched).value() == "one");
    }
}

TEST_CASE("an interrupted or short call is done again") {
    for (const int error : {EINTR, 0}) {
        for (int call = 1; call < 20; ++call) {
            CAPTURE(call);
            MemoryDisk disk{"none"};
            WatchedDisk watched{disk};
            disk.plan({call, error});
            // A sync has no short count: it fails, and is believed.
            const auto written = write_file("/data/b", "four", watched);
            const bool may_fail = error == 0 && !disk.failed_call.starts_with("write");
            if (!may_fail) {
                REQUIRE(written);
                CHECK_FALSE(watched.sync_failed());
            }
            if (!written) continue;
            disk.plan({call, error});
            const auto read = read_file("/data/b", watched);
            if (error == EINTR || disk.failed_call.starts_with("read")) CHECK(read.value() == "four");
        }
    }
}

TEST_CASE("a disk that cannot tell whether a file is there is not taken for an empty one") {
    MemoryDisk disk{"none"};
    disk.plan({1, EACCES});
    const auto told = look_at_file("/data/a", disk);
    REQUIRE_FALSE(told);
    CHECK(told.error().what == "It cannot be told whether the file is there: Permission denied.");
    CHECK_FALSE(look_at_file("/data/a", disk).value().has_value());
}

TEST_CASE("whatever is written is on the disk for good when write_file returns") {
    MemoryDisk disk{"none"};
    disk.recording = true;
    REQUIRE(write_file("/data/keys/a", "one", disk));
    const auto last = [&](Change::Kind kind) {
        std::size_t found = 0;
        for (std::size_t i = 0; i < disk.changes.size(); ++i)
            if (disk.changes[i].kind == kind) found = i;
        return found;
    };
    CHECK(last(Change::Kind::Write) < last(Change::Kind::Sync));
    CHECK(last(Change::Kind::Sync) < last(Change::Kind::Name));
    CHECK(last(Change::Kind::Name) < last(Change::Kind::SyncFolder));
}
