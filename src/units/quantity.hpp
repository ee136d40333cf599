// Numbers that know their dimension at compile time, kept in coherent SI units.
#pragma once

#include <compare>
#include <numbers>

namespace wm::units {

/// L, M, T, K, I: exponents of metre, kilogram, second, kelvin, ampere. A bare double is no
/// quantity, and adding a pressure to a length does not compile.
template <int L, int M, int T, int K = 0, int I = 0>
class Quantity {
public:
    static constexpr Quantity from_si(double value) { return Quantity{value}; }
    [[nodiscard]] constexpr double si() const { return value_; }

    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
    friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
    friend constexpr Quantity operator*(double f, Quantity a) { return Quantity{f * a.value_}; }
    friend constexpr Quantity operator*(Quantity a, double f) { return Quantity{f * a.value_}; }
    friend constexpr Quantity operator/(Quantity a, double f) { return Quantity{a.value_ / f}; }

private:
    explicit constexpr Quantity(double value) : value_{value} {}
    double value_;
};

template <int L1, int M1, int T1, int K1, int I1, int L2, int M2, int T2, int K2, int I2>
constexpr auto operator*(Quantity<L1, M1, T1, K1, I1> a, Quantity<L2, M2, T2, K2, I2> b) {
    return Quantity<L1 + L2, M1 + M2, T1 + T2, K1 + K2, I1 + I2>::from_si(a.si() * b.si());
}
template <int L1, int M1, int T1, int K1, int I1, int L2, int M2, int T2, int K2, int I2>
constexpr auto operator/(Quantity<L1, M1, T1, K1, I1> a, Quantity<L2, M2, T2, K2, I2> b) {
    return Quantity<L1 - L2, M1 - M2, T1 - T2, K1 - K2, I1 - I2>::from_si(a.si() / b.si());
}
/// The ratio of two like quantities is a plain number.
template <int L, int M, int T, int K, int I>
constexpr double ratio(Quantity<L, M, T, K, I> a, Quantity<L, M, T, K, I> b) {
    return a.si() / b.si();
}

using Length = Quantity<1, 0, 0>;
using Area = Quantity<2, 0, 0>;
using Volume = Quantity<3, 0, 0>;
using Mass = Quantity<0, 1, 0>;
using Time = Quantity<0, 0, 1>;
using Speed = Quantity<1, 0, -1>;
using Density = Quantity<-3, 1, 0>;
using Force = Quantity<1, 1, -2>;
using Torque = Quantity<2, 1, -2>;
using Energy = Quantity<2, 1, -2>;
using Power = Quantity<2, 1, -3>;
using Irradiance = Quantity<0, 1, -3>;
using Irradiation = Quantity<0, 1, -2>;
using TemperatureRise = Quantity<0, 0, 0, 1>;
using Conductance = Quantity<2, 1, -3, -1>;          ///< W/K
using HeatCapacity = Quantity<2, 1, -2, -1>;         ///< J/K
using SpecificHeat = Quantity<2, 0, -2, -1>;         ///< J/(kg K)
using Expansivity = Quantity<0, 0, 0, -1>;           ///< 1/K
using Compressibility = Quantity<1, -1, 2>;          ///< 1/Pa
using Viscosity = Quantity<-1, 1, -1>;               ///< Pa s
using MassFlow = Quantity<0, 1, -1>;
using VolumeFlow = Quantity<3, 0, -1>;
using PressureDifference = Quantity<-1, 1, -2>;
using Voltage = Quantity<2, 1, -3, 0, -1>;
using Current = Quantity<0, 0, 0, 0, 1>;
using Resistance = Quantity<2, 1, -3, 0, -2>;

/// A plane angle, kept in radian. Bearings are angles clockwise from true north.
class Angle {
public:
    static constexpr Angle degrees(double value) { return Angle{value * std::numbers::pi / 180.0}; }
    static constexpr Angle radians(double value) { return Angle{value}; }
    [[nodiscard]] constexpr double in_degrees() const { return radians_ * 180.0 / std::numbers::pi; }
    [[nodiscard]] constexpr double in_radians() const { return radians_; }
    friend constexpr auto operator<=>(Angle, Angle) = default;

private:
    explicit constexpr Angle(double value) : radians_{value} {}
    double radians_;
};

/// A place on the scale, not a difference: 60 °C minus 15 °C is a rise of 45 K, and
/// 60 °C plus 15 °C does not compile.
class Temperature {
public:
    static constexpr Temperature celsius(double value) { return Temperature{value + 273.15}; }
    static constexpr Temperature kelvin(double value) { return Temperature{value}; }
    [[nodiscard]] constexpr double in_celsius() const { return kelvin_ - 273.15; }
    [[nodiscard]] constexpr double in_kelvin() const { return kelvin_; }
    friend constexpr auto operator<=>(Temperature, Temperature) = default;
    friend constexpr TemperatureRise operator-(Temperature hot, Temperature cold) {
        return TemperatureRise::from_si(hot.kelvin_ - cold.kelvin_);
    }
    friend constexpr Temperature operator+(Temperature t, TemperatureRise r) {
        return Temperature{t.kelvin_ + r.si()};
    }
    friend constexpr Temperature operator-(Temperature t, TemperatureRise r) {
        return Temperature{t.kelvin_ - r.si()};
    }

private:
    explicit constexpr Temperature(double kelvin) : kelvin_{kelvin} {}
    double kelvin_;
};

class GaugePressure;

/// Pressure against vacuum. Gas laws, boiling and property tables want this one.
class AbsolutePressure {
public:
    static constexpr AbsolutePressure kilopascals(double value) { return AbsolutePressure{value * 1e3}; }
    static constexpr AbsolutePressure pascals(double value) { return AbsolutePressure{value}; }
    [[nodiscard]] constexpr double in_kilopascals() const { return pascals_ / 1e3; }
    [[nodiscard]] constexpr double in_pascals() const { return pascals_; }
    friend constexpr auto operator<=>(AbsolutePressure, AbsolutePressure) = default;
    friend constexpr PressureDifference operator-(AbsolutePressure a, AbsolutePressure b) {
        return PressureDifference::from_si(a.pascals_ - b.pascals_);
    }

private:
    explicit constexpr AbsolutePressure(double value) : pascals_{value} {}
    double pascals_;
};

/// Pressure against the air around the gauge: what a gauge on a roof shows.
class GaugePressure {
public:
    static constexpr GaugePressure kilopascals(double value) { return GaugePressure{value * 1e3}; }
    static constexpr GaugePressure pascals(double value) { return GaugePressure{value}; }
    [[nodiscard]] constexpr double in_kilopascals() const { return pascals_ / 1e3; }
    [[nodiscard]] constexpr double in_pascals() const { return pascals_; }
    [[nodiscard]] constexpr AbsolutePressure against_vacuum(AbsolutePressure air) const {
        return AbsolutePressure::pascals(pascals_ + air.in_pascals());
    }
    friend constexpr auto operator<=>(GaugePressure, GaugePressure) = default;
    friend constexpr PressureDifference operator-(GaugePressure a, GaugePressure b) {
        return PressureDifference::from_si(a.pascals_ - b.pascals_);
    }
    friend constexpr GaugePressure operator+(GaugePressure a, PressureDifference d) {
        return GaugePressure{a.pascals_ + d.si()};
    }
    friend constexpr GaugePressure operator*(double f, GaugePressure a) { return GaugePressure{f * a.pascals_}; }

private:
    explicit constexpr GaugePressure(double value) : pascals_{value} {}
    double pascals_;
};

constexpr Length metres(double v) { return Length::from_si(v); }
constexpr Length millimetres(double v) { return Length::from_si(v * 1e-3); }
constexpr Area square_metres(double v) { return Area::from_si(v); }
constexpr Volume litres(double v) { return Volume::from_si(v * 1e-3); }
constexpr Mass kilograms(double v) { return Mass::from_si(v); }
constexpr Time seconds(double v) { return Time::from_si(v); }
constexpr Time minutes(double v) { return Time::from_si(v * 60.0); }
constexpr Time hours(double v) { return Time::from_si(v * 3600.0); }
constexpr Speed metres_per_second(double v) { return Speed::from_si(v); }
constexpr Force newtons(double v) { return Force::from_si(v); }
constexpr Torque newton_metres(double v) { return Torque::from_si(v); }
constexpr Power watts(double v) { return Power::from_si(v); }
constexpr Irradiance watts_per_square_metre(double v) { return Irradiance::from_si(v); }
constexpr TemperatureRise kelvins(double v) { return TemperatureRise::from_si(v); }
constexpr PressureDifference pascals(double v) { return PressureDifference::from_si(v); }
constexpr Voltage volts(double v) { return Voltage::from_si(v); }
constexpr Resistance ohms(double v) { return Resistance::from_si(v); }

}  // namespace wm::units
