#include "audit/likeness.hpp"

#include <algorithm>
#include <array>

namespace wm::audit {

namespace {

template <std::size_t N>
bool starts_with_one_of(std::string_view check, const std::array<std::string_view, N>& beginnings) {
    return std::any_of(beginnings.begin(), beginnings.end(), [&](auto begin) { return check.starts_with(begin); });
}

// What the reasons for failing have to do with (common practice, no source).
constexpr std::array<std::string_view, 16> of_the_roof = {
    "roof-", "members-", "hook-", "ballast-", "hole-", "metal-", "anchor-", "tank-level", "tank-over", "coll-",
    "nut-", "covering-", "fall-", "ladder-", "rescue-", "site-weather"};
constexpr std::array<std::string_view, 8> of_the_loop = {"loop-", "fluid-", "jacket-", "fill-", "air-", "temp-rise",
                                                         "store-gain", "frost-"};
constexpr std::array<std::string_view, 23> of_the_house = {
    "water-", "power-", "relief-", "tp-", "discharge-", "vacuum-", "valve-", "non-return", "pressure-", "expansion-",
    "drain-", "hot-pipe", "flush-", "test-", "joints-", "heater-", "earth-", "insulation-", "element-", "rcd-",
    "ins-", "bonding-", "tempering-"};
constexpr std::array<std::string_view, 3> of_the_household = {"outlet-temp", "tap-retest", "svc-outlet"};

struct Behind {
    std::string_view check;
    std::array<std::string_view, 2> materials;
    std::size_t count;
};
constexpr std::array<Behind, 8> behind = {{{"relief-lever", {"relief valve", ""}, 1},
                                           {"relief-rating", {"relief valve", ""}, 1},
                                           {"pressure-limit-set", {"limiting valve", ""}, 1},
                                           {"outlet-temp", {"tempering valve", ""}, 1},
                                           {"hook-gap", {"roof hook", ""}, 1},
                                           {"members-found", {"roof hook", ""}, 1},
                                           {"anchor-torque", {"roof hook", ""}, 1},
                                           {"loop-freeze-point", {"fluid", "fluid kind"}, 2}}};

}  // namespace

Likeness likeness_of(std::string_view check) {
    if (asked_by_household(check)) return {.roof = false, .system = false, .household = true};
    if (starts_with_one_of(check, of_the_loop)) return {.roof = false, .system = true, .household = false};
    if (starts_with_one_of(check, of_the_roof)) return {.roof = true, .system = false, .household = false};
    if (starts_with_one_of(check, of_the_house)) return {.roof = false, .system = false, .household = false};
    return {};
}

bool asked_by_household(std::string_view check) { return starts_with_one_of(check, of_the_household); }

std::span<const std::string_view> materials_behind(std::string_view check) {
    for (const auto& row : behind)
        if (row.check == check) return {row.materials.data(), row.count};
    return {};
}

std::string stratum_of(const JobCard& job, const Likeness& likeness) {
    std::string stratum;
    if (likeness.roof) stratum += job.roof;
    stratum += '/';
    if (likeness.system) stratum += job.system;
    stratum += '/';
    if (likeness.household) stratum += job.vulnerable ? "vulnerable" : "other";
    return stratum;
}

}  // namespace wm::audit
