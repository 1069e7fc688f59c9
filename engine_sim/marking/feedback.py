"""The feedback on one mark: what went well, what cost marks, when, and why. :func:`page_html` gives the whole story."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from engine_sim.errors import UnknownName
from engine_sim.marking.feedback_story import each_why_once
from engine_sim.marking.feedback_words import LEADS, points_text
from engine_sim.marking.feedback_writer import page_html
from engine_sim.marking.marksheet import MarkSheet, Reason
from engine_sim.marking.scheme import TITLES
from engine_sim.units import clock_text

__all__ = ["feedback_html", "page_html", "reason_html"]


def feedback_html(sheet: MarkSheet, name: str) -> str:
    """Return the feedback on one mark as a self-contained HTML fragment. Raises UnknownName for another name."""
    if name not in sheet.marks:
        raise UnknownName("mark", name, sheet.marks)
    mark = sheet.marks[name]
    well = [reason for reason in mark.reasons if reason.good]
    costly = sorted((reason for reason in mark.reasons if not reason.good), key=lambda reason: -reason.points)
    heading = f"{TITLES.get(name, name)}: {points_text(mark.score)} of {points_text(mark.maximum)}"
    timed = name != "cure"
    lead = f"<p>{escape(LEADS.get(name, ''))}</p>" if sheet.track.moments else ""
    return (
        f'<section class="marking-feedback"><h3>{escape(heading)}</h3>{lead}'
        f"{list_html('What went well', well, timed)}{list_html('What cost marks', costly, timed)}</section>"
    )


def list_html(title: str, reasons: Sequence[Reason], timed: bool) -> str:
    """Return a titled list, or nothing when it would be empty; ``timed`` shows the learner's clock."""
    if not reasons:
        return ""
    return f"<h4>{title}</h4><ul>{''.join(reason_html(reason, timed) for reason in each_why_once(reasons))}</ul>"


def reason_html(reason: Reason, timed: bool = True) -> str:
    """Return one reason as a list item, with the clock as the learner saw it unless it is not ``timed``."""
    when = f" <small>(at {clock_text(reason.moment_s)})</small>" if timed and reason.moment_s is not None else ""
    worth = ""
    if not reason.good and reason.points >= 0.005:
        worth = f" <small>(cost {points_text(reason.points)})</small>"
    why = f"<br><em>Why: {escape(reason.why)}</em>" if reason.why else ""
    return f"<li>{escape(reason.text)}{when}{worth}{why}</li>"
