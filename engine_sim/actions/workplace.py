"""Where the work is done: the rig, and what hands have laid out or taken off around it."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.circuit.rig import Rig
from engine_sim.components import engine_figures
from engine_sim.faults import JOINT_LINKS
from engine_sim.units import MILLILITRE_M3

WET_NAMES = {link: joint for joint, link in JOINT_LINKS.items()}
"""Joint links, and the parts that a learner knows them by."""

SCREW_LINKS = {"fine_filter": "fine_filter.screw", "injection_pump": "injection_pump.screw"}
"""Parts with a bleed screw, and the link that stands for it."""

LinkSum = tuple[float, float, float]


@dataclass(slots=True)
class Jar:
    """The jar under the separator's drain: fuel and water in it [m3]."""

    fuel_m3: float = 0.0
    water_m3: float = 0.0


class Workplace:
    """The rig with jar, goggles and tray; actions work on it."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.jar = Jar()
        self.goggles_on = False
        self.lever_in_hand = False

    def go_on_with_the_lever(self, duration_s: float) -> None:
        """Let time pass [s] with the lever worked on, if it was what the hands did last."""
        if self.lever_in_hand and not self.rig.engine.running:
            self.rig.work_lever(int(duration_s * engine_figures.LEVER_STROKES_PER_S))
        else:
            self.wait(duration_s)

    def wait(self, duration_s: float) -> bool:
        """Let time pass [s]; return True if the engine died meanwhile."""
        was_running = self.rig.engine.running
        drained = self.rig.passed("separator.drain")
        self.rig.play(duration_s)
        now = self.rig.passed("separator.drain")
        self.jar.fuel_m3 += max(0.0, now[0] - drained[0])
        self.jar.water_m3 += max(0.0, now[1] - drained[1])
        return was_running and not self.rig.engine.running

    def wet_parts(self) -> tuple[str, ...]:
        """Return the parts that are wet outside, as a learner names them, sorted."""
        return tuple(sorted(WET_NAMES.get(name, name.split(".")[0]) for name in self.rig.wet))

    def open_things(self) -> tuple[str, ...]:
        """Return the openings that stand open or slack and can be seen to, in flow order."""
        rig = self.rig
        links = ("separator.drain", "separator.vent", "fine_filter.screw", "injection_pump.screw")
        nuts = (f"injector_{number}.nut" for number, line in enumerate(rig.engine.lines, 1) if line.nut_slack)
        return (*(link for link in links if rig.is_open(link)), *nuts)

    def spilled_ml(self) -> int:
        """Return the fuel that lies in the boat, to the nearest 10 ml, as an eye would put it."""
        return int(self.rig.spilled_m3 / MILLILITRE_M3 / 10.0 + 0.5) * 10


def difference(before: LinkSum, after: LinkSum) -> LinkSum:
    """Return what passed between two readings: fuel, water and air [m3]."""
    return after[0] - before[0], after[1] - before[1], after[2] - before[2]
