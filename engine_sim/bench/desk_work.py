"""What every desk does: it hears the page, works at the parts, and shows the drawing; notes, diagnosis, marks, help."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from engine_sim.attempt import Attempt, Diagnosis, OpenExercise, Step
from engine_sim.bench import helping, marking_words, own_marks, panel, scene, words
from engine_sim.bench.film import Frame
from engine_sim.bench.shelf import KnownTicket
from engine_sim.bench.sounds import Sound, sounds_of
from engine_sim.drawing import View
from engine_sim.marking import tells_the_next_person

PAGE = "page"
"""What a message names as its part when it asks something of the page and not of the engine."""
NOTE_LIMIT = 2000
EVIDENCE_LIMIT = 200


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A file for the learner to keep: of text, or of bytes with what kind they are."""

    name: str
    text: str = ""
    kind: str = "application/x-ndjson"
    data: bytes = b""

    def as_sent(self) -> dict[str, str]:
        """Return it as it travels to the page."""
        return {"name": self.name, "text": self.text, "kind": self.kind, "base64": b64encode(self.data).decode()}


class DeskWork:
    """The work at one desk: what it has to tell and to give after each thing that the page asked."""

    def __init__(self) -> None:
        self.notice = ""
        self.warning = False
        self.file: KeptFile | None = None
        self.note_kept = False
        self.film: list[Frame] = []
        self.sounds: list[Sound] = []
        self.wants_film = False
        self.chosen = ""
        self.xray_on = False
        self.plot = ""
        self.marks: dict[str, object] | None = None
        self.progress: own_marks.Progress = lambda text: None
        self._helper: helping.Helper | None = None
        self._ticket = KnownTicket("", False)
        self._opened: OpenExercise | None = None
        self._page_actions: dict[str, Callable[[Mapping[str, object]], None]] = {}

    @property
    def attempt(self) -> Attempt | None:
        """The attempt that is open, if one is."""
        return self._opened.attempt if self._opened is not None else None

    def handle(self, part: str, action: str, message: Mapping[str, object]) -> None:
        """Do one thing that the page asks; ``notice`` and ``file`` then hold what to tell and give.

        A part or action that does not exist is answered in words and changes nothing. Raises what the asked raises.
        """
        self.notice, self.warning, self.file, self.note_kept = "", False, None, False
        self.film, self.sounds, self.wants_film = [], [], message.get("film") is True
        if part == PAGE:
            self._page_actions.get(action, self._not_understood)(message)
        elif self.attempt is not None:
            self._at_part(self.attempt, part, action)

    def _not_understood(self, message: Mapping[str, object]) -> None:
        self._warn(words.NOT_UNDERSTOOD)

    def _warn(self, text: str) -> None:
        self.notice, self.warning = text, True

    # ---- at the engine ------------------------------------------------------------------------------------------

    def _at_part(self, attempt: Attempt, part: str, action: str) -> None:
        """Choose a part, and do something at it where that is asked."""
        if part not in panel.labels(attempt):
            self._warn(words.NOT_UNDERSTOOD)
            return
        self.chosen = part
        if action == "choose":
            return
        if self.wants_film:
            step, film = scene.filmed(attempt, part, action, self.xray_on)
            self.film = film or self.film
        else:
            step = attempt.act(part, action)
        self.sounds += sounds_of(step.observations)
        self._see(step)

    def _see(self, step: Step) -> None:
        """Take note of what was done at a part."""
        self._tell_refusal(step)

    def _tell_refusal(self, step: Step) -> None:
        if step.kind == "refused":
            self._warn(" ".join(seen.text for seen in step.observations))

    # ---- what the page shows ------------------------------------------------------------------------------------

    def drawing(self) -> str:
        """Return the drawing; it has an x-ray layer only where the scenario permits one."""
        return scene.skeleton(self.attempt) if self.attempt is not None else ""

    def scene(self) -> View:
        """Return the attributes of the drawing as things stand."""
        return scene.now(self.attempt, self.xray_on) if self.attempt is not None else {}

    def picture(self, drawing: str, shown: View) -> str:
        """Return a drawing of :meth:`drawing` with a scene and the parts' names written into it."""
        if self.attempt is None:
            return drawing
        return scene.drawing_of(self.attempt.scenario.layout).picture(drawing, shown)

    def spots(self) -> list[dict[str, object]]:
        """Return the buttons over the drawing."""
        return scene.drawing_of(self.attempt.scenario.layout).spots() if self.attempt is not None else []

    def noticed(self) -> list[dict[str, object]]:
        """Return the list of what was done and noticed, oldest first."""
        return panel.noticed(self.attempt) if self.attempt is not None else []

    def _said(self, mode: str) -> dict[str, object]:
        """Return what stands beside the drawing on every page: what is told just now, and the cautions."""
        return {
            "mode": mode,
            "notice": self.notice,
            "warning": self.warning,
            "note_kept": self.note_kept,
            "cautions": list(words.CAUTIONS),
            "title": "",
            "story": "",
        }

    # ---- notes, diagnosis, marks, help --------------------------------------------------------------------------

    def _note(self, message: Mapping[str, object]) -> None:
        text = text_of(message, "text").strip()
        if not text:
            self._warn(words.NOTE_EMPTY)
        elif len(text) > NOTE_LIMIT:
            self._warn(words.NOTE_TOO_LONG.format(limit=NOTE_LIMIT, given=len(text)))
        elif self.attempt is not None and self.attempt.handed_in:
            self._warn(words.PAGE["handed_in"])
        elif self.attempt is not None:
            self.attempt.note(text)
            short = not tells_the_next_person(self.attempt.steps)
            self.notice, self.note_kept = words.NOTE_SHORT if short else words.NOTE_KEPT, True

    def _diagnose(self, message: Mapping[str, object]) -> None:
        attempt = self.attempt
        if attempt is None:
            return
        part, fault = text_of(message, "which"), text_of(message, "fault")
        if not any(name == fault and part in parts for name, _, parts in attempt.fault_choices()):
            self._warn(words.DIAGNOSIS_UNFINISHED)
            return
        noticed = {seen.number for seen in attempt.observations}
        given = message.get("evidence")
        evidence = tuple(n for n in (given if isinstance(given, list) else [])[:EVIDENCE_LIMIT] if n in noticed)
        self.notice = words.DIAGNOSIS_KEPT
        self._tell_refusal(attempt.diagnose(Diagnosis(part, fault, evidence)))

    def _hand_in(self, message: Mapping[str, object]) -> None:
        if self.attempt is not None and not self.attempt.handed_in:
            self.attempt.hand_in()
            waiting = marking_words.WAITING if own_marks.may_be_marked(self.attempt, self._ticket) else ""
            self.notice = f"{words.HANDED_IN} {waiting}".strip()

    def _mark(self, message: Mapping[str, object]) -> None:
        if self.attempt is None or self._opened is None or not own_marks.may_be_marked(self.attempt, self._ticket):
            self._warn(marking_words.NOT_HERE)
            return
        self.marks = self.marks or own_marks.marked(self.attempt, self._opened.logbook_path.parent, self.progress)
        self.notice = marking_words.TELLS["done"]

    def _xray(self, message: Mapping[str, object]) -> None:
        if self.attempt is not None:
            self.attempt.xray()
            self.xray_on = not self.xray_on

    def _help(self, message: Mapping[str, object]) -> None:
        kind = text_of(message, "which")
        if self.attempt is None or not self._may_help or kind not in helping.kinds_allowed(self.attempt):
            self._warn(words.NO_HELP)
            return
        self.progress(helping.TELLS["thinking"])
        self._helper = self._helper or helping.Helper(self.attempt)
        text = self._helper.text(kind)
        if text in helping.said(self.attempt)[:1]:
            self.notice = f"{words.SAID_BEFORE} {text}"
            return
        self.attempt.ask_help(kind, text)
        self.notice = text

    @property
    def _may_help(self) -> bool:
        """Help is for practice: an instructor's ticket goes without."""
        return self.attempt is not None and bool(self.attempt.scenario.help_most) and self._ticket.practice

    def _plot(self, message: Mapping[str, object]) -> None:
        which = text_of(message, "which")
        self.plot = "" if which == self.plot else which

    def _save(self, message: Mapping[str, object]) -> None:
        if self._opened is not None:
            path = self._opened.logbook_path
            text = path.read_text(encoding="utf-8") if path.is_file() else ""
            self.file, self.notice = KeptFile(path.name, text), words.PAGE["saved"]


def text_of(message: Mapping[str, object], key: str) -> str:
    """Return a text that a message carries, or an empty one."""
    value = message.get(key)
    return value if isinstance(value, str) else ""
