// Memory is refused once, in whatever a person does: in the program's own work, in the C++ libraries under it and in SQLite.
//
// What asks for memory by malloc on its own (libharu, GLib, image readers) is not reached from here; there
// tests/whole/injected_check.py takes the memory from the whole process.
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <atomic>
#include <cstdlib>
#include <new>

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

/// The operation with the memory of that number refused; 0 = of none. How much was asked for.
long try_one(const Operation& operation, RecordedWork& work, long which, Words& after, Count& count) {
    store::testing::MemoryDisk disk{work.disk.vfs()};
    for (const auto& [name, file] : operation.from->image) disk.put(name, file);
    work.vfs.work_on(&disk);
    CAPTURE(std::string{operation.name});
    CAPTURE(which);
    bool is_done = false;
    {
        auto desk = desk::Desk::open(desk::testing::setup_on(disk, work));
        REQUIRE(desk);
        refusal.arm(which);
        try {
            const auto done = operation.run(*desk, operation.from->job);
            refusal.armed = false;
            is_done = done.has_value();
            if (which == 0) REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
            if (!done) {
                CHECK_FALSE(done.error().what.empty());
                CHECK_FALSE(done.error().what_to_do.empty());
                ++count.told;
            } else {
                ++count.borne;
            }
        } catch (const std::bad_alloc&) {
            refusal.armed = false;
            ++count.thrown;
        }
        // The same desk goes on, or says that it must be started anew; it does not spoil the chain.
        const auto further =
            desk->journal().append({1795579990000LL, "", {{"", record::ClockJumped{"a", "b", 1, "within a boot"}}}});
        if (!further) CHECK_FALSE(further.error().what_to_do.empty());
    }
    const auto seen = desk::testing::seen_again(disk, work);
    CHECK_MESSAGE(seen.fault.empty(), seen.fault);
    if (which == 0) after = seen.words;
    else if (is_done) CHECK(seen.words == after);
    else CHECK((seen.words == after || seen.words == operation.from->words));
    if (which > 0) ++count.refused;
    return refusal.asked;
}

}  // namespace

TEST_CASE("whichever memory is refused, nothing acknowledged is lost and the chain stays whole") {
    const SqliteMemory sqlite;
    RecordedWork work{"wm-memory"};
    const Rests rests{work};
    const auto all = desk::testing::operations(rests, RecordedWork::bundle_of_another());
    CHECK(all.size() >= 30);
    // A sample under the sanitizers; scripts/soak memory asks for more of each operation.
    const char* asked = std::getenv("WM_REFUSALS");
    const long wanted = asked == nullptr ? 1 : std::strtol(asked, nullptr, 10);
    Count count;
    store::testing::Dice dice{9};
    for (const auto& operation : all) {
        Words after;
        const long most = try_one(operation, work, 0, after, count);
        for (long i = 0; i < wanted; ++i)
            try_one(operation, work, 1 + static_cast<long>(dice.below(static_cast<std::size_t>(most))), after, count);
    }
    MESSAGE(count.refused, " refusals of memory in ", all.size(), " operations: ", count.thrown, " ended it, ", count.told, " told, ",
            count.borne - static_cast<long>(all.size()), " borne");
    CHECK(count.thrown > 0);
}

}  // namespace wm
