"""What an eye and a dipstick tell of a tank or a can, and where its pick-up hose begins."""

from __future__ import annotations

import math

from engine_sim.actions.workplace import Workplace
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.sources import FROM_MEMORY, SourcedValue

THICK_KG = SourcedValue(1e-3, "kg", FROM_MEMORY, "slime on a tank's floor that smears a dipstick").value
_OFF_FROM = SourcedValue(0.5, "1", FROM_MEMORY, "opening from which a cap counts as off").value
_PASTE_M = SourcedValue(0.002, "m", FROM_MEMORY, "least layer of water that paste on a dipstick shows").value
_GAUGE_STEPS = 8
_HOSE = "hose"


def cap(place: Workplace, tank: str) -> str:
    """Return how the filler cap sits: ``on``, ``cracked`` or ``off``."""
    opening = place.rig.circuit.opening[place.rig.topology.link_number(f"{tank}.filler")]
    return "on" if opening <= 0.0 else "off" if opening >= _OFF_FROM else "cracked"


def gauge_share(place: Workplace, tank: str) -> float:
    """Return what the fuel gauge shows, 0..1, to an eighth."""
    return int(place.rig.gauge_share(tank) * _GAUGE_STEPS + 0.5) / _GAUGE_STEPS


def level_cm(place: Workplace, tank: str) -> float:
    """Return the highest mark that a dipstick comes up wet at [cm]: it has one every half centimetre."""
    rig = place.rig
    _, top_m = rig.circuit.levels_m(rig.topology.volume_number(tank))
    return math.floor((top_m - rig.layout.figures[tank]["floor_m"]) * 200.0 + 1e-6) / 2.0


def water_cm(place: Workplace, tank: str) -> float:
    """Return up to where paste on the dipstick changes its colour [cm], to half a centimetre; 0 where it does not."""
    rig = place.rig
    top_m, _ = rig.circuit.levels_m(rig.topology.volume_number(tank))
    layer_m = top_m - rig.layout.figures[tank]["floor_m"]
    return max(0.5, int(layer_m * 200.0 + 0.5) / 2.0) if layer_m >= _PASTE_M else 0.0


def is_thick(place: Workplace, tank: str) -> bool:
    """Tell whether slime smears the dipstick's end."""
    return place.rig.circuit.sludge_kg[place.rig.topology.volume_number(tank)] > THICK_KG


def pick_up(place: Workplace, tank: str) -> tuple[str, str]:
    """Return the hose that draws from a tank, and the link by which it does; empty texts where there is none."""
    rig = place.rig
    mouth = rig.layout.blueprint.ports[f"{tank}.pick_up"]
    inside = rig.topology.volume_number(tank)
    for number, link in enumerate(rig.topology.links):
        ends = rig.topology.end_a[number], rig.topology.end_b[number]
        if inside not in ends or OPEN_AIR in ends or mouth not in (link.a, link.b):
            continue
        other = rig.topology.volumes[ends[1] if ends[0] == inside else ends[0]].part
        if rig.layout.kinds[other] == _HOSE:
            return other, link.id
    return "", ""
