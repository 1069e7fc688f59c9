"""Changing an element: the housing is opened to the air, emptied, and closed with a new element and seals."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do
from engine_sim.actions.looking import DARK_FROM_TIMES_CLEAN, times_clean
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, see
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

_HOUSING_OPEN_S = SourcedValue(240.0, "s", COMMON_PRACTICE, "time for which the housing stands open").value


def _change(opening: str, spaces: tuple[str, str]) -> Do:
    """Return the deed: ``opening`` stands for the open housing while the hands are at it."""

    def do(place: Workplace, part: str) -> list[Noticed]:
        rig = place.rig
        was_dark = times_clean(place, part) > DARK_FROM_TIMES_CLEAN
        was_open = rig.is_open(opening)
        rig.set_open(opening, 1.0)
        place.wait(_HOUSING_OPEN_S)
        for space in spaces:
            fuel, water, _ = rig.shares(space)
            rig.lose((fuel + water) * rig.topology.volumes[rig.topology.volume_number(space)].volume_m3)
            rig.take_out(space)
        rig.circuit.cake_kg[rig.topology.link_number(f"{part}.element")] = 0.0
        rig.set_open(opening, 1.0 if was_open else 0.0)
        seen = see(part, "element_dark" if was_dark else "element_clean")
        return [seen, see(part, "old_seal"), see(part, "element_changed")]

    return do


_SEPARATOR = _change("separator.vent", ("separator.bowl", "separator.head"))
_FINE = _change("fine_filter.screw", ("fine_filter.dirty", "fine_filter.clean"))
_NEEDS = "element, new seals, tray, rag"

CHANGES: tuple[tuple[str, Action], ...] = (
    (
        "separator",
        Action("change_element", "change the element", 360.0, _SEPARATOR, _NEEDS, "fuel_opened", _HOUSING_OPEN_S),
    ),
    (
        "fine_filter",
        Action("change_element", "change the element", 360.0, _FINE, _NEEDS, "fuel_opened", _HOUSING_OPEN_S),
    ),
)
"""Pairs of a part and an action that can be done at it."""
