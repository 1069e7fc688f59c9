"""A leak above a low tank lets the line drain back while the boat lies: more strokes the longer, up to the line.

Common practice, no source.
"""

from __future__ import annotations

import itertools

import pytest
from rigs import AIR, FUEL, bleed, gap, runs_for, sound_rig

HOUR = 3600.0
SUCTION_SIDE = ("pick_up", "suction_hose", "pump_hose")
DRY = 0.02


def line_m3(rig) -> float:
    """What the hoses before the lift pump hold, but for what stands below the tank's own level."""
    return sum(volume.volume_m3 for volume in rig.topology.volumes if volume.part in SUCTION_SIDE)


def air_in_line_m3(rig) -> float:
    """The air in the hoses before the lift pump."""
    return sum(rig.circuit.air_m3(n) for n, volume in enumerate(rig.topology.volumes) if volume.part in SUCTION_SIDE)


def strokes_to_refill(rig) -> int:
    """Lever strokes at an open screw until no hose before the pump holds air."""
    rig.set_open("fine_filter.screw", 1.0)
    for strokes in range(0, 1500, 5):
        if air_in_line_m3(rig) < DRY * line_m3(rig):
            return strokes
        rig.work_lever(5)
    raise AssertionError("the line never filled")


def after_standing(hours: float, gap_m2: float = 5e-10):
    """A boat with a very fine leak at the lift pump that has stood, and been made tight again."""
    rig = sound_rig()
    gap(rig, "pump_hose.joint", gap_m2)
    rig.play(hours * HOUR)
    gap(rig, "pump_hose.joint", 0.0)
    return rig


def test_strokes_to_refill_grow_with_the_standing_time_up_to_the_line():
    strokes = [strokes_to_refill(after_standing(hours)) for hours in (0.0, 0.5, 1.0, 2.0, 48.0, 96.0)]
    assert strokes[0] == 0
    assert all(later > earlier for earlier, later in itertools.pairwise(strokes[:5])), strokes
    assert strokes[5] == pytest.approx(strokes[4], abs=5), "a dry line does not get drier"


def test_no_more_drains_back_than_the_line_holds_and_it_goes_to_the_tank():
    rig = sound_rig()
    before = rig.circuit.fuel_m3[rig.topology.volume_number("tank")]
    returning = sum(
        rig.circuit.fuel_m3[number]
        for number, volume in enumerate(rig.topology.volumes)
        if volume.part == "return_line"
    )
    gap(rig, "pump_hose.joint", 1e-8)
    rig.play(24 * HOUR)
    back = rig.circuit.fuel_m3[rig.topology.volume_number("tank")] - before
    assert 0.3 * line_m3(rig) < back < line_m3(rig) + returning
    assert abs(rig.passed("pump_hose.joint")[FUEL]) < 1e-12, "nothing drips"


def test_a_tight_boat_keeps_its_line_full_for_a_week():
    rig = sound_rig()
    rig.play(7 * 24 * HOUR)
    assert air_in_line_m3(rig) < DRY * line_m3(rig)
    assert runs_for(rig, 60.0) == 60.0


def test_drained_back_it_does_not_go_on_running_until_it_is_bled():
    rig = after_standing(24.0, 1e-8)
    assert runs_for(rig, 600.0, 2000.0, in_gear=True) < 120.0
    assert rig.shares("injection_pump.gallery")[AIR] > 0.02
    bleed(rig)
    assert runs_for(rig, 300.0) == 300.0
