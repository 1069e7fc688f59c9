"""What a component hands to the circuit: volumes that hold fuel, water and air, and links that let them pass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum


class LinkKind(Enum):
    """How the flow through a link follows from the pressures at its ends."""

    PASSIVE = "passive"
    LIFT_PUMP = "lift pump"
    ELECTRIC_PUMP = "electric pump"
    VANE_PUMP = "vane pump"
    PLUNGERS = "plungers"
    ONE_WAY = "one way"


@dataclass(frozen=True, slots=True)
class VolumeSpec:
    """A space inside the circuit.

    ``layered`` spaces (vessels) hold air over fuel over water; the others (hoses) carry a mixture.
    ``length_m`` and ``bore_m`` are those of a hose piece; ``laminar_half_1_per_m3`` is 128 L / (pi D^4) from its
    middle to one of its ends. ``level_table`` gives, for a vessel that is no box, pairs of (share of its height,
    share of its volume), rising from (0, 0) to (1, 1).
    """

    id: str
    part: str
    volume_m3: float
    bottom_m: float
    top_m: float
    compliance_m3_per_pa: float
    layered: bool = True
    stirred_when_pumped: bool = False
    length_m: float = 0.0
    laminar_half_1_per_m3: float = 0.0
    bore_m: float = 0.0
    level_table: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class PortSpec:
    """An opening of a volume, from ``low_m`` to ``high_m`` above the datum.

    ``across_m`` (to starboard) and ``along_m`` (forward) say how far it lies from the middle of its vessel, where the
    surface keeps its height when the boat heels or pitches.
    """

    volume: str
    low_m: float
    high_m: float
    across_m: float = 0.0
    along_m: float = 0.0


@dataclass(frozen=True, slots=True)
class LinkSpec:
    """A way from port ``a`` to port ``b``; ``b`` is None where it leads to the open air.

    Pressure loss = viscosity * ``laminar_1_per_m3`` * q + density * ``loss_1_per_m4`` * q * abs(q).
    ``numbers`` holds the figures that only this kind of link needs.
    """

    id: str
    part: str
    a: PortSpec
    b: PortSpec | None
    laminar_1_per_m3: float
    loss_1_per_m4: float
    kind: LinkKind = LinkKind.PASSIVE
    opening: float = 1.0
    numbers: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ElementSpec:
    """A filter element: the link that it sits in, and its cake-filtration figures.

    ``held_dirt_share`` is the share of the dirt that stays on it, ``held_droplet_share`` that of fine water droplets.
    """

    link: str
    area_m2: float
    medium_resistance_1_per_m: float
    cake_resistance_m_per_kg: float
    held_dirt_share: float = 1.0
    held_droplet_share: float = 0.0


@dataclass(frozen=True, slots=True)
class ThroughSpec:
    """A part that has no space of its own and sits between two ports, such as a valve."""

    part: str
    laminar_1_per_m3: float
    loss_1_per_m4: float
    kind: LinkKind = LinkKind.PASSIVE
    numbers: Mapping[str, float] = field(default_factory=dict)


@dataclass(slots=True)
class Blueprint:
    """Everything that the components of one layout add up to."""

    volumes: list[VolumeSpec] = field(default_factory=list)
    links: list[LinkSpec] = field(default_factory=list)
    elements: list[ElementSpec] = field(default_factory=list)
    ports: dict[str, PortSpec] = field(default_factory=dict)
    through: dict[str, ThroughSpec] = field(default_factory=dict)

    def join(
        self,
        a: PortSpec,
        b: PortSpec,
        through: ThroughSpec | None,
        name: str = "",
        opening: float = 1.0,
    ) -> None:
        """Join two ports, by way of a part without space of its own where one is named.

        ``name`` is the link's id (else it is made from the volumes), ``opening`` 0 for a join that is not made up yet.
        """
        halves = {volume.id: volume.laminar_half_1_per_m3 for volume in self.volumes}
        laminar = halves[a.volume] + halves[b.volume]
        self.links.append(
            LinkSpec(
                id=name or (through.part if through else f"{a.volume}>{b.volume}"),
                part=through.part if through else a.volume.split(".")[0],
                a=a,
                b=b,
                laminar_1_per_m3=laminar + (through.laminar_1_per_m3 if through else 0.0),
                loss_1_per_m4=through.loss_1_per_m4 if through else 0.0,
                kind=through.kind if through else LinkKind.PASSIVE,
                numbers=through.numbers if through else {},
                opening=opening,
            )
        )
