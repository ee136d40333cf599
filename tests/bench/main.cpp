#include <cstdlib>
#include <iostream>
#include <string>

#include "bench/benches.hpp"

int main(int count, char** words) {
    const std::string what = count > 1 ? words[1] : "";
    const double seconds = count > 2 ? std::strtod(words[2], nullptr) : 1.0;
    if (what == "computations") return wm::bench::computations(seconds);
    if (what == "journal" && count > 3) return wm::bench::journal(words[3], seconds);
    if (what == "week" && count > 3) return wm::bench::week(words[3], count > 4 ? words[4] : "", seconds);
    if (what == "sizes" && count > 3) return wm::bench::week_sizes(words[3], seconds);
    if (what == "checklists") return wm::bench::checklists(seconds);
    if (what == "replay" && count > 3) return wm::bench::replay(words[3], seconds);
    if (what == "many" && count > 6) return wm::bench::many_jobs(words[3], words[4], std::atoi(words[5]), std::atoi(words[6]), seconds);
    if (what == "slow" && count > 3) return wm::bench::slow_disk(words[3], seconds);
    if (what == "merge" && count > 4) return wm::bench::merge(words[3], words[4], seconds);
    if (what == "report" && count > 5) return wm::bench::report(words[3], words[4], words[5], seconds);
    std::cerr << "bench computations|journal|week|sizes|checklists|replay|many|slow|merge|report SECONDS [FOLDER …]\n";
    return 2;
}
