"""Charts with a handle on their bottom side: by pointer or by key it sets the value that it stands at."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.handle import Handle
from planner.desktop.charts.later import LaterChart
from planner.desktop.charts.scales import LogScale, Scale

__all__ = ["HandledChart"]

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class HandledChart(LaterChart):
    """Tells of the handle by three signals; while it is held the chart itself stands still.

    The handle is dragged; a double click fetches it; Enter fetches it to the point being read; Escape puts
    it back.
    """

    taken = Signal()
    dragged = Signal(float)
    dropped = Signal()

    def __init__(self, name: str, x: LogScale, y: Scale, parent: QWidget | None = None) -> None:
        super().__init__(name, x, y, parent)
        self._from: float | None = None
        self.handle = self.add(Handle(self.scales), 5)

    @property
    def holds(self) -> bool:
        """Whether somebody holds the handle."""
        return self._from is not None

    hint = ""
    """What the pointer is told over the handle."""

    def snapped(self, value: float) -> float:
        """The nearest value that may be set."""
        return value

    def value_read(self) -> float | None:
        """The value of the bottom side at the point being read."""
        row = self.row_read
        return None if row is None else float(self.table().columns[0].cell(row))

    def show_data(self, view: object) -> None:
        if self.holds:
            self._next = view
        else:
            super().show_data(view)

    def fetch(self, value: float) -> None:
        """Bring the handle to a value at once."""
        if self.handle.isVisible():
            self.taken.emit()
            self.dragged.emit(self.snapped(value))
            self.dropped.emit()

    def _move(self, value: float) -> None:
        low, high = self.scales.x.low, self.scales.x.high
        self.handle.show_at(self.snapped(min(max(value, low), high)))
        self.dragged.emit(self.handle.value)
        self.write()

    def _let_go(self) -> None:
        self._from = None
        self.dropped.emit()
        self.show_next()

    def _across_px(self, event: QMouseEvent) -> float | None:
        """How far from the left of the field the pointer is; None outside it."""
        where, box = self.mapToScene(event.position().toPoint()), self.plotItem.vb.sceneBoundingRect()
        return where.x() - box.left() if self.holds or box.contains(where) else None

    def _value(self, across_px: float) -> float:
        low, high = self.scales.x.ends
        return float(10.0 ** (low + across_px / self.scales.width_px * (high - low)))

    # Qt's own.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        across = self._across_px(event)
        near = across is not None and self.handle.is_near(across)
        if near and event.button() is Qt.MouseButton.LeftButton:
            self._reader.leave()
            self._from = self.handle.value
            self.taken.emit()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        across = self._across_px(event)
        if self.holds and across is not None:
            self._move(self._value(across))
            return
        near = across is not None and self.handle.is_near(across)
        self.handle.warm_up(near)
        self.viewport().setToolTip(self.hint if near else "")
        self.viewport().setCursor(Qt.CursorShape.SizeHorCursor if near else Qt.CursorShape.ArrowCursor)
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.holds and event.button() is Qt.MouseButton.LeftButton:
            self._let_go()
        super().mouseReleaseEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        across = self._across_px(event)
        if across is not None and not self.holds and event.button() is Qt.MouseButton.LeftButton:
            self.fetch(self._value(across))
        super().mouseDoubleClickEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        value = self.value_read()
        if self._from is not None and event.key() == Qt.Key.Key_Escape:
            self._move(self._from)
            self._let_go()
        elif event.key() in ENTER and value is not None:
            self.fetch(value)
        else:
            super().keyPressEvent(event)
