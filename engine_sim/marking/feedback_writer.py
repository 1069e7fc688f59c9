"""The whole story of one hand-in as an HTML fragment: praise, the three dearest moments, and three pictures."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING

from engine_sim.actions import parts_of
from engine_sim.attempt import Attempt
from engine_sim.drawing.seen import Outside, as_looked_at, in_words, loose_things
from engine_sim.marking import feedback_words as words
from engine_sim.marking.diagnosis import WHY_FAULT, WHY_PART, WHY_SIDE
from engine_sim.marking.feedback_deeds import did_text, doing_text
from engine_sim.marking.feedback_moves import better_move, rule_sentence
from engine_sim.marking.feedback_story import AFTERWARDS, HARD_FAIL, TIME, Loss, Story, Turning, known_at, story_of
from engine_sim.marking.marksheet import MarkSheet, Reason
from engine_sim.marking.pictures import draw_circuit, draw_possible, draw_strip
from engine_sim.marking.pictures.possible import bands_of
from engine_sim.marking.scheme import TITLES
from engine_sim.marking.track import Moment
from engine_sim.scenarios.scenario import layout_of
from engine_sim.units import clock_text

if TYPE_CHECKING:
    from engine_sim.marking.coach import Insight


class PageWriter:
    """Writes the page of one sheet; it knows what the parts and the actions of the boat are called."""

    def __init__(self, sheet: MarkSheet) -> None:
        self.sheet = sheet
        kept = layout_of(sheet.scenario.layout)
        self.layout, self.drawing = kept.layout, kept.drawing
        self.parts = parts_of(self.layout)
        self.labels = {part.id: part.label for part in self.parts}
        self._boat = Attempt(sheet.scenario) if sheet.track.moments else None

    def _named(self, moment: Moment) -> tuple[str, str]:
        label = self._boat.label_of(moment.part, moment.action) if self._boat is not None else moment.action
        return self.labels.get(moment.part, moment.part), label

    def doing(self, moment: Moment) -> str:
        """Return what was done at a moment, such as ``fine filter: open the bleed screw`` or ``dip the tank``."""
        return doing_text(*self._named(moment))

    def page(self) -> str:
        """Return the fragment."""
        if not self.sheet.track.moments:
            return self._nothing()
        story = story_of(self.sheet)
        body = (
            f"<h3>{words.GLANCE}</h3>",
            self._failed(),
            f"<h4>{words.WELL}</h4>",
            self._well(story.well),
            f"<h4>{words.COST}</h4>",
            self._losses(story.losses),
            self._turning(story.turning),
            self._runs(story),
            self._possible(story),
            f"<p><small>{escape(words.CAUTION)}</small></p>",
        )
        return f'<section class="marking-feedback marking-page">{"".join(body)}</section>'

    def _nothing(self) -> str:
        """Return the page of a hand-in without any work on the engine: that there was none, and what the marks say."""
        marks = {name: mark for name, mark in self.sheet.marks.items() if name != AFTERWARDS}
        reasons = [reason for mark in marks.values() for reason in mark.reasons]
        well = [reason for reason in reasons if reason.good]
        why = "".join(f"<li>{escape(text)}</li>" for text in dict.fromkeys(r.text for r in reasons if not r.good))
        praise = f"<h4>{words.WELL}</h4>{self._well(well)}" if well else ""
        told = f"<h3>{words.GLANCE}</h3><p>{words.NOTHING_TO_MARK}</p><ul>{why}</ul>{praise}"
        caution = f"<p><small>{escape(words.CAUTION)}</small></p>"
        return f'<section class="marking-feedback marking-page">{told}{caution}</section>'

    def _failed(self) -> str:
        lines = [f"{escape(reason.text)}{when(reason)}" for reason in self.sheet.hard_fails]
        ends = words.ENDS_HERE.format(clock=clock_text(self.sheet.track.moments[-1].end_s))
        return ("" if self.sheet.handed_in else f"<p><strong>{ends}</strong></p>") + "".join(
            f"<p><strong>{words.FAILED}: {line}</strong></p>" for line in lines
        )

    def _well(self, reasons: Sequence[Reason]) -> str:
        items = "".join(f"<li>{escape(reason.text)}{when(reason)}</li>" for reason in reasons)
        return f"<ul>{items}</ul>" if items else f"<p>{words.NOTHING_WELL}</p>"

    # ---- what cost most -----------------------------------------------------------------------------------------

    def _losses(self, losses: Sequence[Loss]) -> str:
        if not losses:
            return f"<p>{words.NOTHING_COST}</p>"
        steps = [loss.moment.number if loss.moment else -index for index, loss in enumerate(losses)]
        firsts = [steps.index(step) + 1 for step in steps]
        items = [
            self._loss(loss, 0 if first == i else first)
            for i, (loss, first) in enumerate(zip(losses, firsts, strict=True), start=1)
        ]
        return f"<ol>{''.join(items)}</ol>"

    def _loss(self, loss: Loss, as_in: int) -> str:
        """Return one loss; ``as_in`` is the number of an earlier one at the same moment, 0 where there is none."""
        lines = [f"<strong>{escape(loss.reason.text)}</strong>{when_of(loss)}{worth(loss)}"]
        lines += [words.AS_BEFORE.format(number=as_in)] if as_in else self._moment(loss)
        shown = loss.knew is not None and self._had_shown(loss.knew)
        lines.append(f"<strong>{words.BETTER}:</strong> {escape(better_text(loss, bool(as_in), shown))}")
        if loss.reason.why:
            lines.append(f"<em>Why: {escape(words.sentence(loss.reason.why))}</em>")
        return f"<li>{'<br>'.join(lines)}</li>"

    def _moment(self, loss: Loss) -> list[str]:
        """Return what was done at the moment, and what could be known then."""
        known = self._known(loss)
        return [
            *([f"What you did: {escape(self.doing(loss.moment))}."] if loss.moment is not None else []),
            *([escape(known)] if known else []),
        ]

    def _known(self, loss: Loss) -> str:
        if loss.knew is not None:
            at_end = loss.mark == AFTERWARDS or (loss.moment is None and not loss.reason.step)
            known = words.known_text(loss.knew, self._had_shown(loss.knew))
            return f"{words.AT_THE_END if at_end else words.THEN}: {known}"
        seen = self._seen(loss.moment or self.sheet.track.moments[-1], loss.moment is not None)
        loose = loose_things(self.layout, seen)
        told = words.sentence(words.listed(loose)) if loose else "Nothing stood open, apart or wet."
        return f"How things stood {'then' if loss.moment is not None else words.AT_THE_CLOSE}: {told}"

    def _seen(self, moment: Moment, before: bool) -> Outside:
        """Return what could be seen just before or after a moment, of the parts that had been looked at by then."""
        looked_at = self.sheet.track.looked_at(moment, not before)
        worked_at = self.sheet.track.worked_at(moment, not before)
        return as_looked_at(self.layout, moment.before if before else moment.after, looked_at, worked_at)

    def _had_shown(self, knew: Insight) -> bool:
        """Say whether a check had shown what was left, at its own place, by then."""
        places = {one.part for one in knew.suspects}
        return any(
            moment.tells
            and moment.number <= knew.step
            and places & {moment.part, *(o.part for o in moment.observations)}
            for moment in self.sheet.track.moments
        )

    # ---- pictures -----------------------------------------------------------------------------------------------

    def _turning(self, turning: Turning | None) -> str:
        if turning is None:
            return ""
        moment = turning.moment
        clock_s = moment.start_s if turning.before else moment.end_s
        side = "just before" if turning.before else "just after"
        text = f"The circuit at {clock_text(clock_s)}, {side} you {did_text(*self._named(moment))}"
        seen = self._seen(moment, turning.before)
        drawn = draw_circuit(self.drawing, seen, text, moment.part)
        why = f"<p>{escape(self._why_here(turning))}</p>"
        caption = f"{text}. {in_words(self.layout, seen)} {words.ONLY_SEEN}"
        return f"<h4>{words.TURNING}</h4>{why}{figure(drawn, caption)}"

    def _why_here(self, turning: Turning) -> str:
        """Return in one sentence why the picture shows this moment."""
        loss = turning.loss
        if loss is not None:
            beginning = {HARD_FAIL: words.TURNED_FAIL, TIME: words.TURNED_TIME}.get(loss.mark, words.TURNED_COST)
            return f"{beginning}{in_mark(loss)}: {words.sentence(loss.reason.text)}"
        if not turning.found:
            return words.TURNED_TOLD
        left = known_at(self.sheet.analysis, turning.moment.number)
        names = [f"{one.part_label}: {one.fault_label}" for one in left.suspects[:1]] if left is not None else []
        return words.sentence(": ".join([words.TURNED_FOUND, *names]))

    def _runs(self, story: Story) -> str:
        if not self.sheet.track.moments:
            return ""
        model = self.sheet.analysis.model if self.sheet.analysis is not None else ()
        drawn = draw_strip(self.sheet.track, model, self.parts, story.steps)
        own = [f"{clock_text(moment.end_s)} {self.doing(moment)}" for moment in self.sheet.track.moments]
        good = [words.advice_text(advice) for advice in model]
        lists = f"<p>What you did:</p>{ordered(own)}"
        lists += f"<p>A good run of checks:</p>{ordered(good)}" if good else ""
        told = words.RUNS_HELP if good else ""
        after = f"<p>{words.AFTER_CHECKS}</p>" if good else ""
        return f"<h4>{words.RUNS}</h4>{figure(drawn, told)}{after}{folded(lists)}"

    def _possible(self, story: Story) -> str:
        insights = self.sheet.analysis.insights if self.sheet.analysis is not None else ()
        if not insights:
            return ""
        drawn = draw_possible(insights, story.steps)
        return f"<h4>{words.POSSIBLE}</h4>{figure(drawn, words.POSSIBLE_HELP)}{folded(self._shares())}"

    def _shares(self) -> str:
        """Return the plot as a table: a row for each action after which something changed."""
        insights = self.sheet.analysis.insights if self.sheet.analysis is not None else ()
        bands = bands_of(insights)
        names = {moment.number: self.doing(moment) for moment in self.sheet.track.moments}
        head = "".join(f'<th scope="col">{escape(band.label)}</th>' for band in bands)
        rows: list[str] = []
        before: tuple[str, ...] = ()
        for index, insight in enumerate(insights):
            shares = tuple(f"{band.shares[index] * 100:.0f} %" for band in bands)
            if shares != before:
                cells = "".join(f"<td>{share}</td>" for share in shares)
                name = escape(names.get(insight.step, "at the start"))
                rows.append(f'<tr><th scope="row">{clock_text(insight.moment_s)} {name}</th>{cells}</tr>')
            before = shares
        return f'<table><tr><th scope="col">after</th>{head}</tr>{"".join(rows)}</table>'


def page_html(sheet: MarkSheet) -> str:
    """Return the overall part of the feedback as a self-contained HTML fragment."""
    return PageWriter(sheet).page()


def when(reason: Reason) -> str:
    """Return the clock of a reason, or nothing."""
    return f" <small>(at {clock_text(reason.moment_s)})</small>" if reason.moment_s is not None else ""


def when_of(loss: Loss) -> str:
    """Return when it was that something cost: by the clock, else in words."""
    if loss.reason.moment_s is not None:
        return when(loss.reason)
    all_along = loss.mark in ("method", "safety", HARD_FAIL)
    return f" <small>({words.ALL_ALONG if all_along else words.AT_THE_CLOSE})</small>"


def better_text(loss: Loss, again: bool = False, shown: bool = True) -> str:
    """Return the better move: the rule or what to do, and the best check then.

    ``again`` says that that check was just told, ``shown`` that a check had shown something by then.
    """
    advice = words.advice_text(loss.better) if loss.better is not None and not again else ""
    if advice and loss.mark in ("method", TIME) and not rule_sentence(loss.reason):
        return advice
    move = (_name_it(loss) if shown else "") or better_move(loss.mark, loss.reason)
    return f"{move} {words.BEST_THEN}: {advice}" if advice else move


def _name_it(loss: Loss) -> str:
    """Return that the one thing left should have been named, where a diagnosis named another."""
    left = loss.knew.suspects if loss.knew is not None else ()
    if loss.mark != "diagnosis" or len(left) != 1 or loss.reason.why not in (WHY_SIDE, WHY_PART, WHY_FAULT):
        return ""
    return words.NAME_IT.format(part=left[0].part_label, fault=left[0].fault_label)


def in_mark(loss: Loss) -> str:
    """Return in which mark it was, where it was in one."""
    return f" in {TITLES[loss.mark]}" if loss.mark in TITLES else ""


def worth(loss: Loss) -> str:
    """Return what a loss cost, in which mark; of a mark that was lost already for another reason only its name."""
    if loss.mark == HARD_FAIL:
        return " <small>(decides the exercise)</small>"
    if loss.mark == TIME:
        return " <small>(cost time)</small>"
    name, cost = TITLES.get(loss.mark, loss.mark), f", cost {words.points_text(loss.reason.points)}"
    return f" <small>({escape(name)}{cost if loss.reason.points >= words.LEAST_TOLD else ''})</small>"


def figure(drawn: str, caption: str) -> str:
    """Return a picture with its caption."""
    told = f"<figcaption><small>{escape(caption)}</small></figcaption>" if caption else ""
    return f'<figure style="margin:1em 0">{drawn}{told}</figure>'


def folded(content: str) -> str:
    """Return the words to a picture, folded away until they are asked for."""
    return f"<details><summary>{words.IN_WORDS}</summary>{content}</details>"


def ordered(items: Sequence[str]) -> str:
    """Return a numbered list."""
    return f"<ol>{''.join(f'<li>{escape(item)}</li>' for item in items)}</ol>"
