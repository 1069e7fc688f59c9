"""What is asked: each sum with the figures that a ticket can draw, how it is worked, and the slips that tempt.

Figures are in the units in which people read them; each right answer comes from the formula that the simulator uses.
The figures that are drawn are what a small boat can have, for practice: cans, burning, filters, strokes, dips, engine
powers and turns of the starter are common practice, no source; how much returns, what a lever's stroke moves and what a
silencer holds are from memory; a diesel's 820 to 840 g a litre lies within EN 590 (820 to 845 kg/m3 at 15 degrees C).
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product

from engine_sim.fluids import consumption, settling
from engine_sim.fluids.confined import priming_strokes
from engine_sim.units import (
    HOUR_S,
    INCH_OF_MERCURY_PA,
    KILOPASCAL_PA,
    LITRE_M3,
    LITRE_PER_HOUR_M3_PER_S,
    MILLILITRE_M3,
    MINUTE_S,
)

SUMS_EXERCISE = "sums"
SUMS_VERSION = 1
POINTS_EACH = 2.0
_MM_M = 1e-3

Figures = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong answer that tempts: how it comes about, and what to say of it."""

    wrong: Callable[[Figures], float]
    why: str


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum: ``text`` and ``working`` name figures in braces, ``answer`` among them in the working.

    ``choices`` gives the values that each figure can have; ``right`` the answer in ``unit``; ``tolerance`` the share of
    it by which an answer may differ. ``objective`` is the lesson and objective that it exercises.
    """

    id: str
    title: str
    text: str
    unit: str
    choices: Mapping[str, tuple[float, ...]]
    right: Callable[[Figures], float]
    tolerance: float
    working: str
    slips: tuple[Slip, ...]
    objective: str

    def every(self) -> tuple[Figures, ...]:
        """Return every set of figures that can be drawn."""
        return tuple(dict(zip(self.choices, values, strict=True)) for values in product(*self.choices.values()))


def _litres_an_hour(f: Figures) -> float:
    return consumption.fuel_flow_m3_per_s(f["kw"] * 1e3, f["density"]) / LITRE_PER_HOUR_M3_PER_S


def _can_hours(f: Figures, returned: float = 0.0) -> float:
    lasts_s = consumption.can_lasts_s(
        f["litres"] * LITRE_M3, f["burned"] * LITRE_PER_HOUR_M3_PER_S, returned * LITRE_PER_HOUR_M3_PER_S
    )
    return lasts_s / HOUR_S


def _strokes(f: Figures) -> float:
    return float(priming_strokes(f["litres"] * LITRE_M3, f["stroke"] * MILLILITRE_M3, f["share"] / 100.0))


def _flooded_s(f: Figures) -> float:
    flow = consumption.sea_water_flow_m3_per_s(f["pump"] * LITRE_M3 / MINUTE_S, f["rated"], f["cranked"])
    return consumption.filling_time_s(f["free"] * LITRE_M3, flow)


def _above_pick_up(f: Figures) -> float:
    return f["dip"] - f["off"] * f["fall"] / 100.0 - f["clear"]


SUMS: tuple[Sum, ...] = (
    Sum(
        "can_return_home",
        "The can, with the return led back into it",
        "You run on a can that holds {litres} litres that the pick-up reaches. The engine burns {burned} litres an "
        "hour. {returned} litres an hour come back through the return line, and you led it into the can. For how many "
        "hours will the can last?",
        "h",
        {"litres": (8.0, 9.5, 12.0, 18.0), "burned": (1.6, 2.0, 2.5), "returned": (15.0, 18.0, 24.0)},
        _can_hours,
        0.03,
        "What comes back is there again: only what is burned counts. {litres} l ÷ {burned} l/h = {answer} h.",
        (Slip(lambda f: _can_hours(f, f["returned"]), "That is how long it lasts when the return goes elsewhere."),),
        "bad_fuel.work_out_hours",
    ),
    Sum(
        "can_return_lost",
        "The can, with the return left on the tank",
        "The same kind of can: {litres} litres that the pick-up reaches, {burned} litres an hour burned, {returned} "
        "litres an hour through the return line. This time the return still leads to the old tank. For how many "
        "minutes will the can last?",
        "min",
        {"litres": (8.0, 9.5, 12.0, 18.0), "burned": (1.6, 2.0, 2.5), "returned": (15.0, 18.0, 24.0)},
        lambda f: _can_hours(f, f["returned"]) * HOUR_S / MINUTE_S,
        0.03,
        "The can gives what is burned and what goes to the tank: {litres} l ÷ ({burned} + {returned}) l/h, times 60 "
        "minutes = {answer} min.",
        (
            Slip(lambda f: _can_hours(f) * HOUR_S / MINUTE_S, "That would be so only if the return came back."),
            Slip(lambda f: _can_hours(f, f["returned"]), "That is in hours; minutes were asked."),
        ),
        "bad_fuel.work_out_hours",
    ),
    Sum(
        "strokes_to_fill",
        "Strokes to fill a filter",
        "You changed an element, and the housing, which holds {litres} litres, stands empty. Each stroke of the hand "
        "lever moves {stroke} millilitres, and {share} % of that arrives. How many strokes fill it?",
        "strokes",
        {"litres": (0.25, 0.4, 0.5), "stroke": (1.5, 2.0), "share": (60.0, 70.0, 80.0)},
        _strokes,
        0.03,
        "One stroke brings {stroke} ml × {share} % of fuel. {litres} l are a thousand times as many millilitres; "
        "divided by that, {answer} strokes: some minutes of pumping, and no sign of a fault.",
        (Slip(lambda f: f["litres"] * 1000.0 / f["stroke"], "You counted every stroke as a full one."),),
        "air.bleed_outwards",
    ),
    Sum(
        "litres_an_hour",
        "Litres an hour",
        "At cruising speed an engine gives {kw} kilowatts. A small diesel burns about 260 grams for each kilowatt and "
        "hour. A litre of this fuel weighs {density} grams. How many litres an hour does it burn?",
        "l/h",
        {"kw": (5.0, 8.0, 10.0, 15.0), "density": (820.0, 840.0)},
        _litres_an_hour,
        0.03,
        "{kw} kW × 260 g = what an hour weighs; divided by {density} g a litre, {answer} l/h.",
        (Slip(lambda f: f["kw"] * 0.26, "Those are kilograms an hour; a litre weighs less than a kilogram."),),
        "prevention.fill_and_sample",
    ),
    Sum(
        "gauge_in_kilopascal",
        "What the vacuum gauge says",
        "A gauge before the lift pump shows {inches} inches of mercury of vacuum. How many kilopascals are that? "
        "(One inch of mercury is 3.386 kilopascals.)",
        "kPa",
        {"inches": (3.0, 6.0, 9.0, 12.0, 14.0)},
        lambda f: f["inches"] * INCH_OF_MERCURY_PA / KILOPASCAL_PA,
        0.03,
        "{inches} × 3.386 = {answer} kPa. Up to about 20 kPa an element counts as clean, from about 40 kPa it is "
        "changed (US Army TM 5-3895-346-14, a larger engine); your manual says what holds for yours.",
        (
            Slip(lambda f: f["inches"] / 3.386, "You divided; kilopascals are the smaller unit, so there are more."),
            Slip(lambda f: f["inches"], "Those are still inches of mercury."),
        ),
        "elements.read_vacuum",
    ),
    Sum(
        "above_the_pick_up",
        "How far from empty, heeled over",
        "The dipstick in the middle of the tank shows {dip} centimetres. The pick-up ends {clear} centimetres above "
        "the bottom, {off} centimetres to the high side. Heeled as she is, the fuel falls by {fall} centimetres for "
        "each metre across. How many centimetres of fuel stand above the end of the pick-up?",
        "cm",
        {"dip": (12.0, 15.0, 18.0), "clear": (2.0, 2.5), "off": (20.0, 30.0), "fall": (18.0, 27.0)},
        _above_pick_up,
        0.06,
        "Over there the fuel stands {off} × {fall} ÷ 100 centimetres lower than at the stick: {dip} less that less "
        "{clear} = {answer} cm. In a seaway it is less still, for moments, and a moment is enough for air.",
        (
            Slip(lambda f: f["dip"] - f["clear"], "That is upright. On the high side the fuel stands lower."),
            Slip(lambda f: f["dip"] - f["off"] * f["fall"] / 100.0, "The pick-up does not reach the bottom."),
        ),
        "is_there_fuel.gauge_or_dip",
    ),
    Sum(
        "water_sinks",
        "How long water takes to sink",
        "A drop of water a tenth of a millimetre across sinks through still diesel at {speed} millimetres a second. "
        "The fuel stands {deep} centimetres deep. After how many minutes have such drops reached the bottom?",
        "min",
        {"speed": (0.2, 0.23, 0.25), "deep": (20.0, 30.0, 40.0)},
        lambda f: settling.settling_time_s(f["deep"] / 100.0, f["speed"] * _MM_M) / MINUTE_S,
        0.03,
        "{deep} cm are ten times as many millimetres; ÷ {speed} mm/s gives seconds, ÷ 60 = {answer} min. A drop of a "
        "tenth of that size takes a hundred times as long, a day and more: the longer the tank rests, the better.",
        (Slip(lambda f: f["deep"] / f["speed"] / 60.0, "You took centimetres for millimetres."),),
        "water.choose_time",
    ),
    Sum(
        "turns_and_rests",
        "Turns of the starter, and rests",
        "A manual allows turns of {turn} s with {rest} min of rest between them. You need {turns} turns. "
        "How many minutes pass from the beginning of the first to the end of the last?",
        "min",
        {"turn": (15.0, 30.0), "rest": (1.0, 2.0), "turns": (3.0, 4.0, 5.0)},
        lambda f: f["turns"] * f["turn"] / MINUTE_S + (f["turns"] - 1.0) * f["rest"],
        0.03,
        "{turns} turns of {turn} s, and one rest fewer than turns, of {rest} min each: {answer} min. (At the most 30 s "
        "and then 2 min, US Army TM 10-3930-671-24.)",
        (
            Slip(lambda f: f["turns"] * (f["turn"] / MINUTE_S + f["rest"]), "After the last turn nobody has to wait."),
            Slip(lambda f: f["turns"] * f["turn"] / MINUTE_S, "You left the rests out."),
        ),
        "does_it_crank.crank_safely",
    ),
    Sum(
        "silencer_full",
        "Cranking until the silencer is full",
        "The engine's sea-water pump moves {pump} litres a minute at {rated} turns a minute; the starter turns the "
        "engine at {cranked}. The silencer has room for {free} litres before water reaches the engine, and while it "
        "does not fire nothing blows it out. After how many seconds of cranking, all tries together, is it full?",
        "s",
        {"pump": (20.0, 25.0, 30.0), "rated": (3000.0,), "cranked": (200.0, 250.0), "free": (3.5, 4.5)},
        _flooded_s,
        0.03,
        "The pump goes with the engine: {pump} × {cranked} ÷ {rated} litres a minute. {free} l divided by that, times "
        "60 = {answer} s. Shut the seacock while you crank again and again; open it at once when it fires.",
        (
            Slip(lambda f: f["free"] / f["pump"] * 60.0, "So much the pump moves only at {rated} turns a minute."),
            Slip(lambda f: _flooded_s(f) / 60.0, "That is in minutes; seconds were asked."),
        ),
        "does_it_crank.crank_safely",
    ),
)


def figures_of(item: Sum, ticket: str) -> Figures:
    """Return the figures that a ticket draws for a sum: the same ticket, the same figures, everywhere."""
    found = {}
    for name, values in item.choices.items():
        seed = hashlib.sha256(f"{SUMS_EXERCISE}|{SUMS_VERSION}|{ticket}|{item.id}|{name}".encode()).digest()
        found[name] = values[int.from_bytes(seed[:4], "big") % len(values)]
    return found


def asked(item: Sum, ticket: str) -> str:
    """Return a sum as a ticket's learner reads it."""
    return item.text.format(**in_words(figures_of(item, ticket)))


def in_words(figures: Figures) -> dict[str, str]:
    """Return figures as they are written."""
    return {name: f"{value:g}" for name, value in figures.items()}
