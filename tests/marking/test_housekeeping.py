"""Housekeeping: how boats of every layout were left. Common practice, no source, but for the waste (MARPOL Annex I)."""

from __future__ import annotations

import pytest
from deeds import LAYOUTS, READY, SCHEME, boat, played, worked

from engine_sim.marking.housekeeping import Item, items_of, mark_housekeeping, sum_up
from engine_sim.marking.replaying import track_of
from engine_sim.marking.telling import telling_of, with_telling

ON_EVERY_BOAT = pytest.mark.parametrize("layout", LAYOUTS)
STOP = ("stop_control_pulled", "stop_control")
HOME = "stop_control.push_home"
OPENED, CLOSED = (*READY, "fine_filter.open_screw"), "fine_filter.close_screw"
DRAINED = (
    "shut_off.shut",
    "separator.open_vent",
    "separator.open_drain",
    "separator.close_drain",
    "separator.close_vent",
    "shut_off.open",
)


def left(layout: str, *work: str, fault: tuple[str, str] = STOP) -> dict[str, Item]:
    """Return what was at stake after some work, by its key."""
    scenario = boat(layout, fault)
    attempt = played(scenario, *work)
    track = track_of(scenario, attempt.steps)
    track = with_telling(scenario, track, telling_of(scenario, track))
    items = items_of(attempt, track, attempt.steps, frozenset({fault[1]}), SCHEME)
    return {item.key: item for item in items}


def share(layout: str, key: str, *work: str, fault: tuple[str, str] = STOP) -> float | None:
    """Return the share kept of one thing, None where it was not at stake."""
    found = left(layout, *work, fault=fault)
    return found[key].share if key in found else None


@ON_EVERY_BOAT
def test_a_screw_left_open_and_one_shut(layout):
    assert share(layout, "shut_and_tight", *OPENED) == 0.0
    assert share(layout, "shut_and_tight", *OPENED, CLOSED) == 1.0
    assert share(layout, "shut_and_tight", HOME) is None


@ON_EVERY_BOAT
@pytest.mark.parametrize(
    ("leaves", "puts_right", "says"),
    [
        ("separator.open_vent", "separator.close_vent", "top vent open"),
        ("separator.open_drain", "separator.close_drain", "drain tap open"),
        ("injector_1.slacken_nut", "injector_1.tighten_nut", "union nut"),
        ("tank.open_cap", "tank.close_cap", "filler cap"),
        ("pump_joint.undo", "pump_joint.nip_up", "undone"),
    ],
)
def test_everything_that_opens_is_shut_again(layout, leaves, puts_right, says):
    open_still = left(layout, HOME, leaves)["shut_and_tight"]
    assert open_still.share == 0.0 and says in open_still.broken
    assert share(layout, "shut_and_tight", HOME, leaves, puts_right) == 1.0


@pytest.mark.parametrize("layout", ["tank_below", "metal_bowl"])
def test_a_filter_off_or_badly_fitted_is_not_tight(layout):
    off = ("fine_filter.take_off", "fine_filter.check_ring", "fine_filter.wipe_seat")
    assert "taken apart" in left(layout, *off)["shut_and_tight"].broken
    assert share(layout, "shut_and_tight", *off, "fine_filter.fit_by_hand") == 1.0
    assert "not sealed" in left(layout, *off, "fine_filter.fit_loose")["shut_and_tight"].broken


@pytest.mark.parametrize(
    ("layout", "leaves", "puts_right", "says"),
    [
        *((layout, "shut_off.shut", "shut_off.open", "shut-off shut") for layout in LAYOUTS),
        *((layout, "stop_control.pull", HOME, "stop control pulled") for layout in LAYOUTS),
        *((layout, "exhaust.shut_seacock", "exhaust.open_seacock", "seacock shut") for layout in LAYOUTS),
        *((layout, "return_line.to_jar", "return_line.to_tank", "return line") for layout in LAYOUTS),
        *((layout, "can.to_pump", "can.from_pump", "on the can") for layout in LAYOUTS),
        ("two_tanks", "changeover.to_none", "changeover.to_a", "open to no tank"),
        ("electric_pump", "engine.key_on", "engine.key_off", "key on"),
    ],
)
def test_valves_controls_and_hoses_as_they_belong(layout, leaves, puts_right, says):
    wrong = left(layout, HOME, leaves)["valves"]
    assert wrong.share == 0.0 and says in wrong.broken
    assert share(layout, "valves", HOME, leaves, puts_right) == 1.0


@ON_EVERY_BOAT
def test_wiping_up_after_wet_work(layout):
    assert share(layout, "clean", *OPENED, CLOSED) == 0.5
    assert share(layout, "clean", *OPENED, CLOSED, "bench.wipe_up") == 1.0
    assert share(layout, "clean", *OPENED, CLOSED, "bench.wipe_up", "pump_joint.undo", "pump_joint.nip_up") == 0.5
    assert share(layout, "clean", HOME) is None


def test_more_spilled_than_allowed_is_said_with_the_limit():
    """A high tank runs out by its own head through a drain without its jar: through the undone joint."""
    work = (*READY, "pump_joint.new_hose", "fine_filter.change_element", "separator.change_element")
    most = max(
        m.after["spilled_ml"]
        for m in track_of(boat("high_tank", STOP), played(boat("high_tank", STOP), *work[4:]).steps).moments
    )
    found = left("high_tank", *work[4:], "bench.wipe_up")["clean"]
    assert most > SCHEME.limits.spilled_ml
    assert found.share == 0.5 and f"the limit is {SCHEME.limits.spilled_ml:.0f} ml" in found.broken


@ON_EVERY_BOAT
def test_the_jar_goes_into_the_can_for_waste(layout):
    assert share(layout, "waste", *READY, *DRAINED) == 0.0
    assert share(layout, "waste", *READY, *DRAINED, "bench.empty_jar") == 1.0
    assert share(layout, "waste", *READY, *DRAINED, "bench.tip_overboard") == 0.0
    assert share(layout, "waste", *OPENED, CLOSED) is None


def test_washers_counted_and_no_spare_in_vain():
    change = ("fine_filter.change_element",)
    loaded = ("loaded_element", "separator")
    assert share("tank_below", "stores", *change) == 0.0
    assert share("tank_below", "stores", *change, "bench.count_washers") == 0.5
    assert share("tank_below", "stores", "bench.count_washers", *change) == 0.0
    needed = ("separator.look", "separator.change_element", "bench.count_washers")
    assert share("tank_below", "stores", *needed, fault=loaded) == 1.0
    assert share("tank_below", "stores", *needed, *change, "bench.count_washers", fault=loaded) == 0.5
    assert share("tank_below", "stores", HOME) is None


def test_what_was_refused_makes_nothing_tight():
    """With the engine running nobody makes up a joint: loosened it stays, in housekeeping as in method."""
    runs = (HOME, "starter.crank_10", "pump_joint.undo", "pump_joint.remake")
    track = track_of(boat("tank_below", STOP), played(boat("tank_below", STOP), *runs).steps)
    assert track.moments[-1].refused
    assert left("tank_below", *runs)["shut_and_tight"].share == 0.0


def test_a_note_for_the_next_person():
    assert share("tank_below", "note", HOME) == 0.0
    assert share("tank_below", "note", HOME, "note") == 1.0


def test_all_kept_earns_all_and_half_of_it_over_an_engine_that_is_not_cured():
    points = SCHEME.housekeeping
    items = [Item(key, 1.0, "well", "ill", "why") for key in ("shut_and_tight", "valves", "note")]
    assert sum_up(items, True, 0.0, SCHEME.weights.housekeeping, points).score == SCHEME.weights.housekeeping
    half = sum_up(items, False, 0.0, SCHEME.weights.housekeeping, points)
    assert half.score == points.uncured_share * SCHEME.weights.housekeeping
    assert sum(reason.points for reason in half.reasons if not reason.good) == SCHEME.weights.housekeeping - half.score


def test_who_touched_nothing_has_nothing_to_leave_in_order():
    scenario = boat("tank_below", STOP)
    for work in ((), ("tank.dip", "shut_off.look", "note")):
        attempt = played(scenario, *work)
        track = track_of(scenario, attempt.steps)
        items = items_of(attempt, track, attempt.steps, frozenset({"stop_control"}), SCHEME)
        assert mark_housekeeping(items, track, False, 0.0, SCHEME).score == 0.0


def test_the_boat_is_looked_at_before_the_engine_test_moves_anything():
    sheet = worked(boat("tank_below", STOP), HOME, "engine.key_on", "note")
    texts = [reason.text for reason in sheet.marks["housekeeping"].reasons if not reason.good]
    assert texts == ["You left the key on."]
    assert sheet.marks["cure"].score == SCHEME.weights.cure


def test_an_isolator_left_off_at_the_berth_is_as_it_may_be():
    """Common practice, no source: many leave a boat with the isolator off, and the cautions ask for it."""
    sheet = worked(boat("tank_below", STOP), HOME, "battery.isolate", "note")
    assert all("isolator" not in reason.text for reason in sheet.marks["housekeeping"].reasons)


def test_who_looks_around_and_finds_it_dry_has_nothing_to_wipe():
    scenario = boat("tank_below", STOP)

    def clean(*last: str) -> float:
        attempt = played(scenario, "bench.lay_tray", "pump_joint.nip_up", "fine_filter.open_screw",
                         "fine_filter.close_screw", *last)  # fmt: skip
        track = track_of(scenario, attempt.steps)
        (found,) = [one for one in items_of(attempt, track, attempt.steps, frozenset(), SCHEME) if one.key == "clean"]
        return found.share

    assert clean() == 0.5
    assert clean("bench.look_around") == clean("bench.wipe_up") == 1.0
