"""At the fine filter: changing its element in one go or step by step, with all that can go wrong."""

from __future__ import annotations

from engine_sim.actions import housings
from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.warming import WARM
from engine_sim.actions.workplace import Workplace

_WITH_STRAP = f"{housings.NEEDS}, strap"
_USES = ("fine filter element", "sealing ring")


def _is_spun_on(place: Workplace, part: str) -> bool:
    return place.rig.layout.figures[part].get("spin_on", 1.0) > 0.0


def _is_bolted(place: Workplace, part: str) -> bool:
    return not _is_spun_on(place, part)


def _fit(name: str, label: str, do: Do, needs: str = housings.NEEDS, spun: bool = True) -> Action:
    return Action(
        name,
        label,
        120.0,
        do,
        needs,
        uses=_USES,
        ready=housings.is_closed,
        only=_is_spun_on if spun else _is_bolted,
    )


_STEPS = (
    Action("clean_outside", "clean head and filter outside", 60.0, housings.clean_outside, "rag, brush"),
    Action(
        "take_off",
        "take the filter off",
        120.0,
        housings.unscrewed,
        "strap, tray, rag",
        "fuel_opened",
        ready=housings.is_off,
    ),
    Action(
        "check_ring", "see whether the old ring came away", 20.0, housings.check_ring, "torch", ready=housings.is_closed
    ),
    Action("wipe_seat", "wipe the seat", 20.0, housings.wipe_seat, "clean rag", ready=housings.is_closed),
    Action(
        "pour_full",
        "pour the new filter full from a jug first",
        60.0,
        housings.pour_full,
        "jug, clean fuel",
        "fuelling",
        ready=housings.is_closed,
    ),
    _fit(
        "fit_by_hand", "spin a new one on: ring oiled, contact and three quarters of a turn by hand", housings.FIT_WELL
    ),
    _fit("fit_dry", "spin a new one on with its ring dry", housings.FIT_DRY),
    _fit("fit_loose", "spin a new one on until it just touches", housings.FIT_LOOSE),
    _fit(
        "fit_forced", "spin a new one on and force it with the strap", housings.FIT_FORCED, f"{housings.NEEDS}, strap"
    ),
    _fit(
        "fit_bolted",
        "put a new one in: seals oiled, new washer, bolt to the manual's torque",
        housings.FIT_WELL,
        f"{housings.NEEDS}, washer, torque spanner",
        spun=False,
    ),
    _fit("fit_bolted_dry", "put a new one in with the seals dry", housings.FIT_DRY, spun=False),
    Action("fit_old", "put the old one back", 90.0, housings.FIT_OLD, "rag", ready=housings.is_closed),
    Action(
        "nip_up",
        "tighten the filter a little more by hand",
        20.0,
        housings.nip_up_filter,
        "",
        "joint",
        ready=housings.is_on,
    ),
)

FAMILIES = (
    Family(
        ("fine_filter",),
        (
            housings.change_element(_USES),
            *_STEPS,
            WARM,
        ),
    ),
)
