// Stands for the whole room: whichever call to the disk fails, once, in whatever a person does.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

#include "desk/apart.hpp"
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

/// A sample takes every ninetieth call, or as the environment says, and one kind of failure for each.
enum class Thoroughly { Sample, All };

int step_of_the_sample() {
    const char* step = std::getenv("WM_FAULT_STEP");
    return step == nullptr ? 90 : std::max(1, std::atoi(step));
}

struct Count {
    std::size_t faults = 0, told = 0, borne = 0;
};

/// What came of one failure. The words are those of the jobs afterwards.
struct Tried {
    bool done = false;
    int calls = 0;
    Words words;
    std::string failed_call;
    std::string wrong;  ///< empty when all is as promised
};

/// Runs the operation on an open desk with the failure ahead, and looks at what is left with a disk in order.
Tried tried(const Operation& operation, Desk desk, MemoryDisk& disk, RecordedWork& work, store::testing::Fault fault) {
    Tried now;
    const auto must = [&](bool holds, const std::string& words) {
        if (!holds) now.wrong += words + "\n";
    };
    {
        Desk here = std::move(desk);  // closed at the end of this block
        disk.plan(fault);
        const auto done = operation.run(here, operation.from->job);
        now.done = done.has_value();
        now.calls = disk.calls;
        const std::string call = now.failed_call = disk.failed_call;
        disk.plan({});
        const auto further = here.journal().append({1795579990000LL, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
        if (!done) {
            const Problem& problem = done.error();
            must(!problem.what.empty() && !problem.where.empty() && !problem.what_to_do.empty(), "a refusal without words");
            // Exit code 4, or 3 where it could not be read; never an answer, never "wrong use".
            must(problem.kind == ProblemKind::NotStored || problem.kind == ProblemKind::Unreadable, "the wrong exit code: " + told(problem));
            for (const char* writes : {"write", "sync", "rename", "mkdir", "unlink", "sqlite write", "sqlite sync"})
                if (call.starts_with(writes)) must(problem.kind == ProblemKind::NotStored, "not told as not stored: " + told(problem));
        }
        // What a sync once lost is never trusted again, until the program is started anew.
        if (is_lost_sync(call, fault.error)) must(!further, "a sync was lost, and the desk goes on");
        if (!further) must(further.error().kind == ProblemKind::NotStored, "the wrong exit code of the next entry");
    }
    const Seen seen = seen_again(disk, work);
    must(seen.fault.empty(), seen.fault);
    now.words = seen.words;
    return now;
}

Desk opened(MemoryDisk& disk, RecordedWork& work) {
    auto desk = Desk::open(setup_on(disk, work));
    REQUIRE(desk);
    return std::move(*desk);
}

void put_all(MemoryDisk& disk, const store::testing::Image& image, RecordedWork& work) {
    for (const auto& [name, file] : image) disk.put(name, file);
    work.vfs.work_on(&disk);
}

Tried tried_apart(const std::function<Tried()>& attempt) {
    const auto said = testing::tried_apart([&] {
        const Tried tried = attempt();
        return nlohmann::json{tried.done, tried.calls, tried.words, tried.failed_call, tried.wrong};
    });
    if (!said.is_array()) return {false, 0, {}, "", said.get<std::string>() + "\n"};
    return {said[0], said[1], said[2].get<Words>(), said[3], said[4]};
}

/// Lets call after call fail until the operation makes no further one.
void try_all(const Operation& operation, RecordedWork& work, Thoroughly how, Count& count) {
    static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EINTR, 0};
    const bool all = how == Thoroughly::All;
    MemoryDisk held_disk{work.disk.vfs()};
    std::optional<Desk> held;
    if (all) {
        put_all(held_disk, operation.from->image, work);
        held.emplace(opened(held_disk, work));
    }
    const auto attempt = [&](store::testing::Fault fault) {
        if (all) return tried_apart([&] { return tried(operation, std::move(*held), held_disk, work, fault); });
        // Within this process, so that the sanitizers see what leaks.
        MemoryDisk disk{work.disk.vfs()};
        put_all(disk, operation.from->image, work);
        return tried(operation, opened(disk, work), disk, work, fault);
    };
    // The first goes well and tells how many calls there are and what is to be seen afterwards.
    const Tried well = attempt({});
    REQUIRE_MESSAGE(well.done, operation.name);
    CHECK_MESSAGE(well.wrong.empty(), operation.name, ": ", well.wrong);
    const int stride = all ? 1 : static_cast<int>(std::size(errors));
    const int step = all ? 1 : step_of_the_sample();
    for (int n = 1 + static_cast<int>(count.faults) % step; n <= well.calls; n += step)
        for (int e = all ? 0 : n % stride; e < static_cast<int>(std::size(errors)); e += stride) {
            const Tried now = attempt({n, errors[e]});
            CAPTURE(std::string{operation.name});
            CAPTURE(n);
            CAPTURE(errors[e]);
            CAPTURE(now.failed_call);
            ++count.faults;
            ++(now.done ? count.borne : count.told);
            CHECK_MESSAGE(now.wrong.empty(), now.wrong);
            CHECK((now.words == well.words || (!now.done && now.words == operation.from->words)));
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
    // Under the sanitizers a small sample in every third operation, with the Release build a larger one in all of them;
    // scripts/soak faults lets every call fail in all six ways.
    const std::size_t stride = std::getenv("WM_FAULT_STEP") == nullptr && std::getenv("WM_ALL_FAULTS") == nullptr ? 3 : 1;
    const auto how = std::getenv("WM_ALL_FAULTS") != nullptr ? Thoroughly::All : Thoroughly::Sample;
    for (std::size_t i = 0; i < all.size(); i += stride)
        if (testing::takes_part(all[i].name)) try_all(all[i], work, how, count);
    MESSAGE(count.faults, " failures in ", all.size(), " operations: ", count.told, " told, ", count.borne, " borne");
    CHECK(count.told > (stride == 1 ? 30 : 8));
}

}  // namespace wm::desk
