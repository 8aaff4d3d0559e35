"""Tables on paper: columns as wide as their cells, numbers to the right, thin lines and no boxes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import groupby

from PySide6.QtCore import QRectF

from planner.report.content.blocks import Column, Table
from planner.report.pages.canvas import Canvas
from planner.report.pages.flow import Piece, stack_height
from planner.report.pages.typeface import SMALL, Style, elided, lines_of, width_of

__all__ = ["table_pieces"]

HEAD = Style(6.6, leading=1.28)
STRONG = Style(7.0, strong=True, leading=1.32)
CLOSE = Style(6.9, leading=1.0)
GAP_PT = 11.0
LEAST_GAP_PT = 7.0
PAD_PT = 1.8
CLOSE_PAD_PT = 1.45
BEFORE_PT = 4.0
TOGETHER_PT = 190.0
LONGEST_NUMBER = 22
WIDE_HEAD_PT = 80.0
SPREAD = 0.6


@dataclass(frozen=True, slots=True)
class _Grid:
    """A table's columns on paper: left edges and widths [pt]."""

    columns: tuple[Column, ...]
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    style: Style
    pad: float

    def span(self, first: int, last: int) -> tuple[float, float]:
        """From the left edge of one column to the right edge of another."""
        return self.lefts[first], self.lefts[last] + self.widths[last]


def table_pieces(table: Table, width: float) -> list[Piece]:
    """The head, then a piece for each row; where a row begins a page it stands below the head again."""
    grid = _grid(table, width)
    head = _head(grid, width)
    pieces = [head]
    last = len(table.rows) - 1
    named = [number for number, row in enumerate(table.rows) if len(row) == 1]
    since = 0
    for number, row in enumerate(table.rows):
        names = number in named
        since = 0 if names else since + 1
        closes = table.group > 0 and since % table.group == 0
        line = "edge" if number == last else "rule" if (closes or not table.group) and not names else ""
        # The first and the last two rows stay together, and so does what stands below a name.
        below_name = bool(named) and number + 1 not in named
        keep = (below_name or table.close or number in (0, last - 1)) and number != last
        pieces.append(_named(row[0], grid, head, width) if names else _row(row, grid, head, line, keep=keep))
    if stack_height(pieces) <= TOGETHER_PT:
        pieces = [*(replace(piece, keep=True) for piece in pieces[:-1]), pieces[-1]]
    return pieces


def _row(row: Sequence[str], grid: _Grid, head: Piece, line: str, *, keep: bool) -> Piece:
    cells = [lines_of(cell, grid.style, width) for cell, width in zip(row, grid.widths, strict=True)]
    height = max(map(len, cells)) * grid.style.line_pt + 2.0 * grid.pad
    return Piece(height, partial(_paint_row, grid=grid, cells=cells, line=line), keep=keep, head=head)


def _named(text: str, grid: _Grid, head: Piece, width: float) -> Piece:
    """A row that names those below it."""
    height = STRONG.line_pt + 2.0 * grid.pad
    shown = elided(text, STRONG, width)
    return Piece(height, partial(_paint_name, text=shown, pad=grid.pad), 2.5, keep=True, head=head)


def _paint_name(canvas: Canvas, rect: QRectF, *, text: str, pad: float) -> None:
    canvas.text(rect.left(), rect.top() + pad + STRONG.ascent_pt, text, STRONG)


def _grid(table: Table, width: float) -> _Grid:
    style, pad = (CLOSE, CLOSE_PAD_PT) if table.close else (SMALL, PAD_PT)
    rows = [row for row in table.rows if len(row) == len(table.columns)]
    columns = list(enumerate(table.columns))
    needed = [_needed([row[index] for row in rows], column, style) for index, column in columns]
    natural = [
        max(
            need,
            min(width_of(column.heading, HEAD), WIDE_HEAD_PT),
            *(width_of(row[index], style) for row in rows),
        )
        for need, (index, column) in zip(needed, columns, strict=True)
    ]
    gap = GAP_PT if sum(needed) + GAP_PT * (len(columns) - 1) <= width else LEAST_GAP_PT
    widths = _fitted(table.columns, needed, natural, width - gap * (len(columns) - 1))
    lefts = [sum(widths[:index]) + gap * index for index, _ in columns]
    return _Grid(table.columns, tuple(lefts), tuple(widths), style, pad)


def _needed(cells: Sequence[str], column: Column, style: Style) -> float:
    """The least width of a column: texts and headings are broken between words only, numbers not at all."""
    heads = [width_of(word, HEAD) for word in (*column.heading.split(), column.unit)]
    whole = [cell for cell in cells if column.side == "right" and len(cell) <= LONGEST_NUMBER]
    words = [word for cell in cells for word in cell.split()]
    return max([*heads, *(width_of(word, style) for word in (*whole, *words)), 1.0])


def _fitted(
    columns: Sequence[Column], needed: Sequence[float], natural: Sequence[float], room: float
) -> list[float]:
    """Each column gets what it needs, then texts what they would like, then all some of what is left."""
    least = sum(needed)
    if least >= room:
        return [one * room / least for one in needed]
    widths, left = list(needed), room - least
    wishes = sorted(
        (like - need, index) for index, (like, need) in enumerate(zip(natural, needed, strict=True))
    )
    for place, (wish, index) in enumerate(wishes):
        # The small wishes first: what they leave goes to the greater ones.
        given = min(wish, left / (len(wishes) - place))
        widths[index] += given
        left -= given
    texts = [column.side == "left" for column in columns]
    shares = [SPREAD / len(columns) + (1.0 - SPREAD) * text / max(sum(texts), 1) for text in texts]
    return [width + left * share / sum(shares) for width, share in zip(widths, shares, strict=True)]


def _head(grid: _Grid, width: float) -> Piece:
    cells = [
        (*lines_of(column.heading, HEAD, one), *((column.unit,) if column.unit else ()))
        for column, one in zip(grid.columns, grid.widths, strict=True)
    ]
    over = _over(grid)
    height = max(map(len, cells)) * HEAD.line_pt + grid.pad + 2.0 + (HEAD.line_pt + 3.0 if over else 0.0)
    return Piece(height, partial(_paint_head, grid=grid, cells=cells, over=over), BEFORE_PT, keep=True)


def _over(grid: _Grid) -> list[tuple[str, float, float]]:
    """Words over several columns, each with the edges between which it stands."""
    groups = groupby(enumerate(grid.columns), key=lambda pair: pair[1].over)
    found = [(word, [index for index, _ in group]) for word, group in groups]
    return [(word, *grid.span(some[0], some[-1])) for word, some in found if word]


def _paint_head(
    canvas: Canvas,
    rect: QRectF,
    *,
    grid: _Grid,
    cells: list[tuple[str, ...]],
    over: list[tuple[str, float, float]],
) -> None:
    bottom = rect.bottom() - 2.0
    for index, lines in enumerate(cells):
        top = bottom - len(lines) * HEAD.line_pt
        for number, line in enumerate(lines):
            baseline = top + number * HEAD.line_pt + HEAD.ascent_pt
            _paint_cell(canvas, rect.left(), baseline, grid, index, line, HEAD, "muted")
    for word, left, right in over:
        text = elided(word, HEAD, right - left)
        canvas.text(rect.left() + right, rect.top() + HEAD.ascent_pt, text, HEAD, "ink", "right")
        level = rect.top() + HEAD.line_pt + 1.5
        canvas.line((rect.left() + left, level), (rect.left() + right, level), "rule", 0.5)
    canvas.line((rect.left(), rect.bottom()), (rect.right(), rect.bottom()), "edge", 0.7)


def _paint_row(canvas: Canvas, rect: QRectF, *, grid: _Grid, cells: list[tuple[str, ...]], line: str) -> None:
    for index, lines in enumerate(cells):
        for number, text in enumerate(lines):
            baseline = rect.top() + grid.pad + number * grid.style.line_pt + grid.style.ascent_pt
            _paint_cell(canvas, rect.left(), baseline, grid, index, text, grid.style, "ink")
    if line:
        width = 0.7 if line == "edge" else 0.4
        canvas.line((rect.left(), rect.bottom()), (rect.right(), rect.bottom()), line, width)


def _paint_cell(
    canvas: Canvas, left: float, baseline: float, grid: _Grid, index: int, text: str, style: Style, token: str
) -> None:
    start = left + grid.lefts[index]
    if grid.columns[index].side == "right":
        canvas.text(start + grid.widths[index], baseline, text, style, token, "right")
    else:
        canvas.text(start, baseline, text, style, token)
