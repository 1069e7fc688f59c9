"""The flow through each kind of link as a function of the pressures at its ends, with its slopes.

Passive: dp = R q + K q |q|, inverted as q = 2 dp / (R + sqrt(R^2 + 4 K |dp|)), smooth with a finite slope at zero.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine_sim.circuit.draw import drawn_shares
from engine_sim.circuit.state import CircuitState, Shares
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.components import LinkKind, LinkSpec
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import STANDARD_GRAVITY_M_PER_S2

LEAST_LAMINAR_1_PER_M3 = SourcedValue(
    2.6e8, "1/m3", FROM_MEMORY, "least of any link, a hand's breadth of 8 mm hose, so that no slope at zero is infinite"
).value
SMOOTHED_BELOW_PA = SourcedValue(
    0.2, "Pa", FROM_MEMORY, "pressure drop below which an opening's square law turns linear; costs 0.2 % at 5 kPa"
).value
_SUCTION_FADE = SourcedValue(0.25, "1", FROM_MEMORY, "last part of the suction range, over which a pump fades").value

FlowAndSlopes = tuple[float, float, float]
"""Flow [m3/s] and its slopes with the pressures of volumes a and b [m3/(s Pa)]."""


@dataclass(slots=True)
class LinkNow:
    """One open link during one step: its ends, the standing head, and what either end would give."""

    number: int
    spec: LinkSpec
    a: int
    b: int
    head_a_pa: float
    head_b_pa: float
    forward: Shares
    backward: Shares
    linear_forward_pa_s_per_m3: float
    square_forward_pa_s2_per_m6: float
    linear_backward_pa_s_per_m3: float
    square_backward_pa_s2_per_m6: float
    stiffness_pa_per_m3: float
    damping_pa_s_per_m3: float = 0.0

    def passive(self, drop_pa: float) -> tuple[float, float]:
        """Return flow and slope for a pressure drop from a to b."""
        if drop_pa >= 0.0:
            linear, square = (
                self.linear_forward_pa_s_per_m3 + self.damping_pa_s_per_m3,
                self.square_forward_pa_s2_per_m6,
            )
        else:
            linear, square = (
                self.linear_backward_pa_s_per_m3 + self.damping_pa_s_per_m3,
                self.square_backward_pa_s2_per_m6,
            )
        root = math.sqrt(linear * linear + 4.0 * square * abs(drop_pa))
        return 2.0 * drop_pa / (linear + root), 1.0 / root


def links_now(state: CircuitState) -> list[LinkNow]:
    """Return every link that is not shut, with its figures for this step."""
    return [_link_now(state, number) for number, opening in enumerate(state.opening) if opening > 0.0]


def _link_now(state: CircuitState, number: int) -> LinkNow:
    topology = state.topology
    spec, a, b = topology.links[number], topology.end_a[number], topology.end_b[number]
    height_a = (spec.a.low_m + spec.a.high_m) / 2.0
    head_a = state.head_pa(a, height_a)
    head_b = state.fluids.ambient_pa
    forward = drawn_shares(state, a, spec.a)
    backward = drawn_shares(state, b, spec.b)
    if b != OPEN_AIR and spec.b is not None:
        height_b = (spec.b.low_m + spec.b.high_m) / 2.0
        head_b = state.head_pa(b, height_b)
        head_a += _density(state, forward) * STANDARD_GRAVITY_M_PER_S2 * (height_a - height_b)
    opening = state.opening[number]
    laminar = max(LEAST_LAMINAR_1_PER_M3, spec.laminar_1_per_m3 + _element_1_per_m3(state, number))
    loss = spec.loss_1_per_m4 / (opening * opening)
    square_forward, square_backward = loss * _density(state, forward), loss * _density(state, backward)
    return LinkNow(
        number,
        spec,
        a,
        b,
        head_a,
        head_b,
        forward,
        backward,
        laminar * _viscosity(state, forward) + math.sqrt(square_forward * SMOOTHED_BELOW_PA),
        square_forward,
        laminar * _viscosity(state, backward) + math.sqrt(square_backward * SMOOTHED_BELOW_PA),
        square_backward,
        _stiffness(state, a) + _stiffness(state, b) if state.drives.idle() else 0.0,
    )


def _stiffness(state: CircuitState, number: int) -> float:
    """Return how the head of a part-filled volume changes with what flows into it [Pa/m3].

    While nothing is pumped, each link is damped by step times stiffness (the implicit treatment of its own levels), so
    that levels settle without swinging about their rest however long the step. In steady flow through a part-filled
    volume it would act as a false loss, so it is left out while a pump works.
    """
    if number == OPEN_AIR or state.air_kg[number] <= 0.0:
        return 0.0
    volume = state.topology.volumes[number]
    weight = state.fluids.fuel_density_kg_per_m3 * STANDARD_GRAVITY_M_PER_S2
    return weight * (volume.top_m - volume.bottom_m) / volume.volume_m3


def _element_1_per_m3(state: CircuitState, number: int) -> float:
    element = state.topology.elements.get(number)
    if element is None:
        return 0.0
    cake = element.cake_resistance_m_per_kg * state.cake_kg[number] / element.area_m2
    return (element.medium_resistance_1_per_m + cake) / element.area_m2


def _density(state: CircuitState, shares: Shares) -> float:
    fluids = state.fluids
    return (
        shares[0] * fluids.fuel_density_kg_per_m3
        + shares[1] * fluids.water_density_kg_per_m3
        + shares[2] * fluids.air_density_kg_per_m3
    )


def _viscosity(state: CircuitState, shares: Shares) -> float:
    fluids = state.fluids
    return (
        shares[0] * fluids.fuel_viscosity_pa_s
        + shares[1] * fluids.water_viscosity_pa_s
        + shares[2] * fluids.air_viscosity_pa_s
    )


def flow(state: CircuitState, link: LinkNow, pressure_a_pa: float, pressure_b_pa: float) -> FlowAndSlopes:
    """Return the flow a to b and its slopes at the given pressures of the two volumes [Pa]."""
    at_a, at_b = pressure_a_pa + link.head_a_pa, pressure_b_pa + link.head_b_pa
    kind = link.spec.kind
    if kind is LinkKind.PASSIVE:
        rate, slope = link.passive(at_a - at_b)
        return rate, slope, -slope
    if kind is LinkKind.OVERFLOW:
        return _one_way(link, at_a - at_b - link.spec.numbers["opens_at_pa"])
    if kind is LinkKind.PLUNGERS:
        return _plungers(state, link, at_a)
    return _lift_pump(state, link, at_a, at_b)


def _one_way(link: LinkNow, drop_pa: float) -> FlowAndSlopes:
    """Return the flow through a valve that lets nothing back."""
    if drop_pa <= 0.0:
        return 0.0, 0.0, 0.0
    rate, slope = link.passive(drop_pa)
    return rate, slope, -slope


def _plungers(state: CircuitState, link: LinkNow, at_a: float) -> FlowAndSlopes:
    """Return what the plungers draw: less as the gallery falls below ambient pressure."""
    low, high = link.spec.numbers["fill_from_pa"], link.spec.numbers["fill_to_pa"]
    draw = state.drives.plunger_draw_m3_per_s
    share = (at_a - low) / (high - low)
    if share <= 0.0:
        return 0.0, 0.0, 0.0
    if share >= 1.0:
        return draw, 0.0, 0.0
    return draw * share, draw / (high - low), 0.0


def _lift_pump(state: CircuitState, link: LinkNow, at_a: float, at_b: float) -> FlowAndSlopes:
    """Return the lift pump's flow: driven strokes, plus what runs through its valves by itself.

    The spring sets the delivery pressure, so the stroke shortens as it is neared. On air the dead volume limits the
    suction to p_b Vd / (Vd + Vs).
    """
    spec, ambient = link.spec, state.fluids.ambient_pa
    through, slope_through, _ = _one_way(link, at_a - at_b - spec.numbers["valve_loss_pa"])
    full = state.drives.pump_strokes_per_s * spec.numbers["stroke_m3"] * spec.numbers["stroke_efficiency"]
    if full <= 0.0:
        return through, slope_through, -slope_through
    delivery, delivery_slope = _ramp(
        1.0 - (at_b - ambient) / spec.numbers["spring_pa"], -1.0 / spec.numbers["spring_pa"]
    )
    limit = spec.numbers["suction_limit_pa"]
    fade = _SUCTION_FADE * limit
    liquid, liquid_slope = _ramp((at_a - ambient + limit) / fade, 1.0 / fade)
    ratio = spec.numbers["dead_volume_m3"] / spec.numbers["stroke_m3"]
    gas, gas_slope = _ramp(1.0 - ratio * (at_b / at_a - 1.0), ratio * at_b / (at_a * at_a))
    gas_slope_b = -ratio / at_a if gas_slope > 0.0 else 0.0
    air_share = link.forward[2]
    suction = (1.0 - air_share) * liquid + air_share * gas
    slope_a = full * delivery * ((1.0 - air_share) * liquid_slope + air_share * gas_slope)
    slope_b = full * (delivery_slope * suction + delivery * air_share * gas_slope_b)
    return full * delivery * suction + through, slope_a + slope_through, slope_b - slope_through


def _ramp(value: float, slope: float) -> tuple[float, float]:
    """Return a share held between 0 and 1, and its slope (nothing outside)."""
    if value <= 0.0:
        return 0.0, 0.0
    if value >= 1.0:
        return 1.0, 0.0
    return value, slope
