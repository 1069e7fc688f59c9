"""What a learner knows of their own boat, checked; and the file in which the form keeps it.

``TEXTS`` are for paper only; the rest decides the layout (:mod:`engine_sim.scenarios.own_layout`).
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import asdict, dataclass

from engine_sim.errors import EngineSimError, lies_within
from engine_sim.wording import OWN_CHOICES, OWN_FIELDS, OWN_WRONG

LONGEST_TEXT = 300
LEAST_TANK_L, MOST_TANK_L = 5.0, 1000.0
TEXTS = tuple(name for name in OWN_FIELDS if name not in OWN_CHOICES and name != "tank_l")
_COUNTED = ("tanks", "cylinders")
_TYPES: Mapping[str, type] = {"tanks": int, "cylinders": int, "preheat": bool}
_YES = {True: "yes", False: "no"}


class BadOwnBoat(EngineSimError):
    """A form about an own boat says something that cannot be; ``wrong`` has what to say, by field."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        self.wrong = dict(wrong)
        super().__init__(" ".join(self.wrong.values()))


@dataclass(frozen=True, slots=True)
class OwnBoat:
    """A learner's own boat, as far as they know it.

    ``tank_stands`` is ``below``, ``above`` or ``beside``; ``tank_l`` what each tank holds [L]; ``bowl`` is ``glass``,
    ``metal`` or ``hidden``; ``lift_pump`` is ``lever`` or ``electric``; ``injection_pump`` is ``in_line`` or
    ``rotary``; ``stop`` is ``pull`` or ``solenoid``. The texts are for the card. Raises BadOwnBoat for what cannot be.
    """

    name: str
    engine: str = ""
    tank_stands: str = "below"
    tank_l: float = 60.0
    tanks: int = 1
    bowl: str = "glass"
    lift_pump: str = "lever"
    cylinders: int = 3
    injection_pump: str = "in_line"
    preheat: bool = True
    stop: str = "pull"
    where_shut_off: str = ""
    where_bleed: str = ""
    spanner_bleed: str = ""
    spanner_drain: str = ""
    spanner_union: str = ""
    element_separator: str = ""
    element_fine: str = ""
    must_know: str = ""
    spares: str = ""
    call: str = ""

    def __post_init__(self) -> None:
        wrong = {name: said for name in OWN_FIELDS if (said := _wrong_with(name, getattr(self, name)))}
        if wrong:
            raise BadOwnBoat(wrong)


def answers_of(boat: OwnBoat) -> dict[str, str]:
    """Return what the form shows for a boat: every answer as text."""
    return {name: _as_text(value) for name, value in asdict(boat).items()}


def blank_answers() -> dict[str, str]:
    """Return what a form shows that nobody has filled in: the commonest boat, and no texts."""
    return answers_of(OwnBoat("x")) | {"name": ""}


def boat_from(answers: Mapping[str, object]) -> OwnBoat:
    """Return the boat that a form's answers describe; what is missing is as in :func:`blank_answers`.

    Raises BadOwnBoat with what is wrong, field by field.
    """
    given = {name: _typed(name, value) for name, value in answers.items() if name in OWN_FIELDS}
    return OwnBoat(**{"name": "", **given})  # type: ignore[arg-type]


def answers_text(boat: OwnBoat) -> str:
    """Return the file of a form's answers, in TOML."""
    lines = [f"# {label}\n{name} = {toml_value(getattr(boat, name))}\n" for name, label in OWN_FIELDS.items()]
    return "\n".join(lines)


def read_answers(text: str) -> dict[str, str]:
    """Return the answers in a file, as the form shows them; what it does not say is left out.

    Raises BadOwnBoat for a text that is not TOML. Whether the answers can be is for :func:`boat_from` to say.
    """
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise BadOwnBoat({"": OWN_WRONG["file"].format(why=fault)}) from fault
    return {name: _as_text(found[name]) for name in OWN_FIELDS if name in found}


def toml_value(value: object) -> str:
    """Return a value as TOML writes it: text, number, yes or no, or a list or table of such."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(map(toml_value, value))}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {toml_value(one)}' for key, one in value.items())} }}"
    return _quoted(value) if isinstance(value, str) else repr(value)


def _quoted(text: str) -> str:
    """Return a text in quotes, with a backslash before what TOML reads as a sign of its own."""
    signs = {'"': '\\"', "\\": "\\\\", "\n": "\\n"}
    return f'"{"".join(signs.get(letter, letter) for letter in text)}"'


# ---- what cannot be -------------------------------------------------------------------------------------------------


def _wrong_with(name: str, value: object) -> str:
    """Return what is wrong with an answer: what, what was given, what is allowed, what to do; else nothing."""
    label = OWN_FIELDS[name]
    if name in TEXTS:
        return _wrong_text(name, label, value)
    if name == "tank_l":
        low, high = LEAST_TANK_L, MOST_TANK_L
        given = f"{value:g}" if isinstance(value, float) else repr(value)
        said = OWN_WRONG["number"].format(label=label, given=given, low=low, high=high)
        return "" if lies_within(value, low, high) else said
    if _as_text(value) in OWN_CHOICES[name] and type(value) is _TYPES.get(name, str):
        return ""
    allowed = ", ".join(OWN_CHOICES[name].values())
    return OWN_WRONG["choice"].format(label=label, given=value, allowed=allowed)


def _wrong_text(name: str, label: str, value: object) -> str:
    if not isinstance(value, str):
        return OWN_WRONG["no_text"].format(label=label, given=value, most=LONGEST_TEXT)
    if len(value) > LONGEST_TEXT:
        over = len(value) - LONGEST_TEXT
        return OWN_WRONG["long"].format(label=label, given=len(value), most=LONGEST_TEXT, over=over)
    strange = next((letter for letter in value if not letter.isprintable() and letter != "\n"), "")
    if strange:
        return OWN_WRONG["sign"].format(label=label, given=strange)
    if name == "name" and not value.strip():
        return OWN_WRONG["empty"].format(label=label, most=LONGEST_TEXT)
    return ""


def _as_text(value: object) -> str:
    if isinstance(value, bool):
        return _YES[value]
    return f"{value:g}" if isinstance(value, float) else str(value)


def _typed(name: str, value: object) -> object:
    """Return an answer in the form in which a boat keeps it, as far as it can be read as such."""
    if not isinstance(value, str):
        return value
    if name in TEXTS:
        return "\n".join(" ".join(line.split()) for line in value.strip().splitlines())
    word = value.strip()
    if name == "preheat":
        return {said: yes for yes, said in _YES.items()}.get(word, word)
    if name in _COUNTED:
        return int(word) if word in OWN_CHOICES[name] else word
    return _number(word) if name == "tank_l" else word


def _number(word: str) -> float | str:
    try:
        return float(word.replace(",", "."))
    except ValueError:
        return word
