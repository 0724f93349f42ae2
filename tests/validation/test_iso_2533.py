"""ISO 2533:1975, Standard Atmosphere: density and speed of sound at geopotential altitudes."""

import pytest

from bladehold.air import air_at, standard_density_altitude, standard_temperature

TABLE = [  # geopotential m, density kg/m^3, speed of sound m/s
    (0.0, 1.22500, 340.294),
    (1000.0, 1.11164, 336.434),
    (2000.0, 1.00649, 332.529),
    (5000.0, 0.73612, 320.529),
]


@pytest.mark.parametrize(("altitude", "density", "sound"), TABLE)
def test_table(published, altitude, density, sound):
    air = air_at(altitude, standard_temperature(altitude))
    source, case = "ISO 2533:1975", f"H = {altitude:g} m"
    published("air", source, case, "density, kg/m^3", density, air.density, abs=0.5e-5, why="printed digits")
    published(
        "air",
        source,
        case,
        "speed of sound, m/s",
        sound,
        air.speed_of_sound,
        abs=0.5e-3,
        why="printed digits",
    )


@pytest.mark.parametrize(("altitude", "density", "sound"), TABLE)
def test_density_altitude(published, altitude, density, sound):
    published(
        "air",
        "ISO 2533:1975",
        f"rho = {density:g} kg/m^3",
        "density altitude, m",
        altitude,
        standard_density_altitude(density),
        abs=0.1,
        why="half a printed digit of density is 0.05 to 0.07 m",
    )
