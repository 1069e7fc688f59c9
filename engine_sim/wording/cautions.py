"""The cautions that stand beside what hands can do, and the words of gauges."""

from __future__ import annotations

MANUAL_FIRST = "Your engine's manual, the local rules and a qualified marine engineer come before anything said here."

CAUTIONS: dict[str, str] = {
    "fuel_opened": "Fuel may run out, or air be drawn in. Lay tray and rag first, engine stopped, no flame, fresh air. "
    "None of it goes overboard.",
    "waste": "Keep what comes out for an oily-waste point ashore. None of it goes overboard.",
    "high_pressure": "Never bring a hand near the spray: it goes through skin. Goggles on, rag over the nut. "
    "Fuel under the skin: go to hospital at once.",
    "starting": "Clear of belts and shaft. Crank for 10 to 15 s at a time at most, then rest the starter. Long "
    "cranking with the seacock open can flood the engine.",
    "running": "Keep clothing and hands off belts, shaft and hot parts. Exhaust gas kills: fresh air below.",
    "battery": "A charging battery gives off gas that explodes. No sparks; negative side off first.",
    "joint": "Wipe it clean before you open or tighten it. Do not force it.",
    "filler": "No flame, no smoking near an open filler. Let neither water nor dirt fall in.",
    "fuelling": "No flame, no smoking. Catch every drip; none of it goes overboard.",
    "turning": "Battery isolator off first: nobody may turn the key while hands are at the engine.",
    "hot": "Hot parts burn, and fuel on them can catch fire. Let the engine cool.",
    "preheating": "Never use starting spray with hot glow plugs: it can explode.",
    "handle": "Keep the thumb on the same side as the fingers: a kick back breaks wrists. Let go when it fires.",
    "seacock": "Shut while you crank again and again, open at once when it fires: the water pump must not run dry.",
    "biocide": "A poison: gloves and goggles, and no more than the label says. Draw the water off first.",
    "engineer": "This is work for a qualified marine engineer.",
    "can": "Upright and lashed in a tray, off hot parts and belts. Fresh air, extinguisher at hand, no flame.",
}

GAUGE_WORDS = (
    "empty",
    "one eighth",
    "a quarter",
    "three eighths",
    "half full",
    "five eighths",
    "three quarters",
    "seven eighths",
    "full",
)
"""What a gauge marked in eighths is read as."""

SHARE_WORDS = ("a little", "a quarter", "half", "three quarters", "nearly all")
"""Shares to the nearest quarter."""
