"""Every fault that can be set can be said of its part, and hands can put its figures back as the layout has them."""

from __future__ import annotations

import pytest
from hands_kit import LAYOUTS, boat, do

from engine_sim.attempt import Attempt, Diagnosis
from engine_sim.circuit import load_layout
from engine_sim.faults import faults
from engine_sim.scenarios import SetFault

CURES: dict[str, tuple[str, ...]] = {
    "shut_valve": ("{part}.open",),
    "wrong_setting": ("{part}.to_a",),
    "blocked_vent": ("{part}.clear_breather",),
    "blocked_pick_up": ("{part}.blow_back",),
    "slack_joint": ("{part}.nip_up",),
    "collapsed_hose": ("{part}.new_hose",),
    "blocked_return": ("{part}.blow_through",),
    "stuck_ball": (
        "shut_off.shut",
        "{part}.clean_outside",
        "{part}.take_bowl_off",
        "{part}.check_ring",
        "{part}.wipe_bowl",
        "{part}.check_ball",
        "{part}.fit_wetted",
        "shut_off.open",
    ),
    "torn_diaphragm": ("{part}.change_pump",),
    "leaking_valve": ("{part}.change_pump",),
}
SCREWS = {"fine_filter": "close_screw", "injection_pump": "close_screw", "separator": "close_vent"}
CASES = [
    (layout, item.id, part)
    for layout in LAYOUTS
    for item in faults().values()
    for part in item.places(load_layout(layout))
]


def figures(attempt: Attempt) -> list[tuple[str, float, float, dict[str, float]]]:
    """Return what every link of the circuit stands at: opening, extra resistance, its own figures."""
    circuit = attempt.place.rig.circuit
    links = attempt.place.rig.topology.links
    return [
        (link.id, circuit.opening[number], circuit.extra_laminar_1_per_m3[number], circuit.numbers[number])
        for number, link in enumerate(links)
    ]


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_fault_can_be_said_of_every_part_that_can_have_it(layout):
    choices = {name: parts for name, _, parts in boat(layout).fault_choices()}
    unsaid = [
        (fault, part) for at, fault, part in CASES if at == layout and part not in choices[faults()[fault].diagnosis]
    ]
    assert unsaid == []


@pytest.mark.parametrize(
    ("layout", "fault", "part"), [case for case in CASES if case[1] in CURES], ids=lambda value: str(value)
)
def test_hands_put_right_what_a_fault_has_changed(layout, fault, part):
    sound, wrong = boat(layout), boat(layout)
    faults()[fault].put_into(wrong.place.rig, part)
    assert figures(wrong) != figures(sound)
    do(wrong, *(cure.format(part=part) for cure in CURES[fault]))
    assert figures(wrong) == figures(sound)


@pytest.mark.parametrize("part", SCREWS)
def test_a_loose_screw_is_tightened(part):
    attempt = boat("tank_below", SetFault("screw_loose", part))
    do(attempt, f"{part}.{SCREWS[part]}")
    assert figures(attempt) == figures(boat())


def test_diagnosis_is_taken_in_every_layout_by_the_layouts_own_parts():
    attempt = boat("two_tanks")
    step = attempt.diagnose(Diagnosis("starboard_tank", "empty_tank"))
    assert (step.kind, attempt.diagnosis.part) == ("diagnosis", "starboard_tank")
