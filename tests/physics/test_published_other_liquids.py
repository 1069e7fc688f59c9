"""Petrol and urea solution in the tank, fresh and salt water, against published tables and formulas."""

from __future__ import annotations

import itertools
import math

import pytest
from printed_tables import assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import diesel_fuel, petrol, urea_solution, viscosity_law, water
from engine_sim.units import celsius_to_kelvin

MM2 = 1e-6
T15, T20 = celsius_to_kelvin(15), celsius_to_kelvin(20)
SCALE_OF_1968 = 1.00024  # degC of 1968 for one of today, EOS-80's own footnote in public programs
DIESEL_POINTS = ((T20, 4.60 * MM2), (celsius_to_kelvin(40), 3.00 * MM2))


@pytest.mark.parametrize("row", read_rows("petrol_volume_correction.csv"))
def test_petrol_shrinks_as_astm_d1250_says(row):
    """ASTM D1250 / API MPMS 11.1, table 54B: factor within 5e-6, density to its printed digits."""
    density_15 = float(row["density at 15 degC [kg/m3]"])
    density = petrol.density_kg_per_m3(celsius_to_kelvin(float(row["temperature [degC]"])), density_15)
    assert_printed(density, row["density [kg/m3]"])
    assert abs(density / density_15 - float(row["volume correction [1]"])) <= 5e-6


def test_petrol_lies_inside_en_228():
    """EN 228 (from memory): 720 to 775 kg/m3 at 15 degC."""
    assert 720 <= petrol.density_kg_per_m3(T15) <= 775


@pytest.mark.parametrize("row", read_rows("thin_fuel_viscosity.csv"))
def test_thin_fuel_and_its_mixtures_flow_as_d341_and_d7152_say(row):
    """Within 0.2 %, D341's own printed inverse being an approximation."""
    temperature_k, share = celsius_to_kelvin(float(row["temperature [degC]"])), float(row["petrol [%]"]) / 100
    if share > 0.0:
        viscosity = petrol.blend_kinematic_viscosity_m2_per_s(share, temperature_k)
    else:
        viscosity = viscosity_law.through_points_m2_per_s(temperature_k, DIESEL_POINTS)
    assert_printed(viscosity / MM2, row["kinematic viscosity [mm2/s]"], relative=0.002)


@pytest.mark.parametrize("celsius", [-20, 0, 20, 40, 60])
def test_nothing_mixed_in_is_the_plain_fuel(celsius):
    """The two ends of the mixture, within 0.1 % for D341's approximate inverse (density exactly)."""
    temperature_k = celsius_to_kelvin(celsius)
    plain = diesel_fuel.kinematic_viscosity_m2_per_s(temperature_k)
    assert petrol.blend_kinematic_viscosity_m2_per_s(0.0, temperature_k) == pytest.approx(plain, rel=1e-3)
    thin = petrol.kinematic_viscosity_m2_per_s(temperature_k)
    assert petrol.blend_kinematic_viscosity_m2_per_s(1.0, temperature_k) == pytest.approx(thin, rel=2e-3)
    assert petrol.blend_density_kg_per_m3(0.0, temperature_k) == diesel_fuel.density_kg_per_m3(temperature_k)
    assert petrol.blend_density_kg_per_m3(1.0, temperature_k) == pytest.approx(petrol.density_kg_per_m3(temperature_k))


def test_more_petrol_makes_it_lighter_and_thinner_all_the_way():
    """A little petrol thins far more than its share: 10 % takes a quarter off (D7152, worked above)."""
    shares = [step / 20 for step in range(21)]
    for of in (petrol.blend_density_kg_per_m3, petrol.blend_dynamic_viscosity_pa_s):
        values = [of(share, T20) for share in shares]
        assert all(less < more for more, less in itertools.pairwise(values))
    thinned = petrol.blend_kinematic_viscosity_m2_per_s(0.10, T20) / petrol.blend_kinematic_viscosity_m2_per_s(0.0, T20)
    assert 0.70 < thinned < 0.77


@pytest.mark.parametrize("nu", [0.25, 0.4, 0.6, 1.0, 1.5, 2.0, 4.6, 12.0])
def test_d341s_own_inverse_undoes_it(nu):
    """ASTM D341 prints both directions; the inverse is an approximation, good to 0.4 % over petrol and diesel fuel."""
    there = viscosity_law.double_logarithm_value(nu * MM2)
    assert viscosity_law.viscosity_m2_per_s(there) == pytest.approx(nu * MM2, rel=4e-3)


@pytest.mark.parametrize("row", read_rows("water_viscosity.csv"))
def test_water_is_as_thick_as_iapws_prints(row):
    """IAPWS SR6-08 and R12-08, Sharqawy et al. (2010): the printed digits."""
    salinity = float(row["salinity [g/kg]"]) / 1e3
    viscosity = water.sea_dynamic_viscosity_pa_s(float(row["temperature [K]"]), salinity)
    assert_printed(viscosity * 1e3, row["dynamic viscosity [mPa s]"])
    if salinity == 0.0:
        assert viscosity == water.dynamic_viscosity_pa_s(float(row["temperature [K]"]))


def test_the_one_figure_kept_for_20_degrees_is_the_formulas():
    """IAPWS R12-08: 1.0016 mPa s."""
    assert_printed(water.dynamic_viscosity_pa_s(T20) * 1e3, f"{water.VISCOSITY_20.value * 1e3:.4f}")


@pytest.mark.parametrize("row", read_rows("sea_water_density.csv"))
def test_sea_water_weighs_what_unesco_printed(row):
    """UNESCO 44 (1983), within 0.002 kg/m3: its fresh water and Tanaka's differ by as much."""
    temperature_k = celsius_to_kelvin(float(row["temperature [degC]"]) / SCALE_OF_1968)
    density = water.sea_density_kg_per_m3(temperature_k, float(row["salinity [g/kg]"]) / 1e3)
    assert abs(density - float(row["density [kg/m3]"])) <= 0.002


@pytest.mark.parametrize(("celsius", "taken"), [(-15, 0), (0, 0), (20, 20), (40, 40), (55, 40)])
def test_water_colder_or_warmer_than_its_table_is_taken_at_the_tables_end(celsius, taken):
    """Tanaka et al. (2001): 0 to 40 degC."""
    temperature_k = water.within_table_k(celsius_to_kelvin(celsius))
    assert temperature_k == pytest.approx(celsius_to_kelvin(taken))
    assert water.fresh_density_kg_per_m3(temperature_k) > 990.0


def test_urea_solution_lies_inside_iso_22241():
    """ISO 22241-1: 1087 to 1093 kg/m3 at 20 degC."""
    assert urea_solution.LEAST_DENSITY_20.value == 1087.0 and urea_solution.GREATEST_DENSITY_20.value == 1093.0
    assert 1087.0 <= urea_solution.density_kg_per_m3(T20) <= 1093.0


def test_urea_solution_sinks_under_fuel_and_under_water():
    """Densities of ISO 22241-1, EN 590, Tanaka et al. and EOS-80, at 0 to 40 degC: it lies lowest in a bowl."""
    for celsius in (0, 10, 20, 30, 40):
        temperature_k = celsius_to_kelvin(celsius)
        fuel, fresh = diesel_fuel.density_kg_per_m3(temperature_k), water.fresh_density_kg_per_m3(temperature_k)
        sea, urea = water.sea_density_kg_per_m3(temperature_k), urea_solution.density_kg_per_m3(temperature_k)
        assert fuel < fresh < sea < urea


def test_urea_solution_is_thicker_than_water():
    """1.4 mPa s at 25 degC, from memory; thinner when warm."""
    assert_printed(urea_solution.dynamic_viscosity_pa_s(celsius_to_kelvin(25)) * 1e3, "1.4")
    assert urea_solution.dynamic_viscosity_pa_s(celsius_to_kelvin(-10)) > urea_solution.dynamic_viscosity_pa_s(T20)


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (petrol.density_kg_per_m3, (250.0,), "petrol temperature"),
        (petrol.density_kg_per_m3, (T15, 840.0), "petrol density at 15 degC"),
        (petrol.blend_density_kg_per_m3, (1.1, T15), "share of petrol"),
        (petrol.blend_kinematic_viscosity_m2_per_s, (-0.1, T15), "share by volume"),
        (viscosity_law.double_logarithm_value, (0.1 * MM2,), "kinematic viscosity"),
        (viscosity_law.viscosity_m2_per_s, (math.nan,), "log log Z"),
        (water.dynamic_viscosity_pa_s, (250.0,), "water temperature"),
        (water.sea_density_kg_per_m3, (T20, 35.0), "salinity"),
        (urea_solution.density_kg_per_m3, (260.0,), "temperature of the urea solution"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
