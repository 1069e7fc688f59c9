"""The feedback a learner reads: for each mark what went well, what cost marks, when, and why."""

from __future__ import annotations

from dataclasses import replace
from html import escape

from engine_sim.errors import UnknownName
from engine_sim.marking.marksheet import MarkSheet, Reason
from engine_sim.units import clock_text

HEADINGS = {"order": "Order of work", "diagnosis": "Diagnosis", "outcome": "The engine after your work"}
LEADS = {
    "order": "",
    "diagnosis": "",
    "outcome": "<p>After you handed in, the engine was tried as you left it: started, run at idle and at cruise, "
    "stopped, left to stand, and started again.</p>",
}
CAUTION = (
    "On a real boat the engine's own manual, the local rules and a qualified marine engineer come before this exercise."
)
CAPTION = "Places stand in the order the fuel takes; time goes from left to right, and long waits are shortened."


def points_text(points: float) -> str:
    """Return points as people write them: no needless decimals."""
    return f"{points:.2f}".rstrip("0").rstrip(".")


def reason_html(reason: Reason, timed: bool = True) -> str:
    """Return one reason as a list item, with the clock as the learner saw it unless it is not ``timed``."""
    timed = timed and reason.moment_s is not None
    when = f" <small>(at {clock_text(reason.moment_s or 0.0)})</small>" if timed else ""
    worth = ""
    if not reason.good and reason.points >= 0.005:
        worth = f" <small>(cost {points_text(reason.points)})</small>"
    why = f"<br><em>Why: {escape(reason.why)}</em>" if reason.why else ""
    return f"<li>{escape(reason.text)}{when}{worth}{why}</li>"


def each_why_once(reasons: list[Reason]) -> list[Reason]:
    """Return the reasons with every why told only where it first comes."""
    told: set[str] = set()
    kept = []
    for reason in reasons:
        kept.append(replace(reason, why="") if reason.why in told else reason)
        told.add(reason.why)
    return kept


def list_html(title: str, reasons: list[Reason], timed: bool) -> str:
    """Return a titled list, or nothing when it would be empty; ``timed`` shows the learner's clock."""
    if not reasons:
        return ""
    return f"<h4>{title}</h4><ul>{''.join(reason_html(reason, timed) for reason in each_why_once(reasons))}</ul>"


def feedback_html(sheet: MarkSheet, name: str) -> str:
    """Return the feedback on one mark as a self-contained HTML fragment. Raises UnknownName for another name."""
    if name not in sheet.marks:
        raise UnknownName("mark", name, sheet.marks)
    mark = sheet.marks[name]
    well = [reason for reason in mark.reasons if reason.good]
    costly = [reason for reason in mark.reasons if not reason.good]
    if name == "order":
        costly.sort(key=lambda reason: -reason.points)
    heading = f"{HEADINGS[name]}: {points_text(mark.score)} of {points_text(mark.maximum)}"
    picture = ""
    if name == "order" and sheet.picture_svg:
        caption = f"<figcaption><small>{CAPTION}</small></figcaption>"
        picture = f'<figure style="margin:1em 0">{sheet.picture_svg}{caption}</figure>'
    timed = name != "outcome"
    caution = f"<p><small>{CAUTION}</small></p>" if name == "outcome" else ""
    return (
        f'<section class="marking-feedback"><h3>{escape(heading)}</h3>{LEADS[name]}'
        f"{list_html('What went well', well, timed)}"
        f"{list_html('What cost marks', costly, timed)}{picture}{caution}</section>"
    )
