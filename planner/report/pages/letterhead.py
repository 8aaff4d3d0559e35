"""The maker's mark, name and address at the head of the first page."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QImage
from PySide6.QtSvg import QSvgRenderer

from planner.report.maker import Maker
from planner.report.pages.canvas import Canvas
from planner.report.pages.flow import Piece
from planner.report.pages.typeface import Style, lines_of

__all__ = ["letterhead_piece", "mark_of"]

NAME = Style(9.0, strong=True, leading=1.3)
ADDRESS = Style(7.3, leading=1.35)
MARK_PT = 30.0
IN_MARGIN_PT = 18.0
WIDEST_MARK = 3.5
AFTER_PT = 12.0

Mark = QImage | QSvgRenderer


def letterhead_piece(maker: Maker, width: float) -> Iterator[Piece]:
    """One piece that reaches into the margin, or none where the maker gives neither name nor mark."""
    mark = mark_of(maker.mark_file)
    if not maker.name and not maker.address and mark is None:
        return
    address = lines_of(maker.address, ADDRESS, 0.6 * width) if maker.address else ()
    words = (NAME.line_pt if maker.name else 0.0) + len(address) * ADDRESS.line_pt
    height = max(words, MARK_PT if mark is not None else 0.0)
    paint = partial(_paint, maker=maker, mark=mark, address=address)
    yield Piece(height + AFTER_PT - IN_MARGIN_PT, paint, keep=True)


def mark_of(file: str) -> Mark | None:
    """The picture of a mark, kept as a drawing where it is one; None where there is none to be read."""
    if not Path(file).is_file():
        return None
    if file.lower().endswith(".svg"):
        drawing = QSvgRenderer(file)
        return drawing if drawing.isValid() else None
    image = QImage(file)
    return None if image.isNull() else image


def _paint(
    canvas: Canvas, rect: QRectF, *, maker: Maker, mark: Mark | None, address: tuple[str, ...]
) -> None:
    right = rect.right()
    top = baseline = rect.top() - IN_MARGIN_PT
    if maker.name:
        canvas.text(right, baseline + NAME.ascent_pt, maker.name, NAME, "ink", "right")
        baseline += NAME.line_pt
    for line in address:
        canvas.text(right, baseline + ADDRESS.ascent_pt, line, ADDRESS, "muted", "right")
        baseline += ADDRESS.line_pt
    if mark is not None:
        size = QSizeF(mark.defaultSize() if isinstance(mark, QSvgRenderer) else mark.size())
        width = min(size.width() / max(size.height(), 1.0), WIDEST_MARK) * MARK_PT
        height = width * size.height() / max(size.width(), 1.0)
        box = QRectF(rect.left(), top, width, height)
        if isinstance(mark, QSvgRenderer):
            mark.render(canvas.painter, box)
        else:
            canvas.painter.drawImage(box, mark)
