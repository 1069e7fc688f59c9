"""Mark sheets for the feedback tests: real work on a real boat, with reasons written by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from engine_sim.attempt import Attempt
from engine_sim.marking.coach.analysis import Advice, Analysis, Insight, Suspect
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason
from engine_sim.marking.replaying import track_of
from engine_sim.marking.track import Track
from engine_sim.scenarios import Scenario, SetFault, compose_scenario

WORK = (
    "starter.crank_10",
    "bench.lay_tray",
    "fine_filter.open_screw",
    "lift_pump.lever_10",
    "fine_filter.close_screw",
    "fine_filter.look",
    "separator.look",
    "tank.dip",
    "shut_off.look",
    "shut_off.open",
    "bench.wait_30min",
    "starter.crank_10",
)
ELECTRIC_WORK = ("starter.crank_10", "separator.look", "fine_filter.open_screw", "tank.dip", "shut_off.look")
HAND_WORK = ("hand_start.swing_10", "fine_filter.open_screw", "lift_pump.lever_10", "tank.dip", "shut_off.look")
BOATS = {
    "tank_below": WORK,
    "high_tank": WORK,
    "electric_pump": ELECTRIC_WORK,
    "two_tanks": ("changeover.look", *WORK),
    "single_cylinder": HAND_WORK,
    "metal_bowl": WORK,
}
HOSTILE = '<script>alert("x")</script> & more'


@cache
def played(layout: str = "tank_below", fault: str = "shut_valve", part: str = "shut_off") -> tuple[Scenario, Attempt]:
    """Return a boat with its shut-off shut, and the usual clumsy work on it; played once a session."""
    scenario = compose_scenario(layout, [SetFault(fault, part)])
    attempt = Attempt(scenario)
    for name in BOATS[layout]:
        attempt.act(*name.split("."))
    attempt.hand_in()
    return scenario, attempt


SUSPECTS = (
    ("shut_valve", "shut_off", "shut-off", "shut"),
    ("empty_tank", "tank", "tank", "empty"),
    ("choked_element", "fine_filter", "fine filter", "element choked with dirt"),
    ("choked_breather", "tank", "tank", "breather blocked"),
    ("slack_joint", "separator_joint", "separator inlet joint", HOSTILE),
    ("weak_pump", "lift_pump", "lift pump", "a valve in it does not close"),
    ("flat_battery", "battery", "battery", "flat"),
)
LOOK = Advice("shut_off", "look", "shut-off: look at the handle", 0.2, 12.0, "It leaves few things possible")


def insight(number: int, step: int, moment_s: float) -> Insight:
    """Return what could be known after the so-manieth action: one thing fewer each time, down to the truth."""
    left = SUSPECTS[: max(1, len(SUSPECTS) - number)]
    suspects = tuple(Suspect(fault, part, 1.0 / len(left), label, words) for fault, part, label, words in left)
    best = LOOK if number and len(left) > 1 else None
    return Insight(step, moment_s, suspects, 0.3, 1.0, 1.0, best, 0.5 * number if best else 0.0)


def analysis(attempt: Attempt) -> Analysis:
    """Return an analysis in which each action rules out one thing."""
    acted = [step for step in attempt.steps if step.kind == "action"]
    insights = [insight(0, 0, 0.0)]
    insights += [insight(number, step.number, step.clock_s) for number, step in enumerate(acted, start=1)]
    found = next((one.step for one in insights if len(one.suspects) == 1), 0)
    return Analysis(tuple(insights), 5.0, 12.0, found, (LOOK,))


def marks(attempt: Attempt) -> dict[str, Mark]:
    """Return five marks with reasons that point at steps of the work."""
    opened = next(step for step in attempt.steps if step.action == "open_screw")
    early = Reason(
        "You opened the bleed screw before you had looked.", opened.clock_s, False, 3.0, "Look first.", opened.number
    )
    return {
        "safety": Mark(
            3.0,
            5.0,
            (
                Reason("Tray and rag were laid first.", 30.0, True, 2.0),
                Reason("You wore no gloves.", None, False, 2.0, HOSTILE),
            ),
        ),
        "method": Mark(
            6.0,
            10.0,
            (early, Reason("You dipped the tank.", 200.0, True, 1.0, "", 0), Reason(HOSTILE, 61.0, False, 0.5)),
        ),
        "diagnosis": Mark(5.0, 5.0, (Reason("Part and fault are right.", None, True, 5.0),)),
        "cure": Mark(10.0, 10.0, (Reason("It ran for five minutes.", 125.0, True, 4.0),)),
        "housekeeping": Mark(
            4.0, 5.0, (Reason("No note was kept.", None, False, 1.0, "Whoever comes next must know."),)
        ),
    }


def told_by_the_handle(track: Track) -> Track:
    """Return the track with the look at the shut handle as what tells, as marking would say."""
    return replace(track, moments=tuple(replace(m, tells=m.name == "shut_off.look") for m in track.moments))


def sheet(layout: str = "tank_below", with_analysis: bool = True, hard_fails: tuple[Reason, ...] = ()) -> MarkSheet:
    """Return a sheet of the usual clumsy work on a boat."""
    scenario, attempt = played(layout)
    return MarkSheet(
        exercise="own",
        marks=marks(attempt),
        passed=not hard_fails,
        hard_fails=hard_fails,
        track=told_by_the_handle(track_of(scenario, attempt.steps)),
        analysis=analysis(attempt) if with_analysis else None,
        scenario=scenario,
        handed_in=True,
    )


def empty_sheet() -> MarkSheet:
    """Return the sheet of somebody who handed in nothing."""
    reason = Reason("No logbook was handed in.", None, False)
    nothing = {name: Mark(0.0, 5.0, (reason,)) for name in ("safety", "method", "diagnosis", "cure", "housekeeping")}
    return MarkSheet(exercise="own", marks=nothing, passed=False, scenario=played()[0])
