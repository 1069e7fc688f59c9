"""The flow through each kind of link as a function of the pressures at its ends, with its slopes.

Passive: dp = R q + K q |q|, inverted as q = 2 dp / (R + sqrt(R^2 + 4 K |dp|)), smooth with a finite slope at zero.
"""

from __future__ import annotations

from engine_sim.circuit.link_now import LinkNow
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.components import LinkKind
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_SUCTION_FADE = SourcedValue(0.25, "1", FROM_MEMORY, "last part of the suction range, over which a pump fades").value
_CASE_FADE = SourcedValue(0.3, "1", FROM_MEMORY, "last part of the case pressure, over which the plungers fade").value

FlowAndSlopes = tuple[float, float, float]
"""Flow [m3/s] and its slopes with the pressures of volumes a and b [m3/(s Pa)]."""


def flow(state: CircuitState, link: LinkNow, pressure_a_pa: float, pressure_b_pa: float) -> FlowAndSlopes:
    """Return the flow a to b and its slopes at the given pressures of the two volumes [Pa]."""
    at_a, at_b = pressure_a_pa + link.head_a_pa, pressure_b_pa + link.head_b_pa
    kind = link.spec.kind
    if kind is LinkKind.PASSIVE:
        rate, slope = link.passive(at_a - at_b)
        return rate, slope, -slope
    numbers = state.numbers[link.number]
    if kind is LinkKind.ONE_WAY:
        return _one_way(link, at_a - at_b - numbers["opens_at_pa"])
    if kind is LinkKind.PLUNGERS:
        return _plungers(state, link, numbers, at_a)
    if kind is LinkKind.LIFT_PUMP:
        return _lift_pump(state, link, numbers, (at_a, at_b))
    if kind is LinkKind.ELECTRIC_PUMP:
        return _electric_pump(state, link, numbers, (at_a, at_b))
    return _vane_pump(state, link, numbers, (at_a, at_b))


def _one_way(link: LinkNow, drop_pa: float) -> FlowAndSlopes:
    """Return the flow through a valve that lets nothing back."""
    if drop_pa <= 0.0:
        return 0.0, 0.0, 0.0
    rate, slope = link.passive(drop_pa)
    return rate, slope, -slope


def _plungers(state: CircuitState, link: LinkNow, numbers: dict[str, float], at_a: float) -> FlowAndSlopes:
    """Return what the plungers draw: less as the gallery falls below ambient, or the case behind them rises above."""
    low, high = numbers["fill_from_pa"], numbers["fill_to_pa"]
    draw = state.drives.plunger_draw_m3_per_s
    counter = state.topology.counter_pressure[link.number]
    if counter != OPEN_AIR:
        limit = numbers["case_limit_pa"]
        over = state.pressure_pa[counter] - state.fluids.ambient_pa
        draw *= _ramp((limit - over) / (_CASE_FADE * limit), 0.0)[0]
    share, slope = _ramp((at_a - low) / (high - low), 1.0 / (high - low))
    return draw * share, draw * slope, 0.0


def _lift_pump(state: CircuitState, link: LinkNow, numbers: dict[str, float], at: tuple[float, float]) -> FlowAndSlopes:
    """Return the lift pump's flow: driven strokes, plus what runs through its valves by itself.

    The spring sets the delivery pressure, so the stroke shortens as it is neared. On air the dead volume limits the
    suction to p_b Vd / (Vd + Vs). Valves that leak let fuel back and take their share of each stroke.
    """
    at_a, at_b = at
    ambient, leak = state.fluids.ambient_pa, numbers["valve_leak"]
    through = _through_valves(link, at_a - at_b - numbers["valve_loss_pa"] * (1.0 - leak), leak)
    full = state.drives.pump_strokes_per_s * numbers["stroke_m3"] * numbers["stroke_efficiency"] * (1.0 - leak)
    if full <= 0.0:
        return through
    spring = numbers["spring_pa"]
    delivery, delivery_slope = _ramp(1.0 - (at_b - ambient) / spring, -1.0 / spring)
    liquid, liquid_slope = _suction(at_a - ambient, numbers["suction_limit_pa"])
    ratio = numbers["dead_volume_m3"] / numbers["stroke_m3"]
    gas, gas_slope = _ramp(1.0 - ratio * (at_b / at_a - 1.0), ratio * at_b / (at_a * at_a))
    gas_slope_b = -ratio / at_a if gas_slope > 0.0 else 0.0
    air_share = link.forward[2]
    suction = (1.0 - air_share) * liquid + air_share * gas
    slope_a = full * delivery * ((1.0 - air_share) * liquid_slope + air_share * gas_slope)
    slope_b = full * (delivery_slope * suction + delivery * air_share * gas_slope_b)
    return full * delivery * suction + through[0], slope_a + through[1], slope_b + through[2]


def _through_valves(link: LinkNow, drop_pa: float, leak: float) -> FlowAndSlopes:
    """Return what runs through the two valves by itself: forwards, and back only as far as they leak."""
    if drop_pa >= 0.0 or leak <= 0.0:
        return _one_way(link, drop_pa)
    rate, slope = link.passive(drop_pa)
    return leak * rate, leak * slope, -leak * slope


def _suction(over_ambient_pa: float, limit_pa: float) -> tuple[float, float]:
    """Return the share of a full stroke that a pump still draws on liquid, and its slope with the inlet pressure."""
    fade = _SUCTION_FADE * limit_pa
    return _ramp((over_ambient_pa + limit_pa) / fade, 1.0 / fade)


def _electric_pump(
    state: CircuitState, link: LinkNow, numbers: dict[str, float], at: tuple[float, float]
) -> FlowAndSlopes:
    """Return an electric pump's flow: free flow less its share of the shut-in pressure; on air it lifts less."""
    at_a, at_b = at
    through = _through_valves(link, at_a - at_b, 0.0)
    if not state.drives.electric_on:
        return through
    air = link.forward[2]
    shut_in = (1.0 - air) * numbers["shut_in_pa"] + air * numbers["dry_suction_pa"]
    share, slope = _ramp(1.0 - (at_b - at_a) / shut_in, 1.0 / shut_in)
    free = numbers["free_flow_m3_per_s"]
    return free * share + through[0], free * slope + through[1], through[2] - free * slope


def _vane_pump(state: CircuitState, link: LinkNow, numbers: dict[str, float], at: tuple[float, float]) -> FlowAndSlopes:
    """Return the flow of a rotary pump's own vane pump: displacement times speed, held to what the speed allows."""
    at_a, at_b = at
    full = numbers["displacement_m3"] * state.drives.speed_rpm / MINUTE_S
    if full <= 0.0:
        return _one_way(link, at_a - at_b)
    limit = numbers["regulated_pa_per_rpm"] * state.drives.speed_rpm
    delivery, delivery_slope = _ramp(1.0 - (at_b - state.fluids.ambient_pa) / limit, -1.0 / limit)
    suction, suction_slope = _suction(at_a - state.fluids.ambient_pa, numbers["suction_limit_pa"])
    return full * delivery * suction, full * delivery * suction_slope, full * delivery_slope * suction


def _ramp(value: float, slope: float) -> tuple[float, float]:
    """Return a share held between 0 and 1, and its slope (nothing outside)."""
    if value <= 0.0:
        return 0.0, 0.0
    if value >= 1.0:
        return 1.0, 0.0
    return value, slope
