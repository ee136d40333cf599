// Checklists of a megabyte made to be slow or large: what they may cost, counted in pieces of memory, not in time.
#include <malloc.h>

#include <cstdint>
#include <new>

#include "checklist/document.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "fuzz/hostile.hpp"
#include "fuzz/spoil.hpp"

namespace {

/// What operator new gave out since the count was set to zero. One thread.
struct Memory {
    std::uint64_t pieces = 0;
    std::int64_t held = 0;
    std::int64_t most = 0;
};
Memory memory;

}  // namespace

// Every piece of memory of this program passes here: steps that allocate are counted, and the most that was held.
void* operator new(std::size_t size) {
    void* piece = std::malloc(size == 0 ? 1 : size);
    if (piece == nullptr) throw std::bad_alloc{};
    ++memory.pieces;
    memory.held += static_cast<std::int64_t>(malloc_usable_size(piece));
    memory.most = std::max(memory.most, memory.held);
    return piece;
}
void operator delete(void* piece) noexcept {
    if (piece == nullptr) return;
    memory.held -= static_cast<std::int64_t>(malloc_usable_size(piece));
    std::free(piece);
}
void operator delete(void* piece, std::size_t) noexcept { operator delete(piece); }

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
