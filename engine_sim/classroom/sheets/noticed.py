"""The signs that the fault finder goes by, in the order in which a person comes upon them: pure data.

A sign is named as in the played data (``kind.key``) and looked for at some checks. Its words are those of the sentence
tables, but for a few with figures in them, which a sheet has to say without.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Names = tuple[str, ...]

TURN: Names = ("starter.crank_5", "preheat.heat_20+starter.crank_5")
IDLE: Names = ("starter.crank_10+engine.run_idle_5min",)
LOAD: Names = ("starter.crank_10+engine.run_load_5min+engine.stop",)
FLOW: Names = ("fine_filter.open_screw+lift_pump.lever_10+fine_filter.close_screw",)
FLOW_FURTHER_ON: Names = ("injection_pump.open_screw+lift_pump.lever_10+injection_pump.close_screw",)
LEVER: Names = ("lift_pump.lever_10",)
BOWL: Names = ("separator.look",)
DRAIN = (
    "shut_off_valve.shut+separator.open_vent+separator.open_drain+separator.close_drain+separator.read_jar"
    "+shut_off_valve.open+separator.fill+separator.close_vent"
)
JAR: Names = ("tank.sample_sump", DRAIN)
VACUUM: Names = ("lift_pump.fit_gauge+starter.crank_10+engine.run_fast_1min+lift_pump.read_vacuum",)
SAME_CHECK: Mapping[str, str] = {
    "fine_filter.open_screw+engine.key_on+electric_pump.listen+bench.wait_10s+engine.key_off+fine_filter.close_screw": (
        FLOW[0]
    ),
    "electric_pump.fit_gauge+starter.crank_10+engine.run_fast_1min+electric_pump.read_vacuum": VACUUM[0],
    "separator.open_drain+separator.close_drain+separator.read_jar": DRAIN,
    "hand_start.swing_10": TURN[0],
    "hand_start.swing_10+engine.run_idle_5min": IDLE[0],
    "hand_start.swing_10+engine.run_load_5min+engine.stop": LOAD[0],
}
"""Checks that are one on a sheet, though an electric pump, a starting handle or a tank above has its own way."""
CHECK_WORDS: Mapping[str, str] = {
    DRAIN: "separator: drain it into the jar as its card says, and hold the jar to the light"
}
"""What a check is called that has a procedure card of its own."""
AROUND: Names = ("bench.look_around",)
HOSE: Names = ("joint.look",)


@dataclass(frozen=True, slots=True)
class Sign:
    """One row: signs of which any will do, at checks; ``also`` must be there too, ``without`` must not.

    ``not_before`` names checks at which none of ``bars`` may show (the signs themselves where it is left out): what
    dies under load, but not at idle. ``by_height`` says that it hangs on where the tank stands.
    """

    keys: Names
    at: Names
    also: Names = ()
    without: Names = ()
    not_before: Names = ()
    bars: Names = ()
    by_height: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Signs that are come upon in one way, under one heading; ``says`` goes before them."""

    title: str
    says: str
    signs: tuple[Sign, ...]

    @property
    def at(self) -> Names:
        """The checks by which its signs are usually come upon."""
        return tuple(dict.fromkeys(sign.at[0] for sign in self.signs))


_TURNS_BADLY: Names = ("starter.cranks_slowly", "starter.cranks_barely")
_DIES: Names = ("engine.dies", "engine.dies_meanwhile")


_AMISS: Names = tuple(f"fine_filter.screw_{how}" for how in ("nothing", "draws", "weak", "air", "froth", "water"))


def _each(at: Names, *keys: str, by_height: bool = False) -> tuple[Sign, ...]:
    return tuple(Sign((key,), at, by_height=by_height) for key in keys)


GROUPS: tuple[Group, ...] = (
    Group(
        "What the starter does",
        "No fuel fault keeps a starter from turning: what is here comes before the fuel side.",
        _each(
            TURN,
            "starter.starter_dead",
            "starter.starter_clicks",
            "starter.starter_chatters",
            "starter.cranks_barely",
            "starter.cranks_slowly",
        ),
    ),
    Group(
        "It turns well and does not fire",
        "Look at the exhaust while it turns. No smoke: no fuel is injected (common practice). White smoke: fuel is "
        "injected, and does not burn (US Navy NAVEDTRA 14264).",
        (
            Sign(("engine.fires_not",), TURN, ("engine.smoke_none",), _TURNS_BADLY),
            Sign(("engine.fires_not",), TURN, ("engine.smoke_white",), _TURNS_BADLY),
        ),
    ),
    Group(
        "It fires, and dies",
        "It lives on what stands in its filters and hoses, and dies when nothing comes after.",
        (Sign(_DIES, IDLE), Sign(_DIES, LOAD, not_before=IDLE)),
    ),
    Group(
        "It runs, but not well",
        "",
        (
            *_each(LOAD, "engine.wavers", "engine.loses_speed"),
            *_each((*TURN, *IDLE, *LOAD), "engine.beat_uneven", "engine.engine_knocks"),
            *_each(LOAD, "engine.engine_labours", "engine.smoke_black"),
            *_each((*IDLE, *LOAD), "engine.smoke_blue", "exhaust.exhaust_dry"),
            *_each(LOAD, "engine.alarm_sounds"),
        ),
    ),
    Group(
        "What comes at the fine filter's bleed screw",
        "This test splits the circuit: nothing means a fault towards the tank, froth means air, a clear run means that "
        "the trouble lies further on.",
        (
            *_each(
                FLOW,
                "fine_filter.screw_nothing",
                "fine_filter.screw_draws",
                "fine_filter.screw_weak",
                "fine_filter.screw_air",
                "fine_filter.screw_froth",
                "fine_filter.screw_clears",
                by_height=True,
            ),
            Sign(("fine_filter.screw_water", "injection_pump.screw_water"), (*FLOW, *FLOW_FURTHER_ON)),
            *(
                Sign(keys, FLOW_FURTHER_ON, not_before=FLOW, bars=_AMISS)
                for keys in (
                    ("injection_pump.screw_weak", "injection_pump.screw_nothing"),
                    ("injection_pump.screw_air", "injection_pump.screw_froth"),
                )
            ),
        ),
    ),
    Group(
        "The lift pump",
        "Where the lever flops, turn the engine one revolution and try again before anything else is thought.",
        (
            *_each(
                LEVER,
                "lift_pump.lever_flops",
                "lift_pump.lever_hard",
                "lift_pump.lever_stiff",
                "lift_pump.lever_light",
                "lift_pump.lever_soft",
                "lift_pump.lever_spongy",
                "lift_pump.lever_air",
                by_height=True,
            ),
            Sign(("electric_pump.pump_silent",), FLOW),
        ),
    ),
    Group(
        "The bowl and the jar",
        "",
        (
            *_each(BOWL, "separator.bowl_dark", "separator.bowl_all_water"),
            Sign(("tank.jar_water", "tank.jar_all_water", "separator.jar_water", "separator.jar_all_water"), JAR),
        ),
    ),
    Group(
        "Gauges",
        "",
        (
            *_each(("tank.dip",), "tank.dip_fuel-"),
            *_each(("tank.tap_gauge",), "tank.gauge_dead"),
            Sign(("lift_pump.vacuum_reads+", "electric_pump.vacuum_reads+"), VACUUM),
            Sign(("lift_pump.vacuum_reads-", "electric_pump.vacuum_reads-"), VACUUM),
            *_each(("starter.volts",), "starter.volts_cranking-"),
            *_each(("starter.drop_test",), "starter.volts_dropped+"),
            *_each(("preheat.heat_20+preheat.feel_stems",), "preheat.preheat_amps-"),
        ),
    ),
    Group(
        "Drips and bubbles",
        "Under suction a leak lets air in and does not drip; under pressure, or below a tank, it drips.",
        (
            *_each(AROUND, "bench.wet_places", "bench.spilled", by_height=True),
            *_each(HOSE, "joint.froth_in_hose", "joint.air_in_hose", by_height=True),
        ),
    ),
)
"""Signs that may mean several things; what means one thing only is found by a look (:data:`LOOKS`)."""

LOOKS: Mapping[str, Names] = {
    "starter.crank_5+battery.feel_terminals": ("battery.terminal_hot",),
    "starter.crank_5+starter.feel_terminal": ("starter.terminal_hot",),
    "battery.look": ("battery.lamps_dead", "battery.lamps_dim", "battery.isolator_is_off"),
    "starter.look": ("starter.starter_bad_wire", "starter.starter_burnt"),
    "stop_lever.look": ("stop_lever.stop_out",),
    "stop_solenoid.listen": ("stop_solenoid.solenoid_silent",),
    "shut_off_valve.look": ("shut_off_valve.handle_across",),
    "changeover_valve.look": ("changeover_valve.changeover_at",),
    "tank.dip": ("tank.dip_slime", "tank.dip_grit"),
    "tank.crack_cap+tank.close_cap": ("tank.cap_hisses",),
    "tank.sample_sump": (
        "tank.jar_petrol",
        "tank.jar_crystals",
        "tank.jar_foul",
        "tank.jar_slime",
        "tank.jar_dirt",
        "tank.jar_waxy",
    ),
    "tank.blow_back": ("tank.blown_free",),
    "separator.look": ("separator.bowl_slime", "separator.bowl_grit", "separator.bowl_waxy", "separator.separator_wet"),
    "separator.try_vent": ("separator.vent_turns",),
    "joint.look": ("joint.joint_wet", "joint.hose_flat"),
    "joint.wipe_and_try": ("joint.joint_turns",),
    "lift_pump.look": ("lift_pump.pump_weeps",),
    "lift_pump.lever_10": ("separator.vent_hiss", "separator.vent_spits"),
    "fine_filter.look": ("fine_filter.screw_is_open", "fine_filter.filter_wet"),
    "fine_filter.try_screw": ("fine_filter.screw_turns",),
    "injection_pump.try_screw": ("injection_pump.screw_turns",),
    "bench.look_around": ("bench.open_things",),
    "return_line.look": ("return_line.return_swollen",),
    "exhaust.look": ("exhaust.seacock_is_shut",),
    "exhaust.look_elbow": ("exhaust.elbow_blocked",),
    "engine.look_intake": ("engine.intake_blocked",),
    "engine.look_propeller": ("engine.propeller_foul",),
    "engine.dip_oil": ("engine.oil_over", "engine.oil_thin"),
    "preheat.heat_20+preheat.feel_stems": ("preheat.stems_cold",),
}
"""Check to what it shows that points to its cause at once."""
