// A crew of the demo: what it writes down for each check, right or wrong.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "desk/view.hpp"

namespace wm::demo {

/// Random numbers that are the same on every machine.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_{seed} {}
    [[nodiscard]] std::uint64_t next();
    [[nodiscard]] double uniform();                       ///< 0 to 1
    [[nodiscard]] bool happens(double probability) { return uniform() < probability; }
    [[nodiscard]] double normal(double mean, double deviation);
    [[nodiscard]] int poisson(double mean);
    [[nodiscard]] std::size_t pick(const std::vector<double>& weights);

private:
    std::uint64_t state_;
};

enum class Wish { Right, Wrong };

struct Entry {
    std::string place;
    std::string text;
    bool photo = false;
    std::string done;  ///< for a correction: what was done
};

/// What is entered for a check as it is shown; empty where nothing can be (computed, signature).
/// Wrong readings lie clearly outside; at a check with several places only one of them is wrong.
[[nodiscard]] std::vector<Entry> entries_for(const desk::CheckView& check, Wish wish, Dice& dice);

/// A small invented photograph (JPEG) of the thing a check asks for, different for each number.
[[nodiscard]] std::string picture_of(const std::string& check, std::uint64_t number);

}  // namespace wm::demo
