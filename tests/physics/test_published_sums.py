"""Plain sums a sailor can check: litres an hour, what an injector puts in, a can, a silencer, the order of a search."""

from __future__ import annotations

import itertools
import math

import pytest
from printed_tables import A_THOUSANDTH, assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import formulas
from engine_sim.fluids.consumption import SPECIFIC_CONSUMPTION
from engine_sim.units import CUBIC_MILLIMETRE_M3, LITRE_M3, LITRE_PER_HOUR_M3_PER_S, MINUTE_S

DENSITY_15 = 840.0
CYLINDERS = 3
PROBABILITY, MINUTES = (0.5, 0.3, 0.2), (2.0, 10.0, 1.0)


@pytest.mark.parametrize("row", read_rows("fuel_consumption.csv"))
def test_an_engine_burns_what_its_power_takes(row):
    """260 g/kWh (from memory) of 840 kg/m3, a three-cylinder four-stroke: within 0.1 % or the last printed digit."""
    if row["power [kW]"]:
        burned = formulas.fuel_flow_m3_per_s(float(row["power [kW]"]) * 1e3, DENSITY_15)
        assert_printed(burned / LITRE_PER_HOUR_M3_PER_S, row["burned [L/h]"], relative=A_THOUSANDTH)
    else:
        burned = float(row["burned [L/h]"]) * LITRE_PER_HOUR_M3_PER_S
    if row["injected [mm3]"]:
        injected = formulas.injected_volume_m3(burned, CYLINDERS, float(row["speed [1/min]"]))
        assert_printed(injected / CUBIC_MILLIMETRE_M3, row["injected [mm3]"], relative=A_THOUSANDTH)


def test_the_specific_consumption_lies_where_it_is_published():
    """EPA NR-009d (from memory): 0.408 lb/(hp h), 248 g/kWh, below 100 hp; small engines up to 320 (from memory)."""
    grams_per_kwh = SPECIFIC_CONSUMPTION.value * 3.6e9
    assert grams_per_kwh == pytest.approx(260.0)
    pounds_per_hp_hour, pound_g, horsepower_kw = 0.408, 453.59237, 0.74569987
    assert round(pounds_per_hp_hour * pound_g / horsepower_kw) == 248
    assert 248.0 <= grams_per_kwh <= 320.0


@pytest.mark.parametrize("row", read_rows("can_endurance.csv"))
def test_a_can_lasts_ten_times_as_long_with_the_return_in_it(row):
    """Continuity: 9.5 L, 2 L/h burned, 18 L/h returned; to the printed digits."""
    lost = 18 * LITRE_PER_HOUR_M3_PER_S if row["return to [name]"] == "tank" else 0.0
    time_s = formulas.can_lasts_s(9.5 * LITRE_M3, 2 * LITRE_PER_HOUR_M3_PER_S, lost)
    assert_printed(time_s / MINUTE_S, row["time [min]"])


@pytest.mark.parametrize("row", read_rows("silencer_filling.csv"))
def test_cranking_with_the_seacock_open_fills_the_silencer(row):
    """25 L/min at 3000 rpm, cranked at 200, 4.5 L free (from memory): within 0.1 % or the last printed digit."""
    flow = formulas.sea_water_flow_m3_per_s(25 * LITRE_M3 / MINUTE_S, 3000.0, 200.0)
    assert_printed(flow / LITRE_M3 * MINUTE_S, row["flow [L/min]"], relative=A_THOUSANDTH)
    assert_printed(formulas.filling_time_s(4.5 * LITRE_M3, flow), row["time until full [s]"], relative=A_THOUSANDTH)


def expected_minutes(order: tuple[int, ...]) -> float:
    """Return the mean time to find one fault by perfect checks made in this order, counted from 0."""
    spent, total = 0.0, 0.0
    for number in order:
        spent += MINUTES[number]
        total += PROBABILITY[number] * spent
    return total


@pytest.mark.parametrize("row", read_rows("search_order.csv"))
def test_an_order_of_checks_takes_its_mean_time(row):
    """Kadane and Simon's rule; Heckerman, Breese and Rommelse (1995): to the printed digits."""
    order = tuple(int(number) - 1 for number in row["order [name]"].split("-"))
    assert_printed(expected_minutes(order), row["mean time [min]"])


def test_the_likely_and_cheap_first_is_the_best_of_all_orders():
    """Kadane and Simon's rule: sorted by probability over cost no order is better."""
    by_ratio = tuple(sorted(range(3), key=lambda number: -PROBABILITY[number] / MINUTES[number]))
    assert expected_minutes(by_ratio) == min(expected_minutes(order) for order in itertools.permutations(range(3)))


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (formulas.fuel_flow_m3_per_s, (-1.0, DENSITY_15), "power"),
        (formulas.fuel_flow_m3_per_s, (1e4, 0.84), "fuel density"),
        (formulas.fuel_flow_m3_per_s, (1e4, DENSITY_15, 260.0), "specific consumption"),
        (formulas.injected_volume_m3, (1e-6, 0, 3000.0), "number of cylinders"),
        (formulas.injected_volume_m3, (1e-6, 3, 0.0), "engine speed"),
        (formulas.can_lasts_s, (0.01, 0.0), "flow out of the can"),
        (formulas.sea_water_flow_m3_per_s, (math.nan, 3000.0, 200.0), "rated flow of the sea-water pump"),
        (formulas.filling_time_s, (4.5e-3, 0.0), "flow into it"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
