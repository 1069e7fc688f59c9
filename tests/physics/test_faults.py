"""Every fault of the register: its unit, range and source, places, words, lead-ups; it only sets figures."""

from __future__ import annotations

import pytest
from rigs import LAYOUTS, runs_for, sound_rig

from engine_sim.circuit import load_layout
from engine_sim.errors import OutOfRange, UnknownName
from engine_sim.faults import fault, faults
from engine_sim.faults.places import places_of
from engine_sim.wording import DIAGNOSES

ALL = tuple(faults().values())
NO_UNIT = {"1"}
ROWS_OF_THE_TRADE = {
    "empty tank": "empty_tank",
    "gauge wrong": "gauge_wrong",
    "shut valve": "shut_valve",
    "blocked vent": "blocked_vent",
    "blocked pick-up": "blocked_pick_up",
    "clogged pre-filter or fine filter": "loaded_element",
    "jammed anti-drain ball": "stuck_ball",
    "water in bowl": "water_in_bowl",
    "water in the tank": "water_in_tank",
    "air leak": "slack_joint",
    "bleed screw loose": "screw_loose",
    "lift pump diaphragm": "torn_diaphragm",
    "lift pump valve": "leaking_valve",
    "cam on lobe": "cam_on_lobe",
    "air in fine filter or injection pump": "air_in_filter",
    "air in high-pressure lines": "air_in_line",
    "stop control left pulled": "stop_control_pulled",
    "stop solenoid dead": "dead_solenoid",
    "return blocked": "blocked_return",
    "leaking injector": "leaking_injector",
    "waxed fuel": "waxed_fuel",
    "microbial growth": "slime",
    "petrol": "petrol_in_fuel",
    "urea solution": "urea_in_fuel",
    "battery isolator off": "isolator_off",
    "flat battery": "flat_battery",
    "bad connection": "bad_connection",
    "starter solenoid": "starter_solenoid",
    "no preheat": "no_preheat",
    "air intake blocked": "blocked_intake",
    "exhaust blocked": "blocked_exhaust",
    "fouled propeller": "fouled_propeller",
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_sound_boat_starts_at_once_and_runs_for_hours(layout):
    rig = sound_rig(layout)
    turned, fired = rig.crank(10.0)
    assert fired and turned < 5.0
    assert rig.run(3 * 3600.0, 2000.0, in_gear=True) == 3 * 3600.0


@pytest.mark.parametrize("row", ROWS_OF_THE_TRADE)
def test_every_row_of_the_trade_can_be_set_somewhere(row):
    item = fault(ROWS_OF_THE_TRADE[row])
    assert any(item.places(load_layout(name)) for name in LAYOUTS)


@pytest.mark.parametrize("item", ALL, ids=lambda item: item.id)
def test_each_fault_is_complete(item):
    figure = item.severity
    assert figure.usual.unit and figure.usual.source and figure.meaning
    assert figure.low <= figure.usual.value <= figure.high
    assert item.kinds and set(item.kinds) <= set(DIAGNOSES[item.diagnosis]), "it can be said of each kind of its places"
    assert all(lead_up.story for lead_up in item.lead_ups)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_places_are_parts_of_the_boat_and_every_usual_severity_is_allowed(layout):
    boat = load_layout(layout)
    known = [part for part, _ in places_of(boat)]
    for item in ALL:
        for part in item.places(boat):
            assert part in known
            item.check_severity(item.usual_severity(boat, part))


@pytest.mark.parametrize("layout", LAYOUTS)
def test_putting_a_fault_in_takes_no_time_and_starts_nothing(layout):
    for item in ALL:
        for part in item.places(load_layout(layout))[:1]:
            rig = sound_rig(layout)
            clock_s = rig.clock_s
            item.put_into(rig, part)
            assert rig.clock_s == clock_s and not rig.engine.running, item.id


def test_refused_with_what_is_allowed():
    rig = sound_rig()
    with pytest.raises(UnknownName, match="slack_joint"):
        fault("slack_jiont")
    with pytest.raises(UnknownName, match="separator_joint"):
        fault("slack_joint").put_into(rig, "tank")
    with pytest.raises(OutOfRange, match="m2"):
        fault("slack_joint").put_into(rig, "pump_joint", 1.0)
    with pytest.raises(OutOfRange, match="allowed is"):
        fault("slack_joint").put_into(rig, "pump_joint", float("nan"))


@pytest.mark.parametrize(
    ("name", "part", "severities"),
    [
        ("slack_joint", "separator_joint", (1e-8, 4e-8, 1.6e-7)),
        ("blocked_pick_up", "tank", (1e6, 4e6, 2e7)),
        ("loaded_element", "separator", (1000.0, 3000.0, 10000.0)),
        ("air_in_filter", "fine_filter", (0.3, 0.6, 1.0)),
    ],
)
def test_the_worse_it_is_the_less_it_does(name, part, severities):
    """Distance motored within five minutes, as the sum of turns, falls with the severity."""
    turns = []
    for severity in severities:
        rig = sound_rig()
        fault(name).put_into(rig, part, severity)
        turns.append(distance(rig))
    assert turns == sorted(turns, reverse=True), turns
    assert turns[-1] < turns[0] or turns[0] == 0.0


def distance(rig) -> float:
    """Turns of the engine in five minutes' motoring, by ten-second looks."""
    if not rig.crank(10.0)[1]:
        return 0.0
    turns = 0.0
    for _ in range(30):
        turns += rig.run(10.0, 2000.0, in_gear=True) * rig.engine.speed_rpm / 60.0
    return turns


def test_faults_of_the_look_alikes_leave_the_fuel_side_alone():
    sound, rig = sound_rig(), sound_rig()
    for name, part in (("blocked_intake", "engine"), ("no_preheat", "preheat"), ("bad_connection", "starter")):
        fault(name).put_into(rig, part)
    assert rig.circuit.opening == sound.circuit.opening
    assert rig.circuit.fuel_m3 == sound.circuit.fuel_m3
    assert runs_for(sound, 60.0) == 60.0
