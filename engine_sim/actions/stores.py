"""What is on board to work with: things that are used up are counted, and what comes out is kept for ashore."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine_sim.sources import COMMON_PRACTICE, SourcedValue

_CLEAN_FUEL_M3 = SourcedValue(0.040, "m3", COMMON_PRACTICE, "clean fuel in cans, on board or from the quay").value
_STOCK: dict[str, int] = {
    "separator element": 3,
    "fine filter element": 3,
    "sealing ring": 8,
    "washer": 8,
    "absorbent sheet": 12,
    "jar": 3,
    "length of hose": 2,
    "hose clip": 6,
    "water-finding paste": 10,
    "lift pump": 1,
    "injector": 2,
    "water pump impeller": 1,
    "dose of biocide": 2,
}
"""What a well-found boat carries; common practice, no source."""


@dataclass(slots=True)
class Stores:
    """Spares and consumables by name, clean fuel [m3], the waste that waits for an oily-waste point [m3].

    ``overboard_m3`` is what went over the side instead.
    """

    left: dict[str, int] = field(default_factory=lambda: dict(_STOCK))
    clean_fuel_m3: float = _CLEAN_FUEL_M3
    waste_m3: float = 0.0
    overboard_m3: float = 0.0
    oily_rags: int = 0

    def missing(self, things: tuple[str, ...]) -> str:
        """Return the first of the things that there are not enough of, or an empty text."""
        return next((thing for thing in things if self.left.get(thing, 0) < things.count(thing)), "")

    def use(self, things: tuple[str, ...]) -> None:
        """Take things out of the stores."""
        for thing in things:
            self.left[thing] -= 1

    def take_clean_fuel(self, wanted_m3: float) -> float:
        """Take so much clean fuel [m3], or what there is; return it."""
        taken = max(0.0, min(wanted_m3, self.clean_fuel_m3))
        self.clean_fuel_m3 -= taken
        return taken
