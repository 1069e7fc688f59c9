"""What a learner did, said as people tell it afterwards: ``fitted the spare lift pump``."""

from __future__ import annotations

import re

_IRREGULAR = {
    **{same: same for same in ("let", "put", "read", "set", "shut")},
    **{"blow": "blew", "draw": "drew", "feel": "felt", "have": "had", "hold": "held", "lay": "laid", "lead": "led"},
    **{"leave": "left", "make": "made", "run": "ran", "see": "saw", "spin": "spun", "swing": "swung", "take": "took"},
    **{"tell": "told", "try": "tried", "empty": "emptied"},
}
_DOUBLED = ("dip", "drop", "fit", "nip", "stop", "tap", "tip")
_REGULAR = (
    *("anchor", "change", "check", "clean", "clear", "count", "crack", "crank", "drain", "fill", "force", "heat"),
    *("join", "knock", "lash", "lift", "listen", "look", "loosen", "measure", "mend", "open", "pour", "pull", "pump"),
    *("push", "screw", "slacken", "tie", "tighten", "turn", "watch", "wipe", "work"),
)
PAST: dict[str, str] = {
    **_IRREGULAR,
    **{verb: f"{verb}{verb[-1]}ed" for verb in _DOUBLED},
    **{verb: f"{verb}d" if verb[-1] == "e" else f"{verb}ed" for verb in _REGULAR},
}
"""The verbs with which the bench's labels begin, or go on after a comma or ``and``, as they are told afterwards."""
_FIRST_WORD = re.compile(r"\w+")
_NEXT_VERB = re.compile(r"(?<=, )\w+|(?<= and )\w+")
_NO_PLACE = "around the engine"


def past_text(label: str) -> str:
    """Return a label told afterwards, or an empty text where its verb is not known.

    >>> past_text("empty it, open it and wipe it out")
    'emptied it, opened it and wiped it out'
    """
    first = _FIRST_WORD.match(label)
    if first is None or first.group() not in PAST:
        return ""
    more = _NEXT_VERB.sub(lambda found: PAST.get(found.group(), found.group()), label)
    return PAST[first.group()] + more[first.end() :]


def did_text(part_label: str, label: str) -> str:
    """Return what was done, to go on after ``you``: with the part's name where the label does not say it."""
    told = past_text(label) or f"did this: {label}"
    return told if _says_where(part_label, label) else f"{told} ({part_label})"


def doing_text(part_label: str, label: str) -> str:
    """Return an action in a list, such as ``tank: look at it``; a part that the label names is not named twice."""
    return label if _says_where(part_label, label) else f"{part_label}: {label}"


def _says_where(part_label: str, label: str) -> bool:
    return part_label == _NO_PLACE or part_label in label
