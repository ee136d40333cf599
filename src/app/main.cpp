// Witnessmark: the program.
#include <sys/resource.h>

#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "app/commands.hpp"

int main(int count, char** words) {
    // A core file would hold keys.
    const rlimit no_core{0, 0};
    static_cast<void>(setrlimit(RLIMIT_CORE, &no_core));
    try {
        const auto output = wm::app::run_words({words + 1, words + count});
        std::fwrite(output.talk.data(), 1, output.talk.size(), stderr);
        const bool told = std::fwrite(output.data.data(), 1, output.data.size(), stdout) == output.data.size() &&
                          std::fflush(stdout) == 0;
        return told ? output.code : 4;
    } catch (const std::exception& fault) {
        std::fprintf(stderr, "witnessmark: a fault of the program itself: %s\nWhat was saved is safe. Start it again.\n",
                     fault.what());
        return 4;
    }
}
