"""What the page may let hear of a step: each thing heard as a kind of sound, its beat, and how long it goes on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from engine_sim.observations import Observation

Sound = list[object]
"""Kind (``turn``, ``run``, ``click``, ``hiss``, ``hum``, ``clunk``), beats a second, and its length [ms]."""

_HEARD: Mapping[str, tuple[str, float, int]] = MappingProxyType(
    {
        "cranks_briskly": ("turn", 6.0, 1400),
        "cranks_slowly": ("turn", 3.0, 1600),
        "cranks_barely": ("turn", 1.2, 1600),
        "starter_clicks": ("click", 1.0, 200),
        "starter_chatters": ("click", 14.0, 900),
        "starter_thuds": ("clunk", 1.0, 300),
        "handle_runs": ("turn", 2.0, 1200),
        "fires": ("run", 12.0, 1600),
        "engine_idles": ("run", 10.0, 1600),
        "ran_well": ("run", 20.0, 2000),
        "ran_unevenly": ("stumble", 16.0, 2000),
        "wavers": ("stumble", 12.0, 1800),
        "beat_uneven": ("stumble", 11.0, 1800),
        "engine_knocks": ("click", 10.0, 900),
        "solenoid_clicks": ("click", 1.0, 200),
        "pump_hums": ("hum", 8.0, 1200),
        "pump_hurries": ("hum", 20.0, 1200),
        "lever_steady": ("clunk", 2.0, 1400),
        "lever_stiff": ("clunk", 1.5, 1400),
        "screw_air": ("hiss", 1.0, 800),
        "vent_hiss": ("hiss", 1.0, 800),
        "rim_hiss": ("hiss", 1.0, 800),
        "ring_hiss": ("hiss", 1.0, 800),
        "cap_hisses": ("hiss", 1.0, 800),
        "drain_draws": ("hiss", 1.0, 800),
        "injector_creaks": ("click", 4.0, 1000),
    }
)
"""Beats are those of the ear, not of the engine: a brisk starter sounds about six compressions a second; judgement."""


def sounds_of(observations: Iterable[Observation]) -> list[Sound]:
    """Return what was to be heard in a step, in its order."""
    return [list(_HEARD[seen.key]) for seen in observations if seen.key in _HEARD]
