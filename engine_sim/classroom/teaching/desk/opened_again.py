"""An own exercise chosen to be changed or taken out: what is asked about it, and what the fields then show."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from engine_sim.classroom.teaching.desk.panel import Shown, button, choice
from engine_sim.classroom.teaching.severity import severity_in_words


def picks_of(draws: list[dict[str, Any]]) -> dict[str, str]:
    """Return what the fields show of an exercise with one fault, or one and a second; nothing where it has more."""
    items = [draws[0], *draws[0].get("also", [])]
    if len(draws) > 1 or len(items) > 2 or any(len(one[name]) > 1 for one in items for name in ("parts", "severities")):
        return {}
    picked: dict[str, str] = {}
    for number, one in zip(("", "2"), items, strict=False):
        picked |= {f"fault{number}": one["fault"], f"part{number}": one["parts"][0]}
        picked[f"bad{number}"] = repr(one["severities"][0])
    return picked


def degree_as_written(picked: Mapping[str, str], number: str) -> str:
    """Return how bad a fault is in words, as the fields say it."""
    return str(severity_in_words(picked[f"fault{number}"], float(picked[f"bad{number}"])))


def buttons_of_own(name: str, title: str) -> list[Shown]:
    """Return what can be done with the own exercise that was chosen."""
    asks = f"Take “{title}” ({name}) out of the class? Its page and packed file go; as it was written it is kept."
    return [
        button("open", "Open your own exercise again"),
        button("take_out", "Take your own exercise out", confirm=asks),
    ]


def choice_of_own(chosen: str, mine: Mapping[str, str]) -> list[Shown]:
    """Return the field that lists the own exercises, by their names with their titles; none where there is none."""
    known = [("", "choose one"), *((name, f"{title} ({name})") for name, title in mine.items())]
    return [choice("mine", "One of your own exercises", chosen, known, asks=True)] if mine else []
