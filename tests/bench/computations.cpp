// How fast each computation is, once its arguments are read.
#include <iostream>
#include <sstream>

#include "app/workout_command.hpp"
#include "bench/benches.hpp"
#include "bench/timing.hpp"

namespace wm::bench {

// Each line of the input: the name, then key=value, separated by tabs.
int computations(double seconds) {
    std::string line;
    while (std::getline(std::cin, line)) {
        std::vector<std::string> fields;
        std::istringstream in{line};
        for (std::string field; std::getline(in, field, '\t');) fields.push_back(field);
        if (fields.empty()) continue;
        const units::Computation* found = nullptr;
        for (const auto& each : app::all_computations())
            if (each.name == fields.front()) found = &each;
        if (found == nullptr) {
            std::cerr << "no computation \"" << fields.front() << "\"\n";
            return 3;
        }
        std::vector<std::pair<std::string, std::string>> pairs;
        for (std::size_t i = 1; i < fields.size(); ++i) {
            const auto equals = fields[i].find('=');
            pairs.emplace_back(fields[i].substr(0, equals), fields[i].substr(equals + 1));
        }
        const auto arguments = units::read_arguments(*found, pairs);
        if (!arguments) {
            std::cerr << told(arguments.error()) << "\n";
            return 3;
        }
        constexpr int batch = 20;
        tell(found->name, times_of(100000, seconds, [&] {
                 for (int i = 0; i < batch; ++i) keep(found->evaluate(*arguments));
             }),
             batch);
    }
    return 0;
}

}  // namespace wm::bench
