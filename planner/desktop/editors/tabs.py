"""The order of the Tab key: that of the eye, whatever was built first."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

__all__ = ["chain_tabs", "in_order"]


def chain_tabs(root: QWidget) -> None:
    """Have Tab go through all that *root* holds in the order of its layouts."""
    for first, second in pairwise(in_order(root)):
        QWidget.setTabOrder(first, second)


def in_order(root: QWidget) -> Iterator[QWidget]:
    """The widgets below *root* that Tab can reach, in the order in which they are laid out."""
    layout = root.layout()
    if layout is not None:
        yield from _laid_out(layout)


def _laid_out(layout: QLayout) -> Iterator[QWidget]:
    for number in range(layout.count()):
        item = layout.itemAt(number)
        widget, inner = _parts_of(item)
        if widget is not None:
            if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
                yield widget
            else:
                yield from in_order(widget)
        elif inner is not None:
            yield from _laid_out(inner)


def _parts_of(item: QLayoutItem | None) -> tuple[QWidget | None, QLayout | None]:
    return (None, None) if item is None else (item.widget(), item.layout())
