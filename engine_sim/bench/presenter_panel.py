"""What stands beside the drawing on the page for the wall, as plain data."""

from __future__ import annotations

from collections.abc import Sequence

from engine_sim.actions import caution_of, parts_of
from engine_sim.attempt import Attempt, Step
from engine_sim.bench import panel, words
from engine_sim.bench.presenter_words import TELLS
from engine_sim.bench.shelf import KnownTicket
from engine_sim.circuit import layout_names
from engine_sim.faults import fault
from engine_sim.marking.coach import Coach, Suspect
from engine_sim.marking.coach.checks import BoatCheck
from engine_sim.scenarios.scenario import layout_of
from engine_sim.units import clock_text
from engine_sim.wording import CAUTIONS, FAULTS

KNOWN_SHOWN = 6
CHOICES, TELLING = 6, 4
"""So many checks are put to the vote, so many of them telling something: as many as a room can keep in mind."""
FaultPlaces = Sequence[tuple[str, str, tuple[str, ...]]]


def choices_of(coach: Coach, steps: Sequence[Step]) -> list[BoatCheck]:
    """Return what is put to the vote: the coach's own next check, others that tell something, and some that do not."""
    best = coach.best()
    if best is None:
        return []
    search, numbers = coach.search(), coach.numbers()
    done = {(step.part, step.action) for step in steps}
    fresh = [one for one in search.checks if one.name != best.name and not set(coach.check(one.name).deeds) <= done]
    telling = [one for one in fresh if search.tells(one, numbers)]
    telling.sort(key=lambda one: (search.cost_of(one, numbers), one.name))
    silent = sorted((one for one in fresh if one not in telling), key=lambda one: (one.minutes, one.name))
    some = [*telling[: TELLING - 1], *silent]
    chosen = [best, *(coach.check(one.name) for one in some[: CHOICES - 1])]
    return sorted(chosen, key=lambda one: one.label)


def choice(attempt: Attempt, check: BoatCheck) -> dict[str, object]:
    """Return what is put to the vote as data: its words, and the cautions of all that is done for it."""
    keys = (caution_of(attempt.place.part(part).kind, action) for part, action in check.deeds)
    return {"label": check.label, "cautions": list(dict.fromkeys(CAUTIONS[key] for key in keys if key))}


def setting(boat: str, faults: FaultPlaces) -> dict[str, object]:
    """Return what the form for setting a fault holds."""
    layout = layout_of(boat).layout
    labels = {part.id: part.label for part in parts_of(layout)}
    return {
        "boats": [{"id": name, "label": layout_of(name).layout.title} for name in layout_names()],
        "boat": boat,
        "faults": [
            {
                "id": name,
                "label": _with_places(label, [labels[place] for place in places]),
                "places": [{"id": place, "label": labels[place]} for place in places],
            }
            for name, label, places in faults
        ],
    }


def _with_places(label: str, places: Sequence[str]) -> str:
    """Return a fault's words behind the first part that it can sit at."""
    more = " …" if len(places) > 1 else ""
    return f"{places[0]}{more}: {label}"


def known_lines(suspects: Sequence[Suspect]) -> list[list[object]]:
    """Return what is still possible, the likeliest first: words, and its share in hundredths."""
    shown = [[f"{one.part_label}: {one.fault_label}", round(100 * one.share)] for one in suspects[:KNOWN_SHOWN]]
    rest = sum(one.share for one in suspects[KNOWN_SHOWN:])
    return [*shown, [f"and {len(suspects) - KNOWN_SHOWN} more", round(100 * rest)]] if rest > 0 else shown


def left_line(suspects: Sequence[Suspect]) -> str:
    """Return how many things are still possible, in words."""
    return TELLS["known"] if len(suspects) == 1 else TELLS["left"].format(left=len(suspects))


def was_line(attempt: Attempt) -> str:
    """Return what it was, in words."""
    labels = panel.labels(attempt)
    told = " and ".join(
        f"{labels[item.part]} – {FAULTS[fault(item.fault).diagnosis]}" for item in attempt.scenario.faults
    )
    return TELLS["was"].format(what=told)


def step_line(attempt: Attempt, number: int, of: int) -> str:
    """Return at which step of a logbook one stands, and what was done in it."""
    if number == 0 or not attempt.steps:
        return TELLS["start"]
    step = attempt.steps[-1]
    names = panel.labels(attempt)
    doing = attempt.label_of(step.part, step.action) if step.kind == "action" else step.text
    head = words.entry_head(step.kind, names.get(step.part, ""), doing)
    return f"{TELLS['step'].format(now=number, of=of)} · {clock_text(step.clock_s)} · {head}"


def beside(attempt: Attempt, chosen: str, xray_on: bool) -> dict[str, object]:
    """Return what stands beside the drawing while a boat is shown: what the bench shows, without what is for marks."""
    shown = panel.work(attempt, KnownTicket("", False), chosen, xray_on)
    nothing: dict[str, object] = {
        "helps": [],
        "help_said": [],
        "left_undone": [],
        "plots": [],
        "plot": "",
        "plot_of": "",
    }
    return shown | nothing | {"may_mark": False, "marks": None, "faults": [], "truth": []}
