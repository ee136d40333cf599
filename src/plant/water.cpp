#include "plant/water.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::AbsolutePressure;
using units::Temperature;

namespace {

struct Term {
    int i, j;
    double n;
};

// IAPWS R7-97(2012), Table 2.
constexpr std::array region_1 = {
    Term{0, -2, 1.46329712131670E-01},    Term{0, -1, -8.45481871691140E-01},
    Term{0, 0, -3.75636036720400E+00},    Term{0, 1, 3.38551691683850E+00},
    Term{0, 2, -9.57919633878720E-01},    Term{0, 3, 1.57720385132280E-01},
    Term{0, 4, -1.66164171995010E-02},    Term{0, 5, 8.12146299835680E-04},
    Term{1, -9, 2.83190801238040E-04},    Term{1, -7, -6.07063015658740E-04},
    Term{1, -1, -1.89900682184190E-02},   Term{1, 0, -3.25297487705050E-02},
    Term{1, 1, -2.18417171754140E-02},    Term{1, 3, -5.28383579699300E-05},
    Term{2, -3, -4.71843210732670E-04},   Term{2, 0, -3.00017807930260E-04},
    Term{2, 1, 4.76613939069870E-05},     Term{2, 3, -4.41418453308460E-06},
    Term{2, 17, -7.26949962975940E-16},   Term{3, -4, -3.16796448450540E-05},
    Term{3, 0, -2.82707979853120E-06},    Term{3, 6, -8.52051281201030E-10},
    Term{4, -5, -2.24252819080000E-06},   Term{4, -2, -6.51712228956010E-07},
    Term{4, 10, -1.43417299379240E-13},   Term{5, -8, -4.05169968601170E-07},
    Term{8, -11, -1.27343017416410E-09},  Term{8, -6, -1.74248712306340E-10},
    Term{21, -29, -6.87621312955310E-19}, Term{23, -31, 1.44783078285210E-20},
    Term{29, -38, 2.63357816627950E-23},  Term{30, -39, -1.19476226400710E-23},
    Term{31, -40, 1.82280945814040E-24},  Term{32, -41, -9.35370872924580E-26},
};

// IAPWS R7-97(2012), Table 34.
constexpr std::array region_4 = {
    1.16705214527670E+03,  -7.24213167032060E+05, -1.70738469400920E+01, 1.20208247024700E+04,
    -3.23255503223330E+06, 1.49151086135300E+01,  -4.82326573615910E+03, 4.05113405420570E+05,
    -2.38555575678490E-01, 6.50175348447980E+02};

constexpr double freezing_k = 273.15;
constexpr double region_1_top_k = 623.15;
constexpr double critical_k = 647.096;
constexpr double gas_constant = 461.526;  // J/(kg K)
constexpr double reference_pa = 16.53e6;
constexpr double reference_k = 1386.0;

// Derivatives of the dimensionless Gibbs energy: p by pressure, t by inverse temperature.
struct Derivatives {
    double p = 0.0, pp = 0.0, tt = 0.0, pt = 0.0;
};

Derivatives derivatives(double pi, double tau) {
    const double x = 7.1 - pi;
    const double y = tau - 1.222;
    Derivatives d;
    for (const auto& [i, j, n] : region_1) {
        const double xi = std::pow(x, i);
        const double yj = std::pow(y, j);
        d.p -= n * i * xi / x * yj;
        d.pp += n * i * (i - 1) * xi / (x * x) * yj;
        d.tt += n * xi * j * (j - 1) * yj / (y * y);
        d.pt -= n * i * xi / x * j * yj / y;
    }
    return d;
}

WaterProperties properties(double t_k, double p_pa) {
    const double pi = p_pa / reference_pa;
    const double tau = reference_k / t_k;
    const auto d = derivatives(pi, tau);
    const double volume = gas_constant * t_k / p_pa * pi * d.p;
    return {.density = units::Density::from_si(1.0 / volume),
            .specific_heat = units::SpecificHeat::from_si(-gas_constant * tau * tau * d.tt),
            .expansivity = units::Expansivity::from_si((1.0 - tau * d.pt / d.p) / t_k),
            .compressibility = units::Compressibility::from_si(-pi * d.pp / (d.p * p_pa))};
}

double boiling_pa(double t_k) {
    const auto& n = region_4;
    const double theta = t_k + n[8] / (t_k - n[9]);
    const double a = theta * theta + n[0] * theta + n[1];
    const double b = n[2] * theta * theta + n[3] * theta + n[4];
    const double c = n[5] * theta * theta + n[6] * theta + n[7];
    return std::pow(2.0 * c / (-b + std::sqrt(b * b - 4.0 * a * c)), 4) * 1e6;
}

}  // namespace

Result<WaterProperties> water_properties(Temperature water, AbsolutePressure pressure) {
    const double t = water.in_kelvin();
    const double p = pressure.in_pascals();
    Inputs inputs{"water properties"};
    inputs
        .within("water temperature", water.in_celsius(), freezing_k - 273.15,
                region_1_top_k - 273.15, "°C")
        .positive("pressure", p, "Pa")
        .within("pressure", p / 1e6, 0.0, 100.0, "MPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    inputs.holds(p >= boiling_pa(t), "Water of this temperature boils at this pressure.",
                 "Give the absolute pressure; the equation is for liquid water only.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return properties(t, p);
}

Result<WaterProperties> liquid_water(Temperature water) {
    Inputs inputs{"water properties"};
    inputs.within("water temperature", water.in_celsius(), freezing_k - 273.15,
                  region_1_top_k - 273.15, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double t = water.in_kelvin();
    return properties(t, std::max(1e5, boiling_pa(t)));
}

Result<AbsolutePressure> boiling_pressure(Temperature water) {
    Inputs inputs{"boiling pressure"};
    inputs.within("water temperature", water.in_celsius(), freezing_k - 273.15, critical_k - 273.15,
                  "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return AbsolutePressure::pascals(boiling_pa(water.in_kelvin()));
}

Result<Temperature> boiling_temperature(AbsolutePressure pressure) {
    const double p = pressure.in_pascals();
    Inputs inputs{"boiling temperature"};
    inputs.within("pressure", p, 611.213, 22.064e6, "Pa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto& n = region_4;
    const double beta = std::pow(p / 1e6, 0.25);
    const double e = beta * beta + n[2] * beta + n[5];
    const double f = n[0] * beta * beta + n[3] * beta + n[6];
    const double g = n[1] * beta * beta + n[4] * beta + n[7];
    const double d = 2.0 * g / (-f - std::sqrt(f * f - 4.0 * e * g));
    const double sum = n[9] + d;
    return Temperature::kelvin((sum - std::sqrt(sum * sum - 4.0 * (n[8] + n[9] * d))) / 2.0);
}

Result<units::Viscosity> water_viscosity(Temperature water) {
    Inputs inputs{"viscosity of water"};
    inputs.within("water temperature", water.in_celsius(), -20.0, 110.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double theta = water.in_kelvin() / 300.0;
    const double micropascals = 280.68 * std::pow(theta, -1.9) + 511.45 * std::pow(theta, -7.7) +
                                61.131 * std::pow(theta, -19.6) + 0.45903 * std::pow(theta, -40.0);
    return units::Viscosity::from_si(micropascals * 1e-6);
}

}  // namespace wm::plant
