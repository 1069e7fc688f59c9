"""What the rules call things: groups of actions by kind of part, places where one bleeds, what the noticed keys mean.

All go by kind of part (``separator.open_drain``), so that they hold on every boat; ``*`` stands for anything.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.marking.track import Moment, Patterns, Track

CRANKS: Patterns = ("starter.crank_*", "hand_start.swing_*")
MEASURED_CRANKS: Mapping[str, float] = {"volts": 5.0, "drop_test": 5.0, "signal": 1.0, "listen": 5.0}
"""Checks during which another turns the engine: seconds [s] of turning."""
TURNS: Patterns = (*CRANKS, "starter.volts", "starter.drop_test", "starter.signal", "injector.listen")
LEVER: Patterns = ("lift_pump.lever_*",)
RUNS: Patterns = ("engine.run_*",)
WAITS: Patterns = ("bench.wait_*", "bench.cool")
UNION_NUTS: Patterns = ("injector.slacken_nut",)
LOW_PRESSURE_SCREWS: Patterns = ("fine_filter.open_*screw", "*injection_pump.open_*screw")
FILTERS_OFF: Patterns = ("*.change_element", "separator.take_bowl_off", "fine_filter.take_off")
"""Opening a filter: its element is changed in one go, or the filter comes off."""
FITS: Patterns = ("separator.fit_*", "fine_filter.fit_*")
NEW_ELEMENTS: Patterns = ("*.change_element", "separator.fit_wetted", "separator.fit_dry", "fine_filter.fit_[!o]*")
LINES_OPENED: Patterns = (
    "joint.undo",
    "joint.remake",
    "joint.new_hose",
    "*_pump.change_pump",
    "*_pump.fit_gauge",
    "tank.blow_back",
    "return_line.blow_through",
    "fuel_can.to_pump",
)
OPENINGS: Patterns = (*LOW_PRESSURE_SCREWS, "separator.open_drain", *FILTERS_OFF, *UNION_NUTS, *LINES_OPENED)
"""Everything that opens the fuel side, so that fuel can come out or air go in."""
FUEL_WORK: Patterns = (*OPENINGS, "separator.open_vent", "joint.nip_up", "injector.change")
DEAR_CHANGES: Patterns = (
    *FILTERS_OFF,
    *UNION_NUTS,
    "*_pump.change_pump",
    "joint.new_hose",
    "injector.change",
    "tank.blow_back",
    "tank.wipe_out",
)
"""Changes that cost much, or that open what one would rather leave shut."""
CHECKS: Patterns = (
    "*.look",
    "*.look_*",
    "*.read_*",
    "*.dip*",
    "*.volts",
    "*.listen",
    "*.feel_*",
    "tank.tap_gauge",
    "tank.crack_cap",
    "tank.open_cap",
    "tank.sample_sump",
    "joint.wipe_and_try",
    "separator.try_vent",
    "separator.check_ball",
    "*.try_screw",
    "*_pump.fit_gauge",
    "injector.card",
    "starter.drop_test",
    "starter.signal",
    "starter.tap",
    "preheat.heat_*",
    "exhaust.knock",
    "engine.smoke",
    "engine.key_on",
    "engine.turn_by_hand",
    "stop_solenoid.hold",
    "return_line.to_jar",
    "bench.thermometer",
    *LEVER,
    *RUNS,
)
OWN_AIR: Patterns = (
    "separator.open_drain",
    "separator.open_vent",
    *FILTERS_OFF,
    *LINES_OPENED,
    "tank.add_fuel",
    "tank.wipe_out",
    "fuel_can.from_pump",
)
"""Work of one's own after which air comes at the fine filter, so that it points to nothing."""
FAULT_CHANGES: Patterns = (
    "tank.add_fuel",
    "tank.clear_breather",
    "tank.blow_back",
    "tank.draw_bottom",
    "tank.polish",
    "tank.dose",
    "tank.wipe_out",
    "tank.close_cap",
    "shut_off_valve.open",
    "changeover_valve.to_*",
    "joint.nip_up",
    "joint.remake",
    "joint.new_hose",
    *NEW_ELEMENTS,
    "separator.wipe_bowl",
    "separator.close_vent",
    "separator.close_drain",
    "fine_filter.close_*screw",
    "*injection_pump.close_*screw",
    "fine_filter.nip_up",
    "*.warm",
    "*_pump.change_pump",
    "injector.tighten_nut",
    "injector.change",
    "return_line.blow_through",
    "return_line.to_tank",
    "stop_lever.push_home",
    "stop_solenoid.connect_wire",
    "stop_solenoid.change",
    "battery.connect",
    "battery.clean_terminals",
    "battery.join_house_battery",
    "starter.clean_terminal",
    "starter.change",
    "preheat.mend",
    "exhaust.clear",
    "exhaust.new_impeller",
    "exhaust.open_seacock",
    "engine.clear_intake",
    "engine.clear_propeller",
    "engine.change_oil",
    "engine.clear_cylinders",
)
"""Changes that can cure a fault."""
UNDOES: Mapping[str, Patterns] = {
    "*.close_vent": ("{part}.open_vent",),
    "*.close_drain": ("{part}.open_drain",),
    "*.close_screw": ("{part}.open_screw",),
    "*.close_outlet_screw": ("{part}.open_outlet_screw",),
    "*.close_lower_screw": ("{part}.open_lower_screw",),
    "tank.close_cap": ("{part}.crack_cap", "{part}.open_cap"),
    "shut_off_valve.open": ("{part}.shut",),
    "changeover_valve.to_*": ("{part}.to_*",),
    "joint.nip_up": ("{part}.undo",),
    "fine_filter.nip_up": ("{part}.fit_*",),
    "injector.tighten_nut": ("{part}.slacken_nut",),
    "return_line.to_tank": ("{part}.to_jar", "{part}.to_can"),
    "stop_lever.push_home": ("{part}.pull",),
    "battery.connect": ("{part}.isolate",),
    "exhaust.open_seacock": ("{part}.shut_seacock",),
}
"""What puts something back, with what the learner must have done before for that."""

_MAKES_TIGHT = ("nip_up", "remake", "new_hose")
RAN_WEAK = "screw_weak"
RAN_CLEAR = frozenset({"screw_solid", "screw_clears", RAN_WEAK, "nut_pulses"})
RAN_FOUL = frozenset({"screw_air", "screw_froth", "screw_water", "nut_froth"})
RAN_NOT = frozenset({"screw_nothing", "screw_draws", "nut_nothing"})
SHUT_FLOWING = frozenset({"screw_shut_flowing", "screw_shut_running"})
SHUT_ON_FROTH, SHUT_STILL = "screw_shut_froth", "screw_shut_still"
TURNS_BADLY = frozenset(
    {"starter_dead", "starter_clicks", "starter_chatters", "starter_thuds", "cranks_slowly", "cranks_barely"}
)
_FIRST_SPURT = "screw_clears"
_SOLID_AFTER_S = 30.0
"""For how long one goes on until a run that began with froth counts as solid [s]; judgement."""
_SCREWS = (
    (("fine_filter",), ("screw", "outlet_screw")),
    (INJECTION_PUMPS, ("lower_screw", "screw")),
)


@dataclass(frozen=True, slots=True)
class BleedPoint:
    """A place where air is let out.

    ``stage`` counts the places from the tank outwards, ``open_key`` is what shows that it is open.
    """

    stage: int
    parts: tuple[str, ...]
    open_key: str
    closings: Patterns
    driven_by: Patterns
    by_starter: bool = False
    by_key: bool = False

    def is_open(self, seen: Mapping[str, object]) -> bool:
        """Say whether this place is seen to be open."""
        shown = seen.get(self.open_key)
        return any(shown) if isinstance(shown, tuple) else bool(shown)

    def is_bled_by(self, moment: Moment) -> bool:
        """Say whether the moment showed what comes here: something came, or nothing although it was driven."""
        if moment.refused or not self.is_open(moment.after if self.opens(moment) else moment.before):
            return False
        came = result_at(moment, self)
        if came == "nothing":
            return self.is_driven(moment)
        return came != ""

    def opens(self, moment: Moment) -> bool:
        """Say whether the moment opened this place."""
        return not self.is_open(moment.before) and self.is_open(moment.after)

    def is_driven(self, moment: Moment) -> bool:
        """Say whether lever, starter or an electric pump drove fuel here."""
        return moment.among(self.driven_by) or (self.by_key and bool(moment.before.get("key_on")))


def result_at(moment: Moment, point: BleedPoint) -> str:
    """Return what came at a bleeding place: ``clear``, ``foul``, ``nothing``, or an empty text where none looked."""
    keys = [seen.key for seen in moment.observations if seen.part in point.parts]
    if any(key in RAN_FOUL for key in keys):
        return "foul"
    if any(key in RAN_CLEAR for key in keys):
        return "clear"
    return "nothing" if any(key in RAN_NOT for key in keys) else ""


def ran_solid(moment: Moment, point: BleedPoint) -> bool:
    """Say whether it ran clear at a place, and went on beyond the first clear spurt."""
    if result_at(moment, point) != "clear":
        return False
    first_spurt = any(seen.key == _FIRST_SPURT and seen.part in point.parts for seen in moment.observations)
    return not first_spurt or moment.end_s - moment.start_s >= _SOLID_AFTER_S


def bleed_points(track: Track) -> tuple[BleedPoint, ...]:
    """Return the places of this boat where air is let out, from the tank outwards."""
    if not track.moments:
        return ()
    shown, boat = track.moments[0].before, track.boat
    by_key = boat.has("electric_pump")
    found = []
    for stage, (kinds, screws) in enumerate(_SCREWS):
        for part in boat.parts_of(*kinds):
            for screw in screws:
                key = f"{part}_{screw}_open"
                if key in shown:
                    found.append(BleedPoint(stage, (part,), key, (f"{part}.close_{screw}",), LEVER, by_key=by_key))
    nuts = boat.parts_of("injector")
    closings = tuple(f"{nut}.tighten_nut" for nut in nuts)
    return (*found, BleedPoint(len(_SCREWS), nuts, "union_nuts_open", closings, TURNS, by_starter=True))


def turned_s(moment: Moment) -> float:
    """Return for how long a moment among :data:`TURNS` turned the engine [s]."""
    took_s = moment.end_s - moment.start_s
    tail = moment.action.rsplit("_", 1)[-1]
    asked_s = float(tail) if tail.isdigit() else MEASURED_CRANKS.get(moment.action, took_s)
    return min(asked_s, took_s)


def nut_is_slack(seen: Mapping[str, object]) -> bool:
    """Say whether a union nut is slack, by what can be ``seen``."""
    nuts = seen.get("union_nuts_open")
    return isinstance(nuts, tuple) and any(nuts)


def undone_by_hand(moments: Sequence[Moment], joint: str) -> bool:
    """Say whether a joint was loosened by hand and not made tight again since."""
    deeds = [m.action for m in moments if m.part == joint and not m.refused and m.action in ("undo", *_MAKES_TIGHT)]
    return bool(deeds) and deeds[-1] == "undo"


def is_own_doing(track: Track, moment: Moment) -> bool:
    """Say whether a change only puts back what the learner had changed before."""
    for pattern, needs in UNDOES.items():
        if moment.among((pattern,)):
            undone = at_part(needs, moment.part)
            return any(other.among(undone) for other in track.before(moment))
    return False


def at_part(patterns: Patterns, part: str) -> Patterns:
    """Return patterns with ``{part}`` filled in."""
    return tuple(pattern.replace("{part}", part) for pattern in patterns)


def supply_is_open(track: Track, seen: Mapping[str, object]) -> bool:
    """Say whether fuel can come to the separator, by what can be ``seen``: shut-off and changeover are open."""
    valves = [seen.get(f"{part}_open", True) for part in track.boat.parts_of("shut_off_valve")]
    ways = [bool(seen.get(f"{part}_ways", True)) for part in track.boat.parts_of("changeover_valve")]
    return all(valves) and all(ways)


def led_there(track: Track, moment: Moment) -> bool:
    """Say whether an earlier check had shown something wrong at the part of the moment, or about it."""
    return any(
        other.tells and (other.part == moment.part or any(seen.part == moment.part for seen in other.observations))
        for other in track.before(moment)
    )
