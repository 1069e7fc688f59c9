"""Small helpers that the components share: losses per unit of density, openings, short ways to declare a figure."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkSpec, PortSpec
from engine_sim.components.component import Numbers, Parameter
from engine_sim.errors import BadLayout
from engine_sim.fluids.formulas import bore_area_m2, local_loss_pa_s2_per_m6, orifice_loss_pa_s2_per_m6
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_UNIT_DENSITY_KG_PER_M3 = 1.0


def fitting_loss_1_per_m4(velocity_heads: float, bore_m: float) -> float:
    """Return k / (2 A^2) [1/m4] for ``velocity_heads`` k [1] lost at a bore [m]."""
    return local_loss_pa_s2_per_m6(_UNIT_DENSITY_KG_PER_M3, bore_area_m2(bore_m), velocity_heads)


def orifice_loss_1_per_m4(area_m2: float) -> float:
    """Return 1 / (2 (Cd A)^2) [1/m4] for a sharp opening [m2]."""
    return orifice_loss_pa_s2_per_m6(_UNIT_DENSITY_KG_PER_M3, area_m2)


def usual(name: str, value: float, unit: str, low: float, high: float, meaning: str, citation: str = "") -> Parameter:
    """Declare a figure; with a citation it is published, without one it is common practice."""
    source = published(citation) if citation else COMMON_PRACTICE
    return Parameter(name, SourcedValue(value, unit, source), low, high, meaning)


def counted(name: str, value: int, low: int, high: int, meaning: str) -> Parameter:
    """Declare a figure that is a whole number: a count, or no (0) and yes (1)."""
    return Parameter(name, SourcedValue(float(value), "1", COMMON_PRACTICE), low, high, meaning, whole=True)


def remembered(name: str, value: float, unit: str, low: float, high: float, meaning: str) -> Parameter:
    """Declare a figure whose usual value is cited from memory."""
    return Parameter(name, SourcedValue(value, unit, FROM_MEMORY), low, high, meaning)


def refuse_unless_rising(part: str, numbers: Numbers, low: str, high: str) -> None:
    """Refuse a part of which one figure does not lie below the other; both by name."""
    if not numbers[low] < numbers[high]:
        raise BadLayout(
            f"Part {part!r}: {low} is {numbers[low]:g} and {high} is {numbers[high]:g}; allowed is only "
            "the first below the second. Change one of them in the layout file."
        )


def add_opening(blueprint: Blueprint, name: str, port: PortSpec, area_m2: float, *, opening: float = 0.0) -> None:
    """Add a screw, tap, cap or hole to the open air, shut until somebody or something opens it."""
    part = name.split(".")[0]
    blueprint.links.append(LinkSpec(name, part, port, None, 0.0, orifice_loss_1_per_m4(area_m2), opening=opening))
