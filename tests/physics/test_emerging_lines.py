"""Air in a high-pressure line, and an engine that is told to stop.

The threshold is the compression law (p - p0)(V - Va)/K + Va (1 - p0/p) = dV, after H. E. Merritt, Hydraulic Control
Systems (cited from memory), with an opening pressure of 1960 psi (subcourse OD1616). Signs: common practice, no source.
"""

from __future__ import annotations

import pytest
from rigs import FUEL, bleed, found_rig, from_screw, runs_for, sound_rig

MM3 = 1e-9
THRESHOLD_MM3 = 46.44
"""For 1.5 mL of line, a stroke of 60 mm3, 1.40 GPa and 13.5 MPa."""


@pytest.mark.parametrize(
    ("air_mm3", "injects"), [(0.0, True), (40.0, True), (45.9, True), (47.0, False), (200.0, False)]
)
def test_air_beyond_the_threshold_keeps_that_injector_shut(air_mm3, injects):
    rig = sound_rig()
    rig.engine.lines[1].air_m3 = air_mm3 * MM3
    rig.engine.start_cranking()
    rig.play(0.05)
    assert [line.injects for line in rig.engine.lines] == [True, injects, True]
    assert 45.9 < THRESHOLD_MM3 < 47.0


def test_one_dry_cylinder_gives_an_uneven_beat_and_no_loss_of_the_others():
    rig = sound_rig()
    rig.engine.lines[0].air_m3 = 1e-6
    assert rig.crank(10.0)[1]
    rig.play(5.0)
    assert rig.engine.beat() == "uneven"
    assert [one.fires for one in rig.engine.cylinders] == [False, True, True]
    sound = sound_rig()
    sound.crank(10.0)
    sound.play(5.0)
    assert sound.engine.beat() == "even"


def all_lines_full_of_air(layout: str = "tank_below"):
    """A boat whose low-pressure side is clear, with air in every high-pressure line."""
    rig = sound_rig(layout)
    for line in rig.engine.lines:
        line.air_m3 = 1.2e-6
    return rig


def test_all_lines_full_of_air_it_does_not_start_and_does_not_smoke():
    rig = all_lines_full_of_air()
    assert rig.crank(10.0) == (pytest.approx(10.0), False)
    assert rig.engine.injected_m3 == 0.0
    assert rig.engine.smoke() == "none"


def test_bleeding_the_low_pressure_side_does_not_help():
    rig = all_lines_full_of_air()
    bleed(rig, 120)
    assert not rig.crank(10.0)[1]


def test_slackened_nuts_and_cranking_clear_it():
    rig = all_lines_full_of_air()
    for line in rig.engine.lines:
        line.nut_slack = True
    air = [rig.engine.lines[0].air_m3]
    for _ in range(6):
        rig.crank(10.0)
        rig.play(60.0)
        air.append(rig.engine.lines[0].air_m3)
    assert air == sorted(air, reverse=True) and air[-1] < THRESHOLD_MM3 * MM3
    assert sum(rig.engine.sprayed_m3) > 0.0
    for line in rig.engine.lines:
        line.nut_slack = False
    assert runs_for(rig, 300.0) == 300.0


def test_froth_in_the_gallery_fills_the_lines_with_air():
    rig = sound_rig()
    rig.circuit.fill("injection_pump.gallery", 0.3)
    rig.crank(5.0)
    assert any(line.air_m3 > 0.0 for line in rig.engine.lines)


@pytest.mark.parametrize("layout", ["electric_pump", "metal_bowl"])
def test_a_dead_stop_solenoid_does_not_click_and_everything_else_is_normal(layout):
    rig, sound = sound_rig(layout), sound_rig(layout)
    rig.engine.solenoid_ok = False
    assert sound.engine.turn_key_on() is True, "it clicks"
    assert rig.engine.turn_key_on() is False, "no click"
    assert not rig.crank(10.0)[1]
    assert rig.engine.injected_m3 == 0.0 and rig.engine.smoke() == "none"
    assert rig.engine.cranking_sound() == "turns"
    assert rig.engine.cranking_speed_rpm() == pytest.approx(sound.engine.cranking_speed_rpm(), rel=0.1)
    rig.engine.solenoid_held = True
    assert rig.crank(10.0)[1], "held by hand it runs"


def test_it_dies_at_once_when_the_solenoids_wire_falls_off():
    rig = sound_rig("electric_pump")
    assert rig.crank(10.0)[1]
    rig.engine.solenoid_wired = False
    assert rig.run(60.0, 850.0, in_gear=False) < 3.0


@pytest.mark.parametrize("layout", ["high_tank", "metal_bowl", "single_cylinder", "two_tanks"])
def test_a_pulled_stop_control_leaves_everything_else_normal_on_every_boat(layout):
    rig = found_rig(layout, ("stop_control_pulled", "stop_control"))
    assert not rig.crank(10.0)[1]
    assert rig.engine.injected_m3 == 0.0 and rig.engine.smoke() == "none"
    assert rig.engine.cranking_sound() == "turns"
    assert from_screw(rig, "fine_filter.screw", 20)[FUEL] > 10e-6
    rig.engine.stop_pulled = False
    assert runs_for(rig, 60.0) == 60.0
