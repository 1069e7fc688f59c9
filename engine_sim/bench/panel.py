"""What stands beside the drawing, as plain data for the page: built from what the attempt lets a person know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from engine_sim.actions import parts_of
from engine_sim.actions.parts import Part, shows_its_bowl
from engine_sim.attempt import Attempt, Offer, Step, VolumeXRay
from engine_sim.bench import helping, plot_words, words
from engine_sim.bench import plots as plots_module
from engine_sim.bench.groups import grouped
from engine_sim.bench.shelf import KnownTicket
from engine_sim.bench.way import along_the_way
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.seen import as_looked_at, shows_itself
from engine_sim.drawing.ways import after, before
from engine_sim.faults import fault
from engine_sim.faults.places import tank_behind
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import CAUTIONS, FAULTS, OWN_DEEDS

Entry = dict[str, object]
SPILLING = frozenset({CAUTIONS["fuel_opened"], CAUTIONS["fuelling"]})
"""Cautions of what may spill fuel."""


@dataclass(frozen=True, slots=True)
class Known:
    """The parts that somebody has looked at, and those at which something was done."""

    looked_at: frozenset[str]
    worked_at: frozenset[str]


def known(attempt: Attempt) -> Known:
    """Return what somebody has looked at and worked at so far."""
    kinds = {part.id: part.kind for part in parts_of(layout_of(attempt.scenario.layout).layout)}
    done = [step for step in attempt.steps if step.kind == "action" and step.part in kinds and not _refused(step)]
    looked = {
        name
        for step in done
        if shows_itself(kinds[step.part], step.action)
        for name in (step.part, *(seen.part for seen in step.observations))
    }
    return Known(frozenset(looked), frozenset(step.part for step in done))


def as_known(attempt: Attempt, outside: Mapping[str, object], by_now: Known) -> Mapping[str, object]:
    """Return what a person standing there sees, without what only a look shows where nobody has looked yet."""
    return as_looked_at(layout_of(attempt.scenario.layout).layout, outside, by_now.looked_at, by_now.worked_at)


def seen_so_far(attempt: Attempt) -> Mapping[str, object]:
    """Return what a person standing there sees and knows now."""
    return as_known(attempt, attempt.outside(), known(attempt))


def _refused(step: Step) -> bool:
    return any(seen.key in ("not_possible", "none_left") for seen in step.observations)


def labels(attempt: Attempt) -> dict[str, str]:
    """Return what each part is called."""
    return {part.id: part.label for part in attempt.parts()}


def chosen(attempt: Attempt, part_id: str, xray_on: bool) -> dict[str, object] | None:
    """Return the chosen part with what a hand can do there now."""
    part = next((part for part in attempt.parts() if part.id == part_id), None)
    if part is None:
        return None
    offers = () if attempt.handed_in else attempt.offers(part_id)
    inside = inside_lines(attempt, part_id) if xray_on else []
    return {
        "part": part.id,
        "label": part.label,
        "purpose": part.purpose,
        "offers": [_offer(offer, heading) for heading, some in grouped(offers) for offer in some],
        "inside": inside,
    }


def _offer(offer: Offer, heading: str) -> dict[str, object]:
    return {
        "action": offer.action,
        "label": offer.label,
        "facts": words.offer_facts(offer.takes_s, offer.needs, offer.caution in SPILLING),
        "caution": offer.caution,
        "heading": heading,
    }


def inside_lines(attempt: Attempt, part_id: str) -> list[str]:
    """Return in words what the x-ray shows at a part."""
    volumes = attempt.xray().volumes
    layout = layout_of(attempt.scenario.layout).layout
    part = next(part for part in parts_of(layout) if part.id == part_id)
    found = []
    for owner in owners_at(layout, part):
        families = dict.fromkeys(family_of(name) for name, volume in volumes.items() if volume.part == owner)
        for family in families:
            pieces = [volume for name, volume in volumes.items() if family_of(name) == family]
            place = words.place_name(layout, owner, family)
            found += [words.inside_text(place + word, *_together(some)) for word, some in _stretches(pieces)]
    return found


def family_of(volume: str) -> str:
    """Return the hose that a numbered piece belongs to, else the volume's own name."""
    family, _, number = volume.rpartition(".")
    return family if number.isdigit() else volume


def owners_at(layout: Layout, part: Part) -> tuple[str, ...]:
    """Return the parts of the layout whose insides are told of at a part: its own, and the hoses at a valve or pump."""
    if part.kind in ("tank", "separator", "fine_filter", "return_line"):
        return (part.component,)
    if part.kind == "joint":
        return (part.component,)
    hoses = [hose for hose in layout.parts_of("hose") if part.id in (*before(layout, hose), *after(layout, hose))]
    return (part.id, *hoses)


def _stretches(pieces: Sequence[VolumeXRay]) -> list[tuple[str, Sequence[VolumeXRay]]]:
    """Return the pieces of a hose as its start, middle and end; what is not in pieces has no such words."""
    if len(pieces) < 2:
        return [("", pieces)] if pieces else []
    parts = [(", start", pieces[:1]), (", middle", pieces[1:-1]), (", end", pieces[-1:])]
    return [(word, some) for word, some in parts if some]


def _together(pieces: Sequence[VolumeXRay]) -> tuple[float, float, float]:
    """Return the mean water share, air share and pressure [Pa] of pieces of equal size."""
    return (
        fmean(piece.water_share for piece in pieces),
        fmean(piece.air_share for piece in pieces),
        fmean(piece.pressure_pa for piece in pieces),
    )


def entry(attempt: Attempt, step: Step, names: Mapping[str, str]) -> Entry | None:
    """Return what the list of noticed things says about a step; ``None`` for steps that say nothing there."""
    if step.kind == "diagnosis":
        return None
    doing = attempt.label_of(step.part, step.action) if step.kind == "action" else ""
    where = names.get(step.part, step.part) if step.part else ""
    seen = [
        {
            "n": seen.number,
            "sense": words.SENSES.get(seen.sense, ""),
            "text": seen.text,
            "where": names.get(seen.part, seen.part),
            "shows": seen.sense != "system" and seen.key not in OWN_DEEDS,
        }
        for seen in step.observations
    ]
    head = words.entry_head(step.kind, where, doing)
    return {
        "n": step.number,
        "kind": step.kind,
        "clock": words.clock(step.clock_s),
        "where": where,
        "head": head,
        "seen": seen,
        "about": sorted({where, *(str(one["where"]) for one in seen)} - {""}),
        "text": step.text,
    }


def diagnosis(attempt: Attempt) -> dict[str, object] | None:
    """Return the kept diagnosis as data for the form, and in words."""
    kept = attempt.diagnosis
    if kept is None:
        return None
    faults = {fault: label for fault, label, _ in attempt.fault_choices()}
    text = words.diagnosis_text(
        labels(attempt).get(kept.part, kept.part), faults.get(kept.fault, kept.fault), len(kept.evidence)
    )
    return {"part": kept.part, "fault": kept.fault, "evidence": list(kept.evidence), "text": text}


def choices(attempt: Attempt) -> dict[str, object]:
    """Return every fault that can be named and every part that can be said to have one, whatever the truth is."""
    faults = attempt.fault_choices()
    sayable = {part for _, _, parts in faults for part in parts}
    return {
        "parts": [{"id": part.id, "label": part.label} for part in attempt.parts() if part.id in sayable],
        "faults": [{"id": fault, "label": label, "parts": list(parts)} for fault, label, parts in faults],
    }


def truth(attempt: Attempt, ticket: KnownTicket) -> list[str]:
    """Return what it was, in words: only for practice, and only after it is handed in; else nothing."""
    faults = attempt.scenario.faults
    if not (ticket.practice and attempt.handed_in and faults):
        return []
    names = labels(attempt)
    was = [(names[item.part], FAULTS[fault(item.fault).diagnosis]) for item in faults]
    kept = attempt.diagnosis
    said = (names[kept.part], FAULTS[kept.fault]) if kept is not None else None
    return words.truth_lines(was, said, attempt.outside()["engine"] == "running")


def noticed(attempt: Attempt) -> list[Entry]:
    """Return the list of what was done and noticed, oldest first."""
    names = labels(attempt)
    return [found for step in attempt.steps if (found := entry(attempt, step, names)) is not None]


def work(attempt: Attempt, ticket: KnownTicket, part: str, xray_on: bool) -> dict[str, object]:
    """Return all that stands beside the drawing while the exercise is worked."""
    outside = attempt.outside()
    return choices(attempt) | {
        "title": attempt.scenario.title,
        "story": attempt.scenario.story,
        "ticket": ticket.text,
        "practice": ticket.practice,
        "can_start_again": ticket.practice,
        "clock": words.clock(attempt.clock_s),
        "engine": words.engine_text(outside),
        "lamps": words.lamps_text(outside),
        "shore": words.shore_text(outside),
        "summary": words.describe(layout_of(attempt.scenario.layout).layout, seen_so_far(attempt)),
        "chosen": chosen(attempt, part, xray_on),
        "looked_at": sorted((known(attempt).looked_at | known(attempt).worked_at) - {"bench"}),
        "aboard": words.aboard_lines(attempt.aboard(), outside),
        "diagnosis": diagnosis(attempt),
        "handed_in": attempt.handed_in,
        "truth": truth(attempt, ticket),
        "xray_allowed": attempt.scenario.permits_xray,
        "xray_on": xray_on,
        "glass_bowl": _has_a_glass_bowl(layout_of(attempt.scenario.layout).layout),
    }


def _has_a_glass_bowl(layout: Layout) -> bool:
    return any(shows_its_bowl(layout, separator) for separator in layout.parts_of("separator"))


def plots(attempt: Attempt, which: str) -> dict[str, object]:
    """Return which plots can be had, and the one that is asked for as SVG; nothing of the inside without permission."""
    trends = plots_module.readings(attempt.observations)
    names = {gauge: plot_words.GAUGE_NAMES[gauge][0] for gauge in trends}
    if attempt.scenario.permits_xray:
        names = {plot_words.PRESSURE: plot_words.PLOT["pressure_title"]} | names
    svg = ""
    if which in trends:
        svg = plots_module.trend_plot(which, trends[which])
    elif which == plot_words.PRESSURE and which in names:
        layout = layout_of(attempt.scenario.layout).layout
        way = along_the_way(layout, attempt.xray().volumes, _not_in_use(layout, attempt.outside()))
        svg = plots_module.pressure_plot(layout, way, labels(attempt))
    return {"plots": [[name, label] for name, label in names.items()], "plot": svg, "plot_of": which if svg else ""}


def help_shown(attempt: Attempt, may_help: bool) -> dict[str, object]:
    """Return the help that can be asked for, what was said, and what is left undone before handing in."""
    if not may_help:
        return {"helps": [], "help_said": [], "left_undone": []}
    return {
        "helps": helping.offers(attempt),
        "help_said": helping.said(attempt),
        "left_undone": [] if attempt.handed_in else list(attempt.left_undone()),
    }


def _not_in_use(layout: Layout, outside: Mapping[str, object]) -> list[str]:
    """Return the tanks that no changeover valve leads to, with their hoses."""
    found: list[str] = []
    for valve in layout.parts_of("changeover_valve"):
        ways = outside[f"{valve}_ways"]
        shut = [way for way in ("a", "b") if way not in (ways if isinstance(ways, tuple) else ())]
        tanks = [tank_behind(layout, f"{valve}.{way}") for way in shut]
        found += [*tanks, *(hose for hose in layout.parts_of("hose") if set(before(layout, hose)) & set(tanks))]
    return found


def piece_counts(attempt: Attempt) -> dict[str, int]:
    """Return in how many pieces each hose is known inside; raises NotPermitted where x-ray is."""
    counts: dict[str, int] = {}
    for name in attempt.xray().volumes:
        family, _, number = name.rpartition(".")
        if number.isdigit():
            counts[family] = counts.get(family, 0) + 1
    return counts
