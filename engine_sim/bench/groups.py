"""Under which heading an action stands at its part: looking first, then what changes something.

A new action stands under the last heading until it is named here.
"""

from __future__ import annotations

from collections.abc import Sequence

from engine_sim.attempt import Offer

_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Look and measure",
        (
            *("look", "look_around", "smoke", "listen", "read_gauge", "tap_gauge", "dip", "dip_paste", "sample_sump"),
            *("wipe_and_try", "try_vent", "try_screw", "read_jar", "check_ring", "check_ball", "read_vacuum", "card"),
            *("finger", "volts", "drop_test", "signal", "feel_terminal", "feel_terminals", "feel_stems", "feel_heat"),
            *("knock", "look_impeller", "look_elbow", "dip_oil", "look_intake", "look_propeller", "thermometer"),
            "count_washers",
        ),
    ),
    (
        "Make safe",
        ("make_fast", "tell_someone", "ventilate", "extinguisher", "lay_tray", "put_on_goggles"),
    ),
    (
        "Open and shut",
        (
            *("open", "shut", "to_a", "to_b", "to_both", "to_none", "crack_cap", "open_cap", "close_cap", "seal_cap"),
            *("open_drain", "close_drain", "open_vent", "fill", "close_vent", "open_screw", "close_screw"),
            *("open_outlet_screw", "close_outlet_screw", "open_lower_screw", "close_lower_screw", "slacken_nut"),
            *("tighten_nut", "open_seacock", "shut_seacock", "isolate", "connect", "push_home", "pull"),
        ),
    ),
    (
        "Work it",
        (
            *("lever_10", "lever_60", "crank_5", "crank_10", "crank_30", "rest", "tap", "swing_10", "swing_down"),
            *("heat_10", "heat_20", "heat_30", "key_on", "key_off", "run_idle_1min", "run_idle_5min", "run_fast_1min"),
            *("run_cruise_5min", "run_cruise_30min", "run_load_5min", "stop", "turn_by_hand", "hold", "let_go"),
        ),
    ),
    ("Lead its hose", ("to_jar", "to_can", "to_tank", "lash", "unlash", "to_pump", "from_pump")),
    ("Clear up", ("empty_jar", "fresh_jar", "tip_overboard", "wipe_up", "waste_ashore")),
    ("Let time pass", ("wait_10s", "wait_1min", "wait_5min", "cool", "wait_30min", "wait_night")),
    (
        "Take apart and fit",
        (
            *("take_off", "take_bowl_off", "wipe_seat", "wipe_bowl", "pour_full", "fit_wetted", "fit_dry", "fit_old"),
            *("fit_by_hand", "fit_loose", "fit_forced", "fit_bolted", "fit_bolted_dry"),
        ),
    ),
    ("Clean, mend, renew", ()),
)


def grouped(offers: Sequence[Offer]) -> list[tuple[str, list[Offer]]]:
    """Return the offers of one part under their headings, those without offers left out."""
    placed = {action: heading for heading, actions in _GROUPS for action in actions}
    last = _GROUPS[-1][0]
    found = [(heading, [o for o in offers if placed.get(o.action, last) == heading]) for heading, _ in _GROUPS]
    return [(heading, some) for heading, some in found if some]


def named() -> tuple[str, ...]:
    """Return every action that stands under a heading by name."""
    return tuple(action for _, actions in _GROUPS for action in actions)


def headings() -> tuple[str, ...]:
    """Return every heading."""
    return tuple(heading for heading, _ in _GROUPS)
