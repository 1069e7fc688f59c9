"""The links that are not shut, with their figures for one step: heads, losses, and what either end would give."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from engine_sim.circuit.draw import AIR, FUEL, drawn
from engine_sim.circuit.state import CircuitState, Look, Shares
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.components import LinkSpec
from engine_sim.fluids.diesel_fuel import wax_factor
from engine_sim.fluids.friction import friction_shares
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import STANDARD_GRAVITY_M_PER_S2

LEAST_LAMINAR_1_PER_M3 = SourcedValue(
    2.6e8, "1/m3", FROM_MEMORY, "least of any link, a hand's breadth of 8 mm hose, so that no slope at zero is infinite"
).value
SMOOTHED_BELOW_PA = SourcedValue(
    0.2, "Pa", FROM_MEMORY, "pressure drop below which an opening's square law turns linear; costs 0.2 % at 5 kPa"
).value


@dataclass(slots=True)
class LinkNow:
    """One open link during one step: its ends, the standing head, and what either end would give."""

    number: int
    spec: LinkSpec
    plain: bool
    a: int
    b: int
    head_a_pa: float
    head_b_pa: float
    forward: Shares
    backward: Shares
    forward_haze_share: float
    backward_haze_share: float
    linear_forward_pa_s_per_m3: float
    square_forward_pa_s2_per_m6: float
    linear_backward_pa_s_per_m3: float
    square_backward_pa_s2_per_m6: float
    stiffness_pa_per_m3: float
    damping_pa_s_per_m3: float = 0.0
    chord: bool = False
    stiffness_b_pa_per_m3: float = 0.0

    def passive(self, drop_pa: float) -> tuple[float, float]:
        """Return flow and slope for a pressure drop from a to b.

        With ``chord`` the slope is that of the line to rest, flow over drop: never flatter than the curve, so that an
        iteration does not swing for ever about a point where the slope jumps, as where air begins to come in.
        """
        if drop_pa >= 0.0:
            linear, square, size = self.linear_forward_pa_s_per_m3, self.square_forward_pa_s2_per_m6, drop_pa
        else:
            linear, square, size = self.linear_backward_pa_s_per_m3, self.square_backward_pa_s2_per_m6, -drop_pa
        linear += self.damping_pa_s_per_m3
        if square == 0.0:
            return drop_pa / linear, 1.0 / linear
        root = math.sqrt(linear * linear + 4.0 * square * (size + SMOOTHED_BELOW_PA))
        line = 2.0 / (linear + root)
        return drop_pa * line, line if self.chord else line * (1.0 - line * square * size / root)


def links_now(state: CircuitState) -> list[LinkNow]:
    """Return every link that is not shut, with its figures for this step.

    Where both ends are brim-full of plain fuel nothing changes from step to step, and the last figures are used again.
    """
    kept, found, topology = state.kept_links, [], state.topology
    idle, mixed = state.drives.idle(), topology.mixed(state.drives)
    mark = (id(state.fluids), idle)
    if state.kept_mark != mark:
        kept.clear()
        state.kept_mark = mark
    looks = [None if full else state.look(number) for number, full in enumerate(state.full_of_plain_fuel())]
    for number, opening in enumerate(state.opening):
        if opening <= 0.0:
            continue
        a, b = topology.end_a[number], topology.end_b[number]
        look_a, look_b = looks[a], None if b == OPEN_AIR else looks[b]
        if look_a is None and look_b is None and number not in state.cake_kg:
            key = (opening, state.extra_laminar_1_per_m3[number], _is_fast(state, number))
            last = kept.get(number)
            if last is None or last[0] != key:
                last = kept[number] = (key, _link_now(state, number, (look_a, look_b), mixed, idle))
            found.append(last[1])
        else:
            found.append(_link_now(state, number, (look_a, look_b), mixed, idle))
    return found


def _is_fast(state: CircuitState, number: int) -> float:
    """Return the link's flow where it may be turbulent, which needs a fresh look each step, else 0."""
    flow = state.flow_m3_per_s[number]
    return flow if abs(flow) > state.topology.quarter_pi_bore_m[number] * state.fluids.laminar_below_m2_per_s else 0.0


def _link_now(
    state: CircuitState, number: int, looks: tuple[Look | None, Look | None], mixed: Sequence[bool], idle: bool
) -> LinkNow:
    topology = state.topology
    spec, a, b, opening = topology.links[number], topology.end_a[number], topology.end_b[number], state.opening[number]
    height_a, height_b = topology.heights_m[number]
    head_a = state.head_pa(a, height_a, looks[0] or topology.brim_full[a])
    head_b = 0.0
    forward, forward_haze_share = drawn(state, a, spec.a, looks[0], mixed[a])
    backward, backward_haze_share = drawn(state, b, spec.b, looks[1], mixed[b])
    density_forward = _density(state, forward)
    if b != OPEN_AIR:
        head_b = state.head_pa(b, height_b, looks[1] or topology.brim_full[b])
        head_a += density_forward * STANDARD_GRAVITY_M_PER_S2 * (height_a - height_b)
    viscosity_forward, viscosity_backward = _viscosity(state, forward), _viscosity(state, backward)
    own, turbulent = _friction(state, number, viscosity_forward / density_forward)
    laminar = own + state.extra_laminar_1_per_m3[number]
    if number in topology.elements:
        laminar += _element_1_per_m3(state, number)
    if laminar < LEAST_LAMINAR_1_PER_M3:
        laminar = LEAST_LAMINAR_1_PER_M3
    square_forward = square_backward = 0.0
    if spec.loss_1_per_m4 > 0.0 or turbulent > 0.0:
        loss = spec.loss_1_per_m4 / (opening * opening)
        square_forward = loss * density_forward + turbulent * viscosity_forward
        square_backward = loss * _density(state, backward) + turbulent * viscosity_backward
    now = LinkNow(
        number,
        spec,
        topology.passive[number],
        a,
        b,
        head_a,
        head_b,
        forward,
        backward,
        forward_haze_share,
        backward_haze_share,
        laminar * viscosity_forward,
        square_forward,
        laminar * viscosity_backward,
        square_backward,
        0.0,
    )
    if idle:
        rate = state.flow_m3_per_s[number]
        wet = 1.0 - (forward[2] if rate >= 0.0 else backward[2])
        now.stiffness_b_pa_per_m3 = wet * _stiffness(state, b)
        now.stiffness_pa_per_m3 = wet * _stiffness(state, a) + now.stiffness_b_pa_per_m3
    return now


def _friction(state: CircuitState, number: int, viscosity_m2_per_s: float) -> tuple[float, float]:
    """Return a hose's own resistance [1/m3] and, where its last flow is turbulent, the square part of it [s/m6]."""
    own = state.topology.links[number].laminar_1_per_m3
    flow = abs(_is_fast(state, number))
    if flow <= 0.0:
        return own, 0.0
    reynolds = flow / (state.topology.quarter_pi_bore_m[number] * viscosity_m2_per_s)
    linear, square = friction_shares(reynolds)
    return own * linear, own * square / flow


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
    """Return the resistance of an element with its cake, and the wax on it where it is cold [1/m3]."""
    element = state.topology.elements[number]
    cake = element.cake_resistance_m_per_kg * state.cake_kg[number] / element.area_m2
    at_k = state.element_k[number]
    wax = wax_factor(at_k, state.cfpp_k, state.cloud_k) if at_k < state.cloud_k else 1.0
    return (element.medium_resistance_1_per_m * wax + cake) / element.area_m2


def _density(state: CircuitState, shares: Shares) -> float:
    fluids = state.fluids
    if shares is FUEL:
        return fluids.fuel_density_kg_per_m3
    if shares is AIR:
        return fluids.air_density_kg_per_m3
    return (
        shares[0] * fluids.fuel_density_kg_per_m3
        + shares[1] * fluids.water_density_kg_per_m3
        + shares[2] * fluids.air_density_kg_per_m3
    )


def _viscosity(state: CircuitState, shares: Shares) -> float:
    fluids = state.fluids
    if shares is FUEL:
        return fluids.fuel_viscosity_pa_s
    if shares is AIR:
        return fluids.air_viscosity_pa_s
    return (
        shares[0] * fluids.fuel_viscosity_pa_s
        + shares[1] * fluids.water_viscosity_pa_s
        + shares[2] * fluids.air_viscosity_pa_s
    )
