"""The signs of water, dirt, cold and wrong fuel, as a learner meets them. Common practice, no source, unless named."""

from __future__ import annotations

import pytest
from fault_boats import Row, case_id, cases, check, noticed, steps_on

from engine_sim.scenarios import SetFault

NO_GO = "fires_not|dies|dies_meanwhile|engine_stands"
RUN = "start engine.run_cruise_5min"
GLASS = ("high_tank", "tank_below", "two_tanks")
SAMPLE = "separator.open_drain separator.close_drain separator.read_jar"
COLD = (("temperature_c", 5.0),)

ROWS = (
    Row("water_in_bowl", "separator", f"separator.look {RUN}", f"bowl_water|bowl_all_water {NO_GO}", GLASS),
    Row("water_in_bowl", "separator", SAMPLE, "drain_runs_water jar_water", ("high_tank",)),
    Row("water_in_tank", "tank", f"tank.dip_paste {RUN}", f"paste_water {NO_GO}", ("tank_below", "high_tank")),
    Row("water_in_tank", "tank", "separator.look", "bowl_water|bowl_all_water", ("tank_below", "two_tanks")),
    Row("slime", "tank", f"tank.dip separator.look {RUN}", f"dip_slime bowl_slime|bowl_dark loses_speed|{NO_GO}"),
    Row("slime", "tank", "tank.sample_sump bench.read_jar", "jar_slime|jar_foul", ("tank_below",)),
    Row("dirt_in_tank", "tank", f"tank.dip separator.look {RUN}", f"dip_grit bowl_dark loses_speed|{NO_GO}"),
    Row("waxed_fuel", "tank", f"separator.look {RUN}", f"bowl_waxy {NO_GO}"),
    Row("waxed_fuel", "tank", "separator.change_element", "element_waxy"),
    Row("petrol_in_fuel", "tank", f"{RUN} {SAMPLE}", "engine_knocks jar_petrol", ("high_tank",)),
    Row("urea_in_fuel", "tank", f"{RUN} {SAMPLE}", f"jar_crystals {NO_GO}", ("high_tank",)),
    Row("no_preheat", "preheat", "start preheat.feel_stems", "fires_not smoke_white stems_cold", settings=COLD),
)


@pytest.mark.parametrize(("row", "layout"), cases(ROWS), ids=case_id)
def test_signs_show_on_the_boat_with_the_fault_and_on_no_sound_one(row, layout):
    check(row, layout)


def keys(layout: str, does: str, *faults: SetFault, **settings: float) -> list[str]:
    """Everything noticed by key, in order."""
    return [key for _, key, _ in noticed(layout, faults, steps_on(layout, does), tuple(settings.items()))]


def test_waxed_fuel_runs_again_once_its_filters_are_warmed():
    """EN 16329, scope: the cold filter plugging point is near where a filter fails in the field."""
    found = keys(
        "tank_below", "separator.warm fine_filter.warm start engine.run_idle_1min", SetFault("waxed_fuel", "tank")
    )
    assert "filter_warmed" in found
    assert "ran_well" in found


def test_the_same_cold_leaves_winter_fuel_alone():
    found = keys("tank_below", f"separator.look {RUN}", temperature_c=-5.0)
    assert "ran_well" in found


def test_water_waits_in_the_tank_for_a_seaway():
    """In a calm nothing reaches the bowl; the same water in rough water fills it."""
    calm = keys("tank_below", f"{RUN} separator.look", SetFault("water_in_bowl", "separator", 1e-4))
    assert "ran_well" in calm and "bowl_water" in calm
    rough = keys("tank_below", "separator.look", SetFault("water_in_tank", "tank", 2.5e-3))
    assert {"bowl_water", "bowl_all_water"} & set(rough)
