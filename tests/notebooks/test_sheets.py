"""The reference sheets: readable on paper, the same on the page, and at one with the simulator and the marks."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import pytest

import engine_sim
from engine_sim.actions.parts import parts_of
from engine_sim.circuit import layout_names, load_layout
from engine_sim.classroom.own_folder import FolderUnusable, fill_own_folder
from engine_sim.classroom.page_tree import Node, read_page
from engine_sim.classroom.sheets import SHEETS, Sheet, html_of, write_sheets
from engine_sim.classroom.sheets.figures import figures
from engine_sim.classroom.sheets.sources import RESTS_ON, USED_FOR, sources
from engine_sim.classroom.sheets.symbol_signs import GROUPS as SYMBOLS
from engine_sim.classroom.sheets.symbols import symbols
from engine_sim.classroom.shipped import shipped
from engine_sim.cli import main
from engine_sim.components.register import component_kinds
from engine_sim.drawing.engine_side import ENGINE_SIDE_PARTS
from engine_sim.drawing.fuel_side import FUEL_SIDE
from engine_sim.drawing.seen import DRAWN
from engine_sim.sources import Kind
from engine_sim.wording import MANUAL_FIRST, PARTS, glossary

A4_MM = (210.0, 297.0)
"""ISO 216."""
POINT_MM = 25.4 / 72.0
REFERENCE = shipped("course") / "reference"
NO_WORDS_OF_A_SAILOR = re.compile(
    r"kernel|python|json|traceback|widget|execut|function|\bcells?\b|notebook|[{}]|_[a-z]", re.IGNORECASE
)
BY_NAME = {sheet.name: sheet for sheet in SHEETS}
NAMES = tuple(BY_NAME)


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A learner's folder in which the sheets have been written; it takes seconds, so all tests share it."""
    folder = tmp_path_factory.mktemp("own")
    write_sheets(folder)
    return folder


@pytest.fixture(scope="module")
def printed(own: Path) -> dict[str, bytes]:
    return {name: (own / "reference" / f"{name}.pdf").read_bytes() for name in NAMES}


def page(name: str) -> str:
    return html_of((REFERENCE / f"{name}.ipynb").read_bytes())


def texts(node: Node, *tags: str) -> list[str]:
    """Return the texts of the innermost elements of some kinds."""
    found = []
    for child in node.children:
        if isinstance(child, Node) and child.tag in tags and not texts(child, *tags):
            found.append(" ".join(child.text().split()))
        elif isinstance(child, Node) and child.tag != "svg":
            found += texts(child, *tags)
    return [text for text in found if text]


def without_pictures(html: str) -> str:
    return re.sub(r"<svg\b.*?</svg>", "", html, flags=re.DOTALL)


# ---- paper ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_of_a_pdf_is_a4_and_none_is_empty(name: str, printed: dict[str, bytes]) -> None:
    reader = pypdf.PdfReader(BytesIO(printed[name]))
    for one in reader.pages:
        size = sorted(round(float(side) * POINT_MM) for side in (one.mediabox.width, one.mediabox.height))
        assert size == list(A4_MM)
    ink = [
        sum(one.render(scale=0.3, grayscale=True).to_pil().histogram()[:200])
        for one in pypdfium2.PdfDocument(printed[name])
    ]
    assert min(ink) > 500, "each sheet has more on it than its number"


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_a_sheet_stands_in_its_pdf(name: str, printed: dict[str, bytes]) -> None:
    reader = pypdf.PdfReader(BytesIO(printed[name]))
    letters = re.sub(r"\s", "", "".join(one.extract_text() for one in reader.pages))
    said = texts(read_page(without_pictures(page(name))), "h1", "h2", "h3", "p", "li", "td", "th")
    assert len(said) > 30 or name == "symbols"
    assert [text for text in said if re.sub(r"\s", "", text) not in letters] == []
    assert reader.metadata is not None and reader.metadata.title == said[0]


def test_no_line_of_a_pdf_runs_over_its_margin(printed: dict[str, bytes]) -> None:
    """Five millimetres of each edge stay white: nothing is cut by a printer."""
    for name, data in printed.items():
        for number, one in enumerate(pypdfium2.PdfDocument(data), start=1):
            picture = one.render(scale=1.0, grayscale=True).to_pil()
            edge = int(5.0 / POINT_MM)
            inner = picture.crop((edge, edge, picture.width - edge, picture.height - edge))
            outside = sum(picture.histogram()[:128]) - sum(inner.histogram()[:128])
            assert outside == 0, f"{name}, sheet {number}"


def test_a_pdf_is_written_where_it_is_missing_or_older_and_left_alone_else(own: Path) -> None:
    older, missing, left = (own / "reference" / f"{name}.pdf" for name in ("sources", "glossary", "fault_finder"))
    sizes, kept = (older.stat().st_size, missing.stat().st_size), left.stat().st_mtime_ns
    older.write_bytes(b"%PDF-1.7 an older program wrote this")
    missing.unlink()
    assert {older, missing, left} <= set(write_sheets(own))
    assert (older.stat().st_size, missing.stat().st_size) == sizes
    assert left.stat().st_mtime_ns == kept


def test_a_folder_that_cannot_be_written_is_refused_by_name(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x", "utf-8")
    with pytest.raises(FolderUnusable, match="taken: a file stands where the folder should be"):
        write_sheets(tmp_path / "taken")


def test_the_command_says_where_the_sheets_are(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", str(own)]) == 0
    assert capsys.readouterr().out.split() == [str(own / "reference" / f"{name}.pdf") for name in NAMES]


# ---- pages ----------------------------------------------------------------------------------------------------------


def test_a_learner_gets_the_pages_of_the_reference(tmp_path: Path) -> None:
    update = fill_own_folder(shipped("course"), tmp_path)
    assert {f"reference/{name}.ipynb" for name in NAMES} <= set(update.new)


def test_the_start_page_lists_every_sheet() -> None:
    start = (shipped("course") / "notebooks" / "start_here.ipynb").read_text("utf-8")
    assert [name for name in NAMES if f"../reference/{name}.ipynb" not in start] == []


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_a_page_says_what_its_sheet_says_pictures_and_all(sheet: Sheet) -> None:
    assert re.sub(r"\s+", " ", page(sheet.name)).strip() == re.sub(r"\s+", " ", sheet.make()).strip()


@pytest.mark.parametrize("name", NAMES)
def test_a_page_holds_texts_only_and_no_blank_line_breaks_them(name: str) -> None:
    cells = json.loads((REFERENCE / f"{name}.ipynb").read_bytes())["cells"]
    assert {cell["cell_type"] for cell in cells} == {"markdown"}
    assert all(line.strip() for cell in cells for line in "".join(cell["source"]).splitlines())


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_speaks_a_sailors_language(name: str) -> None:
    said = texts(read_page(without_pictures(page(name))), "h1", "h2", "h3", "p", "li", "td", "th")
    assert [text for text in said if NO_WORDS_OF_A_SAILOR.search(text)] == []


@pytest.mark.parametrize("name", ["fault_finder", "procedure_cards", "sources"])
def test_what_says_how_to_work_defers_to_manual_rules_and_engineer(name: str) -> None:
    assert MANUAL_FIRST in read_page(page(name)).text()


def test_every_picture_of_a_page_has_its_words() -> None:
    source = (REFERENCE / "symbols.ipynb").read_text("utf-8")
    told = re.findall(r"<img alt=\\\"([^\"]*)\\\"", source)
    assert len(told) == page("symbols").count("<svg") >= 7
    assert all(len(words) > 100 for words in told)


# ---- symbols --------------------------------------------------------------------------------------------------------


def test_every_kind_of_part_that_is_drawn_has_its_sign_on_the_sheet() -> None:
    shown = [symbol for _, group in SYMBOLS for symbol in group]
    assert {symbol.kind for symbol in shown} == {*FUEL_SIDE, *ENGINE_SIDE_PARTS}
    unknown = {symbol.kind for symbol in shown if symbol.unknown}
    assert unknown >= DRAWN | {"stop_lever", "battery", "exhaust"}


@pytest.mark.parametrize(
    "words",
    [
        "shut-off: open",
        "shut-off: shut",
        "shut-off: not looked at yet",
        "joint: wet with fuel",
        "separator: taken apart",
    ],
)
def test_a_sign_is_named_in_the_words_that_stand_under_the_drawing(words: str) -> None:
    assert words in symbols()


# ---- glossary -------------------------------------------------------------------------------------------------------


def test_every_kind_of_part_has_its_entry_and_bears_its_name() -> None:
    named = {kind: entry.name for entry in glossary() for kind in entry.kinds}
    assert set(named) == {*component_kinds(), *PARTS} - {"bench"}
    labels = {part.kind: part.label for name in layout_names() for part in parts_of(load_layout(name))}
    generic = {kind: PARTS[kind][0].removesuffix(" {number}") for kind in labels if kind in named} | {"joint": "joint"}
    assert {kind: label for kind, label in generic.items() if named[kind] != label} == {}


def test_an_entry_is_one_sentence_and_its_other_names_are_left_alone_elsewhere() -> None:
    for entry in glossary():
        assert re.fullmatch(r"[A-Z][^.]*\.", entry.means), entry.name
        assert set(entry.also_called) <= set(entry.not_to_be_called), entry.name
    assert len({entry.name for entry in glossary()}) == len(glossary())


def test_other_names_stand_in_the_glossarys_last_column_only() -> None:
    rows = re.findall(r"<tr><td>(.*?)</td><td>(.*?)</td><td>(.*?)</td></tr>", page("glossary"))
    forbidden = [word for entry in glossary() for word in entry.not_to_be_called]
    pattern = re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, forbidden))})s?(?![\w-])", re.IGNORECASE)
    assert len(rows) == len(glossary())
    assert [row for row in rows if pattern.search(f"{row[0]} {row[1]}")] == []
    assert sum(bool(row[2]) for row in rows) > 15


# ---- sources --------------------------------------------------------------------------------------------------------


def test_every_published_figure_has_its_line_and_no_line_is_left_over() -> None:
    cited = {figure.source.citation for figure in figures() if figure.source.kind is Kind.PUBLISHED}
    text = read_page(sources()).text()
    assert [one for one in cited if one not in text] == []
    serving = {one: [name for name in USED_FOR if one.startswith(name)] for one in cited}
    assert {one: names for one, names in serving.items() if len(names) != 1} == {}
    assert {names[0] for names in serving.values()} == set(USED_FOR)


def test_figures_are_found_where_they_stand() -> None:
    """A few that are known to be there, with the units and citations that their modules give."""
    found = {(figure.value, figure.unit, figure.source.citation.split(",")[0].split(":")[0]) for figure in figures()}
    assert (840.0, "kg/m3", "") in found
    assert (9.80665, "m/s2", "BIPM") in found
    assert (0.3164, "1", "Blasius (1913)") in found
    assert (13.5e6, "Pa", "US Army subcourse OD1616") in found


def test_what_else_rests_on_a_publication_is_named_in_the_simulators_own_text() -> None:
    folder = Path(engine_sim.__file__).parent
    text = "".join(path.read_text("utf-8") for path in folder.rglob("*.py") if path.name != "sources.py")
    assert [named for _, named, _ in RESTS_ON if named not in text] == []
