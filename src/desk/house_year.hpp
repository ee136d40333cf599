// The year of a house in the sun, as a band over what is not known of it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"
#include "plant/expected_year.hpp"

namespace wm::desk {

inline constexpr double litres_low = 30.0;     ///< a person and day
inline constexpr double litres_usual = 45.0;
inline constexpr double litres_high = 60.0;
inline constexpr double sun_either_way = 0.08; ///< of the share of bright sun
inline constexpr double hot_water_c = 60.0;

struct Band {
    double low = 0.0;
    double high = 0.0;
};

/// Numbers of the house by their keys; what is missing is remembered in words, and stands for 0.
class Known {
public:
    explicit Known(const JobInHand& job) : job_{job} {}
    [[nodiscard]] double number(std::string_view key, std::string_view unit);
    [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }

private:
    const JobInHand& job_;
    std::vector<std::string> missing_;
};

/// How steep the set stands and where it looks, in degrees.
struct Plane {
    double tilt = 0.0;
    double azimuth = 0.0;
};

struct House {
    plant::HouseInSun sun;
    double persons = 0.0;
    double sun_share = 0.0;
    bool has_sheet = false;  ///< the collector's own figures are on record
};
[[nodiscard]] House house_of(const JobInHand& job, const Plane& plane, Known& known);

/// In kWh; months in English, three letters each.
struct Estimate {
    std::vector<handover::ExpectedMonthBand> months;
    Band year, needed;
};

/// All corners of what is not known: 30 to 60 litres a person and day, the share of bright sun 0.08 either way, and 20 % below
/// what the correlation for pumped sets gives (common practice, no source).
[[nodiscard]] Result<Estimate> estimate(const House& house);

/// The number that was entered last at each place of a check, in `unit`, whatever became of it.
[[nodiscard]] std::vector<double> entered_at(const JobView& view, std::string_view check, std::string_view unit);

/// The plane as it was measured where the check conforms, else as it was planned.
[[nodiscard]] Plane plane_as_fitted(const JobView& view, Known& known);

}  // namespace wm::desk
