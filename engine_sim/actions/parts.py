"""The parts that a learner meets in a layout, in flow order, with their words: derived from the layout alone.

Fuel runs from the tanks to the injectors and back by the return line; what is not fuel comes after it.
A hose is met only as a joint that a hand can reach, or as the return line; an injector comes with each cylinder.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine_sim.circuit.layout import Layout
from engine_sim.faults.places import is_return_line
from engine_sim.wording import BOWL_OF, JOINT_UNDER, NUMBER_WORDS, PARTS

TANKS = ("tank", "fuel_can")
LIFT_PUMPS = ("lift_pump", "electric_pump")
INJECTION_PUMPS = ("injection_pump", "rotary_injection_pump")
SCREW_NAMES = ("lower_screw", "screw", "outlet_screw")
_AFTER_THE_FUEL = ("stop_lever", "stop_solenoid", "battery", "starter", "hand_start", "preheat", "exhaust", "engine")
_HOSE = "hose"


@dataclass(frozen=True, slots=True)
class Part:
    """A part as a learner meets it.

    ``component`` is the part of the layout that it belongs to (the hose of a joint, the engine of an injector),
    ``link`` the link of a joint's gap, ``number`` that of an injector's cylinder, from 1.
    """

    id: str
    kind: str
    label: str
    purpose: str
    component: str
    link: str = ""
    number: int = 0

    def __deepcopy__(self, memo: dict[int, object]) -> Part:
        """Return itself: nothing in it ever changes."""
        return self


_KEPT_LAYOUTS = 16
_kept: dict[int, tuple[Layout, tuple[Part, ...]]] = {}
"""The parts of the layouts asked for last, each with its layout: that never changes, and so its id stays its own."""


def parts_of(layout: Layout) -> tuple[Part, ...]:
    """Return the parts of a layout in flow order."""
    known = _kept.get(id(layout))
    if known is None:
        if len(_kept) >= _KEPT_LAYOUTS:
            _kept.clear()
        known = _kept[id(layout)] = (layout, _parts_of(layout))
    return known[1]


def _parts_of(layout: Layout) -> tuple[Part, ...]:
    path: list[Part] = []
    returns: list[Part] = []
    cans: list[Part] = []
    for name in layout.parts:
        kind = layout.kinds[name]
        if kind == _HOSE:
            path += _joints(layout, name)
            if is_return_line(layout, name):
                returns.append(_part(layout, name, "return_line"))
        elif kind == "fuel_can":
            cans.append(_part(layout, name, kind))
        elif kind in PARTS and kind not in _AFTER_THE_FUEL:
            path.append(_part(layout, name, kind))
    others = [_part(layout, name, kind) for kind in _AFTER_THE_FUEL for name in layout.parts_of(kind)]
    bench = Part("bench", "bench", *PARTS["bench"], "bench")
    return (*path, *_injectors(layout), *returns, *others, *cans, bench)


def _part(layout: Layout, name: str, kind: str) -> Part:
    label, purpose = PARTS[kind]
    words = _engine_words(layout, name) if kind == "engine" else _bowl_words(layout, name)
    return Part(name, kind, layout.labels.get(name, label), purpose.format(**words), name)


def _bowl_words(layout: Layout, name: str) -> dict[str, str]:
    return {"bowl": BOWL_OF[shows_its_bowl(layout, name)]}


def _engine_words(layout: Layout, name: str) -> dict[str, str]:
    cylinders = cylinders_of(layout)
    power_kw = layout.figures[name].get("rated_power_w", 0.0) / 1000.0
    return {
        "cylinders": NUMBER_WORDS[cylinders].capitalize(),
        "plural": "" if cylinders == 1 else "s",
        "power_kw": f"{power_kw:.0f}",
    }


def shows_its_bowl(layout: Layout, separator: str) -> bool:
    """Tell whether a separator's bowl is of glass."""
    return layout.figures.get(separator, {}).get("bowl_glass", 1.0) > 0.0


def cylinders_of(layout: Layout) -> int:
    """Return how many cylinders the engine has."""
    return int(layout.figures[layout.parts_of("engine")[0]]["cylinders"])


def _injectors(layout: Layout) -> Iterator[Part]:
    engine = layout.parts_of("engine")[0]
    label, purpose = PARTS["injector"]
    for number in range(1, cylinders_of(layout) + 1):
        name = f"injector_{number}"
        words = {"number": number}
        given = layout.labels.get(name, label.format(**words))
        yield Part(name, "injector", given, purpose.format(**words), engine, number=number)


def _joints(layout: Layout, hose: str) -> Iterator[Part]:
    label, purpose = PARTS["joint"]
    for joint, (owner, link) in layout.joints.items():
        if owner != hose:
            continue
        start, end = neighbours(layout, hose)
        words = {"start": _plain(layout, start), "end": _plain(layout, end), "where": _under(layout, hose)}
        given = layout.labels.get(joint, label.format(end=words["end"].replace(" ", "-")))
        yield Part(joint, "joint", given, purpose.format(**words), hose, link)


def _plain(layout: Layout, name: str) -> str:
    kind = layout.kinds[name]
    plain = LIFT_PUMPS[0] if kind in LIFT_PUMPS else kind
    return layout.labels.get(name, PARTS.get(plain, ("hose", ""))[0])


def neighbours(layout: Layout, hose: str) -> tuple[str, str]:
    """Return the parts before and after a hose; shut-offs and other hoses are looked past."""
    order = [name for name in layout.parts if layout.kinds[name] not in (_HOSE, "shut_off_valve") or name == hose]
    at = order.index(hose)
    before = [name for name in order[:at] if layout.kinds[name] in PARTS]
    after = [name for name in order[at + 1 :] if layout.kinds[name] in PARTS]
    return (before[-1] if before else hose), (after[0] if after else hose)


def _under(layout: Layout, hose: str) -> str:
    """Say what a joint is under, by where its hose lies."""
    names = list(layout.parts)
    pumps = [names.index(name) for kind in LIFT_PUMPS for name in layout.parts_of(kind)]
    if pumps and names.index(hose) > min(pumps):
        return JOINT_UNDER["pressure"]
    floor_m = max(layout.figures[name]["floor_m"] for name in layout.parts_of("tank"))
    return JOINT_UNDER["head" if floor_m > layout.figures[hose]["end_height_m"] else "suction"]
