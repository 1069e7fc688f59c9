"""Where the work is done: the rig, the parts around it, and what hands have laid out, taken off or used up."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine_sim.actions.jar import Jar, ml
from engine_sim.actions.parts import LIFT_PUMPS, SCREW_NAMES, TANKS, Part, parts_of
from engine_sim.actions.stores import Stores
from engine_sim.circuit.high_pressure import InjectionLine
from engine_sim.circuit.rig import Rig
from engine_sim.components import engine_figures
from engine_sim.errors import UnknownName
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S
from engine_sim.wording import OPENINGS

SEEN_OPEN = SourcedValue(
    0.1, "1", FROM_MEMORY, "opening, as a share of a screw turned well out, that an eye tells from shut"
).value
HOSE_OFF = SourcedValue(5.0, "1", FROM_MEMORY, "opening of a joint, against a loose nut's, that is an open hose").value
_COOLS_S = SourcedValue(900.0, "s", COMMON_PRACTICE, "after which hot parts can be touched").value
_FEW_MIN = SourcedValue(10.0, "min", COMMON_PRACTICE, "under which a shore's distance is told by the minute").value

LinkSum = tuple[float, float, float]


@dataclass(slots=True)
class Housing:
    """A filter being changed step by step: how its old ring was dealt with, its seat; how far its screws stood open.

    ``poured_m3`` is what was poured into the new one beforehand [m3], by volume.
    """

    is_off: bool = False
    ring_on_seat: bool = False
    seat_wiped: bool = False
    stood_open: dict[str, float] = field(default_factory=dict)
    poured_m3: dict[str, float] = field(default_factory=dict)


class Workplace:
    """The rig with everything that hands bring to it; actions work on it."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.parts: tuple[Part, ...] = parts_of(rig.layout)
        self._by_id = {part.id: part for part in self.parts}
        self.jar = Jar()
        self.stores = Stores()
        self.housings: dict[str, Housing] = {}
        self.goggles_on = False
        self.lever_in_hand = False
        self.ventilated = False
        self.made_fast = False
        self.shore_s: float | None = None
        self.drifted_s = 0.0
        self.told_someone = False
        self.extinguisher_at_hand = False
        self.cleaned: list[str] = []
        self.rings_counted = False
        self.can_lashed = False
        self.gauge_fitted = any(
            rig.layout.figures[part.id].get("vacuum_gauge", 0.0) > 0.0 for part in self.of_kind(*LIFT_PUMPS)
        )
        self.hurt = False
        self.tapped = False
        self.hot_until_s = 0.0

    # ---- parts --------------------------------------------------------------------------------------------------

    def part(self, name: str) -> Part:
        """Return a part; raise UnknownName with the nearest name if there is none."""
        if not isinstance(name, str) or name not in self._by_id:
            raise UnknownName("part", str(name), self._by_id)
        return self._by_id[name]

    def of_kind(self, *kinds: str) -> tuple[Part, ...]:
        """Return the parts of these kinds, in flow order."""
        return tuple(part for part in self.parts if part.kind in kinds)

    def first(self, *kinds: str) -> str:
        """Return the id of the first part of these kinds, or an empty text."""
        found = self.of_kind(*kinds)
        return found[0].id if found else ""

    def label(self, name: str) -> str:
        """Return what a part is called."""
        return self.part(name).label

    def has_link(self, link: str) -> bool:
        """Tell whether the layout has such a link."""
        return link in self.rig.topology.link_index

    def screws(self, part: str) -> tuple[str, ...]:
        """Return the bleed screws of a part as link ids, the lower and nearer ones first."""
        return tuple(link for name in SCREW_NAMES if self.has_link(link := f"{part}.{name}"))

    # ---- time ---------------------------------------------------------------------------------------------------

    def wait(self, duration_s: float) -> bool:
        """Let time pass [s]; return True if the engine died meanwhile."""
        was_running = self.rig.engine.running
        self.rig.play(duration_s)
        self.note_heat()
        return was_running and not self.rig.engine.running

    def drift(self, since_s: float, was_safe: bool) -> bool:
        """Let the boat drift for the time since a moment [s], unless she was safe then; return True if she touches."""
        if self.shore_s is None or was_safe:
            return False
        was_ashore = self.ashore
        self.drifted_s += self.rig.clock_s - since_s
        return self.ashore and not was_ashore

    @property
    def is_safe(self) -> bool:
        """Whether the boat drifts nowhere: made fast, or under way by her engine."""
        return self.made_fast or self.rig.engine.running

    @property
    def ashore(self) -> bool:
        """Whether the boat has drifted onto the shore."""
        return self.shore_s is not None and self.drifted_s >= self.shore_s

    def shore_min(self) -> int | None:
        """Return how long the boat may still drift, as an eye would put it [min]; None where no shore is near."""
        if self.shore_s is None:
            return None
        left_min = max(0.0, self.shore_s - self.drifted_s) / MINUTE_S
        return round(left_min) if left_min < _FEW_MIN else 5 * round(left_min / 5.0)

    def note_heat(self) -> None:
        """Remember until when the engine stays hot."""
        if self.rig.engine.running:
            self.hot_until_s = self.rig.clock_s + _COOLS_S

    def is_hot(self) -> bool:
        """Tell whether the engine is too hot to touch."""
        return self.rig.clock_s < self.hot_until_s

    def hands_off(self) -> None:
        """Let go of lever and key, after something could not be worked out."""
        self.rig.lever_strokes_per_s = 0.0
        if self.rig.engine.cranking:
            self.rig.engine.release_key()

    def go_on_with_the_lever(self, duration_s: float) -> None:
        """Let time pass [s] with the lever worked on, if it was what the hands did last."""
        if self.lever_in_hand and not self.rig.engine.running:
            self.rig.work_lever(int(duration_s * engine_figures.LEVER_STROKES_PER_S))
        else:
            self.wait(duration_s)

    # ---- what stands open, what is wet --------------------------------------------------------------------------

    def stands_open(self, link: str) -> bool:
        """Tell whether an eye sees a valve, screw, tap or nut stand open."""
        return self.is_seen(self.rig.circuit.opening[self.rig.topology.link_number(link)])

    @staticmethod
    def is_seen(opening: float) -> bool:
        """Tell whether an eye sees so wide an opening."""
        return opening >= SEEN_OPEN

    def is_wet(self, part: str) -> bool:
        """Tell whether a part is wet outside."""
        return part in self.wet_parts()

    def wet_parts(self) -> tuple[str, ...]:
        """Return the parts that are wet outside, as a learner names them, sorted."""
        joints = {part.link: part.id for part in self.parts if part.link}
        return tuple(sorted({joints.get(name, name.split(".")[0]) for name in self.rig.wet}))

    def wipe(self, part: str) -> None:
        """Wipe a part dry."""
        link = self.part(part).link
        for name in sorted(self.rig.wet):
            if name == link or name.split(".")[0] == part:
                self.rig.wet.discard(name)

    def open_things(self) -> tuple[tuple[str, str], ...]:
        """Return what stands open or slack and can be seen to: pairs of what (``drain``) and part, in flow order."""
        found = [(name, part.id) for part in self.parts for name in self._openings_of(part)]
        nuts = [("nut", part.id) for part in self.of_kind("injector") if self.line(part).nut_slack]
        return (*found, *nuts)

    def openings_in_words(self) -> list[str]:
        """Return what stands open or slack and can be seen to, as phrases, in flow order."""
        return [OPENINGS[what].format(part=self.label(part)) for what, part in self.open_things()]

    def _openings_of(self, part: Part) -> list[str]:
        if self.is_off(part.id):
            return ["housing"]
        if part.kind in TANKS:
            return ["filler"] if self.rig.is_open(f"{part.id}.filler") else []
        if part.kind in ("joint", "return_line"):
            end = part.link or f"{part.id}.joint"
            return ["hose_off"] if self.is_taken_off(end) and not self.jar.is_under(end) else []
        names = ("drain", "vent", *SCREW_NAMES)
        return [name for name in names if self.has_link(f"{part.id}.{name}") and self.stands_open(f"{part.id}.{name}")]

    def is_taken_off(self, end: str) -> bool:
        """Tell whether a hose is off at its end, whose gap is the link given."""
        return self.rig.circuit.opening[self.rig.topology.link_number(end)] > HOSE_OFF

    def is_off(self, part: str) -> bool:
        """Tell whether a filter's bowl or can is off."""
        return part in self.housings and self.housings[part].is_off

    def line(self, part: Part) -> InjectionLine:
        """Return the high-pressure line of an injector."""
        return self.rig.engine.lines[part.number - 1]

    def spilled_ml(self) -> int:
        """Return the fuel that lies in the boat, as an eye would put it [ml]."""
        return ml(self.rig.spilled_m3)

    def overboard_ml(self) -> int:
        """Return what was tipped over the side, as an eye reads it off the jar [ml]."""
        return ml(self.stores.overboard_m3)


def mouths(part: str) -> tuple[str, str]:
    """Return the links by which both sides of a filter lie open while its bowl or can is off."""
    return f"{part}.mouth", f"{part}.mouth_behind"


def difference(before: LinkSum, after: LinkSum) -> LinkSum:
    """Return what passed between two readings: fuel, water and air [m3]."""
    return after[0] - before[0], after[1] - before[1], after[2] - before[2]
