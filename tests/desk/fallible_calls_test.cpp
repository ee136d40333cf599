// Stands for the whole room: whichever call to the disk fails, once, in whatever a person does.
#include <doctest/doctest.h>

#include <cstdlib>

#include "desk/operations.hpp"

namespace wm::desk {

using store::testing::MemoryDisk;
using testing::Operation;
using testing::operations;
using testing::RecordedWork;
using testing::Rests;
using testing::Seen;
using testing::seen_again;
using testing::setup_on;
using testing::Words;

namespace {

bool is_lost_sync(const std::string& call, int error) {
    return error != EINTR && error != 0 && (call.starts_with("sync") || call.starts_with("sqlite sync"));
}

/// A sample takes every thirtieth call and one kind of failure for each.
enum class Thoroughly { Sample, All };

struct Count {
    std::size_t faults = 0, told = 0, borne = 0;
};

/// Lets call after call fail until the operation makes no further one.
void try_all(const Operation& operation, RecordedWork& work, Thoroughly how, Count& count) {
    static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EINTR, 0};
    Words after;
    std::size_t calls = 0;
    const std::size_t stride = how == Thoroughly::All ? 1 : std::size(errors);
    const std::size_t step = how == Thoroughly::All ? 1 : 30;
    for (std::size_t n = 0; n <= calls; n += n == 0 ? 1 + count.faults % step : step) {
        // n = 0 goes well and tells how many calls there are and what is to be seen afterwards.
        for (std::size_t e = n == 0 ? 0 : n % stride; e < (n == 0 ? 1 : std::size(errors)); e += stride) {
            MemoryDisk disk{work.disk.vfs()};
            for (const auto& [name, file] : operation.from->image) disk.put(name, file);
            work.vfs.work_on(&disk);
            CAPTURE(std::string{operation.name});
            CAPTURE(n);
            CAPTURE(errors[e]);
            Result<void> done;
            bool may_go_on = true;
            {
                auto desk = Desk::open(setup_on(disk, work));
                REQUIRE(desk);
                disk.plan({static_cast<int>(n), errors[e]});
                done = operation.run(*desk, operation.from->job);
                if (n == 0) {
                    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
                    calls = static_cast<std::size_t>(disk.calls);
                }
                const std::string call = disk.failed_call;
                CAPTURE(call);
                disk.plan({});
                const auto further = desk->journal().append({1795579990000LL, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
                may_go_on = further.has_value();
                if (!done) {
                    CHECK_FALSE(done.error().what.empty());
                    CHECK_FALSE(done.error().where.empty());
                    CHECK_FALSE(done.error().what_to_do.empty());
                    // Exit code 4, or 3 where it could not be read; never an answer, never "wrong use".
                    CHECK((done.error().kind == ProblemKind::NotStored || done.error().kind == ProblemKind::Unreadable));
                    for (const char* writes : {"write", "sync", "rename", "mkdir", "unlink", "sqlite write", "sqlite sync"})
                        if (call.starts_with(writes)) CHECK(done.error().kind == ProblemKind::NotStored);
                    ++count.told;
                } else {
                    ++count.borne;
                }
                // What a sync once lost is never trusted again, until the program is started anew.
                if (is_lost_sync(call, errors[e])) CHECK_FALSE(may_go_on);
                if (!may_go_on) CHECK(further.error().kind == ProblemKind::NotStored);
            }
            if (n > 0) ++count.faults;
            const Seen seen = seen_again(disk, work);
            CHECK_MESSAGE(seen.fault.empty(), seen.fault);
            if (n == 0) after = seen.words;
            else if (done) CHECK(seen.words == after);
            else CHECK((seen.words == after || seen.words == operation.from->words));
        }
    }
}

}  // namespace

TEST_CASE("whichever call to the disk fails, nothing acknowledged is lost and the person is told what to do") {
    RecordedWork work{"wm-fallible"};
    const Rests rests{work};
    const std::string bundle = RecordedWork::bundle_of_another();
    Count count;
    const auto all = operations(rests, bundle);
    CHECK(all.size() >= 30);
    // A sample under the sanitizers; scripts/soak faults lets every call fail in all six ways.
    const auto how = std::getenv("WM_ALL_FAULTS") != nullptr ? Thoroughly::All : Thoroughly::Sample;
    for (const auto& operation : all) try_all(operation, work, how, count);
    MESSAGE(count.faults, " failures in ", all.size(), " operations: ", count.told, " told, ", count.borne, " borne");
    CHECK(count.told > 30);
}

}  // namespace wm::desk
