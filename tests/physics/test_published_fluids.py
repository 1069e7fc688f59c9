"""Density and viscosity of fuel, water and air against published tables and formulas."""

from __future__ import annotations

import math

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from printed_tables import assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import air, diesel_fuel, water
from engine_sim.units import celsius_to_kelvin

MM2 = 1e-6


@pytest.mark.parametrize("row", read_rows("fuel_volume_correction.csv"))
def test_fuel_shrinks_as_astm_d1250_says(row):
    """ASTM D1250 / API MPMS 11.1, table 54B, within 5e-6."""
    temperature_k = celsius_to_kelvin(float(row["temperature [degC]"]))
    density_15 = float(row["density at 15 degC [kg/m3]"])
    factor = diesel_fuel.volume_correction(temperature_k, density_15)
    assert abs(factor - float(row["volume correction [1]"])) <= 5e-6
    if row["density [kg/m3]"]:
        assert_printed(diesel_fuel.density_kg_per_m3(temperature_k, density_15), row["density [kg/m3]"])


@pytest.mark.parametrize("row", read_rows("fuel_thermal_expansion.csv"))
def test_fuel_expansion_is_that_of_astm_d1250(row):
    """ASTM D1250 / API MPMS 11.1, table 54B, one density in each of its two products."""
    expansion = diesel_fuel.thermal_expansion_per_k(float(row["density at 15 degC [kg/m3]"]))
    assert_printed(expansion * 1e4, row["expansion [1e-4/K]"])


@pytest.mark.parametrize("row", read_rows("fuel_viscosity.csv"))
def test_fuel_thickens_in_the_cold_as_astm_d341_says(row):
    """ASTM D341 through two stated points, within 0.001 mm2/s."""
    viscosity = diesel_fuel.kinematic_viscosity_m2_per_s(celsius_to_kelvin(float(row["temperature [degC]"])))
    assert abs(viscosity / MM2 - float(row["kinematic viscosity [mm2/s]"])) <= 0.001


def test_the_viscosity_law_has_the_slope_and_height_of_astm_d341():
    """ASTM D341, A 8.93220 and B 3.67733 worked with a calculator from its formula."""
    height, slope = diesel_fuel.viscosity_law()
    assert_printed(height, "8.93220")
    assert_printed(slope, "3.67733")


def test_dynamic_viscosity_is_kinematic_times_density():
    """3.8477 mPa s at 20 degC: ASTM D1250 and D341 together."""
    assert_printed(diesel_fuel.dynamic_viscosity_pa_s(celsius_to_kelvin(20)) * 1e3, "3.8477")


def test_the_fuel_of_the_course_lies_inside_en_590():
    """EN 590: 820 to 845 kg/m3 at 15 degC, 2.00 to 4.50 mm2/s at 40 degC."""
    assert 820 <= diesel_fuel.density_kg_per_m3(celsius_to_kelvin(15)) <= 845
    assert 2.00 <= diesel_fuel.kinematic_viscosity_m2_per_s(celsius_to_kelvin(40)) / MM2 <= 4.50


@pytest.mark.parametrize("row", read_rows("water_density.csv"))
def test_water_weighs_what_the_recommended_table_prints(row):
    """Tanaka et al., Metrologia 38 (2001) 301."""
    assert_printed(
        water.fresh_density_kg_per_m3(celsius_to_kelvin(float(row["temperature [degC]"]))), row["density [kg/m3]"]
    )


def test_sea_water_weighs_1025_at_20_degrees():
    """1025 kg/m3, from memory; to its printed digits."""
    assert_printed(water.sea_density_kg_per_m3(celsius_to_kelvin(20)), "1025")


@pytest.mark.parametrize("row", read_rows("standard_air.csv"))
def test_air_at_sea_level_is_the_standard_atmosphere(row):
    """ISO 2533:1975, sea level."""
    temperature_k, pressure_pa = float(row["temperature [K]"]), float(row["pressure [Pa]"])
    assert_printed(air.density_kg_per_m3(temperature_k, pressure_pa), row["density [kg/m3]"])
    assert_printed(air.dynamic_viscosity_pa_s(temperature_k) * 1e5, row["dynamic viscosity [1e-5 Pa s]"])


@pytest.mark.parametrize("height_m", [-500, 0, 1000, 4000, 8000])
def test_air_agrees_with_a_reference_library(height_m):
    """The `fluids` library's 1976 standard atmosphere, within 0.01 %."""
    there = ATMOSPHERE_1976(height_m)
    assert air.density_kg_per_m3(there.T, there.P) == pytest.approx(there.rho, rel=1e-4)
    assert air.dynamic_viscosity_pa_s(there.T) == pytest.approx(there.mu, rel=1e-4)


@pytest.mark.parametrize("temperature_k", [252.9, 333.2, math.nan, math.inf, -1.0])
def test_fuel_outside_its_formulas_is_refused(temperature_k):
    """ASTM D341 holds from the cloud point up; the refusal names fuel, the given and the allowed."""
    for formula in (diesel_fuel.density_kg_per_m3, diesel_fuel.kinematic_viscosity_m2_per_s):
        with pytest.raises(OutOfRange, match=r"diesel fuel temperature .*253 to 333.15 K"):
            formula(temperature_k)


@pytest.mark.parametrize("density_15", [787.9, 900.1, math.nan])
def test_a_liquid_that_is_no_diesel_fuel_is_refused(density_15):
    """ASTM D1250: the constants of a petrol or a residual fuel are other ones."""
    with pytest.raises(OutOfRange, match=r"density at 15 degC .*788 to 900 kg/m3"):
        diesel_fuel.density_kg_per_m3(celsius_to_kelvin(15), density_15)


@pytest.mark.parametrize("temperature_k", [273.1, 313.2, math.nan])
def test_water_outside_the_recommended_table_is_refused(temperature_k):
    """Tanaka et al. (2001): 0 to 40 degC."""
    with pytest.raises(OutOfRange, match=r"water temperature .*273.15 to 313.15 K"):
        water.fresh_density_kg_per_m3(temperature_k)


def test_air_without_pressure_is_refused():
    """No gas at 0 Pa."""
    with pytest.raises(OutOfRange, match="absolute air pressure"):
        air.density_kg_per_m3(celsius_to_kelvin(15), 0.0)
