"""What each boat of the course teaches follows from where its parts lie: only openings and contents are set here."""

from __future__ import annotations

import pytest
from rigs import AIR, FUEL, came_out, gap

from engine_sim.circuit import advance, load_layout
from engine_sim.circuit.rig import Rig
from engine_sim.circuit.state import CircuitState

SLACK_M2 = 2e-8
"""A joint that a spanner would take half a turn further."""
JOINT = "pump_hose.joint"


def ran(name: str) -> Rig:
    """Return a boat that has run for two minutes and stands."""
    rig = Rig(load_layout(name))
    assert rig.crank(10.0)[1]
    rig.run(120.0, 2000.0, in_gear=True)
    rig.stop_engine()
    return rig


def tank_l(rig: Rig, tank: str) -> float:
    """Return the fuel in a tank [L]."""
    return rig.circuit.fuel_m3[rig.topology.volume_number(tank)] * 1e3


def test_drain_by_head_under_a_high_tank_and_by_nothing_over_a_low_one():
    """A drain opened with the shut-off open: a litre a minute from a high tank, air drawn in over a low one."""
    high, low = ran("high_tank"), ran("tank_below")
    out = {}
    for rig in (high, low):
        before = rig.passed("separator.drain")
        rig.set_open("separator.drain", 1.0)
        rig.play(60.0)
        out[rig.layout.id] = came_out(rig, "separator.drain", before)
    assert out["high_tank"][FUEL] > 0.5e-3 and out["high_tank"][AIR] == 0.0
    assert out["tank_below"][FUEL] < 1e-6 and out["tank_below"][AIR] < -20e-6


def test_a_high_tank_presses_where_a_low_one_sucks():
    """With a dead lift pump: fuel comes by the tank's head, at the injection pump above or below the air's pressure."""
    over = {}
    for name in ("high_tank", "tank_below"):
        rig = ran(name)
        rig.set_number("lift_pump", "stroke_efficiency", 0.0)
        rig.crank(10.0)
        assert rig.run(600.0, 1000.0, in_gear=False) == pytest.approx(600.0)
        over[name] = rig.pressure_pa("injection_pump.gallery") - rig.circuit.fluids.ambient_pa
    assert over["high_tank"] > 500.0 and over["tank_below"] < -5e3


def with_key_on(state: CircuitState, _wish_s: float) -> float:
    """Let the electric pump run, the engine standing."""
    state.drives.electric_on = True
    return 2.0


def test_the_key_bleeds_the_self_bleeding_pump():
    """A minute with the key on clears the injection pump without touching a screw; the in-line pump needs its screw."""
    rig = ran("electric_pump")
    for volume in ("fine_filter.clean", "gallery_hose.0", "injection_pump.gallery"):
        rig.circuit.fill(volume, 0.0)
    advance(rig.circuit, 120.0, with_key_on)
    assert rig.shares("injection_pump.gallery")[AIR] < 0.02
    assert not any(rig.is_open(link) for link in ("fine_filter.screw", "injection_pump.screw"))
    hand = ran("tank_below")
    for volume in ("fine_filter.clean", "gallery_hose.0", "injection_pump.gallery"):
        hand.circuit.fill(volume, 0.0)
    hand.work_lever(120)
    assert hand.shares("injection_pump.gallery")[AIR] > 0.2


def test_the_return_carries_fuel_across_the_boat():
    """On the starboard tank the port one fills, and the starboard one falls at the total flow."""
    rig = ran("two_tanks")
    rig.set_open("changeover.a", 0.0)
    rig.set_open("changeover.b", 1.0)
    port_l, starboard_l = tank_l(rig, "tank"), tank_l(rig, "starboard_tank")
    rig.crank(10.0)
    assert rig.run(1800.0, 2000.0, in_gear=True) == pytest.approx(1800.0)
    gained, lost = tank_l(rig, "tank") - port_l, starboard_l - tank_l(rig, "starboard_tank")
    burnt = rig.engine.injected_m3 * 1e3
    assert gained > 3.0
    assert lost == pytest.approx(gained + burnt, abs=0.05)


def test_an_empty_tank_is_cured_by_the_changeover():
    """The port tank runs dry; the starboard one, its hose full, feeds the lever's strokes at once."""
    rig = ran("two_tanks")
    rig.circuit.fill("tank", 0.02)
    rig.crank(10.0)
    assert rig.run(3600.0, 2000.0, in_gear=True) < 3600.0
    rig.set_open("changeover.a", 0.0)
    rig.set_open("changeover.b", 1.0)
    before = rig.circuit.passed_fuel_m3[rig.topology.link_number("changeover.b")]
    rig.work_lever(60)
    assert rig.circuit.passed_fuel_m3[rig.topology.link_number("changeover.b")] - before > 20e-6


@pytest.mark.parametrize(("filling", "weeps"), [(0.9, True), (0.15, False)])
def test_the_level_decides_whether_a_slack_joint_weeps_or_draws(filling, weeps):
    """The single cylinder's tank stands beside the pump: full, it lies above the joint; low, below."""
    rig = ran("single_cylinder")
    rig.circuit.fill("tank", filling)
    before = rig.passed(JOINT)
    gap(rig, JOINT, SLACK_M2)
    rig.play(1800.0)
    fuel, _, air = came_out(rig, JOINT, before)
    assert (fuel > 5e-6 and air == 0.0) if weeps else (fuel < 1e-6 and air < -5e-6)


def test_a_high_tank_weeps_at_rest_and_runs_clean():
    """The same joint under a high tank: no air goes in even while the pump draws."""
    rig = ran("high_tank")
    gap(rig, JOINT, SLACK_M2)
    before = rig.passed(JOINT)
    rig.play(1800.0)
    assert came_out(rig, JOINT, before)[FUEL] > 5e-6
    rig.crank(10.0)
    assert rig.run(1800.0, 2000.0, in_gear=True) == pytest.approx(1800.0)
    assert came_out(rig, JOINT, before)[AIR] == 0.0


def test_the_ball_keeps_a_drained_hose_from_running_back():
    """Air let in at the pump's joint over night: without the ball the bowl's fuel runs back to the tank."""
    run_back = {}
    for name in ("metal_bowl", "tank_below"):
        rig = ran(name)
        before = tank_l(rig, "tank")
        gap(rig, JOINT, 1e-6)
        rig.play(8 * 3600.0)
        run_back[name] = tank_l(rig, "tank") - before
    assert run_back["metal_bowl"] < 0.005 < 0.05 < run_back["tank_below"]


def test_a_rotary_pump_stands_no_blocked_return():
    """Its case fills to the pressure at which the plungers get nothing: a hard stop, within a minute."""
    rig = ran("metal_bowl")
    rig.restrict("return_line>tank", 1e16)
    rig.crank(10.0)
    assert rig.run(600.0, 2000.0, in_gear=True) < 60.0
    assert rig.pressure_pa("injection_pump.case") - 101325.0 > 80e3
    inline = ran("tank_below")
    inline.restrict("return_line>tank", 1e16)
    inline.crank(10.0)
    assert inline.run(600.0, 2000.0, in_gear=True) == pytest.approx(600.0)
