// The sentences of the leaflet, short enough to be read in a kitchen.
#pragma once

#include <string>
#include <vector>

#include "handover/leaflet.hpp"
#include "handover/page_one_words.hpp"

namespace wm::handover {

inline constexpr int most_own_words = 40;

/// How something is set, and what to do about it.
struct LeafletSetting {
    std::string what, value, mind;
};

struct LeafletWords {
    std::string headline;
    std::vector<std::string> about;          ///< what kind of set it is
    std::vector<SafetySentence> cautions;    ///< the worst first
    std::vector<std::string> emergency;      ///< in the order in which it is done
    std::vector<LeafletSetting> settings;    ///< what nobody read says so
    std::vector<std::string> normal;         ///< sounds and drips
    std::vector<std::string> call_us;        ///< what is not normal
    std::vector<std::string> holiday, frost, glass;
    std::vector<std::string> shown;          ///< what the household was shown
    std::string said;                        ///< the household's own words, at most most_own_words; mostly empty
    std::vector<std::string> who;            ///< beside the names and numbers of those to call
    std::vector<GlossaryTerm> terms;         ///< every trade word of the paper
};

/// Every kind of set has its own sentences; of what is not known nothing is said but that one should ask.
[[nodiscard]] LeafletWords leaflet_words(const Leaflet& leaflet);

}  // namespace wm::handover
