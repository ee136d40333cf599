// Sun under a clear sky, and what of it a tilted collector sees. A screen for hand-held readings,
// never a limit that decides.
#pragma once

#include <optional>

#include "plant/sun.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// On a horizontal plane: 1098 cos Z exp(−0.059/cos Z), nothing when the sun is down. Take the
/// refracted zenith. Source: Haurwitz 1945, J. Meteorology 2:154-166, constants after Reno,
/// Hansen & Stein, SAND2012-2389. Trap: beside bright clouds a reading may be 1.2 times as high.
[[nodiscard]] Result<units::Irradiance> clear_global(units::Angle zenith);

/// Defaults of the model's authors, and today's solar constant at the mean distance.
struct ClearAir {
    units::AbsolutePressure pressure =
        units::AbsolutePressure::pascals(101325.0);       ///< of the station
    units::Length ozone = units::Length::from_si(0.003);  ///< thickness of the layer
    units::Length water = units::Length::from_si(0.015);  ///< that would rain out
    double aerosol_380 = 0.15;                            ///< optical depth at 380 nm
    double aerosol_500 = 0.10;
    double forward_share = 0.85;  ///< of what aerosol scatters
    double ground_reflection = 0.2;
    units::Irradiance outside_air = units::watts_per_square_metre(1361.1);
};

struct ClearSky {
    units::Irradiance beam;     ///< direct, square to the sun
    units::Irradiance global;   ///< horizontal
    units::Irradiance diffuse;  ///< horizontal
};

/// Product of the transmittances of air, ozone, water, mixed gases and aerosol. Zenith 0° to 88°.
/// Source: Bird & Hulstrom, SERI/TR-642-761 (1981). Claimed within 10 %. Trap: the report takes
/// 1353 W/m² outside the air, a later worksheet 1367: say which.
[[nodiscard]] Result<ClearSky> clear_sky(units::Angle zenith, const ClearAir& air = {});

/// Today's solar constant at the sun's distance of the day, from SunPosition.
[[nodiscard]] Result<units::Irradiance> outside_air(double distance_au);

enum class SkyModel { Isotropic, Anisotropic };

struct SkyOnPlane {
    SunAndCollector geometry;
    units::Irradiance beam;
    units::Irradiance diffuse;
    units::Irradiance global;
    units::Irradiance outside_air = units::watts_per_square_metre(1361.1);
    double ground_reflection = 0.2;
    SkyModel model = SkyModel::Anisotropic;
};

struct OnPlane {
    units::Angle incidence;
    units::Irradiance sky;  ///< diffuse part
    units::Irradiance total;
};

/// Beam times cosine of incidence (nothing from behind), sky and ground. Isotropic: Liu & Jordan
/// 1963; anisotropic with a bright ring about the sun: Hay & Davies 1980. cos Z is floored at
/// 0.01745, where the ring would grow without end.
[[nodiscard]] Result<OnPlane> irradiance_on_plane(const SkyOnPlane& sky);

/// The isotropic sky alone, which needs no sun.
[[nodiscard]] Result<units::Irradiance> isotropic_sky(units::Irradiance diffuse, units::Angle tilt);

}  // namespace wm::plant
