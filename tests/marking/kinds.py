"""The proof's boats and kinds: over sixty scenarios on every layout, and the order in which kinds must come out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from engine_sim.attempt import Step
from engine_sim.learners import KINDS, played_and_marked
from engine_sim.learners.forging import copied, edited, mark_bytes
from engine_sim.marking import MarkSheet, default_scheme
from engine_sim.scenarios import Scenario, SetFault, compose_scenario

SCHEME = default_scheme()
BEST = ("tank to pump", "best policy")
NEVER = ("cranks flat", "lucky guess", "does nothing", "copies", "edits")
POOR = ("swaps parts", "bleeds only", *NEVER)
ALL_KINDS = (*BEST, "hurried", *POOR)

SINGLE: dict[str, str] = {
    "tank_below": "shut_valve@shut_off empty_tank@tank blocked_pick_up@tank collapsed_hose@pump_joint "
    "slack_joint@separator_joint screw_loose@separator air_in_filter@fine_filter water_in_bowl@separator "
    "water_in_tank@tank loaded_element@separator slime@tank torn_diaphragm@lift_pump "
    "stop_control_pulled@stop_control flat_battery@battery bad_connection@battery no_preheat@preheat "
    "leaking_injector@injector_3 blocked_intake@engine petrol_in_fuel@tank",
    "high_tank": "collapsed_hose@pump_joint loaded_element@separator loaded_element@fine_filter "
    "isolator_off@battery starter_solenoid@starter blocked_exhaust@exhaust screw_loose@fine_filter",
    "metal_bowl": "shut_valve@shut_off water_in_bowl@separator stuck_ball@separator dead_solenoid@stop_solenoid "
    "blocked_return@return_line air_in_filter@injection_pump failed_starter@starter leaking_valve@lift_pump",
    "electric_pump": "empty_tank@tank slack_joint@pump_joint stuck_ball@separator dead_solenoid@stop_solenoid "
    "loaded_element@separator bad_connection@starter shut_seacock@exhaust",
    "single_cylinder": "shut_valve@shut_off empty_tank@tank stop_control_pulled@stop_control "
    "fouled_propeller@engine urea_in_fuel@tank failed_injector@injector_1",
    "two_tanks": "wrong_setting@changeover empty_tank@tank shut_valve@shut_off failed_injector@injector_4 "
    "air_in_line@injector_2 blocked_vent@tank dirt_in_tank@tank",
}
"""Layout to faults with their places, one fault a scenario."""
PAIRS: dict[str, str] = {
    "tank_below": "shut_valve@shut_off+stop_control_pulled@stop_control isolator_off@battery+slack_joint@pump_joint "
    "no_preheat@preheat+loaded_element@separator",
    "high_tank": "flat_battery@battery+shut_valve@shut_off blocked_intake@engine+loaded_element@separator",
    "metal_bowl": "dead_solenoid@stop_solenoid+shut_valve@shut_off bad_connection@battery+water_in_bowl@separator",
    "electric_pump": "isolator_off@battery+shut_valve@shut_off stop_control_pulled@stop_control+empty_tank@tank",
    "single_cylinder": "stop_control_pulled@stop_control+empty_tank@tank",
    "two_tanks": "wrong_setting@changeover+stop_control_pulled@stop_control "
    "starter_solenoid@starter+shut_valve@shut_off",
}
"""Layout to pairs of faults."""
APART: dict[str, str] = {
    "tank_below": "gauge_wrong@tank gauge_shifted@tank cam_on_lobe@lift_pump waxed_fuel@tank low_compression@engine",
}
"""What nobody cures on board for good, or what needs no cure: kept out of graded pools, looked at on its own.

A gauge that lies wants a workshop, worn cylinders an engineer; wax comes back as long as the cold lasts; a cam on its
lobe moves on at the first turn of the starter.
"""


def scenarios(listed: dict[str, str]) -> tuple[tuple[str, Scenario], ...]:
    """Return what is listed as pairs of name and scenario; each has a ticket of its own, as in a class."""
    found = []
    for layout, texts in listed.items():
        for text in texts.split():
            faults = [SetFault(*one.split("@")) for one in text.split("+")]
            name = f"{layout} {text}"
            found.append((name, replace(compose_scenario(layout, faults), ticket=name)))
    return tuple(found)


GRADED: tuple[tuple[str, Scenario], ...] = (*scenarios(SINGLE), *scenarios(PAIRS))
NAMES = tuple(name for name, _ in GRADED)
BY_NAME = dict((*GRADED, *scenarios(APART)))


@cache
def done(kind: str, name: str) -> tuple[tuple[Step, ...], MarkSheet]:
    """Return the steps of a kind of learner on a boat and its marks; played once a session."""
    return played_and_marked(KINDS[kind], BY_NAME[name], SCHEME)


@cache
def sheet(kind: str, name: str) -> MarkSheet:
    """Return the marks of a kind of learner on a boat; the two forgers hand in what others have done."""
    scenario = BY_NAME[name]
    if kind == "copies":
        other = NAMES[NAMES.index(name) - 1]
        return mark_bytes(copied(BY_NAME[other], done("tank to pump", other)[0]), scenario, SCHEME)
    if kind == "edits":
        return mark_bytes(edited(scenario, done("swaps parts", name)[0]), scenario, SCHEME)
    return done(kind, name)[1]


def total(kind: str, name: str) -> float:
    """Return the five marks together [points]."""
    return sum(mark.score for mark in sheet(kind, name).marks.values())


def pairs_of_kinds() -> tuple[tuple[str, str], ...]:
    """Return every pair (better, worse): the best two over the hurried one, those three over all others."""
    return (
        *((best, "hurried") for best in BEST),
        *((better, poor) for better in (*BEST, "hurried") for poor in POOR),
    )


def out_of_order(names: Iterable[str], kinds: Iterable[str] = ALL_KINDS) -> list[str]:
    """Return the pairs of these kinds that do not come out in their order, with both totals."""
    among = tuple(kinds)
    return [
        f"{name}: {better} {total(better, name):.2f}, {worse} {total(worse, name):.2f}"
        for name in names
        for better, worse in pairs_of_kinds()
        if better in among and worse in among and not total(better, name) > total(worse, name)
    ]


def row(name: str) -> str:
    """Return a line of the table: the totals, with a star where the learner passes."""
    marks = [f"{total(kind, name):5.1f}{'*' if sheet(kind, name).passed else ' '}" for kind in ALL_KINDS]
    return f"{name:62} " + " ".join(f"{one:>7}" for one in marks)


HEAD = f"{'points of 35, * passes':62} " + " ".join(f"{kind.split()[0][:7]:>7}" for kind in ALL_KINDS)
