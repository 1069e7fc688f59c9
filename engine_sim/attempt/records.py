"""What an attempt hands out: parts, offers, steps, a diagnosis, and the two views of the rig."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine_sim.observations import Observation


@dataclass(frozen=True, slots=True)
class PartInfo:
    """A part as it is shown: id, label and what it is for."""

    id: str
    label: str
    purpose: str


@dataclass(frozen=True, slots=True)
class Offer:
    """Something a hand can do at a part: ``takes_s`` is the time it takes [s], ``caution`` a sentence or empty.

    ``why_not`` says why it cannot be done now; it is empty where it can.
    """

    action: str
    label: str
    takes_s: float
    needs: str
    caution: str
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What the learner says is wrong; ``evidence`` holds the numbers of the observations that show it."""

    part: str
    fault: str
    evidence: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One thing the learner did; ``clock_s`` is the time when it was done [s].

    ``text`` is the text of a note, or of help that was asked for, ``diagnosis`` what was said in a diagnosis.
    """

    number: int
    kind: str
    part: str
    action: str
    clock_s: float
    observations: tuple[Observation, ...]
    text: str = ""
    diagnosis: Diagnosis | None = None


@dataclass(frozen=True, slots=True)
class VolumeXRay:
    """What one volume holds: shares 0..1 of fuel, water and air, and its absolute pressure [Pa]."""

    part: str
    fuel_share: float
    water_share: float
    air_share: float
    pressure_pa: float


@dataclass(frozen=True, slots=True)
class XRay:
    """The truth, for scenarios that permit it: volumes by id, and the flow of each link [m3/s]."""

    volumes: dict[str, VolumeXRay] = field(default_factory=dict)
    links: dict[str, float] = field(default_factory=dict)
