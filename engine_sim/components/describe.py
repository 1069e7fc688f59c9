"""Says in words what a layout file may ask of each kind of component."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind, Parameter
from engine_sim.components.register import component_kind


def describe_kind(name: str) -> str:
    """Return a kind's purpose, ports and figures, one a line; raise UnknownName if there is no such kind.

    >>> print(describe_kind("shut_off_valve"))
    shut_off_valve: shuts the fuel off at the tank; open when its handle lies along the pipe
      named in the through of a join
      bore_m = 0.008 (0.001 to 0.03 m): bore when open [common practice, no source]
      velocity_heads = 1.5 (0 to 50): velocity heads lost when open, with the pipe's entry [common practice, no source]
    """
    kind = component_kind(name)
    return "\n  ".join([f"{kind.name}: {kind.purpose}", *_ways(kind), *(_figure(each) for each in kind.parameters)])


def _ways(kind: ComponentKind) -> list[str]:
    """Return how a part of this kind is joined."""
    ways = [f"ports to join: {', '.join(kind.ports)}"] if kind.ports else []
    ways += [f"ports that may be joined: {', '.join(kind.optional_ports)}"] if kind.optional_ports else []
    ways += ["named in the through of a join"] if kind.passes_through else []
    return ways or ["joined to nothing"]


def _figure(parameter: Parameter) -> str:
    usual = parameter.usual
    unit = "" if usual.unit == "1" else f" {usual.unit}"
    source = usual.source.citation or usual.source.kind.value
    return (
        f"{parameter.name} = {usual.value:g} ({parameter.low:g} to {parameter.high:g}{unit}): "
        f"{parameter.meaning} [{source}]"
    )
