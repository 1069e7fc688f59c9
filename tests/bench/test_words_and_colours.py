"""What a learner reads on the bench, and whether it can be read."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from engine_sim.bench import groups, helping, plot_words, presenter_words, words
from engine_sim.bench.bench import SCRIPTS
from engine_sim.wording import DRAWING_WORDS

SAID_BY_PYTHON = {
    *("chosen", "known", "left", "not_a_logbook", "start", "step", "story", "thinking", "title", "was"),
    *("takes", "needs", "may_spill", "saved", "note"),
}
CODERS_WORDS = re.compile(
    r"\b(cells?|kernels?|traceback|execut\w*|exception|python|json|widget|notebook|null|error|invalid)\b", re.IGNORECASE
)


def shipped(name: str) -> str:
    place = "engine_sim.drawing" if name == "drawing.css" else "engine_sim.bench"
    return files(place).joinpath(name).read_text(encoding="utf-8")


def whole_script() -> str:
    return "\n".join(shipped(name) for name in SCRIPTS)


def all_words() -> list[str]:
    single = [value for name, value in vars(words).items() if name.isupper() and isinstance(value, str)]
    return [
        *words.PAGE.values(),
        *DRAWING_WORDS.values(),
        *presenter_words.TELLS.values(),
        *helping.TELLS.values(),
        *plot_words.PLOT.values(),
        *words.SENSES.values(),
        *words.CAUTIONS,
        *groups.headings(),
        *single,
    ]


def test_no_coders_words():
    assert [text for text in all_words() if CODERS_WORDS.search(text)] == []


def readability_grade(texts: list[str]) -> float:
    """Return the Automated Readability Index (Smith and Senter, AMRL-TR-66-220, 1967; from memory)."""
    joined = " ".join(text if text.endswith((".", "?", "!", ":")) else f"{text}." for text in texts)
    found = re.findall(r"[A-Za-z0-9']+", joined)
    sentences = len(re.findall(r"[.?!:;]", joined))
    letters = sum(map(len, found))
    return 4.71 * letters / len(found) + 0.5 * len(found) / sentences - 21.43


def test_reading_level_is_about_age_14():
    """US school grade 8 to 9 is about age 14."""
    sentences = [text for text in all_words() if len(text.split()) >= 4]
    assert readability_grade(sentences) <= 9


def test_page_and_wording_know_the_same_names():
    script = whole_script()
    used = set(re.findall(r"\b(?:words|w)\.([a-z_]+)\b", script))
    known = {*words.PAGE, *presenter_words.TELLS, "wall"}
    unknown = used - known
    unused = known - used - SAID_BY_PYTHON
    assert (unknown, unused) == (set(), set())


def test_the_script_says_nothing_of_its_own_to_the_learner():
    """Quoted text with a space and a capital letter would be a sentence outside the one place for words."""
    script = re.sub(r"^\s*(//|/\*\*).*$", "", whole_script(), flags=re.MULTILINE)
    assert re.findall(r'"[A-Z][a-z]+ [a-z ]+[^"]*"', script) == []


def test_cautions_defer_to_manual_rules_and_engineer():
    first = words.CAUTIONS[0]
    for word in ("manual", "local rules", "qualified marine engineer"):
        assert word in first


def palette(theme: str) -> dict[str, str]:
    """Return the bench's own colours; the notebook's theme only replaces the two backgrounds."""
    css = shipped("bench.css")
    light = css[css.index(".fuel-bench{") : css.index("}")]
    dark_at = css.index('.fuel-bench[data-dark="yes"]{')
    dark = css[dark_at : css.index("}", dark_at)]
    pattern = r"--([a-z-]+):(?:var\([a-z0-9-]+,)?(#[0-9a-f]{3,6})"
    return dict(re.findall(pattern, light)) | (dict(re.findall(pattern, dark)) if theme == "dark" else {})


def drawing_palette(theme: str) -> dict[str, str]:
    pattern = r"--([a-z]+):(#[0-9a-f]{3,6})"
    light = dict(re.findall(pattern, shipped("drawing.css")))
    css = shipped("bench.css")
    at = css.index('.fuel-bench[data-dark="yes"] .fb-svg{')
    return light | (dict(re.findall(pattern, css[at : css.index("}", at)])) if theme == "dark" else {})


def luminance(colour: str) -> float:
    """Return the relative luminance (W3C, WCAG 2.2, definition "relative luminance")."""
    digits = colour[1:] if len(colour) == 7 else "".join(c * 2 for c in colour[1:])
    shares = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    red, green, blue = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio (W3C, WCAG 2.2, definition "contrast ratio")."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula_gives_the_printed_extremes():
    """WCAG 2.2: contrast ratios range from 1 to 21."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1


JUPYTER_BACKGROUNDS = {"light": ("#ffffff", "#eeeeee"), "dark": ("#111111", "#212121")}
TEXT_PAIRS = [
    ("ink", "bg"),
    ("soft", "bg"),
    ("warn-ink", "warn-bg"),
    ("alarm-ink", "alarm-bg"),
    ("kept-ink", "kept-bg"),
    ("on-strong", "strong"),
]


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_text_contrast_is_at_least_4_5(theme):
    """WCAG 2.2, success criterion 1.4.3."""
    colours = palette(theme)
    assert [pair for pair in TEXT_PAIRS if contrast(colours[pair[0]], colours[pair[1]]) < 4.5] == []
    for background in JUPYTER_BACKGROUNDS[theme]:
        assert min(contrast(colours[name], background) for name in ("ink", "soft")) >= 4.5


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_lines_of_the_drawing_stand_out(theme):
    """WCAG 2.2, success criterion 1.4.11: 3 to 1 for what must be seen to understand a picture."""
    colours = drawing_palette(theme)
    pairs = [
        ("ink", "paper"),
        ("ink", "metal"),
        ("wall", "paper"),
        ("faint", "paper"),
        ("fuel", "core"),
        ("deep", "water"),
    ]
    assert [p for p in pairs if contrast(colours[p[0]], colours[p[1]]) < 3] == []


@pytest.mark.parametrize(
    ("water", "air", "said"),
    [
        (0.0, 0.0, "full of fuel"),
        (0.0, 0.5, "half fuel, half air"),
        (0.0, 1.0, "nothing but air"),
        (1.0, 0.0, "full of water"),
        (0.0, 0.05, "mostly fuel, a little air"),
    ],
)
def test_the_inside_is_told_in_plain_shares(water, air, said):
    assert said in words.inside_text("Tank", water, air, 101_325.0)


PROTAN = ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998))
DEUTAN = ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881))
"""What eyes without the red or the green cones see of linear colours: Machado, Oliveira and Fernandes, A
Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE TVCG 15 (2009), table 1 (from memory)."""
GREY = ((0.2126, 0.7152, 0.0722),) * 3
"""No colours at all: relative luminance as in WCAG 2.2."""


def linear(colour: str) -> list[float]:
    digits = colour.lstrip("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    parts = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def as_seen(colour: str, eye) -> float:
    """Return the relative luminance of a colour as an eye sees it."""
    seen = [max(0.0, sum(k * part for k, part in zip(row, linear(colour), strict=True))) for row in eye]
    return sum(k * part for k, part in zip(GREY[0], seen, strict=True))


@pytest.mark.parametrize("eye", [PROTAN, DEUTAN, GREY], ids=["no red", "no green", "no colour"])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_open_and_shut_and_water_stand_out_without_colours(theme, eye):
    """A shut valve is filled and an open one hollow; water has waves and a line of its own: each 3 to 1 or more."""
    colours = drawing_palette(theme)

    def contrast(one: str, other: str) -> float:
        light, dark = sorted((as_seen(colours[one], eye), as_seen(colours[other], eye)), reverse=True)
        return (light + 0.05) / (dark + 0.05)

    assert contrast("ink", "paper") >= 3.0
    assert contrast("deep", "water") >= 3.0
