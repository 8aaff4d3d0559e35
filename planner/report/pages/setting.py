"""From blocks to pieces: how titles, texts, verdicts and pictures are set on paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import QRectF

from planner.report.content.blocks import (
    Block,
    Heading,
    KeyFigures,
    NewPage,
    Picture,
    Side,
    Table,
    Terms,
    Text,
    Title,
    Verdict,
)
from planner.report.figures.chart import Chart
from planner.report.figures.paint import paint_chart
from planner.report.pages.canvas import Canvas
from planner.report.pages.flow import BREAK, Piece, paint_stack, stack_height, stretch_of
from planner.report.pages.room import paint_room_view
from planner.report.pages.tables import table_pieces
from planner.report.pages.typeface import BODY, NOTE, SMALL, Style, lines_of, width_of
from planner.report.style import paint_verdict

__all__ = ["pieces_of"]

KIND = Style(7.4, leading=1.5)
TITLE = Style(17.5, leading=1.24)
BELOW = Style(9.4, leading=1.5)
HEADINGS = {1: Style(14.5, leading=1.3), 2: Style(9.6, strong=True, leading=1.3), 3: Style(7.8, strong=True)}
BEFORE = {1: 24.0, 2: 17.0, 3: 11.0}
AFTER = {1: 3.0, 2: 0.5, 3: 0.0}
WORD = Style(15.0, leading=1.3)
SENTENCE = Style(9.2, leading=1.42)
FIGURE = Style(15.0, leading=1.25)
TERM = Style(7.0, leading=1.34)
TERM_SHARE = 0.2
FEW_TERMS = 8
MARK_PT = 23.0
PAD_PT = 9.5
GUTTER_PT = 20.0
PARAGRAPH_PT = 4.5


def pieces_of(blocks: Sequence[Block], width: float) -> list[Piece]:
    """All pieces of blocks, one below the other, in a column of a width."""
    pieces: list[Piece] = []
    for block in blocks:
        if pieces and isinstance(block, Text) and block.kind == "note":
            # A note explains what stands above it.
            pieces[-1] = replace(pieces[-1], keep=True)
        pieces += _set(block, width)
    return pieces


def _set(block: Block, width: float) -> list[Piece]:
    setter: Callable[[Any, float], list[Piece]] = _SETTERS[type(block)]
    return setter(block, width)


def _new_page(block: NewPage, width: float) -> list[Piece]:
    return [BREAK]


def _picture(block: Picture, width: float) -> list[Piece]:
    return [Piece(block.height_pt, partial(_paint_picture, picture=block), 8.0, stretch=block.stretch)]


def _lines(text: str, style: Style, width: float, token: str = "ink", before: float = 0.0) -> Piece:
    """A paragraph as one piece."""
    lines = lines_of(text, style, width)
    paint = partial(_paint_lines, lines=lines, style=style, token=token)
    return Piece(len(lines) * style.line_pt, paint, before)


def _paint_lines(canvas: Canvas, rect: QRectF, *, lines: Sequence[str], style: Style, token: str) -> None:
    for number, line in enumerate(lines):
        canvas.text(rect.left(), rect.top() + number * style.line_pt + style.ascent_pt, line, style, token)


def _together(pieces: Sequence[Piece], before: float = 0.0, *, keep: bool = False) -> Piece:
    """Pieces bound into one."""
    paint = partial(paint_stack, pieces=pieces)
    return Piece(stack_height(pieces), paint, before, keep, stretch=stretch_of(pieces))


def _title(block: Title, width: float) -> list[Piece]:
    parts = [_lines(block.kind, KIND, width, "accent"), _lines(block.text, TITLE, width)]
    if block.below:
        parts.append(_lines(block.below, BELOW, width, "muted", 1.0))
    return [_together(parts, 26.0, keep=True)]


def _heading(block: Heading, width: float) -> list[Piece]:
    style = HEADINGS[block.level]
    line = _lines(block.text, style, width, "ink" if block.level != 1 else "accent")
    gap = Piece(AFTER[block.level], lambda canvas, rect: None)
    return [_together([line, gap], BEFORE[block.level], keep=True)]


def _text(block: Text, width: float) -> list[Piece]:
    if block.kind == "note":
        return [_lines(block.text, NOTE, width, "muted", PARAGRAPH_PT)]
    return [_lines(block.text, BODY, width, "ink", PARAGRAPH_PT)]


def _verdict(block: Verdict, width: float) -> list[Piece]:
    inner = width - 2.0 * PAD_PT - MARK_PT - 12.0
    parts = [_lines(block.word, WORD, inner, block.verdict), _lines(block.sentence, SENTENCE, inner)]
    height = stack_height(parts) + 2.0 * PAD_PT
    return [Piece(height, partial(_paint_verdict, verdict=block.verdict, parts=parts), 12.0)]


def _paint_verdict(canvas: Canvas, rect: QRectF, *, verdict: str, parts: Sequence[Piece]) -> None:
    canvas.box(rect, verdict, 0.07)
    canvas.box(QRectF(rect.left(), rect.top(), 2.2, rect.height()), verdict)
    mark = QRectF(rect.left() + PAD_PT + 3.0, rect.top() + PAD_PT + 1.0, MARK_PT, MARK_PT)
    paint_verdict(canvas.painter, mark, verdict, canvas.colours)
    left = mark.right() + 9.0
    paint_stack(canvas, QRectF(left, rect.top() + PAD_PT, rect.right() - PAD_PT - left, rect.height()), parts)


def _key_figures(block: KeyFigures, width: float) -> list[Piece]:
    share = width / len(block.figures)
    stacks = [
        [_lines(figure, FIGURE, share - 8.0), _lines(what, SMALL, share - 8.0, "muted", 1.0)]
        for figure, what in block.figures
    ]
    height = max(map(stack_height, stacks))
    paint = partial(_paint_columns, stacks=stacks, widths=[share] * len(stacks), gap=0.0)
    return [Piece(height, paint, 12.0)]


def _paint_columns(
    canvas: Canvas, rect: QRectF, *, stacks: Sequence[Sequence[Piece]], widths: Sequence[float], gap: float
) -> None:
    left = rect.left()
    for stack, width in zip(stacks, widths, strict=True):
        paint_stack(canvas, QRectF(left, rect.top(), width, rect.height()), stack)
        left += width + gap


def _terms(block: Terms, width: float) -> list[Piece]:
    names = max(width_of(name, TERM) for name, _ in block.pairs)
    first = min(names + 12.0, max(TERM_SHARE * width, 74.0))
    few = len(block.pairs) <= FEW_TERMS
    ends = len(block.pairs) - 1
    return [
        _term(name, text, first, width, keep=few and number != ends)
        for number, (name, text) in enumerate(block.pairs)
    ]


def _term(name: str, text: str, first: float, width: float, *, keep: bool) -> Piece:
    stacks = [[_lines(name, TERM, first - 8.0, "muted")], [_lines(text, TERM, width - first)]]
    height = max(map(stack_height, stacks))
    paint = partial(_paint_columns, stacks=stacks, widths=[first, width - first], gap=0.0)
    return Piece(height, paint, 2.6, keep)


def _paint_picture(canvas: Canvas, rect: QRectF, *, picture: Picture) -> None:
    if isinstance(picture.content, Chart):
        paint_chart(canvas, rect, picture.content)
    else:
        paint_room_view(canvas, rect, picture.content)


def _side(block: Side, width: float) -> list[Piece]:
    room = width - GUTTER_PT * (len(block.columns) - 1)
    widths = [room * share / sum(block.shares) for share in block.shares]
    stacks = [pieces_of(column, one) for column, one in zip(block.columns, widths, strict=True)]
    height = max(map(stack_height, stacks))
    paint = partial(_paint_columns, stacks=stacks, widths=widths, gap=GUTTER_PT)
    return [Piece(height, paint, 9.0, stretch=max(map(stretch_of, stacks)))]


_SETTERS: dict[type, Callable[..., list[Piece]]] = {
    NewPage: _new_page,
    Title: _title,
    Heading: _heading,
    Text: _text,
    Verdict: _verdict,
    KeyFigures: _key_figures,
    Terms: _terms,
    Table: table_pieces,
    Picture: _picture,
    Side: _side,
}
