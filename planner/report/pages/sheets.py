"""All sheets of a report: what stands on each, its foot, and the maker's head on the first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from planner.report.content.blocks import Block
from planner.report.language import tr
from planner.report.maker import Maker
from planner.report.pages.canvas import Canvas
from planner.report.pages.flow import Placed, flowed
from planner.report.pages.letterhead import letterhead_piece
from planner.report.pages.paper import Paper
from planner.report.pages.setting import pieces_of
from planner.report.pages.typeface import Style, elided, width_of

__all__ = ["Sheets", "sheets_of"]

FOOT = Style(6.6)
FOOT_GAP_PT = 16.0


@dataclass(frozen=True, slots=True, eq=False)
class Sheets:
    """A report set on paper of one size."""

    paper: Paper
    title: str
    on: date
    pages: list[list[Placed]]

    def paint(self, painter: QPainter, number: int) -> None:
        """Paint a page, counted from 1, with a painter whose unit is the point."""
        canvas, paper = Canvas(painter), self.paper
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        for placed in self.pages[number - 1]:
            rect = QRectF(paper.side, paper.top + placed.top, paper.text_width, placed.height)
            placed.piece.paint(canvas, rect)
        self._paint_foot(canvas, number)

    def _paint_foot(self, canvas: Canvas, number: int) -> None:
        paper = self.paper
        right = paper.width - paper.side
        top = paper.height - paper.bottom + FOOT_GAP_PT
        canvas.line((paper.side, top), (right, top), "rule", 0.5)
        baseline = top + 3.0 + FOOT.ascent_pt
        count = tr(
            "{date} · page {number} of {count}",
            date=self.on.isoformat(),
            number=number,
            count=len(self.pages),
        )
        canvas.text(right, baseline, count, FOOT, "muted", "right")
        room = paper.text_width - width_of(count, FOOT) - 20.0
        canvas.text(paper.side, baseline, elided(self.title, FOOT, room), FOOT, "muted")


def sheets_of(blocks: Sequence[Block], paper: Paper, title: str, maker: Maker, on: date) -> Sheets:
    """The blocks of a report on paper."""
    pieces = [*letterhead_piece(maker, paper.text_width), *pieces_of(blocks, paper.text_width)]
    return Sheets(paper, title, on, flowed(pieces, paper.text_height))
