"""Lays a card on one sheet of A4: a drawing, and below it blocks of rows in two columns, in the largest type that fits.

What a learner wrote is set bold, so that their own words stand out. A row may have empty lines to write on instead.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import product

from fpdf import FPDF
from fpdf.enums import MethodReturnValue

from engine_sim.classroom.feedback_pdf import TYPE, Picture, empty_sheet

MARGIN_MM, GAP_MM = 9.0, 5.0
_SIZES_PT = tuple(quarter / 4.0 for quarter in range(38, 11, -1))
"""Sizes of type that are tried [pt], the largest first."""
_ROOM_FOR_DRAWING = ((8.0, 78.0), (7.0, 64.0), (0.0, 40.0))
"""From a size of type on [pt], the least height of the drawing [mm]: small type is worse than a small drawing."""
_LINE_SHARE, _ROW_MM, _HEAD_SHARE, _BLOCK_MM = 0.40, 0.7, 1.15, 2.0
_WRITE_ON_MM = 7.0
_DARK, _GREY = (20, 45, 72), (150, 150, 150)
_HOLE_MM = 3.0
_SHADE = 0.7


@dataclass(frozen=True, slots=True)
class Row:
    """A row: a label or number, printed words, the learner's own, and empty lines to write on."""

    text: str = ""
    own: str = ""
    label: str = ""
    lines: int = 0


@dataclass(frozen=True, slots=True)
class Block:
    """Rows under a heading; ``label_share`` is the room for their labels, of the column's width."""

    title: str
    rows: Sequence[Row]
    label_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Card:
    """A whole card: what stands at its top and its foot, the drawing (pale on a blank card), and two columns.

    ``either`` are blocks that stand at the end of the column that has room.
    """

    title: str
    facts: Sequence[Row]
    first: str
    picture: Picture
    pale: bool
    caption: str
    left: Sequence[Block]
    right: Sequence[Block]
    either: Sequence[Block]
    foot: str


def printed(card: Card) -> bytes:
    """Return a card as a PDF of one page."""
    return CardSheet(card).print()


class CardSheet:
    """One sheet of A4 on which a card is laid."""

    def __init__(self, card: Card) -> None:
        self.card = card
        self.pdf: FPDF = empty_sheet(MARGIN_MM)
        self.pdf.set_auto_page_break(False)
        self.pdf.c_margin = 0.5
        self.size_pt = _SIZES_PT[0]
        self.column_mm = (self.pdf.epw - GAP_MM) / 2.0
        self._known_mm: dict[tuple[float, int], float] = {}
        self.columns: tuple[Sequence[Block], Sequence[Block]] = (card.left, card.right)

    def print(self) -> bytes:
        """Return the card as a PDF."""
        pdf, card = self.pdf, self.card
        pdf.set_title(card.title)
        drawing_mm = self._choose_size()
        self._screw_holes()
        self._title()
        self._rows(card.facts, pdf.l_margin, pdf.epw, 0.12)
        self._first()
        self._drawing(drawing_mm)
        top = pdf.get_y()
        for number, blocks in enumerate(self.columns):
            left = pdf.l_margin + number * (self.column_mm + GAP_MM)
            pdf.set_y(top)
            for block in blocks:
                self._block(block, left)
        self._foot()
        return bytes(pdf.output())

    # ---- room ---------------------------------------------------------------------------------------------------

    def _choose_size(self) -> float:
        """Choose the largest type that leaves room for the drawing; return the drawing's height [mm]."""
        chosen = min(bisect_left(_SIZES_PT, True, key=self._leaves_room), len(_SIZES_PT) - 1)
        room_mm = self._room_mm(_SIZES_PT[chosen])
        return float(min(room_mm, self.pdf.epw * self.card.picture.ratio))

    def _leaves_room(self, size_pt: float) -> bool:
        return self._room_mm(size_pt) >= next(room for size, room in _ROOM_FOR_DRAWING if size_pt >= size)

    def _room_mm(self, size_pt: float) -> float:
        """Return how high the drawing may be with type of a size, all else laid out as short as can be [mm]."""
        self.size_pt = size_pt
        self.columns = self._shared_out()
        return float(self.pdf.h - 2.0 * MARGIN_MM - self._height_without_drawing())

    def _height_without_drawing(self) -> float:
        card = self.card
        facts_mm = sum(self._row_mm(row, self.pdf.epw, 0.12) for row in card.facts)
        caption_mm = self._line_mm() if card.caption else 0.0
        columns_mm = self._columns_mm(self.columns)
        first_mm = self._text_mm(card.first, self.pdf.epw - 4.0, "B") + 2.0
        head_mm = self._title_mm() + 1.5 + facts_mm + first_mm + 2.0
        return head_mm + caption_mm + 2.0 + columns_mm + self._line_mm() + 1.0

    def _shared_out(self) -> tuple[Sequence[Block], Sequence[Block]]:
        """Return the two columns with what may stand in either put where the longer one stays shortest."""
        card, many = self.card, len(self.card.either)
        tries = []
        for sides in product((0, 1), repeat=many):
            more = [[block for block, side in zip(card.either, sides, strict=True) if side == own] for own in (0, 1)]
            tries.append(([*card.left, *more[0]], [*card.right, *more[1]]))
        return min(tries, key=self._columns_mm)

    def _columns_mm(self, columns: tuple[Sequence[Block], Sequence[Block]]) -> float:
        return max(sum(map(self._block_mm, blocks)) for blocks in columns)

    def _line_mm(self, share: float = 1.0) -> float:
        return self.size_pt * share * _LINE_SHARE

    def _text_mm(self, text: str, width_mm: float, style: str = "", share: float = 1.0) -> float:
        if not text:
            return 0.0
        self.pdf.set_font(TYPE, style, self.size_pt * share)
        lines = self.pdf.multi_cell(width_mm, text=text, align="L", dry_run=True, output=MethodReturnValue.LINES)
        return len(lines) * self._line_mm(share)  # type: ignore[arg-type]

    def _row_mm(self, row: Row, width_mm: float, label_share: float) -> float:
        room_mm = width_mm * (1.0 - label_share)
        body_mm = self._text_mm(row.text, room_mm) + self._text_mm(row.own, room_mm, "B") + row.lines * _WRITE_ON_MM
        return max(body_mm, self._text_mm(row.label, width_mm * label_share, "B")) + _ROW_MM

    def _block_mm(self, block: Block) -> float:
        """Return a block's height [mm], worked out once for each size of type."""
        key = (self.size_pt, id(block))
        if key not in self._known_mm:
            self._known_mm[key] = self._measured_mm(block)
        return self._known_mm[key]

    def _measured_mm(self, block: Block) -> float:
        head_mm = self._line_mm(_HEAD_SHARE) + 1.5
        return head_mm + sum(self._row_mm(row, self.column_mm, block.label_share) for row in block.rows) + _BLOCK_MM

    # ---- laying down --------------------------------------------------------------------------------------------

    def _screw_holes(self) -> None:
        """Mark where four small screws go, outside what is printed."""
        pdf, off = self.pdf, MARGIN_MM - _HOLE_MM
        pdf.set_draw_color(*_GREY)
        for x in (off, pdf.w - off):
            for y in (off, pdf.h - off):
                pdf.circle(x, y, _HOLE_MM / 2.0)
        pdf.set_draw_color(0)

    def _title_mm(self) -> float:
        return self._text_mm(self.card.title, self.pdf.epw - 4.0, "B", self._title_share()) + 3.0

    def _title_share(self) -> float:
        """Return by how much the title is larger than the text: the longer it is, the less."""
        return 2.2 if len(self.card.title) < 45 else 1.3

    def _title(self) -> None:
        self.pdf.start_section(self.card.title)
        self._banner(self.card.title, self.pdf.l_margin, self.pdf.epw, self._title_share(), self._title_mm())
        self.pdf.set_y(self.pdf.get_y() + 1.5)

    def _banner(self, text: str, left: float, width_mm: float, share: float, high_mm: float) -> None:
        """Write white on dark; go on below it."""
        pdf, top = self.pdf, self.pdf.get_y()
        pdf.set_fill_color(*_DARK)
        pdf.rect(left, top, width_mm, high_mm, style="F", round_corners=True, corner_radius=0.8)
        pdf.set_text_color(255)
        written_mm = self._text_mm(text, width_mm - 4.0, "B", share)
        pdf.set_y(top + (high_mm - written_mm) / 2.0)
        self._write(text, left + 2.0, width_mm - 4.0, "B", share)
        pdf.set_text_color(0)
        pdf.set_y(top + high_mm)

    def _write(self, text: str, left: float, width_mm: float, style: str = "", share: float = 1.0) -> None:
        """Write a text from a left side on, in as many lines as it takes."""
        self.pdf.set_font(TYPE, style, self.size_pt * share)
        self.pdf.set_x(left)
        high = self._line_mm(share)
        self.pdf.multi_cell(width_mm, high, text, align="L", new_x="LEFT", new_y="NEXT")

    def _first(self) -> None:
        """What comes before anything on the card, in a frame."""
        pdf, top = self.pdf, self.pdf.get_y()
        high_mm = self._text_mm(self.card.first, pdf.epw - 4.0, "B") + 2.0
        pdf.set_line_width(0.6)
        pdf.rect(pdf.l_margin, top, pdf.epw, high_mm)
        pdf.set_y(top + 1.0)
        self._write(self.card.first, pdf.l_margin + 2.0, pdf.epw - 4.0, "B")
        pdf.set_y(top + high_mm + 2.0)

    def _drawing(self, high_mm: float) -> None:
        pdf, picture = self.pdf, self.card.picture
        width_mm = high_mm / picture.ratio
        left, top = pdf.l_margin + (pdf.epw - width_mm) / 2.0, pdf.get_y()
        told = f"{picture.title}. {picture.words}"
        pdf.image(BytesIO(picture.svg), x=left, y=top, w=width_mm, title=picture.title, alt_text=told)
        if self.card.pale:
            with pdf.local_context(fill_opacity=_SHADE, fill_color=255):
                pdf.rect(left - 0.5, top - 0.5, width_mm + 1.0, high_mm + 1.0, style="F")
        pdf.set_y(top + high_mm)
        if self.card.caption:
            self._write(self.card.caption, pdf.l_margin, pdf.epw)
        pdf.set_y(pdf.get_y() + 2.0)

    def _block(self, block: Block, left: float) -> None:
        self._banner(block.title, left, self.column_mm, _HEAD_SHARE, self._line_mm(_HEAD_SHARE) + 0.8)
        self.pdf.set_y(self.pdf.get_y() + 0.7)
        self._rows(block.rows, left, self.column_mm, block.label_share)
        self.pdf.set_y(self.pdf.get_y() + _BLOCK_MM)

    def _rows(self, rows: Sequence[Row], left: float, width_mm: float, label_share: float) -> None:
        for row in rows:
            top = self.pdf.get_y()
            label_mm = width_mm * label_share
            if row.label:
                self._write(row.label, left, label_mm, "B")
                self.pdf.set_y(top)
            if row.text:
                self._write(row.text, left + label_mm, width_mm - label_mm)
            if row.own:
                self._write(row.own, left + label_mm, width_mm - label_mm, "B")
            self._write_on(row, left + label_mm, width_mm - label_mm)
            self.pdf.set_y(top + self._row_mm(row, width_mm, label_share))

    def _write_on(self, row: Row, left: float, width_mm: float) -> None:
        """Draw the empty lines of a row; the first begins behind its words where they end in a colon."""
        pdf, y = self.pdf, self.pdf.get_y()
        pdf.set_line_width(0.2)
        pdf.set_draw_color(90)
        for _ in range(row.lines):
            y += _WRITE_ON_MM
            pdf.line(left, y - 0.5, left + width_mm, y - 0.5)
        pdf.set_draw_color(0)

    def _foot(self) -> None:
        self.pdf.set_y(self.pdf.h - MARGIN_MM - self._line_mm())
        self._write(self.card.foot, self.pdf.l_margin, self.pdf.epw)
