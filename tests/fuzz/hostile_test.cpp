// Checklists of a megabyte made to be slow or large: what they may cost, counted in pieces of memory, not in time.
#include <algorithm>
#include <cstddef>
#include <cstdint>

#include "checklist/document.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "fuzz/hostile.hpp"
#include "fuzz/spoil.hpp"

namespace {

/// What the program took since the count was set to zero. One thread.
struct Memory {
    std::uint64_t pieces = 0;
    std::int64_t held = 0;
    std::int64_t most = 0;
};
Memory memory;

}  // namespace

// The sanitizer tells of every piece of memory; without it nothing is counted, and the suite runs with it.
extern "C" {
int __sanitizer_install_malloc_and_free_hooks(void (*)(const volatile void*, std::size_t), void (*)(const volatile void*))
    __attribute__((weak));
std::size_t __sanitizer_get_allocated_size(const volatile void*) __attribute__((weak));
}

namespace {

void taken(const volatile void*, std::size_t size) {
    ++memory.pieces;
    memory.held += static_cast<std::int64_t>(size);
    memory.most = std::max(memory.most, memory.held);
}
void given_back(const volatile void* piece) {
    if (piece != nullptr) memory.held -= static_cast<std::int64_t>(__sanitizer_get_allocated_size(piece));
}

}  // namespace

using namespace wm;

namespace {

constexpr std::size_t megabyte = 1024 * 1024;

/// The memory that reading and linting took.
Memory cost_of(const std::string& text) {
    const checklist::Library library;
    memory = {};
    {
        const auto loaded = checklist::load_checklist(text, "hostile.toml");
        if (!loaded) CHECK(fuzz::fault_of(loaded).empty());
        const auto report = checklist::lint(text, "hostile.toml", library);
        CHECK(report.findings.size() <= 100'000);
    }
    return memory;
}

}  // namespace

TEST_CASE("no checklist of a megabyte takes more than 64 MB, or more than twenty pieces of memory for each of its bytes") {
    if (__sanitizer_install_malloc_and_free_hooks == nullptr) {
        MESSAGE("no sanitizer, nothing counted");
        return;
    }
    REQUIRE(__sanitizer_install_malloc_and_free_hooks(taken, given_back) > 0);
    for (const auto& hostile : fuzz::hostile_ones(fuzz::corpus_file("checklist/small.toml"), megabyte)) {
        const auto cost = cost_of(hostile.text);
        CAPTURE(hostile.name);
        CAPTURE(cost.pieces);
        CHECK(cost.most <= 64 * static_cast<std::int64_t>(megabyte));
        CHECK(cost.pieces <= 20 * hostile.text.size());
        MESSAGE(hostile.name << ": " << hostile.text.size() / 1024 << " KB, " << cost.pieces << " pieces, "
                             << cost.most / 1024 << " KB at most");
    }
}
