// Witnessmark: the program.
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "app/commands.hpp"

int main(int count, char** words) {
    try {
        const auto arguments = wm::app::sort_arguments({words + 1, words + count});
        const auto output = arguments ? wm::app::run_command(*arguments)
                                      : wm::app::told_as(arguments.error(), wm::app::Form::Text);
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
