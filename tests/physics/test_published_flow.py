"""Hoses, columns, filter paper and sinking drops against published formulas and a reference library."""

from __future__ import annotations

import math

import pytest
from fluids.core import Reynolds
from fluids.drag import v_terminal
from fluids.friction import one_phase_dP
from printed_tables import A_THOUSANDTH, assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import diesel_fuel, formulas
from engine_sim.fluids.flow import ENTRY_AND_EXIT_LOSS
from engine_sim.units import LITRE_M3, LITRE_PER_HOUR_M3_PER_S, celsius_to_kelvin

MM = 1e-3
T20 = celsius_to_kelvin(20)
DENSITY_20 = diesel_fuel.density_kg_per_m3(T20)
VISCOSITY_20 = diesel_fuel.dynamic_viscosity_pa_s(T20)


@pytest.mark.parametrize("row", read_rows("hose_friction.csv"))
def test_a_hose_loses_what_poiseuille_says(row):
    """Hagen-Poiseuille law, within 0.1 %."""
    temperature_k = celsius_to_kelvin(float(row["temperature [degC]"]))
    flow, bore = float(row["flow [L/h]"]) * LITRE_PER_HOUR_M3_PER_S, float(row["bore [mm]"]) * MM
    kinematic, density = (
        diesel_fuel.kinematic_viscosity_m2_per_s(temperature_k),
        diesel_fuel.density_kg_per_m3(temperature_k),
    )
    drop = formulas.laminar_pressure_drop_pa(flow, bore, float(row["length [m]"]), kinematic, density)
    assert_printed(drop, row["pressure drop [Pa]"], relative=A_THOUSANDTH)
    if row["Reynolds number [1]"]:
        reynolds = formulas.reynolds_number(flow, bore, kinematic)
        assert_printed(reynolds, row["Reynolds number [1]"], relative=A_THOUSANDTH)


GRID = [
    (bore_mm, litres_per_hour, celsius)
    for bore_mm in (4, 6, 8, 10)
    for litres_per_hour in (0.5, 5, 30, 90)
    for celsius in (-10, 5, 20, 40)
    if litres_per_hour * LITRE_PER_HOUR_M3_PER_S * 4 / (math.pi * bore_mm * MM) < 2000 * 3e-6  # laminar at 40 degC
]


@pytest.mark.parametrize(("bore_mm", "litres_per_hour", "celsius"), GRID)
def test_a_hose_agrees_with_a_reference_library(bore_mm, litres_per_hour, celsius):
    """The `fluids` library: Darcy-Weisbach with its laminar friction factor; rounding only (1e-9)."""
    density = diesel_fuel.density_kg_per_m3(celsius_to_kelvin(celsius))
    kinematic = diesel_fuel.kinematic_viscosity_m2_per_s(celsius_to_kelvin(celsius))
    bore, flow = bore_mm * MM, litres_per_hour * LITRE_PER_HOUR_M3_PER_S
    theirs = one_phase_dP(flow * density, rho=density, mu=kinematic * density, D=bore, L=3.0)
    ours = formulas.laminar_pressure_drop_pa(flow, bore, 3.0, kinematic, density)
    assert ours == pytest.approx(theirs, rel=1e-9)
    speed = flow / formulas.bore_area_m2(bore)
    assert formulas.reynolds_number(flow, bore, kinematic) == pytest.approx(
        Reynolds(V=speed, D=bore, nu=kinematic), rel=1e-9
    )


def test_the_grid_reaches_close_to_the_end_of_laminar_flow():
    """Guards the check above: it holds more than a handful of points, one of them beyond Reynolds 1 000."""
    worst = max(
        formulas.reynolds_number(
            flow * LITRE_PER_HOUR_M3_PER_S, bore * MM, diesel_fuel.kinematic_viscosity_m2_per_s(celsius_to_kelvin(c))
        )
        for bore, flow, c in GRID
    )
    assert len(GRID) > 40 and 1000 < worst < 2040


def test_friction_changes_sign_with_the_flow():
    """Hagen-Poiseuille law is odd in the flow."""
    there = formulas.laminar_pressure_drop_pa(1e-5, 8 * MM, 3.0, 4.6e-6, 836.0)
    assert formulas.laminar_pressure_drop_pa(-1e-5, 8 * MM, 3.0, 4.6e-6, 836.0) == -there < 0


def test_a_turbulent_flow_is_refused():
    """Hagen-Poiseuille law holds surely up to Reynolds 2 000 (any text on fluid mechanics)."""
    with pytest.raises(OutOfRange, match=r"laminar flow was given as .*0 to 2000"):
        formulas.laminar_pressure_drop_pa(300 * LITRE_PER_HOUR_M3_PER_S, 8 * MM, 3.0, 4.6e-6, 836.0)


@pytest.mark.parametrize("row", read_rows("fuel_column.csv"))
def test_a_column_weighs_rho_g_h(row):
    """Hydrostatics, within 0.1 %."""
    pressure = formulas.head_pressure_pa(DENSITY_20, float(row["height [m]"]))
    assert_printed(pressure / 1e3, row["pressure [kPa]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize("row", read_rows("gravity_feed.csv"))
def test_a_hose_runs_by_gravity(row):
    """Hydrostatics against Hagen-Poiseuille, with and without 1.5 velocity heads, within 0.1 %."""
    bore, length = float(row["bore [mm]"]) * MM, float(row["length [m]"])
    linear = formulas.laminar_resistance_geometry(bore, length) * VISCOSITY_20
    square = formulas.local_loss_pa_s2_per_m6(DENSITY_20, formulas.bore_area_m2(bore), float(row["velocity heads [1]"]))
    flow = formulas.flow_m3_per_s(formulas.head_pressure_pa(DENSITY_20, float(row["height [m]"])), linear, square)
    assert_printed(flow / LITRE_PER_HOUR_M3_PER_S, row["flow [L/h]"], relative=A_THOUSANDTH)
    if row["Reynolds number [1]"]:
        reynolds = formulas.reynolds_number(flow, bore, VISCOSITY_20 / DENSITY_20)
        assert_printed(reynolds, row["Reynolds number [1]"], relative=A_THOUSANDTH)


def test_entry_and_exit_cost_one_and_a_half_velocity_heads():
    """Sharp entry 0.5 and exit 1.0: any text on fluid mechanics (from memory)."""
    assert ENTRY_AND_EXIT_LOSS.value == 0.5 + 1.0


@pytest.mark.parametrize("pressure_drop_pa", [-3e4, -1.0, -1e-9, 0.0, 1e-9, 40.0, 2e5])
def test_the_flow_loses_again_what_drove_it(pressure_drop_pa):
    """R q + K q|q| = dp, put back into its own equation; the slope at zero flow is 1/R."""
    linear, square = 5e7, 3e12
    flow = formulas.flow_m3_per_s(pressure_drop_pa, linear, square)
    assert linear * flow + square * flow * abs(flow) == pytest.approx(pressure_drop_pa, rel=1e-12)
    assert formulas.flow_m3_per_s(1e-6, linear, square) / 1e-6 == pytest.approx(1 / linear, rel=1e-6)


def test_an_orifice_passes_its_share_of_torricelli():
    """Torricelli's law: a hole under a column lets out Cd A sqrt(2 g h)."""
    area, height = formulas.bore_area_m2(2 * MM), 0.5
    loss = formulas.orifice_loss_pa_s2_per_m6(DENSITY_20, area, 0.62)
    flow = math.sqrt(formulas.head_pressure_pa(DENSITY_20, height) / loss)
    assert flow == pytest.approx(0.62 * area * math.sqrt(2 * 9.80665 * height), rel=1e-12)


@pytest.mark.parametrize("row", read_rows("filter_cake.csv"))
def test_a_filter_loads_as_ruth_says(row):
    """Ruth (1935), within 0.1 %: 24 mg/kg (EN 590), 0.10 m2, 1e12 m/kg, 30 L/h, clean 1.00 kPa."""
    flow, area = 30 * LITRE_PER_HOUR_M3_PER_S, 0.10
    medium = formulas.medium_resistance_per_m(1e3, flow, area, VISCOSITY_20)
    load = diesel_fuel.CONTAMINATION_LIMIT.value * DENSITY_20
    cake = formulas.cake_resistance_per_m(1e12, load, float(row["filtered [L]"]) * LITRE_M3, area)
    drop = formulas.cake_pressure_drop_pa(flow, area, VISCOSITY_20, medium, cake)
    assert_printed(drop / 1e3, row["pressure drop [kPa]"], relative=A_THOUSANDTH)
    assert_printed(medium / 1e9, "3.119", relative=A_THOUSANDTH)
    assert_printed(load, "0.020075", relative=A_THOUSANDTH)


@pytest.mark.parametrize("row", read_rows("settling_drops.csv"))
def test_drops_sink_as_stokes_says(row):
    """Stokes' law, within 0.1 % or the last printed digit."""
    speed = formulas.settling_speed_m_per_s(float(row["diameter [um]"]) * 1e-6, 998.2, DENSITY_20, VISCOSITY_20)
    assert_printed(speed * 1e3, row["speed [mm/s]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize("diameter_um", [10, 30, 60])
def test_drops_agree_with_a_reference_library(diameter_um):
    """The `fluids` library's terminal velocity; 1 %, for its drag law holds some inertia that Stokes' leaves out."""
    theirs = v_terminal(D=diameter_um * 1e-6, rhop=998.2, rho=DENSITY_20, mu=VISCOSITY_20)
    ours = formulas.settling_speed_m_per_s(diameter_um * 1e-6, 998.2, DENSITY_20, VISCOSITY_20)
    assert ours == pytest.approx(theirs, rel=0.01)


def test_fuel_rises_in_water():
    """A lighter drop rises: the speed is negative."""
    assert formulas.settling_speed_m_per_s(1e-4, 836.0, 998.2, 1e-3) < 0


def test_a_drop_too_big_for_stokes_is_refused():
    """Stokes' law fails beyond a Reynolds number of 1 (any text on fluid mechanics)."""
    with pytest.raises(OutOfRange, match="sinking drop"):
        formulas.settling_speed_m_per_s(9e-4, 998.2, 836.0, 1e-3)


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (formulas.laminar_resistance_geometry, (0.0, 3.0), "bore"),
        (formulas.laminar_resistance_geometry, (0.008, -1.0), "length"),
        (formulas.head_pressure_pa, (-1.0, 1.0), "density"),
        (formulas.head_pressure_pa, (836.0, math.nan), "height"),
        (formulas.flow_m3_per_s, (1.0, 0.0, 1.0), "linear resistance"),
        (formulas.flow_m3_per_s, (1.0, 1.0, -1.0), "square resistance"),
        (formulas.orifice_loss_pa_s2_per_m6, (836.0, 1e-6, 1.1), "discharge coefficient"),
        (formulas.local_loss_pa_s2_per_m6, (836.0, 0.0, 1.0), "area"),
        (formulas.cake_resistance_per_m, (1e12, -0.1, 1.0, 0.1), "dirt load"),
        (formulas.cake_pressure_drop_pa, (1e-5, 0.0, 4e-3, 1e9, 0.0), "filter area"),
        (formulas.medium_resistance_per_m, (1e3, 0.0, 0.1, 4e-3), "flow"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
