// Checklists: what a hostile one may cost beside the largest sound one.
#include <fstream>
#include <iterator>

#include "bench/benches.hpp"
#include "bench/timing.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "fuzz/hostile.hpp"

namespace wm::bench {

namespace {

std::string text_of(const char* file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

void answer(const std::string& text) {
    const checklist::Library library;
    keep(checklist::load_checklist(text, "a.toml"));
    keep(checklist::lint(text, "a.toml", library));
}

}  // namespace

int checklists(double seconds) {
    const auto sound = text_of("checklists/commissioning.toml");
    tell("checklist, commissioning.toml", times_of(20, seconds, [&] { answer(sound); }));
    for (const auto& hostile : fuzz::hostile_ones(text_of("tests/fuzz/corpus/checklist/small.toml"), 1024 * 1024))
        tell("checklist of 1 MB, " + hostile.name, times_of(5, seconds, [&] { answer(hostile.text); }));
    return 0;
}

}  // namespace wm::bench
