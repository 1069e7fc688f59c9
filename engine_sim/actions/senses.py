"""What ear, eye and nose make of a running engine: its beat, its speed to the nearest fifty, knock, labour, smoke."""

from __future__ import annotations

from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, hear, see

RPM_STEP = 50


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
