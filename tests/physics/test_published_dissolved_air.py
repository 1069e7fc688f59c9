"""Air dissolved in fuel against the worked values of ASTM D2779."""

from __future__ import annotations

import math

import pytest
from printed_tables import A_THOUSANDTH, assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import air, diesel_fuel, dissolved_air
from engine_sim.units import STANDARD_ATMOSPHERE_PA


@pytest.mark.parametrize("row", read_rows("dissolved_air.csv"))
def test_fuel_holds_the_air_that_d2779_says(row):
    """ASTM D2779 (constants from memory), within 0.1 % or the last printed digit."""
    temperature_k, density = float(row["temperature [K]"]), float(row["density at 15 degC [kg/m3]"])
    assert_printed(
        dissolved_air.ostwald_reference_coefficient(temperature_k), row["reference [m3/m3]"], relative=A_THOUSANDTH
    )
    assert_printed(
        dissolved_air.ostwald_coefficient(temperature_k, density), row["Ostwald [m3/m3]"], relative=A_THOUSANDTH
    )
    assert_printed(
        dissolved_air.bunsen_coefficient(temperature_k, density), row["Bunsen [m3/m3]"], relative=A_THOUSANDTH
    )
    mass = dissolved_air.saturation_kg_per_m3_pa(temperature_k, density)
    assert_printed(mass * 1e5, row["mass [kg/(m3 bar)]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize("row", read_rows("released_air.csv"))
def test_suction_draws_air_out(row):
    """ASTM D2779 with Henry's law, within 0.1 % or the last printed digit."""
    pressure_pa = float(row["absolute pressure [kPa]"]) * 1e3
    released = dissolved_air.released_share(STANDARD_ATMOSPHERE_PA, pressure_pa, 288.15)
    assert_printed(released * 1e3, row["released [mL/L]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize("temperature_k", [263.15, 288.15, 293.15, 313.15])
def test_the_mass_is_the_volume_weighed(temperature_k):
    """Ideal gas (ISO 2533): the Ostwald volume, weighed at the pressure there is, is the same at every pressure."""
    volume = dissolved_air.ostwald_coefficient(temperature_k)
    for pressure_pa in (2e4, 101_325.0, 4e5):
        weighed = volume * air.density_kg_per_m3(temperature_k, pressure_pa)
        assert dissolved_air.saturation_kg_per_m3_pa(temperature_k) * pressure_pa == pytest.approx(weighed, rel=1e-12)


def test_fuel_holds_nine_to_thirteen_parts_in_a_hundred():
    """ASTM D2779 (from memory): 9 to 13 % by volume, at 0 to 30 degC over the densities of EN 590."""
    for density in (820.0, 840.0, 845.0):
        for temperature_k in (273.15, 288.15):
            assert 0.09 <= dissolved_air.ostwald_coefficient(temperature_k, density) <= 0.135


def test_the_rounded_figure_kept_with_the_fuel_is_the_same():
    """0.116 at 15 degC, to its printed digits."""
    assert_printed(dissolved_air.ostwald_coefficient(288.15), str(diesel_fuel.DISSOLVED_AIR.value))


def test_a_rising_pressure_draws_nothing_out():
    """Henry's law: fuel that is not saturated keeps its air."""
    assert dissolved_air.released_share(101_325.0, 150e3, 288.15) == 0.0


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (dissolved_air.ostwald_coefficient, (20.0,), "fuel temperature"),
        (dissolved_air.ostwald_coefficient, (288.15, 0.84), "fuel density at 15 degC"),
        (dissolved_air.bunsen_coefficient, (288.15, 840.0, 0.0), "absolute pressure over the fuel"),
        (dissolved_air.released_share, (101_325.0, math.nan, 288.15), "absolute pressure over the fuel"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
