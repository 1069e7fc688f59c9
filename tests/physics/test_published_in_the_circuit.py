"""The printed worked values again, this time out of the whole circuit as it is solved, not out of the bare formulas.

Tolerance 0.1 % as for the formulas, except where a line says why it is wider.
"""

from __future__ import annotations

import math

import pytest
from rigs import AIR, FUEL, sound_rig

from engine_sim.circuit import CircuitState, Fluids, Topology, advance, load_layout, read_layout
from engine_sim.circuit.high_pressure import InjectionLine
from engine_sim.circuit.rig import Rig
from engine_sim.units import LITRE_PER_HOUR_M3_PER_S, STANDARD_ATMOSPHERE_PA

KPA = 1e3

TWO_TANKS = """
id = "two_tanks"
title = "Two open tanks, one above the other, joined by a hose"
[[part]]
id = "upper"
kind = "tank"
volume_m3 = 1.0
vent_bore_m = 0.03
floor_m = {height}
[[part]]
id = "lower"
kind = "tank"
volume_m3 = 1.0
vent_bore_m = 0.03
[[part]]
id = "hose"
kind = "hose"
bore_m = {bore}
length_m = 3.0
start_height_m = {start}
end_height_m = 0.024
[[part]]
id = "other"
kind = "hose"
length_m = 3.0
start_height_m = {top}
end_height_m = 0.396
[[join]]
from = "upper.pick_up"
to = "hose.start"
[[join]]
from = "hose.end"
to = "lower.pick_up"
[[join]]
from = "upper.return"
to = "other.start"
[[join]]
from = "other.end"
to = "lower.return"
"""


@pytest.mark.parametrize(("bore_mm", "printed_l_per_h"), [(8.0, 77.2), (6.0, 24.4)])
def test_head_of_0_30_m_through_a_hose_of_3_m(bore_mm, printed_l_per_h):
    """Hagen-Poiseuille with dp = rho g h (any text on fluid mechanics), 20 degC; printed to 0.1 L/h."""
    text = TWO_TANKS.format(height=0.30, bore=bore_mm / 1e3, start=0.324, top=0.696)
    topology = Topology(read_layout(text).blueprint)
    state = CircuitState.full_of_fuel(topology, Fluids.at(293.15))
    for volume in ("upper", "lower"):
        state.fill(volume, 0.5)
    for number in range(4):
        state.fill(f"other.{number}", 0.0)
    advance(state, 1.0)
    flow = state.flow_m3_per_s[topology.link_number("hose.0>hose.1")] / LITRE_PER_HOUR_M3_PER_S
    assert flow == pytest.approx(printed_l_per_h, abs=0.06)


def test_lift_of_0_8_m_costs_6_56_kpa():
    """dp = rho g h at 20 degC: the column hangs in the standing hose."""
    rig = sound_rig(tank={"floor_m": -0.0004})
    rig.play(600.0)
    _, surface = rig.circuit.levels_m(rig.topology.volume_number("tank"))
    number = rig.topology.volume_number("pump_hose.0")
    height = surface + 0.8
    assert height == pytest.approx(1.0, abs=0.02)
    suction = STANDARD_ATMOSPHERE_PA - rig.circuit.pressure_at(number, height)
    assert suction == pytest.approx(6.56 * KPA, rel=1e-3)


@pytest.mark.parametrize(("over_kpa", "printed_ml"), [(25.0, 40.10), (50.0, 33.48), (-10.0, 55.47), (-20.3, 62.53)])
def test_trapped_air_follows_boyle(over_kpa, printed_ml):
    """Isothermal law (any text on physics): 50 mL at 101.325 kPa, in the fine filter with all ways shut."""
    rig = Rig()
    number = rig.topology.volume_number("fine_filter.dirty")
    space = rig.topology.volumes[number].volume_m3
    rig.circuit.fill("fine_filter.dirty", 1.0 - 50e-6 / space)
    rig.circuit.pressure_pa[number] = STANDARD_ATMOSPHERE_PA + over_kpa * KPA
    assert rig.circuit.air_m3(number) * 1e6 == pytest.approx(printed_ml, rel=1e-3)


def test_trapped_air_under_the_lift_pump_follows_boyle():
    """The same law out of a played run: what the air is squeezed to is what the pressure says."""
    rig = Rig()
    number = rig.topology.volume_number("fine_filter.dirty")
    rig.circuit.fill("fine_filter.dirty", 0.8)
    start = rig.circuit.air_m3(number) * rig.circuit.pressure_pa[number]
    kg = rig.circuit.air_kg[number]
    rig.work_lever(60)
    over = rig.circuit.pressure_pa[number] - STANDARD_ATMOSPHERE_PA
    assert over > 3.0 * KPA
    left = rig.circuit.air_kg[number] / kg
    squeezed = rig.topology.volumes[number].volume_m3 - rig.circuit.fuel_m3[number]
    assert squeezed * rig.circuit.pressure_pa[number] == pytest.approx(start * left, rel=1e-3)


def test_286_strokes_fill_a_dry_housing_of_0_40_litres():
    """Continuity, 2.0 mL a stroke at 70 %. Within 3 %: what pressure the filling makes shortens the stroke.

    The filter stands no higher than the lift pump here, so that there is next to no head to pump against.
    """
    lowered = {"bottom_m": 0.70, "volume_m3": 0.4e-3, "clean_volume_m3": 5e-6}
    layout = load_layout(
        "tank_below",
        {
            "fine_filter": lowered,
            "feed_hose": {"end_height_m": 0.8325},
            "gallery_hose": {"start_height_m": 0.8375},
        },
    )
    rig = Rig(layout)
    for space in ("fine_filter.dirty", "fine_filter.clean"):
        rig.circuit.fill(space, 0.0)
    rig.set_open("fine_filter.screw", 1.0)
    rig.work_lever(286)
    number = rig.topology.volume_number("fine_filter.dirty")
    filled = rig.circuit.fuel_m3[number] + rig.passed("fine_filter.screw")[FUEL]
    assert filled == pytest.approx(0.4e-3, rel=0.03)
    assert rig.shares("fine_filter.dirty")[AIR] < 0.03


@pytest.mark.parametrize(
    ("air_mm3", "printed_mpa", "opens"),
    [(0, 56.1, True), (20, 37.99, True), (40, 19.48, True), (50, 10.23, False), (60, 2.48, False), (80, 0.40, False)],
)
def test_air_in_a_high_pressure_line_decides_whether_the_injector_opens(air_mm3, printed_mpa, opens):
    """Compression law after Merritt, Hydraulic Control Systems (from memory); opening at 13.5 MPa (OD1616)."""
    line = InjectionLine(air_m3=air_mm3 * 1e-9)
    peak = line.judge(0.0, STANDARD_ATMOSPHERE_PA)
    assert peak / 1e6 == pytest.approx(printed_mpa, abs=0.06)
    assert line.injects is opens


@pytest.mark.parametrize(("threshold_mm3", "opens"), [(46.40, True), (46.48, False)])
def test_threshold_of_air_is_46_44_mm3(threshold_mm3, opens):
    """The same law solved for the air that just keeps 13.5 MPa away."""
    line = InjectionLine(air_m3=threshold_mm3 * 1e-9)
    line.judge(0.0, STANDARD_ATMOSPHERE_PA)
    assert line.injects is opens


@pytest.mark.parametrize(("drawn_l", "printed_kpa"), [(1.0, 4.825), (2.0, 9.211), (5.0, 20.265)])
def test_sealed_tank_with_20_litres_of_air_sucks_back(drawn_l, printed_kpa):
    """p = p0 V0 / (V0 + dV), isothermal (any text on physics): fuel drawn off through the bleed screw, vent shut."""
    rig = Rig()
    rig.circuit.fill("tank", 40.0 / 60.0)
    rig.set_open("tank.vent", 0.0)
    rig.set_open("injection_pump.overflow", 0.0)
    rig.set_open("fine_filter.screw", 1.0)
    number = rig.topology.volume_number("tank")
    before = rig.circuit.fuel_m3[number]
    while before - rig.circuit.fuel_m3[number] < drawn_l * 1e-3:
        rig.work_lever(5)
    drawn = (before - rig.circuit.fuel_m3[number]) * 1e3
    suction = (STANDARD_ATMOSPHERE_PA - rig.circuit.pressure_pa[number]) / KPA
    assert suction / drawn * drawn_l == pytest.approx(printed_kpa, rel=0.008), "within the last five strokes, 7 mL"


@pytest.mark.parametrize(
    ("filtered_l", "printed_kpa"), [(0, 1.00), (50, 4.218), (100, 7.437), (200, 13.874), (300, 20.31)]
)
def test_element_loads_by_cake_filtration(filtered_l, printed_kpa):
    """Ruth 1935 (from memory): 30 L/h through 0.10 m2, 24 mg/kg of dirt; the drop as the engine runs."""
    rig = sound_rig()
    rig.circuit.set_fuel_dirt(0.0)
    link = rig.topology.link_number("separator.element")
    rig.circuit.cake_kg[link] = filtered_l * 1e-3 * 0.020075
    rig.crank(10.0)
    rig.run(60.0, 2000.0, in_gear=True)
    at_bowl, at_head = rig.circuit.link_pressures_pa(link)
    flow = rig.circuit.flow_m3_per_s[link] / LITRE_PER_HOUR_M3_PER_S
    assert flow > 5.0
    assert (at_bowl - at_head) / KPA * 30.0 / flow == pytest.approx(printed_kpa, rel=1e-3)


def test_water_shaken_into_the_fuel_settles_as_stokes_and_rybczynski_say():
    """300 um sinks 2.061 mm/s (Stokes), a clean drop 1.36 times as fast (Hadamard and Rybczynski), 20 degC.

    Out of fuel that is stirred evenly a share 1/e is left once a drop could have sunk through its depth. 0.5 %, for the
    last printed digit of 1.36.
    """
    rig = sound_rig()
    number = rig.topology.volume_number("tank")
    rig.circuit.fuel_m3[number] -= 1e-3
    rig.circuit.water_m3[number] += 1e-3
    rig.circuit.haze_m3[number] = 1e-3
    _, surface = rig.circuit.levels_m(number)
    depth = (surface - rig.topology.volumes[number].bottom_m) * rig.circuit.fuel_m3[number]
    depth /= rig.circuit.fuel_m3[number] + rig.circuit.water_m3[number]
    rig.play(depth / (1.36 * 2.061e-3))
    assert rig.circuit.haze_m3[number] / 1e-3 == pytest.approx(math.exp(-1.0), rel=0.005)


def test_fuel_in_the_circuit_holds_the_air_that_d2779_says():
    """ASTM D2779 (constants from memory): Ostwald coefficient 0.1164 at 288.15 K and 840 kg/m3, at any pressure."""
    fluids = Fluids.at(288.15)
    weighed = fluids.dissolved_kg_per_m3_pa * fluids.ambient_pa / fluids.air_density_kg_per_m3
    assert weighed == pytest.approx(0.1164, abs=0.00005)
