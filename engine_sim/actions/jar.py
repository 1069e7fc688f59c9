"""The jar: it holds what has run through a drain, a sump or the end of the return line since it was last emptied."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.circuit.rig import Rig
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import MILLILITRE_M3

JAR_M3 = SourcedValue(2.0e-3, "m3", COMMON_PRACTICE, "a wide two litre jar; what runs over is spilled").value
IN_THE_JAR = "jar"
_STEP_ML = 10


def ml(volume_m3: float, step_ml: int = _STEP_ML) -> int:
    """Return a volume as an eye reads it off a jar [ml]."""
    return int(volume_m3 / MILLILITRE_M3 / step_ml + 0.5) * step_ml


@dataclass(frozen=True, slots=True)
class Sample:
    """What is in a jar: fuel (petrol included), water and petrol [m3], dirt [kg]."""

    fuel_m3: float = 0.0
    water_m3: float = 0.0
    petrol_m3: float = 0.0
    dirt_kg: float = 0.0

    def plus(self, other: Sample) -> Sample:
        """Return both together."""
        return Sample(
            self.fuel_m3 + other.fuel_m3,
            self.water_m3 + other.water_m3,
            self.petrol_m3 + other.petrol_m3,
            self.dirt_kg + other.dirt_kg,
        )

    def times(self, share: float) -> Sample:
        """Return a share of it."""
        return Sample(self.fuel_m3 * share, self.water_m3 * share, self.petrol_m3 * share, self.dirt_kg * share)

    def since(self, other: Sample) -> Sample:
        """Return what has come on top of an earlier reading; nothing runs back out of a jar."""
        return Sample(
            max(0.0, self.fuel_m3 - other.fuel_m3),
            max(0.0, self.water_m3 - other.water_m3),
            max(0.0, self.petrol_m3 - other.petrol_m3),
            max(0.0, self.dirt_kg - other.dirt_kg),
        )

    @property
    def liquid_m3(self) -> float:
        """Fuel and water together [m3]."""
        return self.fuel_m3 + self.water_m3


def passed(rig: Rig, link: str) -> Sample:
    """Return all that has passed a link so far."""
    number, circuit = rig.topology.link_number(link), rig.circuit
    return Sample(
        circuit.passed_fuel_m3[number],
        circuit.passed_water_m3[number],
        circuit.passed_petrol_m3[number],
        circuit.passed_dirt_kg[number],
    )


class Jar:
    """A jar that can be held under any opening; ``rig.caught_by`` tells the rig that nothing is spilled there."""

    def __init__(self) -> None:
        self._kept = Sample()
        self._under: dict[str, Sample] = {}

    def put_under(self, rig: Rig, link: str) -> None:
        """Hold the jar under an opening."""
        if link not in self._under:
            self._under[link] = passed(rig, link)
            rig.caught_by[link] = IN_THE_JAR

    def take_away(self, rig: Rig, link: str) -> None:
        """Take the jar away from an opening."""
        if link in self._under:
            self._kept = self._kept.plus(passed(rig, link).since(self._under.pop(link)))
            rig.caught_by.pop(link, None)

    def is_under(self, link: str) -> bool:
        """Tell whether the jar stands under an opening."""
        return link in self._under

    def add(self, sample: Sample) -> None:
        """Put in what came by hand."""
        self._kept = self._kept.plus(sample)

    def sample(self, rig: Rig) -> Sample:
        """Return what is in it now."""
        together = self._kept
        for link, before in self._under.items():
            together = together.plus(passed(rig, link).since(before))
        return together

    def run_over(self, rig: Rig) -> float:
        """Return how much more than it holds has run into it [m3], and forget that much: it has run over the rim."""
        held = self.sample(rig)
        over_m3 = held.liquid_m3 - JAR_M3
        if over_m3 <= 0.0:
            return 0.0
        self.empty(rig)
        self._kept = held.times(JAR_M3 / held.liquid_m3)
        return over_m3

    def empty(self, rig: Rig) -> Sample:
        """Pour it out and return what was in it."""
        held = self.sample(rig)
        self._kept = Sample()
        for link in self._under:
            self._under[link] = passed(rig, link)
        return held
