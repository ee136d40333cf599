// Witnessmark: the program.
#include <sys/prctl.h>
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstring>
#include <exception>
#include <new>
#include <string>
#include <vector>

#include "app/commands.hpp"
#include "app/log.hpp"

namespace {

/// Words that need no memory themselves.
int no_memory(int count, char** words) {
    bool wants_json = false;
    for (int i = 1; i < count; ++i) wants_json = wants_json || std::strcmp(words[i], "--json") == 0;
    std::fputs("this computer: There is not enough memory for this.\nWhat was saved is safe. Close other programs, then do it again.\n",
               stderr);
    if (wants_json)
        std::fputs(R"({"problem":{"what":"There is not enough memory for this.","where":"this computer",)"
                   R"("what_to_do":"What was saved is safe. Close other programs, then do it again."}})"
                   "\n",
                   stdout);
    return 4;
}

/// After the answer is out, and whatever it comes to.
void log_call(const std::vector<std::string>& said, const wm::app::Output& output, std::chrono::steady_clock::time_point begun) {
    using std::chrono::milliseconds;
    try {
        wm::app::keep_call(said, output, std::chrono::duration_cast<milliseconds>(std::chrono::steady_clock::now() - begun).count());
    } catch (const std::exception&) {
        // The line is lost, for want of memory; the answer is not.
    }
}

}  // namespace

int main(int count, char** words) {
    // A core file would hold keys. The second keeps them from a handler of cores too, and from other programs of the person.
    const rlimit no_core{0, 0};
    static_cast<void>(setrlimit(RLIMIT_CORE, &no_core));
    static_cast<void>(prctl(PR_SET_DUMPABLE, 0));
    try {
        const std::vector<std::string> said{words + 1, words + count};
        const auto begun = std::chrono::steady_clock::now();
        const auto output = wm::app::run_words(said);
        std::fwrite(output.talk.data(), 1, output.talk.size(), stderr);
        const bool told = std::fwrite(output.data.data(), 1, output.data.size(), stdout) == output.data.size() &&
                          std::fflush(stdout) == 0;
        log_call(said, output, begun);
        if (told) return output.code;
        std::fputs("standard output: The answer could not be written out.\nWhat was saved is safe. Make room there, then ask again.\n",
                   stderr);
        return 4;
    } catch (const std::bad_alloc&) {
        return no_memory(count, words);
    } catch (const std::exception& fault) {
        std::fprintf(stderr, "witnessmark: a fault of the program itself: %s\nWhat was saved is safe. Start it again.\n",
                     fault.what());
        return 4;
    }
}
