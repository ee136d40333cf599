// What a year of sun is worth: solar fraction, load and savings.
#pragma once

#include <vector>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct MonthOfSun {
    units::Area collector;
    units::Quantity<0, 1, -3, -1> loss_product;  ///< heat removal factor times loss, W/(m² K)
    double optical_product;                      ///< heat removal factor times optical efficiency
    double exchanger_ratio = 1.0;
    double angle_ratio = 1.0;
    units::Temperature mean_air;
    units::Irradiation day;  ///< mean of a day on the plane
    int days;
    units::Energy load;
    units::Volume store_per_square_metre = units::litres(75.0);  ///< 37.5 L to 300 L
    double water_heating_factor = 1.0;                           ///< see water_heating_factor()
};

struct SolarFraction {
    double x;
    double y;
    double fraction;  ///< 0 to 1
};

/// Loss and gain over load, X to 18, Y to 3 and an optical product of 0.6 to 0.9, in the f-chart
/// polynomial, clipped to 0…1. Source: Klein, Beckman & Duffie 1976; Duffie & Beckman ch. 20.
/// Traps: made for pumped systems, an upper bound for thermosiphons; clip each month BEFORE
/// summing; say whether the load includes the losses of the store.
[[nodiscard]] Result<SolarFraction> solar_fraction(const MonthOfSun& month);

struct HotWater {
    units::VolumeFlow draw;  ///< mean over the month
    units::Temperature set_point;
    units::Temperature mains;
};

/// Days times draw times 4.16 MJ/(m³ K) (mean of 15 °C to 60 °C) times rise. Source: Duffie &
/// Beckman ch. 20. Trap: mains water changes by 5 K to 15 K over the year.
[[nodiscard]] Result<units::Energy> water_load(const HotWater& water, int days);

/// Correction of X where only water is heated. Source: as above, from memory.
[[nodiscard]] Result<double> water_heating_factor(units::Temperature set_point,
                                                  units::Temperature mains,
                                                  units::Temperature mean_air);

using EnergyPrice = units::Quantity<-2, -1, 2>;    ///< money per joule
using EmissionFactor = units::Quantity<-2, 0, 2>;  ///< kg per joule

struct MonthlyShare {
    double fraction;
    units::Energy load;
};

struct SavingsCase {
    std::vector<MonthlyShare> months;
    double heater_efficiency = 1.0;
    EnergyPrice tariff;       ///< of the hours in which the heater would have run
    EmissionFactor emission;  ///< of the grid; state its year
    double cost;              ///< in money, today
    int years;
    double price_growth = 0.0;
    double discount = 0.0;
};

struct Savings {
    units::Energy energy;
    double money;  ///< in the first year
    units::Mass emission;
    double present_worth;  ///< of all years less the cost
};

/// Sum of fraction times load over the heater's efficiency, times price and factor; years to 50.
/// Source: arithmetic; Duffie & Beckman ch. 11. Trap: also take off what the roof store loses if
/// the load does not contain it.
[[nodiscard]] Result<Savings> savings(const SavingsCase& house);

}  // namespace wm::plant
