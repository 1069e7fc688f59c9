"""Every boat of the course, sound: it starts at once, runs an hour at cruise, stands a night and starts again."""

from __future__ import annotations

import pytest
from rigs import run_on_can, sound_rig

from engine_sim.circuit import layout_names, load_layout
from engine_sim.circuit.rig import Rig

NIGHT_S = 10 * 3600.0
HOUR_S = 3600.0
CRUISE_RPM = 2000.0
FIRES_WITHIN_S = 4.0
"""A warm engine in order fires within a few turns: common practice, no source."""
BEST_G_PER_KWH, PART_LOAD_G_PER_KWH = 248.0, 400.0
"""EPA NR-009d, below 100 hp, 0.408 lb/(hp h) (cited from memory); small engines at part load up to 400, from memory."""
DENSITY_15_KG_PER_M3 = 840.0

BOATS = layout_names()


def test_there_are_six_boats_of_different_kinds():
    """High and low tank, mechanical and electric pump, one tank and two, in-line and rotary injection pump."""
    layouts = [load_layout(name) for name in BOATS]
    assert len(layouts) >= 6
    assert len({layout.lesson for layout in layouts}) == len(layouts)
    kinds = {kind for layout in layouts for kind in layout.kinds.values()}
    assert {"lift_pump", "electric_pump", "changeover_valve", "rotary_injection_pump", "injection_pump"} <= kinds
    assert any(len(layout.parts_of("tank")) == 2 for layout in layouts)


@pytest.mark.parametrize("name", BOATS)
def test_a_sound_boat_starts_runs_an_hour_stands_a_night_and_starts_again(name):
    """And what the tanks have lost is what the injectors have burnt."""
    rig = Rig(load_layout(name))
    took_s, fired = rig.crank(10.0)
    assert fired and took_s <= FIRES_WITHIN_S
    rig.run(60.0, CRUISE_RPM, in_gear=True)
    before_m3 = fuel_on_board(rig)
    assert rig.run(HOUR_S, CRUISE_RPM, in_gear=True) == pytest.approx(HOUR_S)
    assert rig.slowest_rpm() == pytest.approx(CRUISE_RPM, rel=0.01), "it holds its speed"
    burnt_m3 = before_m3 - fuel_on_board(rig)
    assert_consumption(rig, burnt_m3)
    rig.stop_engine()
    rig.play(NIGHT_S)
    took_s, fired = rig.crank(10.0)
    assert fired and took_s <= FIRES_WITHIN_S, "nothing has run back overnight"
    assert rig.run(600.0, CRUISE_RPM, in_gear=True) == pytest.approx(600.0)
    assert rig.spilled_m3 == 0.0 and not rig.wet


def fuel_on_board(rig: Rig) -> float:
    """Return all the fuel in the circuit [m3]."""
    return sum(rig.circuit.fuel_m3)


def rated_rpm(rig: Rig) -> float:
    """Return the engine's rated speed [rpm]."""
    return rig.layout.figures["engine"]["rated_rpm"]


def power_w(rig: Rig, speed_rpm: float) -> float:
    """Return the propeller's power at a speed [W], by the cube law from the rated power."""
    return rig.layout.figures["engine"]["rated_power_w"] * (speed_rpm / rated_rpm(rig)) ** 3


def assert_consumption(rig: Rig, burnt_m3_an_hour: float) -> None:
    """Hold that an hour at cruise burns what the power asks, by specific consumption in g/kWh.

    At part load it lies above the best, below what small engines are known for.
    """
    power_kw = power_w(rig, CRUISE_RPM) / 1e3
    g_per_kwh = burnt_m3_an_hour * DENSITY_15_KG_PER_M3 * 1e3 / power_kw
    assert BEST_G_PER_KWH <= g_per_kwh <= PART_LOAD_G_PER_KWH


@pytest.mark.parametrize("name", BOATS)
def test_full_power_burns_what_260_g_per_kwh_say(name):
    """260 g/kWh (after EPA NR-009d, from memory): 5, 10, 15, 20 kW burn 1.55, 3.10, 4.64, 6.19 L/h at 840 kg/m3.

    Within 2 %: the fuel is at 20 degC here, not at 15, and the speed is held to 1 %.
    """
    rig = Rig(load_layout(name))
    assert rig.crank(10.0)[1]
    full_rpm = rated_rpm(rig)
    rig.run(60.0, full_rpm, in_gear=True)
    before_m3 = fuel_on_board(rig)
    assert rig.run(600.0, full_rpm, in_gear=True) == pytest.approx(600.0)
    assert rig.slowest_rpm() == pytest.approx(full_rpm, rel=0.01)
    l_per_h = (before_m3 - fuel_on_board(rig)) * 1e3 * 6.0
    printed = 260.0 * power_w(rig, full_rpm) / 1e3 / DENSITY_15_KG_PER_M3
    assert l_per_h == pytest.approx(printed, rel=0.02)


@pytest.mark.parametrize("name", BOATS)
def test_a_boat_that_stands_has_no_flow(name):
    """The heads of every closed way round add up to nothing: ends and ports meet."""
    rig = Rig(load_layout(name))
    rig.play(NIGHT_S)
    assert max(abs(rate) for rate in rig.circuit.flow_m3_per_s) * 3.6e6 < 1e-3, "litres an hour"


@pytest.mark.parametrize("name", BOATS)
def test_every_boat_gets_home_on_her_can(name):
    """The can's hose at the lift pump, its cap cracked, the return led back to it: an hour at cruise."""
    rig = sound_rig(name)
    run_on_can(rig, "can")
    rig.crank(10.0)
    before_m3 = rig.circuit.fuel_m3[rig.topology.volume_number("can")]
    assert rig.run(HOUR_S, CRUISE_RPM, in_gear=True) == pytest.approx(HOUR_S)
    used_m3 = before_m3 - rig.circuit.fuel_m3[rig.topology.volume_number("can")]
    assert 0.0 < used_m3 < 0.5 * before_m3, "the return comes back to it"
