#include "plant/glycol_handbook.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {

constexpr double step = 10.0;  // of both axes: percent by volume, and degrees
constexpr std::size_t columns = 6;
constexpr std::size_t rows = 11;
constexpr double least_percent = 10.0;
constexpr double most_percent = 60.0;
constexpr double hottest = 100.0;

// A row for each ten degrees from 0 °C, a column for each ten percent from 10 %.
using Table = std::array<std::array<double, columns>, rows>;

constexpr Table density_kg_m3 = {{
    {1013.85, 1025.84, 1036.24, 1045.12, 1052.71, 1059},
    {1011.24, 1022.68, 1032.55, 1040.94, 1048.04, 1053.88},
    {1008.13, 1019.01, 1028.35, 1036.24, 1042.87, 1048.25},
    {1004.54, 1014.84, 1023.64, 1031.03, 1037.18, 1042.11},
    {1000.46, 1010.16, 1018.42, 1025.3, 1030.98, 1035.47},
    {995.88, 1004.99, 1012.69, 1019.06, 1024.27, 1028.32},
    {990.82, 999.31, 1006.44, 1012.3, 1017.04, 1020.66},
    {985.27, 993.12, 999.69, 1005.03, 1009.3, 1012.49},
    {979.23, 986.44, 992.42, 997.25, 1001.05, 1003.81},
    {972.7, 979.25, 984.65, 988.95, 992.28, 994.63},
    {965.68, 971.56, 976.36, 980.14, 983, 984.94}}};

constexpr Table specific_heat_j_kg_k = {{
    {4042, 3929, 3793, 3636, 3455, 3250},
    {4058, 3951, 3820, 3669, 3493, 3295},
    {4075, 3973, 3848, 3702, 3532, 3339},
    {4091, 3994, 3875, 3735, 3570, 3383},
    {4107, 4016, 3903, 3768, 3609, 3427},
    {4123, 4038, 3930, 3801, 3648, 3471},
    {4139, 4060, 3958, 3834, 3686, 3515},
    {4155, 4082, 3985, 3867, 3725, 3559},
    {4171, 4104, 4013, 3900, 3763, 3603},
    {4187, 4126, 4040, 3933, 3802, 3647},
    {4203, 4147, 4068, 3966, 3841, 3692}}};

constexpr Table viscosity_mpa_s = {{
    {2.68, 4.05, 7.08, 12.37, 18.40, 31.32},
    {1.89, 2.79, 4.52, 7.22, 10.65, 17.05},
    {1.42, 2.02, 3.06, 4.57, 6.65, 10.04},
    {1.11, 1.52, 2.18, 3.09, 4.43, 6.34},
    {0.89, 1.18, 1.63, 2.21, 3.11, 4.25},
    {0.73, 0.95, 1.26, 1.66, 2.29, 3.00},
    {0.62, 0.78, 1.01, 1.30, 1.75, 2.22},
    {0.53, 0.66, 0.83, 1.06, 1.38, 1.70},
    {0.46, 0.56, 0.70, 0.88, 1.12, 1.35},
    {0.40, 0.49, 0.61, 0.75, 0.93, 1.10},
    {0.35, 0.43, 0.53, 0.66, 0.79, 0.92}}};

struct Between {
    std::size_t lower;
    double along;
};

Between between(double value, double first, std::size_t count) {
    const double steps = (value - first) / step;
    const auto lower = std::min(static_cast<std::size_t>(steps), count - 2);
    return {lower, steps - static_cast<double>(lower)};
}

template <class Scale>
double looked_up(const Table& table, double percent, double celsius, Scale scale) {
    const auto row = between(celsius, 0.0, rows);
    const auto column = between(percent, least_percent, columns);
    const auto along_row = [&](std::size_t r) {
        const double left = scale(table[r][column.lower]);
        return left + column.along * (scale(table[r][column.lower + 1]) - left);
    };
    const double upper = along_row(row.lower);
    return upper + row.along * (along_row(row.lower + 1) - upper);
}

}  // namespace

Result<Mixture> glycol_mixture(double percent_by_volume, units::Temperature fluid) {
    Inputs inputs{"antifreeze of the loop"};
    inputs.within("share of glycol by volume", percent_by_volume, least_percent, most_percent, "%")
        .within("fluid temperature", fluid.in_celsius(), 0.0, hottest, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double celsius = fluid.in_celsius();
    const auto as_is = [](double value) { return value; };
    const auto logarithm = [](double value) { return std::log(value); };
    return Mixture{
        .density = units::Density::from_si(looked_up(density_kg_m3, percent_by_volume, celsius, as_is)),
        .specific_heat =
            units::SpecificHeat::from_si(looked_up(specific_heat_j_kg_k, percent_by_volume, celsius, as_is)),
        .viscosity = units::Viscosity::from_si(
            1e-3 * std::exp(looked_up(viscosity_mpa_s, percent_by_volume, celsius, logarithm)))};
}

}  // namespace wm::plant
