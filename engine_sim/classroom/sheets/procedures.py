"""The register of procedures: the steps of each in the order that marking asks, the rules it keeps, where it is played.

A step is an action of the bench, by kind of part; its words, its caution and its tools come from there. The rules are
named by their ids; that a procedure keeps each of them, and puts no other at stake, is proved by playing it.
The procedures are common practice, no source; bleeding until a solid run comes is in US Navy NAVEDTRA 14076 and 14329.
"""

from __future__ import annotations

from collections.abc import Iterator

from engine_sim.classroom.sheets.procedure import Names, Procedure, Step
from engine_sim.errors import UnknownName


def procedure(name: str) -> Procedure:
    """Return one procedure; raise UnknownName with the nearest name if there is none."""
    for one in PROCEDURES:
        if one.id == name:
            return one
    raise UnknownName("procedure", name, [one.id for one in PROCEDURES])


def deeds_of(one: Procedure) -> Iterator[Step]:
    """Yield the steps of a procedure, those of another card that it names among them."""
    for step in one.steps:
        if step.card:
            yield from deeds_of(procedure(step.card))
        else:
            yield step


def cautions_of(one: Procedure) -> Names:
    """Return the names of the cautions that stand beside what a card has hands do, each once."""
    return tuple(dict.fromkeys(step.action.caution for step in one.steps if not step.card and step.action.caution))


_FILLED = Step(
    "lift_pump", "lever_60", "with an electric pump: key on, and watch", until=("lever_steady", "screw_solid")
)
_START: tuple[Step, ...] = (
    Step("starter", "crank_10", "no longer"),
    Step("engine", "run_idle_5min"),
    Step("bench", "look_around", "for weeps, while it runs"),
)
_LINES = "The same goes for the injection pump's timing, the nuts of its delivery valves, and all of a common rail."
UNTIL_WORDS = {
    "drain_runs_fuel": "What comes now looks like clean fuel.",
    "nut_pulses": "At each slack union nut clear fuel comes out in pulses.",
}
"""What one goes on until, where the sentence has figures in it."""

PROCEDURES: tuple[Procedure, ...] = (
    Procedure(
        "before",
        "Before every job",
        "First of all, whatever is wrong.",
        (
            Step("bench", "make_fast"),
            Step("bench", "tell_someone"),
            Step("bench", "ventilate"),
            Step("bench", "extinguisher"),
            Step("engine", "stop", "and turn the key off", played=False),
            Step("bench", "cool", "if it ran", played=False),
            Step("bench", "put_on_goggles"),
            Step("bench", "lay_tray", "under what is to be opened"),
            Step("battery", "isolate", "before hands go among belts, shaft or heavy cables", played=False),
        ),
    ),
    Procedure(
        "drain_below",
        "Drain the separator: tank below it",
        "Water, dirt or slime in the bowl, and the tank lies lower than the separator.",
        (
            Step("shut_off_valve", "shut", "it holds the fuel in the hose"),
            Step("separator", "open_vent", "nothing falls without it"),
            Step("separator", "open_drain"),
            Step("bench", "wait_10s", until=("drain_runs_fuel",)),
            Step("separator", "close_drain", "by hand, no harder"),
            Step("separator", "read_jar"),
            Step("separator", "fill", "while the shut-off is still shut"),
            Step("separator", "close_vent"),
            Step("shut_off_valve", "open", "only now: with the vent open the hose would empty itself into the tank"),
            Step(card="bleed_low"),
            *_START,
        ),
        ("drain_tank_below", "drain_to_clean_fuel"),
        faults=(("gauge_wrong", "tank"),),
    ),
    Procedure(
        "drain_above",
        "Drain the separator: tank above it",
        "Water, dirt or slime in the bowl, and the tank lies higher than the separator.",
        (
            Step("shut_off_valve", "look", "open: the fuel above pushes the water out"),
            Step("separator", "open_drain"),
            Step("bench", "wait_10s", until=("drain_runs_fuel",)),
            Step("separator", "close_drain", "by hand, no harder"),
            Step("separator", "read_jar"),
            *_START,
        ),
        ("drain_tank_above", "drain_to_clean_fuel"),
        layout="high_tank",
        faults=(("gauge_wrong", "tank"),),
    ),
    Procedure(
        "separator_element",
        "Change the separator's element",
        "The glass is smeared dark, the lever pulls hard, or the hours are up.",
        (
            Step("shut_off_valve", "shut"),
            Step("separator", "clean_outside", "dirt that falls in is worse than air"),
            Step("separator", "take_bowl_off", "over the tray; keep what runs out"),
            Step("separator", "check_ring"),
            Step("separator", "wipe_bowl"),
            Step("separator", "check_ball", "where there is one"),
            Step("separator", "fit_wetted", "evenly, by hand"),
            Step("separator", "open_vent"),
            Step("separator", "fill", "while the shut-off is still shut"),
            Step("separator", "close_vent"),
            Step("shut_off_valve", "open"),
            Step(card="bleed_low"),
            *_START,
        ),
        ("shut_before_opening", "separator_element_steps"),
        layout="metal_bowl",
        faults=(("loaded_element", "separator"),),
    ),
    Procedure(
        "fine_filter_element",
        "Change the fine filter's element",
        "Flow is strong before the fine filter and weak behind it, or the hours are up.",
        (
            Step("shut_off_valve", "shut"),
            Step("fine_filter", "clean_outside"),
            Step("fine_filter", "take_off", "over the tray"),
            Step("fine_filter", "check_ring", "a doubled ring leaks"),
            Step("fine_filter", "wipe_seat"),
            Step("fine_filter", "fit_by_hand", "one held by a bolt: new washer, and the manual's torque"),
            Step("shut_off_valve", "open"),
            Step(card="bleed_pump"),
            *_START,
        ),
        ("shut_before_opening", "fine_filter_steps", "nothing_poured_in"),
        faults=(("loaded_element", "fine_filter"),),
    ),
    Procedure(
        "bleed_low",
        "Bleed the low-pressure side",
        "Air in the fine filter: after every job that opened the fuel side, and after the tank ran low.",
        (
            Step("shut_off_valve", "look", "open, and fuel in the tank"),
            Step("fine_filter", "open_screw", "rag round it"),
            _FILLED,
            Step("fine_filter", "close_screw", "while it still flows"),
            Step("fine_filter", "open_outlet_screw", "where there is one"),
            _FILLED,
            Step("fine_filter", "close_outlet_screw", "while it still flows"),
            Step("bench", "wipe_up"),
        ),
        ("bleed_outwards", "bleed_to_clear"),
        ("bleed_with_fuel_open", "prime_before_start", "air_has_a_source", "lever_on_the_cam"),
        faults=(("air_in_filter", "fine_filter"),),
    ),
    Procedure(
        "bleed_pump",
        "Bleed the injection pump",
        "The fine filter runs clear and the engine does not fire, or the pump was opened.",
        (
            Step(card="bleed_low"),
            Step("injection_pump", "open_lower_screw", "where there is one; the lower before the upper", played=False),
            Step("injection_pump", "close_lower_screw", "while it still flows", played=False),
            Step("injection_pump", "open_screw", "the low-pressure bleed screw only"),
            _FILLED,
            Step("injection_pump", "close_screw", "while it still flows"),
            Step("bench", "wipe_up"),
        ),
        ("bleed_outwards", "bleed_to_clear"),
        ("tight_before_start",),
        faults=(("air_in_filter", "injection_pump"),),
        ends=("Never touch the nuts on top of the injection pump that hold its delivery valves.",),
    ),
    Procedure(
        "high_pressure_lines",
        "High-pressure lines, and where an owner stops",
        "Fine filter and injection pump run clear, and an injector is silent. Never on an engine with a common rail.",
        (
            Step(card="bleed_pump"),
            Step("bench", "put_on_goggles"),
            Step("exhaust", "shut_seacock", "while it is cranked again and again"),
            Step("injector", "slacken_nut", "half a turn, hands and face clear"),
            Step("starter", "crank_10", "no longer", until=("nut_pulses",), rests=True),
            Step("injector", "tighten_nut", "one at a time, to the manual's torque"),
            Step("injector", "wipe"),
            Step("starter", "crank_10", "open the seacock at once when it fires"),
            Step("exhaust", "open_seacock"),
            Step("injector", "card", "once the engine runs; never fingers"),
        ),
        ("short_turns_at_the_lines", "card_at_the_nuts", "goggles_at_high_pressure", "card_not_hand", "seacock_minded"),
        faults=(("air_in_line", "injector_1"), ("air_in_line", "injector_2"), ("air_in_line", "injector_3")),
        ends=(_LINES,),
        says_where_to_stop=True,
    ),
    Procedure(
        "can_bypass",
        "Home on a can",
        "What is wrong lies between tank and lift pump and cannot be mended here; it also tells the two sides apart.",
        (
            Step("fuel_can", "fill", "fresh, clean diesel"),
            Step("fuel_can", "lash", "at most half a metre below the pump"),
            Step("fuel_can", "crack_cap", "a sealed can sucks itself flat"),
            Step("shut_off_valve", "shut"),
            Step("fuel_can", "to_pump", "its end 20 to 30 mm off the can's bottom"),
            Step("return_line", "to_jar"),
            Step(card="bleed_low", note="the shut-off stays shut"),
            Step("starter", "crank_10", "no longer"),
            Step("engine", "run_idle_1min", "until the jar runs clean, about half a litre"),
            Step("return_line", "to_can", "never plugged"),
            Step("engine", "run_idle_5min", "then easy; look at the level every quarter of an hour"),
        ),
        ("can_stands_right", "can_return_first_to_jar"),
        faults=(("blocked_pick_up", "tank"),),
        ends=("Keep a third of the can in reserve, top it up only with the engine stopped and cool, sails ready.",),
    ),
    Procedure(
        "start",
        "Start in short turns",
        "Every try to start an engine that may not fire.",
        (
            Step("stop_lever", "look", "at run"),
            Step("exhaust", "look", "the seacock is open"),
            Step("preheat", "heat_20", "in the cold", played=False),
            Step("starter", "crank_10", "no longer"),
            Step("starter", "rest"),
            Step("separator", "look", "or another check: find something out before the next try"),
            Step("exhaust", "shut_seacock", "before it is cranked again and again"),
            Step("starter", "crank_10"),
            Step("exhaust", "open_seacock", "at once when it fires"),
            Step("exhaust", "look", "water must come from the outlet"),
        ),
        ("starter_rested", "seacock_minded", "find_out_between_tries"),
        faults=(("air_in_filter", "injection_pump"),),
    ),
    Procedure(
        "bad_tank",
        "A bad tank",
        "Slime, rust or water in the tank; filters that choke again and again.",
        (
            Step("tank", "sample_sump", "after hours of rest"),
            Step("bench", "read_jar"),
            Step("tank", "open_cap"),
            Step("tank", "draw_bottom", "until no more water comes"),
            Step("tank", "polish", "first through the coarse, then the fine"),
            Step("tank", "wipe_out", "where slime is left, or the floor is rusty", played=False),
            Step("tank", "dose", "where there was slime"),
            Step("tank", "close_cap"),
            Step("tank", "sample_sump", "again"),
            Step("bench", "read_jar"),
            Step("bench", "waste_ashore"),
        ),
        ("water_off_first",),
        faults=(("slime", "tank"),),
        ends=(
            "Carry spare elements: what was killed clogs filters for days.",
            "Cure what let it in: the filler's ring, the breather, a tank half empty in winter.",
        ),
    ),
    Procedure(
        "after",
        "When the job is done",
        "Before the engine is left alone, and before anybody says that it is cured.",
        (
            Step("engine", "run_cruise_5min", "it must run evenly"),
            Step("bench", "look_around", "nothing open, nothing wet"),
            Step("bench", "count_washers"),
            Step("bench", "wipe_up"),
            Step("bench", "empty_jar"),
            Step("bench", "waste_ashore"),
        ),
        ends=("Write down for the next person what was wrong, what was done and at which hours.",),
    ),
)
"""Every procedure, in the order of the sheet."""
