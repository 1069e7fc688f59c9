"""Rules within a job: draining with the tank below or above, changing elements, running on a can, a bad tank.

The procedures are common practice, no source. Points are judgement; where the engine's manual says otherwise, it is
right.
"""

from __future__ import annotations

from engine_sim.marking import judges_procedures as judge
from engine_sim.marking.judges import Rule, only_where
from engine_sim.marking.track import Track

FAMILY = "procedures"


def _is_above(track: Track) -> bool:
    return track.boat.tank_above


def _is_below(track: Track) -> bool:
    return not track.boat.tank_above


_OF_A_SEPARATOR = judge.each_job(
    ("separator.take_bowl_off",),
    ("separator.fit_*",),
    {
        "cleaning it outside first": ("{part}.clean_outside",),
        "wiping bowl and seat": ("{part}.wipe_bowl",),
        "seeing that the old seal came away": ("{part}.check_ring",),
        "trying the ball at its inlet": ("{part}.check_ball",),
    },
    {"wetting the new seals with fuel": ("separator.fit_dry",)},
)
_OF_A_FINE_FILTER = judge.each_job(
    ("fine_filter.take_off",),
    ("fine_filter.fit_*",),
    {
        "cleaning its head first": ("{part}.clean_outside",),
        "seeing that the old ring came away": ("{part}.check_ring",),
        "wiping the seat": ("{part}.wipe_seat",),
    },
    {
        "oiling the new seals": ("fine_filter.fit_dry", "fine_filter.fit_bolted_dry"),
        "the right tightness": ("fine_filter.fit_forced", "fine_filter.fit_loose"),
    },
)

PROCEDURES: tuple[Rule, ...] = (
    Rule(
        "drain_tank_below",
        "With the tank below the separator: shut the way from the tank, and open the vent, to drain.",
        "You shut the way from the tank and let air in at the top to drain the bowl.",
        "You drained with the way from the tank open, or without opening the vent.",
        "With the tank below, the fuel in the hose falls back when the low side is opened; a shut valve holds it. "
        "Without the vent the bowl does not empty but draws air.",
        1.0,
        only_where(_is_below, judge.drained_with_tank_below),
        FAMILY,
    ),
    Rule(
        "drain_tank_above",
        "With the tank above the separator: leave the way from the tank open to drain.",
        "You let the head of the tank push the water out.",
        "You drained with the way from the tank shut, though the tank lies above the separator.",
        "The fuel above pushes the water out and keeps air out, so that nothing has to be bled afterwards.",
        1.0,
        only_where(_is_above, judge.drained_with_tank_above),
        FAMILY,
    ),
    Rule(
        "drain_to_clean_fuel",
        "Drain until clean fuel comes, and hold the jar to the light.",
        "You drained until clean fuel came, and looked at what was in the jar.",
        "You stopped draining while water still came, or poured the jar away unread.",
        "What is left of the water goes on to the filters, and the jar tells water, dirt, slime and wrong fuel apart.",
        0.5,
        judge.drained_to_clean,
        FAMILY,
    ),
    Rule(
        "shut_before_opening",
        "Shut the way from the tank before a filter, a hose or a pump is taken off.",
        "The way from the tank was shut when you took off a filter, a hose or a pump.",
        "You took off a filter, a hose or a pump with the way from the tank open.",
        "A tank above runs out into the bilge, and from a tank below the hose empties itself and has to be filled.",
        1.0,
        judge.shut_before_opening,
        FAMILY,
    ),
    Rule(
        "separator_element_steps",
        "At the separator: clean it outside, take the old seals off, wipe bowl and seat, try the inlet's ball where "
        "there is one, and wet the new seals with fuel.",
        "You opened the separator and closed it again step by step as it should be.",
        "Something was left out at the separator.",
        "A doubled or dry ring weeps and lets air in by the next morning, and dirt that falls in is worse than air.",
        1.0,
        _OF_A_SEPARATOR,
        FAMILY,
    ),
    Rule(
        "fine_filter_steps",
        "At the fine filter: clean its head, see that the old ring came away, wipe the seat, oil the new ring, and "
        "tighten by hand (or the bolt to the manual's torque).",
        "You opened the fine filter and closed it again step by step as it should be.",
        "Something was left out at the fine filter.",
        "A doubled, dry or forced ring leaks, and dirt behind the element goes straight to the injection pump.",
        1.0,
        _OF_A_FINE_FILTER,
        FAMILY,
    ),
    Rule(
        "nothing_poured_in",
        "Do not pour fuel into the clean side of a new fine filter; fill it by bleeding.",
        "You filled the new fine filter by bleeding, with nothing poured in from a jug.",
        "You poured a new fine filter full from a jug.",
        "What is poured in behind the element has passed no filter before the injection pump.",
        0.5,
        judge.element_not_filled_dirty,
        FAMILY,
    ),
    Rule(
        "can_stands_right",
        "On a can: lash it, crack its cap so that air gets in, and shut the way from the tank.",
        "The can was lashed, its cap cracked, and the way from the tank shut.",
        "You turned or ran the engine on a can that was loose, sealed, or with the way from the tank open.",
        "A sealed can sucks itself flat within minutes, a loose one tips over at the first wash, and the boat's own "
        "hose lies open meanwhile.",
        1.0,
        judge.can_stands_right,
        FAMILY,
    ),
    Rule(
        "can_return_first_to_jar",
        "On a can: lead the return line into a jar first, then into the can.",
        "You led the return line into a jar until it was clean, and then into the can.",
        "You ran on a can with the return line in the tank, or led it into the can without a jar first.",
        "Led to the tank, the return empties the can many times faster than the engine burns; and the first half litre "
        "still carries what was in the circuit.",
        0.5,
        judge.can_return_first_to_jar,
        FAMILY,
    ),
    Rule(
        "water_off_first",
        "In a bad tank: draw off water and sludge before polishing or putting in biocide.",
        "You drew off what lay at the bottom before you polished the fuel or put in biocide.",
        "You polished the fuel, or put in biocide, with water and sludge still at the bottom.",
        "Slime lives where water lies. What is killed or stirred up and not taken out clogs the filters for days.",
        0.5,
        judge.water_off_first,
        FAMILY,
    ),
)
