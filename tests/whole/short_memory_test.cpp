// Memory is refused once, in whatever a person does: in the program's own work, in the C++ libraries under it and in SQLite.
//
// What asks for memory by malloc on its own (libharu, GLib, image readers) is not reached from here; there
// tests/whole/injected_check.py takes the memory from the whole process.
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <atomic>
#include <cstdlib>
#include <new>
#include <optional>
#include <vector>

#include "desk/apart.hpp"
#include "desk/operations.hpp"

namespace {

/// Counts what is asked for while it is armed, and refuses one of it.
struct Refusal {
    std::atomic<bool> armed = false;
    std::atomic<long> asked = 0, refused = 0;  ///< refused: the number of the one that is; 0 = none
    bool now() {
        if (!armed || wm::store::testing::quiet > 0) return false;
        return ++asked == refused;
    }
    void arm(long which) {
        asked = 0;
        refused = which;
        armed = true;
    }
};
Refusal refusal;

void* taken(std::size_t size) {
    if (refusal.now()) throw std::bad_alloc{};
    if (void* memory = std::malloc(size == 0 ? 1 : size)) return memory;
    throw std::bad_alloc{};
}

void* taken_or_null(std::size_t size) noexcept { return refusal.now() ? nullptr : std::malloc(size == 0 ? 1 : size); }

}  // namespace

// libqpdf loses what it was building when memory is refused to it in the middle; everything else is still held to no leak.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libqpdf.so\n"; }

void* operator new(std::size_t size) { return taken(size); }
void* operator new[](std::size_t size) { return taken(size); }
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return taken_or_null(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return taken_or_null(size); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, const std::nothrow_t&) noexcept { std::free(memory); }
void operator delete[](void* memory, const std::nothrow_t&) noexcept { std::free(memory); }

namespace wm {

using desk::testing::Operation;
using desk::testing::RecordedWork;
using desk::testing::Rests;
using desk::testing::Words;

namespace {

/// SQLite's own memory runs through the refusal too, for as long as this lives.
class SqliteMemory {
public:
    SqliteMemory() {
        sqlite3_shutdown();
        sqlite3_config(SQLITE_CONFIG_GETMALLOC, &real());
        sqlite3_mem_methods refusing = real();
        refusing.xMalloc = [](int size) { return refusal.now() ? nullptr : real().xMalloc(size); };
        refusing.xRealloc = [](void* memory, int size) { return refusal.now() ? nullptr : real().xRealloc(memory, size); };
        sqlite3_config(SQLITE_CONFIG_MALLOC, &refusing);
        sqlite3_initialize();
    }
    SqliteMemory(const SqliteMemory&) = delete;
    SqliteMemory& operator=(const SqliteMemory&) = delete;
    ~SqliteMemory() {
        sqlite3_shutdown();
        sqlite3_config(SQLITE_CONFIG_MALLOC, &real());
        sqlite3_initialize();
    }

private:
    static sqlite3_mem_methods& real() {
        static sqlite3_mem_methods methods{};
        return methods;
    }
};

struct Count {
    long refused = 0, thrown = 0, told = 0, borne = 0;
};

/// What came of one refusal. The words are those of the jobs afterwards.
struct Tried {
    char end = ' ';  ///< done, told, or ended by want of memory
    long asked = 0;
    Words words;
    std::string wrong;  ///< empty when all is as promised
};

/// The operation on an open desk with the memory of that number refused; 0 = of none.
Tried tried(const Operation& operation, desk::Desk desk, store::testing::MemoryDisk& disk, RecordedWork& work, long which) {
    Tried now;
    const auto must = [&](bool holds, const std::string& words) {
        if (!holds) now.wrong += words + "\n";
    };
    {
        desk::Desk here = std::move(desk);  // closed at the end of this block
        refusal.arm(which);
        try {
            const auto done = operation.run(here, operation.from->job);
            refusal.armed = false;
            now.end = done ? 'd' : 't';
            if (!done) must(!done.error().what.empty() && !done.error().what_to_do.empty(), "a refusal without words");
        } catch (const std::bad_alloc&) {
            refusal.armed = false;
            now.end = 'm';
        }
        now.asked = refusal.asked;
        // The same desk goes on, or says that it must be started anew; it does not spoil the chain.
        const auto further =
            here.journal().append({1795579990000LL, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
        if (!further) must(!further.error().what_to_do.empty(), "a refusal of the next entry without words");
    }
    const auto seen = desk::testing::seen_again(disk, work);
    must(seen.fault.empty(), seen.fault);
    now.words = seen.words;
    return now;
}

/// The requests that are refused: all, or that many drawn from them.
std::vector<long> chosen(long most, long wanted, store::testing::Dice& dice) {
    std::vector<long> all;
    if (wanted >= most)
        for (long which = 1; which <= most; ++which) all.push_back(which);
    else
        for (long i = 0; i < wanted; ++i) all.push_back(1 + static_cast<long>(dice.below(static_cast<std::size_t>(most))));
    return all;
}

/// Refuses memory in one operation, that many times.
void try_all(const Operation& operation, RecordedWork& work, long wanted, store::testing::Dice& dice, Count& count) {
    const auto prepared = [&](store::testing::MemoryDisk& disk) {
        for (const auto& [name, file] : operation.from->image) disk.put(name, file);
        work.vfs.work_on(&disk);
        auto desk = desk::Desk::open(desk::testing::setup_on(disk, work));
        REQUIRE(desk);
        return std::move(*desk);
    };
    // A few within this process, so that the sanitizers see what leaks; many in processes of their own, which have the open
    // desk for nothing.
    const bool apart = wanted > 1;
    store::testing::MemoryDisk held_disk{work.disk.vfs()};
    std::optional<desk::Desk> held;
    if (apart) held.emplace(prepared(held_disk));
    const auto attempt = [&](long which) -> Tried {
        if (!apart) {
            store::testing::MemoryDisk disk{work.disk.vfs()};
            return tried(operation, prepared(disk), disk, work, which);
        }
        const auto said = desk::testing::tried_apart([&] {
            const Tried now = tried(operation, std::move(*held), held_disk, work, which);
            return nlohmann::json{std::string{now.end}, now.asked, now.words, now.wrong};
        });
        if (!said.is_array()) return {'x', 0, {}, said.get<std::string>()};
        return {said[0].get<std::string>().front(), said[1], said[2].get<Words>(), said[3]};
    };
    const Tried well = attempt(0);
    REQUIRE_MESSAGE(well.end == 'd', operation.name);
    CHECK_MESSAGE(well.wrong.empty(), operation.name, ": ", well.wrong);
    for (const long which : chosen(well.asked, wanted, dice)) {
        const Tried now = attempt(which);
        CAPTURE(std::string{operation.name});
        CAPTURE(which);
        CAPTURE(now.end);
        ++count.refused;
        ++(now.end == 'd' ? count.borne : now.end == 't' ? count.told : count.thrown);
        CHECK_MESSAGE(now.wrong.empty(), now.wrong);
        if (now.end == 'd') CHECK(now.words == well.words);
        else CHECK((now.words == well.words || now.words == operation.from->words));
    }
}

}  // namespace

TEST_CASE("whichever memory is refused, nothing acknowledged is lost and the chain stays whole") {
    const SqliteMemory sqlite;
    RecordedWork work{"wm-memory"};
    const Rests rests{work};
    const auto all = desk::testing::operations(rests, RecordedWork::bundle_of_another());
    CHECK(all.size() >= 30);
    // A sample under the sanitizers; scripts/soak memory refuses every single one.
    const char* asked = std::getenv("WM_REFUSALS");
    const long wanted = asked == nullptr ? 1 : std::strtol(asked, nullptr, 10);
    Count count;
    store::testing::Dice dice{9};
    for (const auto& operation : all)
        if (desk::testing::takes_part(operation.name)) try_all(operation, work, wanted, dice, count);
    MESSAGE(count.refused, " refusals of memory in ", all.size(), " operations: ", count.thrown, " ended it, ", count.told, " told, ",
            count.borne, " borne");
    CHECK(count.thrown > 0);
}

}  // namespace wm
