"""What ear, eye and nose make of a running engine: its beat, its speed to the nearest fifty, knock, labour, smoke."""

from __future__ import annotations

from engine_sim.actions.reading import span
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, hear, see, smell
from engine_sim.sources import FROM_MEMORY, SourcedValue

RPM_STEP = 50
_WATER_M3_PER_S = SourcedValue(2e-5, "m3/s", FROM_MEMORY, "cooling water that is seen at the outlet").value
_SMELLS_K = SourcedValue(393.15, "K", FROM_MEMORY, "120 degC, from which paint and hoses at an engine smell").value


def round_rpm(speed_rpm: float) -> int:
    """Return a speed as an ear or a rev counter tells it [rpm]."""
    return int(speed_rpm / RPM_STEP + 0.5) * RPM_STEP


def beat(place: Workplace) -> list[Noticed]:
    """Return whether the beat is uneven: some cylinders work and some do not."""
    return [hear(place.first("engine"), "beat_uneven")] if place.rig.engine.beat() == "uneven" else []


def signs(place: Workplace) -> list[Noticed]:
    """Return what else a running engine shows: knock, labour, heat, smoke."""
    engine, motor = place.rig.engine, place.first("engine")
    if not engine.running:
        return []
    found = []
    if engine.knocks():
        found.append(hear(motor, "engine_knocks"))
    if engine.labours():
        found.append(hear(motor, "engine_labours"))
    if engine.overheated():
        found.append(see(motor, "engine_overheats"))
    if engine.smoke() != "none":
        found.append(see(motor, f"smoke_{engine.smoke()}"))
    return found


def water_comes(place: Workplace) -> bool:
    """Tell whether cooling water is seen and heard at the outlet."""
    return place.rig.engine.exhaust.flow_m3_per_s > _WATER_M3_PER_S


class HotSigns:
    """What one notices, in its time, of an engine that runs without enough cooling water; ``found`` gathers it."""

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self.found: list[Noticed] = []
        self._dry = not place.first("exhaust")
        self._alarm, self._smell = self._now()

    def _now(self) -> tuple[bool, bool]:
        engine = self._place.rig.engine
        return engine.overheated(), engine.heat.temperature_k > _SMELLS_K

    def note(self, ran_s: float) -> None:
        """Note what has shown itself since the last look, ``ran_s`` [s] after the start."""
        motor, (alarm, smelt) = self._place.first("engine"), self._now()
        if not self._dry and self._place.rig.engine.running and not water_comes(self._place):
            self._dry = True
            self.found.append(hear(self._place.first("exhaust"), "exhaust_dry"))
        if alarm and not self._alarm:
            self.found.append(hear(motor, "alarm_sounds", time=span(ran_s)))
        if smelt and not self._smell:
            self.found.append(smell(motor, "smells_hot", time=span(ran_s)))
        self._alarm, self._smell = self._alarm or alarm, self._smell or smelt
