"""The sources: every publication that a figure of the simulator names, and what rests on no publication, by count."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from html import escape

from engine_sim.classroom.sheets.figures import figures
from engine_sim.classroom.sheets.markup import heading, paragraph, table
from engine_sim.sources import Kind
from engine_sim.wording import MANUAL_FIRST

TITLE = "Sources"
_ABOUT = (
    "Every number in the simulator says where it comes from: a publication, common practice of the trade, or memory. "
    "Where a publication was cited from memory, or its constants were, it says so."
)
USED_FOR: Mapping[str, str] = {
    "ASTM D1250": "how fuel and petrol swell when they warm",
    "ASTM D2779": "the air that fuel holds, and gives off under suction",
    "ASTM D341": "how fuel thickens in the cold",
    "B. F. Ruth": "how an element chokes as dirt gathers on it",
    "BIPM": "weight, and degrees of temperature",
    "Blasius": "friction in a hose where the fuel runs fast",
    "EN 16329": "fuel that fails in the cold before its test says so",
    "EN 228": "how heavy petrol is",
    "EN 590": "what diesel may hold of water and dirt, and how it bears the cold",
    "EPA NR-009d": "how much an engine burns",
    "Hagen-Poiseuille": "friction in a hose where the fuel runs slowly",
    "IAPWS": "how thick water is",
    "ISO 10088": "the width of a filler",
    "ISO 22241": "urea solution, where somebody filled it in by mistake",
    "ISO 2533": "the air around, and that in hoses and filters",
    "Sharqawy": "how thick sea water is",
    "Stokes": "how fast drops of water and grains of dirt sink",
    "Tanaka": "how heavy water is",
    "UK Boat Safety": "the width of a breather",
    "UNESCO": "how heavy sea water is",
    "US Army TM 10-3930-671-24": "the volts lost along a starter's cable",
    "US Army TM 5-3895-346-14": "the suction of clean and of choked elements",
    "US Army TM 5-6115-593-34": "how far the return line ends from the pick-up tube",
    "US Army TM 9-8000": "the pressure of a diaphragm lift pump",
    "US Army subcourse OD1616": "the pressure at which an injector opens",
    "diesel handbook": "how warm the air must be for an engine to fire without glow plugs",
}
"""Publication, by the beginning of its citation, to what its figures serve."""

RESTS_ON: tuple[tuple[str, str, str], ...] = (
    (
        "US Navy NAVEDTRA 14076",
        "NAVEDTRA 14076",
        "a shut valve or an empty tank is likelier than a broken part; one bleeds on until a solid run comes",
    ),
    ("US Navy NAVEDTRA 14329", "14329", "one bleeds on until a solid run comes"),
    ("US Navy NAVEDTRA 14264", "NAVEDTRA 14264", "what the colour of the smoke says"),
    (
        "US Army TM 10-3930-671-24",
        "TM 10-3930-671-24",
        "how long a starter may turn and must rest; the battery's negative side comes off first",
    ),
    ("MARPOL Annex I; 33 CFR 151.10", "MARPOL Annex I", "no oil overboard; 15 ppm is the limit"),
    ("outlines of hand surgery", "hand-surgery outlines", "fuel under the skin is an emergency"),
    ("manuals of seamanship", "seamanship manuals", "the boat is anchored before the engine is mended"),
    (
        "Kadane and Simon 1977; arXiv 1304.2362",
        "Kadane and Simon 1977",
        "which check comes next: the likely and cheap first",
    ),
    (
        "ISO 1219-1, ISO 14617, IEC 60617",
        "ISO 1219-1 and ISO 14617",
        "the signs of the drawing",
    ),
)
"""Publication, the words by which the simulator's own text names it, and what rests on it beside figures."""
_COLUMNS = (("Publication", 46), ("What it is used for", 42), ("Figures", 12))
_RESTS = (("Publication", 34), ("What rests on it", 66))


def sources() -> str:
    """Return the sheet as HTML."""
    by_kind = Counter(figure.source.kind for figure in figures())
    cited = Counter(figure.source.citation for figure in figures() if figure.source.kind is Kind.PUBLISHED)
    rows = [(escape(one), escape(used_for(one)), str(count)) for one, count in sorted(cited.items(), key=_by_name)]
    rests = [(escape(publication), escape(what)) for publication, _, what in RESTS_ON]
    said = (
        f"Of {sum(by_kind.values())} figures {by_kind[Kind.PUBLISHED]} are published, "
        f"{by_kind[Kind.COMMON_PRACTICE]} are common practice without a source, and {by_kind[Kind.FROM_MEMORY]} are "
        "from memory. The times that hands take, the points of the marks and how likely each fault is are judgement."
    )
    return "".join(
        (
            heading(1, TITLE),
            paragraph(_ABOUT),
            paragraph(said),
            heading(2, "Published figures"),
            table(_COLUMNS, rows),
            heading(2, "What else rests on a publication"),
            table(_RESTS, rests),
            paragraph(MANUAL_FIRST),
        )
    )


def _by_name(item: tuple[str, int]) -> str:
    return item[0].lower()


def used_for(citation: str) -> str:
    """Return what a publication's figures serve."""
    return next(said for beginning, said in USED_FOR.items() if citation.startswith(beginning))
