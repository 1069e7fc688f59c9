"""What shows at a filter's element: how loaded it is, how it looks taken out, whether wax sits on it."""

from __future__ import annotations

from engine_sim.actions.workplace import Workplace
from engine_sim.fluids.wax import wax_factor
from engine_sim.observations import Noticed, see
from engine_sim.sources import FROM_MEMORY, SourcedValue

DARK_FROM_TIMES_CLEAN = SourcedValue(20.0, "1", FROM_MEMORY, "resistance at which an element looks black").value
_WAXY_FROM = SourcedValue(3.0, "1", FROM_MEMORY, "by how much wax multiplies the resistance when it is seen").value


def times_clean(place: Workplace, part: str) -> float:
    """Return the resistance of a part's element as a multiple of a clean one's, without any wax."""
    rig = place.rig
    number = rig.topology.link_number(f"{part}.element")
    element = rig.topology.elements[number]
    cake = element.cake_resistance_m_per_kg * rig.circuit.cake_kg[number] / element.area_m2
    return 1.0 + cake / element.medium_resistance_1_per_m


def is_dark(place: Workplace, part: str) -> bool:
    """Tell whether an element looks black."""
    return times_clean(place, part) > DARK_FROM_TIMES_CLEAN


def is_waxy(place: Workplace, part: str) -> bool:
    """Tell whether wax sits on an element."""
    circuit = place.rig.circuit
    temperature_k = circuit.element_k[place.rig.topology.link_number(f"{part}.element")]
    return wax_factor(temperature_k, circuit.cfpp_k, circuit.cloud_k) > _WAXY_FROM


def look_of_element(place: Workplace, part: str) -> list[Noticed]:
    """Return how an element looks that is taken out."""
    found = [see(part, "element_dark" if is_dark(place, part) else "element_clean")]
    return [*found, see(part, "element_waxy")] if is_waxy(place, part) else found
