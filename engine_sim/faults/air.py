"""Faults that bring air into the fuel, or leave it there."""

from __future__ import annotations

from engine_sim.circuit.layout import Layout
from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.engine_side import cylinder_of
from engine_sim.faults.fault import Fault
from engine_sim.faults.places import INJECTOR, JOINT, has_link, way_at
from engine_sim.faults.skipper import NIGHT, TRY
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

_PUMPS = ("injection_pump", "rotary_injection_pump")
_SCREWS = ("screw", "vent")


def _slacken(rig: Rig, part: str, gap_m2: float) -> None:
    hose, link = rig.layout.joints[part]
    rig.set_open(link, gap_m2 / rig.layout.figures[hose]["joint_gap_m2"])


SLACK_JOINT = Fault(
    id="slack_joint",
    kinds=(JOINT,),
    severity=Parameter("gap_m2", SourcedValue(2e-8, "m2", FROM_MEMORY), 1e-9, 1e-6, "open area of the gap"),
    apply=_slacken,
    lead_ups=(NIGHT, TRY),
)


_USUAL_GAP_M2 = {
    "separator": SourcedValue(5e-8, "m2", FROM_MEMORY, "under suction little does harm").value,
    "fine_filter": SourcedValue(3e-7, "m2", FROM_MEMORY, "a wet, dribbling screw").value,
    "injection_pump": SourcedValue(3e-7, "m2", FROM_MEMORY, "a wet, dribbling screw").value,
    "rotary_injection_pump": SourcedValue(3e-7, "m2", FROM_MEMORY, "a wet, dribbling screw").value,
}


def _screw_of(layout: Layout, part: str) -> str:
    """Return the bleed screw of a filter or pump, or the top vent of a separator, or an empty text."""
    return next((name for name in _SCREWS if has_link(layout, f"{part}.{name}")), "")


def _leave_loose(rig: Rig, part: str, gap_m2: float) -> None:
    name = _screw_of(rig.layout, part)
    rig.set_open(f"{part}.{name}", gap_m2 / rig.layout.figures[part][f"{name}_area_m2"])


SCREW_LOOSE = Fault(
    id="screw_loose",
    kinds=("separator", "fine_filter", *_PUMPS),
    severity=Parameter("gap_m2", SourcedValue(3e-7, "m2", FROM_MEMORY), 1e-9, 1e-6, "open area under the screw's seat"),
    apply=_leave_loose,
    lead_ups=(NIGHT, TRY),
    usual_here=lambda layout, part: _USUAL_GAP_M2[layout.kinds[part]],
    fits=lambda layout, part: bool(_screw_of(layout, part)),
)


def _leave_air(rig: Rig, part: str, air_share: float) -> None:
    """Leave air in a filter and in the hose behind it, or in the spaces of an injection pump."""
    volumes = [volume.id for volume in rig.topology.volumes if volume.part == part]
    way = way_at(rig.layout, f"{part}.outlet") if f"{part}.outlet" in rig.layout.blueprint.ports else None
    after = [way.b.volume] if way is not None and way.b is not None else []
    for name in (*volumes, *after):
        rig.circuit.fill(name, 1.0 - air_share)


AIR_IN_FILTER = Fault(
    id="air_in_filter",
    kinds=("fine_filter", *_PUMPS),
    severity=Parameter("air_share", SourcedValue(0.9, "1", COMMON_PRACTICE), 0.3, 1.0, "share of it without fuel"),
    apply=_leave_air,
    lead_ups=(TRY,),
    holds=("contents of {part}",),
)


def _leave_air_in_line(rig: Rig, part: str, air_m3: float) -> None:
    rig.engine.lines[cylinder_of(part)].air_m3 = air_m3


AIR_IN_LINE = Fault(
    id="air_in_line",
    kinds=(INJECTOR,),
    severity=Parameter(
        "air_m3",
        SourcedValue(2e-7, "m3", FROM_MEMORY),
        1e-9,
        1.4e-6,
        "air in the high-pressure line, at ambient pressure",
    ),
    apply=_leave_air_in_line,
    lead_ups=(),
)
