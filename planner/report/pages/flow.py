"""Pieces of a report flow from page to page: each knows its height, and how to paint itself."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF

from planner.report.pages.canvas import Canvas

__all__ = ["BREAK", "Piece", "Placed", "flowed", "paint_stack", "stack_height", "stretch_of"]

Paint = Callable[[Canvas, QRectF], None]
_SLACK = 0.01


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """Something that is never parted.

    `before` is the gap above it, but for the top of a page. With `keep` it stays on one page with the
    next piece. Where it begins a page, `head` is painted above it. `stretch` is its share of a page's
    free room.
    """

    height: float
    paint: Paint
    before: float = 0.0
    keep: bool = False
    head: Piece | None = None
    stretch: float = 0.0


BREAK = Piece(0.0, lambda canvas, rect: None)
"""What follows begins a page."""


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """A piece, and where it stands below the top of the frame."""

    piece: Piece
    top: float
    height: float


def flowed(pieces: Sequence[Piece], height: float) -> list[list[Placed]]:
    """The pieces on as many pages as they need; what stretches takes up the free room of its page."""
    pages: list[list[Piece]] = [[]]
    used = 0.0
    for group in _kept(pieces):
        if group[0] is BREAK:
            if pages[-1]:
                pages[-1] = _filled(pages[-1], height)
                pages.append([])
                used = 0.0
            continue
        need = _height(group, at_top=not pages[-1])
        if pages[-1] and used + need > height + _SLACK:
            pages[-1] = _filled(pages[-1], height)
            pages.append([])
            used = 0.0
        begun = group if pages[-1] else _begun(group)
        used += _height(begun, at_top=not pages[-1])
        pages[-1] += begun
    pages[-1] = _filled(pages[-1], height)
    return [_placed(page) for page in pages if page]


def _kept(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Groups that stay together: a piece that keeps, and all up to the first that does not."""
    groups: list[list[Piece]] = []
    open_group = False
    for piece in pieces:
        if open_group and piece is not BREAK:
            groups[-1].append(piece)
        else:
            groups.append([piece])
        open_group = piece.keep
    return groups


def _height(group: Sequence[Piece], *, at_top: bool) -> float:
    return sum(piece.height + piece.before for piece in group) - (group[0].before if at_top else 0.0)


def _begun(group: list[Piece]) -> list[Piece]:
    """A group at the top of a page, below the head that it repeats."""
    head = group[0].head
    return group if head is None else [head, replace(group[0], before=0.0), *group[1:]]


def _filled(page: list[Piece], height: float) -> list[Piece]:
    """The page with its free room given to what stretches."""
    free = height - (_height(page, at_top=True) if page else 0.0)
    wanted = sum(piece.stretch for piece in page)
    if free <= 0.0 or wanted == 0.0:
        return page
    return [replace(piece, height=piece.height + free * piece.stretch / wanted) for piece in page]


def _placed(page: Sequence[Piece]) -> list[Placed]:
    placed, top = [], 0.0
    for index, piece in enumerate(page):
        top += piece.before if index else 0.0
        placed.append(Placed(piece, top, piece.height))
        top += piece.height
    return placed


def stack_height(pieces: Sequence[Piece]) -> float:
    """Height of pieces one below the other."""
    return _height(pieces, at_top=True) if pieces else 0.0


def stretch_of(pieces: Sequence[Piece]) -> float:
    """How much of free room pieces take together."""
    return sum(piece.stretch for piece in pieces)


def paint_stack(canvas: Canvas, rect: QRectF, pieces: Sequence[Piece]) -> None:
    """Paint pieces one below the other, stretched to the height of a rectangle."""
    for placed in _placed(_filled(list(pieces), rect.height())):
        box = QRectF(rect.left(), rect.top() + placed.top, rect.width(), placed.height)
        placed.piece.paint(canvas, box)
