"""Wax in cold fuel: the classes of EN 590, and a filter element that shuts between cloud point and CFPP."""

from __future__ import annotations

import itertools
import math

import pytest
from printed_tables import read_rows

from engine_sim.errors import OutOfRange, UnknownName
from engine_sim.fluids import diesel_fuel, wax
from engine_sim.units import celsius_to_kelvin

CLASSES = read_rows("fuel_classes.csv")
ARCTIC = [row for row in CLASSES if row["cloud point [degC]"]]
CLEAN_PA, CLEAN_L_PER_H = 1e3, 30.0  # a clean fine filter: 2 kPa at most, from memory
GREATEST_PA = 40.6e3  # 12 inHg, where US Army TM 5-3895-346-14 changes the element
IDLE_L_PER_H = 0.5  # from memory


def passes_l_per_h(temperature_k: float, cfpp_k: float, cloud_k: float | None = None) -> float:
    """Return what gets through a clean fine element at the greatest pressure difference anyone allows it."""
    return GREATEST_PA / CLEAN_PA * CLEAN_L_PER_H / diesel_fuel.wax_factor(temperature_k, cfpp_k, cloud_k)


def test_every_class_is_there():
    """EN 590: A to F and 0 to 4."""
    assert list(wax.fuel_classes()) == [row["class [name]"] for row in CLASSES]


@pytest.mark.parametrize("row", CLASSES, ids=lambda row: row["class [name]"])
def test_a_class_bears_the_cold_that_en_590_prints(row):
    """EN 590, to the printed kelvin."""
    named = wax.fuel_class(row["class [name]"])
    assert named.cfpp.value == pytest.approx(celsius_to_kelvin(float(row["CFPP [degC]"])), abs=1e-9)
    if row["cloud point [degC]"]:
        assert named.cloud.value == pytest.approx(celsius_to_kelvin(float(row["cloud point [degC]"])), abs=1e-9)


def test_a_cloud_point_not_given_is_as_far_above_as_in_the_arctic_classes():
    """EN 590: 10 K in every one of them."""
    apart = {float(row["cloud point [degC]"]) - float(row["CFPP [degC]"]) for row in ARCTIC}
    assert apart == {wax.CLOUD_OVER_CFPP.value}
    assert wax.fuel_class("D").cloud.value - wax.fuel_class("D").cfpp.value == pytest.approx(10.0)


def test_the_fuel_of_the_course_is_of_class_d():
    """EN 590, class D."""
    named = wax.fuel_class("D")
    assert (diesel_fuel.CFPP.value, diesel_fuel.CLOUD_POINT.value) == (named.cfpp.value, named.cloud.value)


@pytest.mark.parametrize("above_k", [0.0, 0.01, 5.0, 30.0])
@pytest.mark.parametrize("row", ARCTIC, ids=lambda row: row["class [name]"])
def test_above_the_cloud_point_fuel_is_clear_and_an_element_open(above_k, row):
    """ISO 3015: the cloud point is where crystals first show."""
    cfpp_k, cloud_k = (celsius_to_kelvin(float(row[name])) for name in ("CFPP [degC]", "cloud point [degC]"))
    assert diesel_fuel.wax_factor(cloud_k + above_k, cfpp_k, cloud_k) == 1.0
    assert not diesel_fuel.is_hazy(cloud_k + above_k, cloud_k)
    assert diesel_fuel.is_hazy(cloud_k - 0.5, cloud_k)


@pytest.mark.parametrize("row", CLASSES, ids=lambda row: row["class [name]"])
def test_at_cfpp_a_fine_element_starves_an_idling_engine(row):
    """EN 590 with EN 16329's scope: CFPP is near the failure in the field. Idle 0.5 L/h, from memory."""
    cfpp_k = celsius_to_kelvin(float(row["CFPP [degC]"]))
    for below_k in (0.0, 1.0, 5.0):
        assert passes_l_per_h(cfpp_k - below_k, cfpp_k) < IDLE_L_PER_H
    assert passes_l_per_h(cfpp_k - 5.0, cfpp_k) < IDLE_L_PER_H / 100


def test_half_way_down_the_engine_still_gets_its_full_load():
    """EN 16329's scope: between cloud point and CFPP fuel stays usable. 20 kW takes 6.19 L/h at 260 g/kWh."""
    cfpp_k = diesel_fuel.CFPP.value
    assert passes_l_per_h(cfpp_k + 5.0, cfpp_k) > 10 * 6.19


@pytest.mark.parametrize("gap_k", [15.0, 20.0, 30.0])
def test_a_cfpp_far_below_the_cloud_point_promises_too_much(gap_k):
    """EN 16329's scope: more than 12 K below the cloud point fuel fails warmer than its CFPP says."""
    cloud_k = celsius_to_kelvin(0.0)
    assert wax.shuts_at_k(cloud_k - gap_k, cloud_k) == cloud_k - 12.0
    assert passes_l_per_h(cloud_k - 12.0, cloud_k - gap_k, cloud_k) < IDLE_L_PER_H


@pytest.mark.parametrize(("cfpp_k", "cloud_k"), [(263.15, None), (268.15, 271.15), (253.15, 278.15)])
def test_the_factor_rises_smoothly_and_only_in_the_cold(cfpp_k, cloud_k):
    """In thousandths of the way down to where it shuts: never down, never by more than 5 % at once, 1 at the start."""
    top = cfpp_k + 10.0 if cloud_k is None else cloud_k
    step_k = (top - wax.shuts_at_k(cfpp_k, cloud_k)) / 1000.0
    colder = [diesel_fuel.wax_factor(top - (step - 20) * step_k, cfpp_k, cloud_k) for step in range(1500)]
    assert colder[0] == 1.0 and colder[-1] > 1e4
    assert all(1.0 <= more / less < 1.05 for less, more in itertools.pairwise(colder) if more < 1e8)
    assert all(more >= less for less, more in itertools.pairwise(colder))
    assert all(math.isfinite(each) for each in colder)


def test_warming_undoes_it():
    """The factor knows the temperature alone, not the past: waxed fuel clears when warmed (common practice)."""
    cfpp_k = diesel_fuel.CFPP.value
    assert diesel_fuel.wax_factor(cfpp_k - 3.0, cfpp_k) > 1e4
    assert diesel_fuel.wax_factor(cfpp_k + 10.0, cfpp_k) == 1.0


def test_an_unknown_class_is_refused_by_name():
    """With the nearest, and all there are."""
    with pytest.raises(UnknownName, match=r"No class of diesel fuel is called 'G'.*Allowed: 0, 1"):
        wax.fuel_class("G")


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ((math.nan, 263.15), "fuel temperature"),
        ((100.0, 263.15), "fuel temperature"),
        ((280.0, -10.0), "CFPP"),
        ((280.0, 263.15, 263.0), "cloud point"),
        ((280.0, 263.15, math.inf), "cloud point"),
    ],
)
def test_nonsense_is_refused_by_name(given, named):
    """Kelvin, not degrees; a cloud point lies above CFPP."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        diesel_fuel.wax_factor(*given)
