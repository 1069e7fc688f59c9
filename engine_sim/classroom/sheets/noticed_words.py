"""How a sheet says the signs that have figures in them, and which signs it leaves out, by the reason; pure data."""

from __future__ import annotations

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "engine.dies": "It fires, runs for a while at idle, and dies.",
    "engine.dies under load": "It idles, and dies under load.",
    "engine.wavers": "Under load the speed begins to waver after a while.",
    "engine.loses_speed": "Under load it does not hold its speed.",
    "engine.alarm_sounds": "The temperature alarm sounds, and its lamp lights up.",
    "tank.dip_fuel-": "The dipstick comes up dry, or wet to less than the end of the pick-up tube.",
    "lift_pump.vacuum_reads+": "The vacuum gauge at the pump's inlet shows far more than on a sound boat.",
    "lift_pump.vacuum_reads-": "The vacuum gauge at the pump's inlet shows hardly anything.",
    "starter.volts_cranking-": "While the key is turned the voltmeter shows far too little at the starter.",
    "starter.volts_dropped+": "While the key is turned many volts are lost at the terminals or along the cable.",
    "preheat.preheat_amps-": "While it heats the ammeter shows too little, or nothing.",
    "tank.jar_water": "The jar shows water: under the fuel, or nothing but water.",
    "bench.wet_places": "It is wet with fuel somewhere round the engine.",
    "bench.spilled": "Fuel lies under the engine.",
    "bench.open_things": "You see a screw, tap or nut standing open.",
    "injection_pump.screw_weak": "Clear at the fine filter; at the injection pump's bleed screw hardly any fuel comes.",
    "injection_pump.screw_air": "Clear at the fine filter; at the injection pump's bleed screw air or froth comes.",
    "changeover_valve.changeover_at": "The handle points to the other tank than the one you meant.",
}
"""How a sign with figures in it is said on a sheet, by its first key; the rest say it as the sentence tables do."""

LEFT_OUT: Mapping[str, tuple[str, ...]] = {
    "told by another sign of the same check": (
        "bench.smells_of_fuel",
        "engine.engine_overheats",
        "engine.engine_stands",
        "engine.key_on_dead",
        "engine.ran_unevenly",
        "engine.smells_hot",
        "fine_filter.screw_solid",
        "injection_pump.screw_draws",
        "injection_pump.screw_solid",
        "injector.injector_silent",
        "return_line.return_runs",
    ),
    "told better by the dipstick, the valves or the filler cap": (
        "separator.drain_draws",
        "separator.drain_dry",
        "separator.drain_runs_fuel-",
        "separator.jar_empty",
        "starter.volts_signal-",
        "stop_solenoid.solenoid_volts-",
        "tank.jar_fuel-",
        "tank.sump_nothing",
        "tank.sump_runs-",
    ),
    "the same in the tank's own sample": (
        "separator.drain_runs_water",
        "separator.jar_crystals",
        "separator.jar_dirt",
        "separator.jar_foul",
        "separator.jar_one_layer",
        "separator.jar_petrol",
        "separator.jar_slime",
        "separator.jar_waxy",
        "tank.jar_hazy",
        "tank.jar_one_layer",
    ),
}
"""Signs that no row speaks of and that tell no cause apart, by the reason."""
