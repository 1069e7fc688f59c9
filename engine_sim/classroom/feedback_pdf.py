"""The feedback page as a PDF to print or keep: the same words and pictures, each picture with its words for the ear.

Made from the finished page, so that the two cannot differ. fpdf2 lays it out: it is pure Python, draws the pictures'
SVG as vectors and gives each its alternative text in the document's structure, which the other libraries looked at do
not. The type is an open one that is embedded, so that every Latin, Greek or Cyrillic name reads as it is written.
"""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from io import BytesIO

from font_source_sans_pro import font_files_ttf
from fpdf import FPDF
from fpdf.enums import TableBordersLayout

from engine_sim.classroom.page_tree import Node, read_page
from engine_sim.classroom.pdf_tables import SHEET, sheet_table

TYPE = "course"
CARD = "card"
"""The class of a heading that begins a page of its own."""
_SVG = "{http://www.w3.org/2000/svg}"
_PICTURE = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_MARGIN_MM, _SIZE_PT, _LINE_SHARE = 15.0, 10.5, 0.5
_HEADINGS = {"h1": (18.0, 5.0), "h2": (14.0, 6.0), "h3": (14.0, 6.0), "h4": (11.5, 4.0)}
"""Size of the type of each heading [pt], and the room above it [mm]."""
_SMALLER = {"h3": (12.0, 3.5)}
"""The headings within a card."""
_INDENT_MM, _KEEP_MM, _KEEP_TABLE_MM, _GREY = 6.0, 32.0, 70.0, 90
_LOOK_AHEAD = 4
"""So many blocks behind a heading are looked at for what must stand with it."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of the page: its SVG, ready to be placed, its words, and its height as a share of its width."""

    svg: bytes
    title: str
    words: str
    ratio: float


def feedback_pdf(page: str, landscape: bool = False, marked: str = "", size_pt: float = _SIZE_PT) -> bytes:
    """Return a page, given as HTML, as a PDF in a size of type [pt].

    With ``marked``, a word on how it was made that stands in the file, each sheet has its title and number at its foot.
    """
    pictures: list[Picture] = []

    def taken_out(found: re.Match[str]) -> str:
        pictures.append(read_picture(found.group(0)))
        return f'<img alt="{len(pictures) - 1}">'

    tree = read_page(_PICTURE.sub(taken_out, page))
    return Sheets(pictures, landscape, marked, size_pt).print(tree)


def read_picture(source: str) -> Picture:
    """Return a picture in the form that can be placed, its title and description taken out as words."""
    root = ET.fromstring(source)
    words = {}
    for name in ("title", "desc"):
        node = root.find(f"{_SVG}{name}")
        words[name] = (node.text or "") if node is not None else ""
        if node is not None:
            root.remove(node)
    _, _, width, height = (float(figure) for figure in root.get("viewBox", "0 0 1 1").split())
    for name in ("style", "role", "aria-label", "width"):
        root.attrib.pop(name, None)
    for node in root.iter():
        node.attrib.pop("data-sort", None)
    root.attrib |= {"width": f"{width:g}", "height": f"{height:g}", "font-family": TYPE}
    ET.register_namespace("", _SVG.strip("{}"))
    return Picture(ET.tostring(root), words["title"], words["desc"], height / width)


class Paper(FPDF):
    """Paper of A4; with ``footed`` each sheet has its title and number at its foot."""

    def __init__(self, landscape: bool, footed: bool) -> None:
        super().__init__(orientation="landscape" if landscape else "portrait", format="A4")
        self.footed = footed

    def footer(self) -> None:
        """Write title and number of a sheet; fpdf2 calls this at the end of each."""
        if self.footed:
            self.set_y(-_MARGIN_MM + 4.0)
            self.set_font(TYPE, "", _SIZE_PT - 1.5)
            self.set_text_color(_GREY)
            self.cell(0.0, 4.0, f"{self.title or ''}, page {self.page_no()} of {{nb}}", align="R")
            self.set_text_color(0)


def empty_sheet(margin_mm: float, pdf: FPDF | None = None) -> FPDF:
    """Return a PDF in English with one empty sheet of A4 and the course's type; ``pdf`` is the paper, if not plain."""
    pdf = pdf if pdf is not None else FPDF(format="A4")
    pdf.set_margin(margin_mm)
    pdf.set_lang("en")
    for style, name in (("", ""), ("B", "Bold")):
        pdf.add_font(TYPE, style, _font_file(name))
    pdf.add_page()
    return pdf


class Sheets:
    """Lays the parts of a page on sheets of A4."""

    def __init__(
        self, pictures: list[Picture], landscape: bool = False, marked: str = "", usual_pt: float = _SIZE_PT
    ) -> None:
        self.pictures = pictures
        self.usual_pt = usual_pt
        self.headings = _HEADINGS | (_SMALLER if marked else {})
        paper = Paper(landscape, bool(marked))
        if marked:
            paper.set_keywords(marked)
        self.pdf = empty_sheet(_MARGIN_MM, paper)
        self.pdf.set_auto_page_break(True, _MARGIN_MM)
        self.style = ""
        self.size_pt = self.usual_pt
        self._set_type()

    def print(self, tree: Node) -> bytes:
        """Return the whole page as a PDF."""
        self._blocks(tree)
        return bytes(self.pdf.output())

    # ---- blocks -------------------------------------------------------------------------------------------------

    def _blocks(self, node: Node) -> None:
        for index, child in enumerate(node.children):
            if isinstance(child, str):
                if child.strip():
                    self._paragraph(Node("p", {}, [child]))
            elif child.tag in _HEADINGS:
                following = [one for one in node.children[index + 1 :] if isinstance(one, Node) or one.strip()]
                self._heading(child, self._room_for(following[:_LOOK_AHEAD]))
            elif child.tag in ("p", "figcaption", "summary", "blockquote"):
                self._paragraph(child)
            elif child.tag in ("ul", "ol"):
                self._list(child)
            elif child.tag == "table":
                self._table(child)
            elif child.tag == "img":
                self._picture(self.pictures[int(child.attributes["alt"])])
            else:
                self._blocks(child)

    def _room_for(self, following: list[str | Node]) -> float:
        """Return how much room what follows a heading needs on the same sheet [mm]."""
        first = following[0] if following else ""
        if isinstance(first, Node) and first.tag == "figure" and isinstance(first.children[0], Node):
            return self._height_mm(self.pictures[int(first.children[0].attributes["alt"])]) + _KEEP_MM * 0.8
        nodes = itertools.takewhile(
            lambda one: one.tag not in _HEADINGS, (one for one in following if isinstance(one, Node))
        )
        return _KEEP_TABLE_MM if any(one.attributes.get("class") == SHEET for one in nodes) else _KEEP_MM

    def _height_mm(self, picture: Picture) -> float:
        return float(self.pdf.epw) * picture.ratio

    def _heading(self, node: Node, room_mm: float) -> None:
        size_pt, above_mm = self.headings[node.tag]
        if node.attributes.get("class") == CARD or self.pdf.will_page_break(room_mm):
            self.pdf.add_page()
        else:
            self.pdf.ln(above_mm)
        title = node.text().strip()
        if node.tag == "h1":
            self.pdf.set_title(title)
        self.pdf.start_section(title, level=0 if node.tag == "h1" else 1)
        self._typed(size_pt, "B", Node("p", {}, [title]))
        self.pdf.ln(self._line_mm(size_pt) + 1.0)

    def _paragraph(self, node: Node) -> None:
        deep_mm = _INDENT_MM if node.tag == "blockquote" else 0.0
        self._shift(deep_mm)
        self._typed(self.usual_pt, "B" if node.tag == "summary" else "", node)
        self.pdf.ln(self._line_mm(self.usual_pt) + 1.5)
        self._shift(-deep_mm)

    def _list(self, node: Node) -> None:
        items = [child for child in node.children if isinstance(child, Node) and child.tag == "li"]
        for number, item in enumerate(items, start=1):
            sign = f"{number}." if node.tag == "ol" else "•"
            self.pdf.set_x(self.pdf.l_margin)
            self.pdf.cell(_INDENT_MM, self._line_mm(self.usual_pt), sign)
            self._shift(_INDENT_MM)
            self._typed(self.usual_pt, "", item)
            self.pdf.ln(self._line_mm(self.usual_pt) + 0.8)
            self._shift(-_INDENT_MM)
        self.pdf.ln(1.0)

    def _table(self, node: Node) -> None:
        if node.attributes.get("class") == SHEET:
            self.pdf.set_font(TYPE, "", self.usual_pt - 0.5)
            sheet_table(self.pdf, node, self.usual_pt - 0.5)
            self._set_type()
            self.pdf.ln(3.0)
            return
        rows = [child for child in node.children if isinstance(child, Node) and child.tag == "tr"]
        wide = max((len(row.children) for row in rows), default=0) > 3
        size_pt = self.usual_pt - 2.5 if wide else self.usual_pt
        self.pdf.set_font(TYPE, "", size_pt)
        layout = TableBordersLayout.HORIZONTAL_LINES
        width_mm = self.pdf.epw if wide else self.pdf.epw * 0.55
        with self.pdf.table(
            first_row_as_headings=False, borders_layout=layout, width=width_mm, align="LEFT", line_height=size_pt * 0.48
        ) as table:
            for row in rows:
                cells = table.row()
                for cell in row.children:
                    if isinstance(cell, Node):
                        cells.cell(" ".join(cell.text().split()), align="RIGHT" if cell.tag == "td" else "LEFT")
        self._set_type()
        self.pdf.ln(3.0)

    def _picture(self, picture: Picture) -> None:
        width_mm = self.pdf.epw
        if self.pdf.will_page_break(self._height_mm(picture) + self.usual_pt):
            self.pdf.add_page()
        told = f"{picture.title}. {picture.words}"
        self.pdf.image(BytesIO(picture.svg), x=self.pdf.l_margin, w=width_mm, title=picture.title, alt_text=told)
        self.pdf.set_x(self.pdf.l_margin)
        self.pdf.ln(1.0)

    # ---- text ---------------------------------------------------------------------------------------------------

    def _typed(self, size_pt: float, style: str, node: Node) -> None:
        self.size_pt, self.style = size_pt, style
        self._inline(node)
        self.size_pt, self.style = self.usual_pt, ""
        self._set_type()

    def _inline(self, node: Node) -> None:
        for child in node.children:
            if isinstance(child, str):
                self._set_type()
                self._write(re.sub(r"\s+", " ", child) if node.tag != "blockquote" else child)
            elif child.tag == "br":
                self.pdf.ln(self._line_mm(self.size_pt))
            else:
                self._in_style(child)

    def _write(self, text: str) -> None:
        """Write on in the line; a first word for which there is no room left begins the next one, whole."""
        first = text.split(" ", 1)[0]
        room_mm = self.pdf.w - self.pdf.r_margin - self.pdf.get_x() - 2.0 * self.pdf.c_margin
        if self.pdf.get_string_width(first) > room_mm and self.pdf.get_x() > self.pdf.l_margin:
            self.pdf.ln(self._line_mm(self.size_pt))
        self.pdf.write(self._line_mm(self.size_pt), text)

    def _in_style(self, node: Node) -> None:
        style, size_pt = self.style, self.size_pt
        self.style = "B" if node.tag == "strong" else style
        self.pdf.set_text_color(_GREY if node.tag == "small" else 0)
        self._inline(node)
        self.pdf.set_text_color(0)
        self.style, self.size_pt = style, size_pt

    def _set_type(self) -> None:
        self.pdf.set_font(TYPE, self.style, self.size_pt)

    def _line_mm(self, size_pt: float) -> float:
        return size_pt * _LINE_SHARE

    def _shift(self, by_mm: float) -> None:
        self.pdf.set_left_margin(self.pdf.l_margin + by_mm)
        self.pdf.set_x(self.pdf.l_margin)


def _font_file(weight: str) -> str:
    """Return where the type of a weight lies."""
    return str(font_files_ttf[f"SourceSansPro{weight}"])
