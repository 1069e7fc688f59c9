"""Fault finder and procedure cards against the simulator, the marks and what the trade's publications say.

The five signs checked by hand: US Navy NAVEDTRA 14264 (white smoke: fuel injected that does not burn; black smoke: too
little air, or overload), common practice (no smoke while cranking: no fuel injected), US Navy NAVEDTRA 14076 and common
practice (a shut valve starves the engine and lets no air in), common practice (a leak under suction draws air and does
not drip).
"""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from engine_sim.actions import actions_of, caution_of
from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names
from engine_sim.classroom.page_tree import read_page
from engine_sim.classroom.sheets import finder, plays
from engine_sim.classroom.sheets.fault_finder import fault_finder
from engine_sim.classroom.sheets.finder import ABOVE, BELOW, row_of
from engine_sim.classroom.sheets.noticed import GROUPS, LOOKS, Sign
from engine_sim.classroom.sheets.noticed_words import LEFT_OUT
from engine_sim.classroom.sheets.procedure import Procedure, Step
from engine_sim.classroom.sheets.procedure_cards import card, step_words
from engine_sim.classroom.sheets.procedures import PROCEDURES, deeds_of, procedure
from engine_sim.faults import faults
from engine_sim.marking import default_scheme
from engine_sim.marking.judges import Rule
from engine_sim.marking.replaying import track_of
from engine_sim.marking.rules import RULES
from engine_sim.marking.rules_bleeding import FAMILY as BLEEDING
from engine_sim.marking.rules_procedures import FAMILY as PROCEDURAL
from engine_sim.marking.safety import SAFETY_RULES
from engine_sim.marking.track import Track
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.wording import CAUTIONS, FAULTS, MANUAL_FIRST

LIMITS = default_scheme().limits
READY = ("bench.make_fast", "bench.ventilate", "bench.extinguisher", "bench.put_on_goggles", "bench.lay_tray")
LOOKS_FIRST = (
    *("starter.crank_5", "engine.stop", "stop_lever.look", "stop_solenoid.listen", "tank.dip", "shut_off_valve.look"),
    *("separator.look", "fine_filter.look", "tank.crack_cap", "tank.close_cap"),
)
FLOW_FIRST = ("fine_filter.open_screw", "lift_pump.lever_10", "fine_filter.close_screw")
"""The try at the bleed screw that comes before an element is changed."""
TAKES_OFF = {"separator_element", "fine_filter_element"}
RUNS_AT_THE_END = {one.id for one in PROCEDURES if any(step.name.startswith("run_idle") for step in one.steps)}
MOST_TRIES = 8


def row(*keys: str, also: tuple[str, ...] = ()) -> Sign:
    return next(one for group in GROUPS for one in group.signs if one.keys == keys and one.also == also)


def said(causes: Iterable[str]) -> set[str]:
    return {finder.cause_words(cause) for cause in causes}


def meaning(*keys: str, also: tuple[str, ...] = ()) -> set[str]:
    """Return what a sign can mean by the fault finder."""
    return said(row_of(row(*keys, also=also)).causes)


# ---- the fault finder ------------------------------------------------------------------------------------------------


def test_no_smoke_while_cranking_means_that_no_fuel_is_injected() -> None:
    none = meaning("engine.fires_not", also=("engine.smoke_none",))
    assert none >= {"stop control: left pulled out", "stop solenoid: does not pull", "fine filter: full of air"}
    assert none >= {"injection pump: full of air", "injector: does not spray"}
    assert not none & {"glow plugs: does not heat", "separator: water in it", "tank: urea solution in the diesel"}


def test_white_smoke_means_that_fuel_is_injected_and_does_not_burn() -> None:
    white = meaning("engine.fires_not", also=("engine.smoke_white",))
    assert white >= {"glow plugs: does not heat", "tank: urea solution in the diesel", "separator: water in it"}
    assert not white & {"stop control: left pulled out", "stop solenoid: does not pull", "injector: does not spray"}


def test_black_smoke_means_too_little_air_or_overload() -> None:
    assert meaning("engine.smoke_black") >= {
        "engine: air intake blocked",
        "engine: propeller fouled",
        "exhaust: blocked",
        "injector: drips instead of spraying",
    }


def test_a_shut_valve_starves_the_engine_lets_no_air_in_and_it_starts_again_when_that_is_opened() -> None:
    shut = "shut-off: shut"
    assert shut in meaning("lift_pump.lever_hard")
    assert shut in meaning("engine.dies", "engine.dies_meanwhile")
    for airy in ("fine_filter.screw_air", "fine_filter.screw_froth", "lift_pump.lever_spongy", "joint.air_in_hose"):
        assert shut not in meaning(airy), airy
    attempt = Attempt(compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")]))
    for deed in ("starter.crank_10", "engine.run_idle_5min", "shut_off.open", "starter.rest", "starter.crank_10"):
        seen = {one.key for one in attempt.act(*deed.split(".")).observations}
    assert "fires" in seen
    assert "ran_well" in {one.key for one in attempt.act("engine", "run_idle_5min").observations}


def test_a_leak_under_suction_draws_air_and_drips_only_below_a_tank() -> None:
    leak = "joint.slack_joint"
    assert "joint: slack, lets air in" in meaning("joint.froth_in_hose") & meaning("fine_filter.screw_air")
    assert finder.only_where(row("joint.air_in_hose"), leak) == BELOW
    assert finder.only_where(row("bench.wet_places"), leak) == ABOVE
    assert "joint: slack, lets air in (tank above)" in read_page(fault_finder()).text()


def test_the_likeliest_cause_comes_first_and_the_cheapest_check() -> None:
    for group in GROUPS:
        for sign in group.signs:
            found = row_of(sign)
            weights = [finder.weight_of(cause) for cause in found.causes]
            seconds = [check.seconds for check, _ in found.checks]
            assert weights == sorted(weights, reverse=True)
            assert seconds == sorted(seconds)
            assert all(set(told) <= set(found.causes) for _, told in found.checks)


def test_every_row_means_something_and_every_fault_stands_somewhere() -> None:
    rows = [row_of(sign) for group in GROUPS for sign in group.signs]
    assert [one.sign.keys for one in rows if not one.causes] == []
    told = said(cause for one in rows for cause in one.causes)
    told |= said(cause for _, signs in finder.looks() for _, causes in signs for cause in causes)
    told |= said(finder.silent_causes())
    assert told == said(finder.shown())
    assert {cause.split(".")[1] for cause in finder.shown()} == set(faults())
    assert {text.split(": ", 1)[1] for text in told} <= set(FAULTS.values())


def test_every_sign_that_a_fault_shows_has_its_row_its_look_or_its_reason_to_be_left_out() -> None:
    used = {key for keys in (*LOOKS.values(), *LEFT_OUT.values()) for key in keys}
    for group in GROUPS:
        used.update(key for sign in group.signs for key in (*sign.keys, *sign.also, *sign.without, *sign.bars))
    assert finder.signs_shown() - used == set()
    left_out = [key for keys in LEFT_OUT.values() for key in keys]
    assert set(left_out) <= finder.signs_shown()


def test_what_was_played_speaks_of_every_boat_every_fault_and_every_check() -> None:
    kept = plays.played()
    assert set(kept) == {*layout_names(), plays.IN_THE_COLD}
    assert [boat for boat in kept if not plays.is_current(boat, kept[boat])] == []


def test_what_was_played_is_kept_line_by_line_and_read_again() -> None:
    kept = dict(plays.played())
    assert plays.read_played(plays.as_text(kept)) == kept


def test_faults_played_again_show_what_was_kept() -> None:
    causes = ("joint.slack_joint", "stop_lever.stop_control_pulled", "tank.blocked_vent")
    again = plays.play_boat("high_tank", causes)
    assert dict(again.shows) == {cause: plays.played()["high_tank"].shows[cause] for cause in causes}


@pytest.mark.slow
@pytest.mark.parametrize("boat", ["tank_below", "single_cylinder", plays.IN_THE_COLD])
def test_a_whole_boat_played_again_shows_what_was_kept(boat: str) -> None:
    assert plays.play_boat(boat) == plays.played()[boat]


# ---- the procedure cards ---------------------------------------------------------------------------------------------


def worked(one: Procedure) -> tuple[Track, Attempt, list[Step]]:
    """Work by a card on its boat, after the looks that come first; return the steps that never came to their end."""
    attempt = Attempt(compose_scenario(one.layout, [SetFault(*fault) for fault in one.faults]))
    for deed in (*READY, *LOOKS_FIRST, *(FLOW_FIRST if one.id in TAKES_OFF else ())):
        do(attempt, *deed.split("."))
    endless = []
    for step in deeds_of(one):
        if step.played and not _goes_on(attempt, step):
            endless.append(step)
    return track_of(attempt.scenario, attempt.steps), attempt, endless


def _goes_on(attempt: Attempt, step: Step) -> bool:
    for _ in range(MOST_TRIES):
        if set(step.until) <= do(attempt, step.kind, step.name):
            return True
        if step.rests:
            do(attempt, "starter", "rest")
    return False


def do(attempt: Attempt, kind: str, name: str) -> set[str]:
    """Do an action at the first part of a kind, or at every injector; nothing where the boat has none."""
    kinds = {kind, f"rotary_{kind}"}
    parts = [part.id for part in attempt.place.parts if part.kind in kinds]
    done = [attempt.act(part, name) for part in (parts if kind == "injector" else parts[:1])]
    return {seen.key for step in done for seen in step.observations}


def at_stake(rules: Iterable[Rule], track: Track) -> dict[str, bool]:
    """Return the rules that the work put at stake, and whether each was kept."""
    verdicts = {rule.id: rule.judge(track, LIMITS) for rule in rules}
    return {name: all(one.kept for one in found) for name, found in verdicts.items() if found}


def rules_of(one: Procedure) -> set[str]:
    """Return the rules that a card names, and those of the cards that it sends on to."""
    further = [rules_of(procedure(step.card)) for step in one.steps if step.card]
    return {*one.rules, *one.mind}.union(*further)


@pytest.mark.parametrize("one", PROCEDURES, ids=lambda one: one.id)
def test_who_works_by_a_card_keeps_its_rules_and_breaks_none(one: Procedure) -> None:
    track, attempt, endless = worked(one)
    judged = at_stake((*RULES, *SAFETY_RULES), track)
    assert [name for name, kept in judged.items() if not kept] == []
    assert set(one.rules) <= set(judged)
    own = {rule.id for rule in RULES if rule.family in (BLEEDING, PROCEDURAL)}
    assert (set(judged) & own) - rules_of(one) <= {"tight_before_start", "bleed_to_clear"}
    if one.layout != "metal_bowl":
        assert endless == [], "a rotary pump's filter goes on giving a few bubbles at first"
    if one.id in RUNS_AT_THE_END:
        assert attempt.outside()["engine"] == "running"


@pytest.mark.parametrize("one", PROCEDURES, ids=lambda one: one.id)
def test_every_card_shows_the_cautions_of_what_hands_do_and_defers_to_manual_and_engineer(one: Procedure) -> None:
    text = read_page(card(one)).text()
    due = {caution_of(step.kind, step.name) for step in one.steps if not step.card} - {""}
    assert [name for name in due if CAUTIONS[name] not in text] == []
    assert MANUAL_FIRST in text


@pytest.mark.parametrize(
    ("name", "cautions"),
    [
        ("drain_below", {"fuel_opened", "waste", "fuelling"}),
        ("drain_above", {"fuel_opened", "waste"}),
        ("separator_element", {"fuel_opened", "waste"}),
        ("fine_filter_element", {"fuel_opened"}),
        ("bleed_low", {"fuel_opened", "waste"}),
        ("bleed_pump", {"fuel_opened"}),
        ("high_pressure_lines", {"high_pressure", "starting", "seacock", "engineer"}),
        ("can_bypass", {"can", "fuelling", "fuel_opened", "running"}),
        ("start", {"starting", "seacock", "preheating"}),
        ("bad_tank", {"waste", "biocide", "fuel_opened"}),
    ],
)
def test_a_card_warns_of_what_its_job_is_known_to_be_dangerous_for(name: str, cautions: set[str]) -> None:
    text = read_page(card(procedure(name))).text()
    assert [one for one in cautions if CAUTIONS[one] not in text] == []


def test_every_step_is_offered_on_some_boat_in_the_same_words() -> None:
    offered = {
        (part.kind, item.id): item.label
        for name in layout_names()
        for place in (plays.Workplace(compose_scenario(name).prepare()),)
        for part in place.parts
        for item in actions_of(place, part.id)
    }
    steps = [step for one in PROCEDURES for step in one.steps if not step.card]
    assert [step for step in steps if offered.get((step.kind, step.name)) != step.action.label] == []
    assert all(step.action.label in step_words(step) for step in steps)


def test_with_the_tank_below_the_separator_is_filled_before_the_shut_off_is_opened() -> None:
    """Else the fuel in the hose falls back into the tank through the open vent."""
    names = [(step.kind, step.name) for step in procedure("drain_below").steps]
    order = [("shut_off_valve", "shut"), ("separator", "open_vent"), ("separator", "open_drain")]
    order += [("separator", "close_drain"), ("separator", "fill"), ("separator", "close_vent")]
    assert [names.index(one) for one in (*order, ("shut_off_valve", "open"))] == sorted(
        names.index(one) for one in (*order, ("shut_off_valve", "open"))
    )
