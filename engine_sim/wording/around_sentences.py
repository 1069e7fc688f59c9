"""What is noticed around the engine, and what the bench says of itself."""

from __future__ import annotations

AROUND: dict[str, str] = {
    # system
    "handed_in": "You have handed in. Nothing more can be done at this engine.",
    "not_worked_out": "The bench could not play this any further. What you did before is safe in your logbook.",
    "not_possible": "That cannot be done now: {why}",
    "none_left": "There is none left on board: {thing}. You have to do without, or get some.",
    # around the engine
    "open_things": "You see: {things}.",
    "all_shut": "You see no screw, tap or nut standing open.",
    "wet_places": "It is wet at: {things}.",
    "no_wet_places": "It is dry all round the engine.",
    "parts_dry": "Every part is dry outside.",
    "in_the_tray": "About {ml} ml of fuel lie in the tray.",
    "spilled": "About {ml} ml of fuel lie under the engine.",
    "smells_of_fuel": "It smells of diesel.",
    "tray_laid": "Tray and rag lie under the filters and pumps.",
    "wiped": "You wipe up. The rags go into a tin, for ashore.",
    "goggles_on": "Goggles and gloves are on.",
    "made_fast": "The boat lies safely: at anchor, or under sail with sea room.",
    "shore_near": "The shore lies to leeward, about {minutes} minutes of drifting away.",
    "ashore": "The keel touches: the boat has drifted ashore.",
    "told_someone": "Somebody knows where you are and what you are doing.",
    "ventilated": "Hatches are open and fresh air comes in.",
    "extinguisher_there": "The extinguisher stands within reach.",
    "washers_counted": "All washers, rings and tools are there; nothing lies loose.",
    "thermometer_reads": "The thermometer in the engine space shows {degrees} °C.",
    "cooled": "The engine has cooled; you can touch it everywhere.",
    "still_hot": "Parts of it are still too hot to touch.",
    "waste_ashore": "About {ml} ml and the rags are handed in at the oily-waste point.",
    "rags_ashore": "The rags are handed in at the oily-waste point.",
    "nothing_for_ashore": "There is neither waste nor a rag to hand in.",
    "time_passes": "Time passes.",
}
