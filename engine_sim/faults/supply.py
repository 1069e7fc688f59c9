"""Faults at the tank: nothing in it, a gauge that lies, or nothing let out of it."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault
from engine_sim.faults.places import JOINT, RETURN_LINE, outlet_of, tank_behind, volume_share, way_along, way_at
from engine_sim.faults.restriction import lost_there, restrict
from engine_sim.faults.skipper import PASSAGE, TRY
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

_LAST_FUEL = SourcedValue(
    -0.004, "1", FROM_MEMORY, "fuel above the pick-up's mouth when the last run begins, share of the tank's height"
).value


def run_down(rig: Rig, tank: str) -> None:
    """Leave only a little more in a tank than the pick-up cannot reach."""
    vessel = rig.topology.volumes[rig.topology.volume_number(tank)]
    above_m = rig.layout.blueprint.ports[f"{tank}.pick_up"].high_m - vessel.bottom_m
    mouth = above_m / (vessel.top_m - vessel.bottom_m)
    rig.circuit.fill(tank, volume_share(rig.layout, tank, mouth + _LAST_FUEL))


def _shut(rig: Rig, part: str, opening: float) -> None:
    rig.set_open(part, opening)


SHUT_VALVE = Fault(
    id="shut_valve",
    kinds=("shut_off_valve",),
    severity=Parameter("opening", SourcedValue(0.0, "1", COMMON_PRACTICE), 0.0, 0.01, "how far it is still open"),
    apply=_shut,
    lead_ups=(TRY,),
    holds=("opening of {part}",),
)


def _empty(rig: Rig, part: str, gauge_share: float) -> None:
    run_down(rig, part)
    rig.gauge_stuck_at[part] = gauge_share


EMPTY_TANK = Fault(
    id="empty_tank",
    kinds=("tank",),
    severity=Parameter("gauge", SourcedValue(0.5, "1", COMMON_PRACTICE), 0.1, 1.0, "where the gauge's needle is stuck"),
    apply=_empty,
    lead_ups=(PASSAGE, TRY),
    holds=("contents of {part}", "gauge of {part}"),
)


def _stick_gauge(rig: Rig, part: str, gauge_share: float) -> None:
    rig.gauge_stuck_at[part] = gauge_share


GAUGE_WRONG = Fault(
    id="gauge_wrong",
    kinds=("tank",),
    severity=Parameter(
        "gauge", SourcedValue(0.75, "1", COMMON_PRACTICE), 0.0, 1.0, "where the gauge's needle is stuck"
    ),
    apply=_stick_gauge,
    lead_ups=(),
    holds=("gauge of {part}",),
)


def _shift_gauge(rig: Rig, part: str, gauge_share: float) -> None:
    rig.gauge_shift[part] = gauge_share


GAUGE_SHIFTED = Fault(
    id="gauge_shifted",
    kinds=("tank",),
    severity=Parameter(
        "gauge", SourcedValue(0.25, "1", COMMON_PRACTICE), -1.0, 1.0, "what the gauge shows too much, share of the tank"
    ),
    apply=_shift_gauge,
    lead_ups=(),
    holds=("gauge of {part}",),
    said="gauge_wrong",
)


def _choke_vent(rig: Rig, part: str, bore_m: float) -> None:
    rig.set_open(f"{part}.vent", (bore_m / rig.layout.figures[part]["vent_bore_m"]) ** 2)


BLOCKED_VENT = Fault(
    id="blocked_vent",
    kinds=("tank",),
    severity=Parameter(
        "bore_m", SourcedValue(2e-5, "m", FROM_MEMORY), 0.0, 2e-3, "bore of the breather that is left, 0 for none"
    ),
    apply=_choke_vent,
    lead_ups=(PASSAGE, TRY),
    holds=("breather of {part}",),
)


def _block_pick_up(rig: Rig, part: str, drop_pa: float) -> None:
    way = way_at(rig.layout, f"{part}.pick_up")
    if way is not None:
        restrict(rig, way.id, drop_pa)


BLOCKED_PICK_UP = Fault(
    id="blocked_pick_up",
    kinds=("tank",),
    severity=lost_there(SourcedValue(1.5e6, "Pa", FROM_MEMORY)),
    apply=_block_pick_up,
    lead_ups=(TRY,),
    holds=("pick-up of {part}",),
    fits=lambda layout, part: way_at(layout, f"{part}.pick_up") is not None,
)


def _collapse(rig: Rig, part: str, drop_pa: float) -> None:
    restrict(rig, way_along(rig.layout, rig.layout.joints[part][0]), drop_pa)


COLLAPSED_HOSE = Fault(
    id="collapsed_hose",
    kinds=(JOINT,),
    severity=lost_there(SourcedValue(1.5e6, "Pa", FROM_MEMORY)),
    apply=_collapse,
    lead_ups=(TRY,),
    holds=("bore of the hose at {part}",),
)


def _block_return(rig: Rig, part: str, drop_pa: float) -> None:
    restrict(rig, outlet_of(rig.layout, part), drop_pa)


BLOCKED_RETURN = Fault(
    id="blocked_return",
    kinds=(RETURN_LINE,),
    severity=lost_there(SourcedValue(1e9, "Pa", FROM_MEMORY)),
    apply=_block_return,
    lead_ups=(TRY,),
    holds=("bore of {part}",),
)


def _set_to_other_tank(rig: Rig, part: str, gauge_share: float) -> None:
    """Turn a changeover valve to the tank that was not in use, which is run down."""
    ways = [f"{part}.{way}" for way in ("a", "b")]
    other = next(way for way in ways if not rig.is_open(way))
    for way in ways:
        rig.set_open(way, 1.0 if way == other else 0.0)
    tank = tank_behind(rig.layout, other)
    run_down(rig, tank)
    rig.gauge_stuck_at[tank] = gauge_share


WRONG_SETTING = Fault(
    id="wrong_setting",
    kinds=("changeover_valve",),
    severity=Parameter(
        "gauge", SourcedValue(0.5, "1", COMMON_PRACTICE), 0.0, 1.0, "what the gauge shows of the tank that is run down"
    ),
    apply=_set_to_other_tank,
    lead_ups=(PASSAGE, TRY),
    holds=("setting of {part}",),
)
