"""Wax: where cold fuel turns hazy and where it shuts a filter element, with the classes that EN 590 sells it by.

Above the cloud point fuel is clear; below it crystals show and gather on an element; at the cold filter plugging point
(CFPP) a fine element is practically shut. Warming undoes it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine_sim.errors import UnknownName
from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue, published

_EN_590 = published("EN 590, automotive diesel fuel, climate-related requirements")
_EN_16329 = published("EN 16329, scope: CFPP more than 12 K below the cloud point promises too much")
_ISO_3015 = published("ISO 3015, cloud point: the temperature at which a cloud of crystals first appears")

CLOUD_OVER_CFPP = SourcedValue(10.0, "K", _EN_590, "cloud point above CFPP in every arctic class")
FARTHEST_BELOW_CLOUD = SourcedValue(12.0, "K", _EN_16329, "a fuel with a lower CFPP fails here all the same")
SHUT_FACTOR = SourcedValue(1e4, "1", FROM_MEMORY, "times the clean resistance where fuel no longer gets through")
STEEPNESS = SourcedValue(3.0, "1", FROM_MEMORY, "exponent: little wax at first, most of it in the last kelvins")
GREATEST_FACTOR = SourcedValue(1e8, "1", FROM_MEMORY, "solid wax; nothing passes from here on")
COLDEST = SourcedValue(200.0, "K", FROM_MEMORY, "colder than any sea or boat yard")
WARMEST = SourcedValue(400.0, "K", FROM_MEMORY, "warmer than any fuel line")
LOWEST_CFPP = SourcedValue(220.0, "K", FROM_MEMORY, "below the coldest class, 229.15 K")
HIGHEST_CFPP = SourcedValue(290.0, "K", FROM_MEMORY, "above the warmest class, 278.15 K")
FARTHEST_CLOUD = SourcedValue(40.0, "K", FROM_MEMORY, "cloud point above CFPP, at most")


@dataclass(frozen=True, slots=True)
class FuelClass:
    """A class of diesel fuel by the cold it bears: its CFPP and its cloud point [K]."""

    name: str
    cfpp: SourcedValue
    cloud: SourcedValue


_TEMPERATE_CFPP = (
    SourcedValue(278.15, "K", _EN_590, "class A, +5 degC"),
    SourcedValue(273.15, "K", _EN_590, "class B, 0 degC"),
    SourcedValue(268.15, "K", _EN_590, "class C, -5 degC"),
    SourcedValue(263.15, "K", _EN_590, "class D, -10 degC"),
    SourcedValue(258.15, "K", _EN_590, "class E, -15 degC"),
    SourcedValue(253.15, "K", _EN_590, "class F, -20 degC"),
)
_ARCTIC = (
    (SourcedValue(253.15, "K", _EN_590, "CFPP -20 degC"), SourcedValue(263.15, "K", _EN_590, "cloud point -10 degC")),
    (SourcedValue(247.15, "K", _EN_590, "CFPP -26 degC"), SourcedValue(257.15, "K", _EN_590, "cloud point -16 degC")),
    (SourcedValue(241.15, "K", _EN_590, "CFPP -32 degC"), SourcedValue(251.15, "K", _EN_590, "cloud point -22 degC")),
    (SourcedValue(235.15, "K", _EN_590, "CFPP -38 degC"), SourcedValue(245.15, "K", _EN_590, "cloud point -28 degC")),
    (SourcedValue(229.15, "K", _EN_590, "CFPP -44 degC"), SourcedValue(239.15, "K", _EN_590, "cloud point -34 degC")),
)


def _temperate(name: str, cfpp: SourcedValue) -> FuelClass:
    """Return a temperate class, for which the standard leaves the cloud point open."""
    cloud = SourcedValue(cfpp.value + CLOUD_OVER_CFPP.value, "K", FROM_MEMORY, "as far above CFPP as in arctic classes")
    return FuelClass(name, cfpp, cloud)


def fuel_classes() -> Mapping[str, FuelClass]:
    """Return the temperate classes A to F and the arctic classes 0 to 4 of EN 590, by name."""
    temperate = [_temperate(name, cfpp) for name, cfpp in zip("ABCDEF", _TEMPERATE_CFPP, strict=True)]
    arctic = [FuelClass(str(number), cfpp, cloud) for number, (cfpp, cloud) in enumerate(_ARCTIC)]
    return {each.name: each for each in (*temperate, *arctic)}


def fuel_class(name: str) -> FuelClass:
    """Return one class of EN 590; raise UnknownName if there is none of that name."""
    known = fuel_classes()
    if name not in known:
        raise UnknownName("class of diesel fuel", name, known)
    return known[name]


def _require(temperature_k: float, cfpp_k: float, cloud_k: float) -> None:
    require_in_range("fuel temperature", temperature_k, COLDEST.value, WARMEST.value, "K")
    require_in_range("CFPP", cfpp_k, LOWEST_CFPP.value, HIGHEST_CFPP.value, "K")
    require_in_range("cloud point", cloud_k, cfpp_k + 1.0, cfpp_k + FARTHEST_CLOUD.value, "K")


def shuts_at_k(cfpp_k: float, cloud_k: float | None = None) -> float:
    """Return the temperature [K] at which a fine element is practically shut.

    CFPP [K], 220 to 290, but never more than 12 K below the cloud point [K] (EN 16329).
    """
    cloud = cfpp_k + CLOUD_OVER_CFPP.value if cloud_k is None else cloud_k
    _require(cloud, cfpp_k, cloud)
    return max(cfpp_k, cloud - FARTHEST_BELOW_CLOUD.value)


def wax_factor(temperature_k: float, cfpp_k: float, cloud_k: float | None = None) -> float:
    """Return by how much wax multiplies an element's resistance [1]: 1 above the cloud point, 1e4 at CFPP.

    ``1e4 ** x^3`` with x from 0 at the cloud point to 1 where the element is shut, and on, up to 1e8: smooth, rising
    with the cold. Temperature 200 to 400 K, CFPP 220 to 290 K, cloud point [K] 1 to 40 K above it (10 K if not given).
    CFPP and the farthest it can be trusted below the cloud point: EN 590, EN 16329; the shape is from memory.
    """
    cloud = cfpp_k + CLOUD_OVER_CFPP.value if cloud_k is None else cloud_k
    _require(temperature_k, cfpp_k, cloud)
    if temperature_k >= cloud:
        return 1.0
    depth = (cloud - temperature_k) / (cloud - shuts_at_k(cfpp_k, cloud))
    if depth**STEEPNESS.value >= 2.0:
        return GREATEST_FACTOR.value
    factor: float = SHUT_FACTOR.value**depth**STEEPNESS.value
    return factor


def is_hazy(temperature_k: float, cloud_k: float) -> bool:
    """Tell whether fuel at ``temperature_k`` [K] shows a haze of wax: below its cloud point [K] (ISO 3015)."""
    return temperature_k < cloud_k
