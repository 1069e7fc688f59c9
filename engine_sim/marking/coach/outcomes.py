"""What a check showed, so that two boats can be compared: the words, and figures as far as they can be expected."""

from __future__ import annotations

import math
from collections.abc import Iterable

from engine_sim.marking.sayings import Saying, coarse
from engine_sim.observations import Noticed, Observation

_TIMING = frozenset({"dies_meanwhile", "spilled"})
"""What comes a step sooner or later by how bad a fault is: it tells no fault from another."""

_WATERY = frozenset({"jar_water", "jar_all_water", "jar_hazy", "jar_one_layer"})
"""How a sample with water in it looks: in one layer, hazy or in two by how long it stood and how much there is."""

_SOFT_LEVER = frozenset({"lever_spongy", "lever_air"})
_WITH_SOFT_LEVER = "return_runs"
"""How soft a lever is, and whether some fuel comes back all the same, is a matter of how much air gets in."""

AIR_COMES_IN = frozenset({"slack_joint", "screw_loose", "torn_diaphragm", "empty_tank"})
"""Faults by which air comes in for as long as they are there, more of it or less."""
_AIRY_SCREW = frozenset({"screw_air", "screw_froth", "screw_clears"})
"""How a bleed screw spits; where air comes in all the time, how much is a matter of how bad the fault is."""

_FIRING = frozenset({"fires", "fires_not", "smoke_none", "smoke_white", "dies", "engine_idles", "engine_stands"})
"""What a first turn shows of the fuel: how long the skipper went on before he gave up decides it, and nobody knows."""

_NEAR_SHARE = 0.5
"""How far figures of one fault, more or less bad, may lie apart [share of the larger]; judgement."""

_NEAR_AT_LEAST = 2.0
"""The same in a small figure's own unit (seconds, centimetres); judgement."""

Signs = tuple[Saying, ...]


def signs_of(noticed: Iterable[Noticed | Observation]) -> Signs:
    """Return what was noticed as signs, in a fixed order, without what only timing decides."""
    told = [one for one in noticed if one.key not in _TIMING]
    soft = any(one.key in _SOFT_LEVER for one in told)
    return tuple(sorted({_sign(one) for one in told if not (soft and one.key == _WITH_SOFT_LEVER)}))


def _sign(one: Noticed | Observation) -> Saying:
    """Return one thing noticed as a sign: the same for what is only more or less of the same."""
    if one.key in _WATERY:
        return Saying(one.part, "jar_watery")
    if one.key in _SOFT_LEVER:
        return Saying(one.part, "lever_soft_with_air")
    return coarse(one)


def _as_airy(signs: Signs) -> Signs:
    """Return signs with one word for every way in which a bleed screw spits."""
    return tuple(sorted({Saying(sign.part, "screw_airy") if sign.key in _AIRY_SCREW else sign for sign in signs}))


def alike(one: Signs, other: Signs, air_comes_in: bool = False) -> bool:
    """Tell whether two boats showed the same at the same check; on the other, ``air_comes_in`` all the time."""
    if air_comes_in:
        one, other = _as_airy(one), _as_airy(other)
    return len(one) == len(other) and all(
        own.agrees_with(theirs, _NEAR_SHARE, _NEAR_AT_LEAST) for own, theirs in zip(one, other, strict=True)
    )


def of_a_turn(signs: Signs) -> Signs:
    """Return signs without what firing, smoke and dying say."""
    return tuple(sign for sign in signs if sign.key not in _FIRING)


def answer_of(signs: Signs) -> str:
    """Return signs as one word, the same for what is much the same: figures count by their power of two."""
    return ";".join(
        f"{sign.part}.{sign.key}:{sign.words}:{','.join(str(_power(figure)) for figure in sign.figures)}"
        for sign in _as_airy(signs)
    )


def _power(figure: float) -> int:
    return round(math.log2(max(1.0, figure)))
