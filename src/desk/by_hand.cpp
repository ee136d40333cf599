#include "desk/by_hand.hpp"

#include <fmt/format.h>

#include <cstdlib>

#include "desk/moment.hpp"
#include "record/clock.hpp"

namespace wm::desk {

bool is_dated_apart(const record::Reading& reading) {
    const auto read = read_moment(reading.taken.read_at);
    const auto entered = record::stamp_of(reading.origin.time);
    return read && entered && std::abs(entered->wall_ms - read->wall_ms) > record::largest_lead_ms;
}

std::vector<std::string> sentences_on_times(const record::JobState& job) {
    std::vector<std::string> sentences;
    if (!job.by_hand.empty())
        sentences.push_back(fmt::format("Times given by hand, not read from a clock: {} of the {} entries of this job.", job.by_hand.size(),
                                        job.entries));
    int readings = 0, apart = 0;
    for (const auto& [id, check] : job.checks) {
        for (const auto& reading : check.readings) {
            ++readings;
            if (is_dated_apart(reading)) ++apart;
        }
    }
    if (apart > 0)
        sentences.push_back(fmt::format("Readings that bear a time more than ten minutes away from when they were entered: {} of {}.", apart,
                                        readings));
    return sentences;
}

}  // namespace wm::desk
