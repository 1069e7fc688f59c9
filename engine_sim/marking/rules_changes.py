"""Rules of looking before changing, one change at a time, the starter, and checks that can tell nothing new.

All of it is common practice, no source, but for the lever that stands on the cam: that a pump is condemned for it is
common practice too. Points are judgement.
"""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.marking import judges_changes as judge
from engine_sim.marking.judges import Rule
from engine_sim.marking.judges_procedures import lobe_tried_again
from engine_sim.marking.track import Patterns

FAMILY = "changes"
_AROUND = "bench.look_around"
_CRANKED = "starter.crank_*"
_JOINT: Patterns = ("{part}.look", "{part}.wipe_and_try", _AROUND)
_TANK: Patterns = ("{part}.dip*", "{part}.sample_sump", "{part}.draw_bottom", "*.read_jar")
_SUPPLY: Patterns = (
    "fine_filter.open_*screw",
    "lift_pump.lever_*",
    "*_pump.read_vacuum",
    "*_pump.fit_gauge",
    "electric_pump.listen",
)
_TERMINALS: Patterns = ("battery.[!cij]*", "starter.volts", "starter.drop_test", "starter.feel_terminal", _CRANKED)

LOOKS_FIRST: Mapping[str, Patterns] = {
    "tank.add_fuel": ("{part}.dip*",),
    "tank.clear_breather": ("{part}.crack_cap", "{part}.open_cap", "{part}.look"),
    "tank.blow_back": _SUPPLY,
    "tank.wipe_out": _TANK,
    "tank.polish": _TANK,
    "tank.dose": _TANK,
    "shut_off_valve.open": ("{part}.look",),
    "changeover_valve.to_*": ("{part}.look", "tank.dip*"),
    "joint.nip_up": _JOINT,
    "joint.undo": _JOINT,
    "joint.remake": _JOINT,
    "joint.new_hose": _JOINT,
    "separator.change_element": ("{part}.look", "{part}.open_drain", "{part}.read_jar"),
    "separator.take_bowl_off": ("{part}.look", "{part}.open_drain", "{part}.read_jar"),
    "separator.close_vent": ("{part}.look", "{part}.try_vent", _AROUND),
    "fine_filter.change_element": ("{part}.look", "{part}.try_screw", "{part}.open_*screw"),
    "fine_filter.take_off": ("{part}.look", "{part}.try_screw", "{part}.open_*screw"),
    "fine_filter.close_*screw": ("{part}.look", "{part}.try_screw", _AROUND),
    "fine_filter.nip_up": ("{part}.look", "{part}.clean_outside", _AROUND),
    "*injection_pump.close_*screw": ("{part}.look", "{part}.try_screw", _AROUND),
    "*_pump.change_pump": ("{part}.look", "{part}.lever_*", "{part}.listen", "{part}.read_vacuum"),
    "injector.tighten_nut": ("{part}.look", "{part}.card", _AROUND),
    "injector.change": ("{part}.look", "{part}.listen", "{part}.card", "{part}.slacken_nut"),
    "return_line.blow_through": ("{part}.look", "{part}.to_jar"),
    "stop_lever.push_home": ("{part}.look", _AROUND),
    "stop_solenoid.connect_wire": ("{part}.look", "{part}.listen", "{part}.volts"),
    "stop_solenoid.change": ("{part}.look", "{part}.listen", "{part}.volts"),
    "battery.connect": ("{part}.look", _AROUND, _CRANKED, "engine.key_on"),
    "battery.clean_terminals": _TERMINALS,
    "battery.join_house_battery": _TERMINALS,
    "starter.clean_terminal": ("{part}.look", *_TERMINALS),
    "starter.change": ("{part}.look", "{part}.signal", "{part}.tap", *_TERMINALS),
    "preheat.mend": ("{part}.look", "{part}.feel_stems", "{part}.heat_*"),
    "exhaust.clear": ("{part}.look*",),
    "exhaust.new_impeller": ("{part}.look*",),
    "engine.clear_intake": ("{part}.look_intake",),
    "engine.clear_propeller": ("{part}.look_propeller",),
    "engine.change_oil": ("{part}.dip_oil",),
    "engine.clear_cylinders": ("{part}.turn_by_hand", "starter.*", "hand_start.*"),
}
"""What a change must have been preceded by: any of the looks beside it."""

CHANGES: tuple[Rule, ...] = (
    Rule(
        "look_before_change",
        "Look at a part, or try it, before changing it.",
        "Each thing you changed you had looked at first.",
        "You changed something that you had not looked at first.",
        "A change made blind costs time, lets in new air, and hides what was really wrong.",
        2.0,
        judge.looked_before_change(LOOKS_FIRST),
        FAMILY,
    ),
    Rule(
        "one_change_then_check",
        "Change one thing, then check what it did.",
        "After each change you checked what it did before making the next.",
        "You made a change and did not check what it did before going on.",
        "With two changes at once nobody knows which one helped, and a fault of one's own making stays hidden.",
        1.5,
        judge.checked_after_change,
        FAMILY,
    ),
    Rule(
        "find_out_between_tries",
        "Find something out between tries to start.",
        "You found something out between your tries to start.",
        "You went on trying to start with nothing found out or changed between.",
        "What did not start it the last time will not start it the next. Each try wears starter, battery and luck.",
        1.5,
        judge.found_out_between,
        FAMILY,
    ),
    Rule(
        "lever_on_the_cam",
        "Where the hand lever flops, turn the engine one revolution and try again.",
        "The lever flopped, and you turned the engine before judging the pump.",
        "The lever flopped, and you took that for an answer without turning the engine.",
        "With the cam holding the pump's arm the lever has no stroke, and a sound pump feels dead.",
        0.5,
        lobe_tried_again,
        FAMILY,
    ),
    Rule(
        "no_empty_repeats",
        "Do not repeat a check when nothing has changed.",
        "You did not repeat checks that could tell nothing new.",
        "You repeated checks when nothing had changed since the last time.",
        "Daylight, tide and patience run out; spend them on a check whose answer you don't know yet.",
        0.5,
        judge.no_empty_repeats,
        FAMILY,
    ),
)
