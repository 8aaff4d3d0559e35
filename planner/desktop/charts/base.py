"""The chart that all charts are made from: it draws what it is given, and can be read, copied and saved."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QKeySequence, QMouseEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import export
from planner.desktop.charts.canvas import Canvas
from planner.desktop.charts.keys import Entry, Key
from planner.desktop.charts.menu import ChartMenu
from planner.desktop.charts.reading import Reader
from planner.desktop.charts.scales import Scale
from planner.desktop.charts.table import Table

__all__ = ["Chart"]

DIMMED = 0.35


class Chart(Canvas):
    """A chart with a name, two sides and parts that are built once.

    A subclass adds its parts in `__init__` and says four things: how to `draw` a view (whatever it shows),
    the `table` behind it, its `headline` in plain words, and a `summary` for those who cannot see it.
    `show_data` hands it a view; it draws only while visible and catches up when shown. The table's first
    column is the abscissa that the reading goes along.
    """

    changed = Signal()
    reading_changed = Signal()
    table_wanted = Signal()

    def __init__(
        self, name: str, x: Scale, y: Scale, parent: QWidget | None = None, *, reads_along_x: bool = True
    ) -> None:
        super().__init__(x, y, parent)
        self._view: Any = None
        self._stale = self._dimmed = False
        self._menu: ChartMenu | None = None
        self._reader = self._made_reader(reads_along_x)
        self._reader.restyle(self._look())
        self._fixtures.append(self._reader)
        self.setAccessibleName(name)

    # What a subclass says.

    def draw(self, view: Any) -> None:
        """Show *view* by the parts that were built once."""
        raise NotImplementedError

    def table(self) -> Table:
        """The numbers of the view last given to `show_data`."""
        raise NotImplementedError

    def headline(self) -> str:
        """What the chart shows, in a few plain words."""
        return str(self.accessibleName())

    def summary(self) -> str:
        """The chart in words, for those who cannot see it."""
        raise NotImplementedError

    # What its owner uses.

    @property
    def view(self) -> Any:
        """What `show_data` was given last."""
        return self._view

    @property
    def has_data(self) -> bool:
        """Whether there is anything to show, to read or to copy."""
        return self._view is not None

    @property
    def stale_look(self) -> bool:
        """Whether the data are dimmed."""
        return self._dimmed

    @property
    def row_read(self) -> int | None:
        """The row of the table being read."""
        return self._reader.index

    def read_row(self, row: int | None) -> None:
        """Read a row of the table, as a chart beside it with the same rows does; None ends the reading."""
        self._reader.read(row)

    def show_data(self, view: Any) -> None:
        """Show *view* now if the chart is visible, else when it becomes so."""
        self._view = view
        self._stale = True
        if self.isVisible():
            self.catch_up()
        self.changed.emit()

    def catch_up(self) -> None:
        """Draw what was given while nobody looked."""
        if self._stale and self._view is not None:
            self._stale = False
            self.draw(self._view)
            self._reader.refresh()
            self._describe()

    def set_stale_look(self, stale: bool) -> None:
        """Dim the data while they belong to the last plan that could be computed."""
        self._dimmed = stale
        for part in self.parts:
            part.setOpacity(DIMMED if stale else 1.0)
        self._describe()

    def reading(self) -> str:
        """The point being read in words, "" for none."""
        row = self.row_read
        return "" if row is None else self.table().reading(row)

    def key_entries(self) -> list[Entry]:
        """The key: every named part that is now shown, with its name."""
        keys = (part.key for part in self.parts if part.isVisible())
        return [(key, key.name) for key in keys if key is not None]

    def reading_entries(self, row: int) -> list[Entry]:
        """A row of the table as entries: the abscissa, then each quantity with its sample."""
        table = self.table()
        keys: dict[str, Key] = {key.name: key for key, _ in self.key_entries() if key is not None}
        first, *others = table.columns
        said: list[Entry] = [(keys.get(each.title), f"{each.title} {each.reading(row)}") for each in others]
        return [(None, first.reading(row)), *said]

    def menu(self) -> ChartMenu:
        """The chart's own menu."""
        if self._menu is None:
            self._menu = ChartMenu(self)
        return self._menu

    def copy_picture(self) -> None:
        """Put the chart on the clipboard as a picture at twice its size."""
        export.copy_picture(self)

    def copy_numbers(self) -> None:
        """Put the numbers behind the chart on the clipboard."""
        export.copy_numbers(self)

    def set_scales(self, x: Scale, y: Scale) -> None:
        super().set_scales(x, y)
        self._reader.refresh()

    def settle(self) -> None:
        self.catch_up()
        super().settle()

    @contextmanager
    def on_paper(self, line_scale: float = 1.0) -> Iterator[None]:
        """Look for a while as on paper, without any reading."""
        with super().on_paper(line_scale), self._reader.hidden():
            yield

    # Inside.

    def _made_reader(self, along_x: bool) -> Reader:
        """What reads the chart; one that is read otherwise than point by point makes another."""
        return Reader(self, along_x)

    def _describe(self) -> None:
        if self._view is not None:
            note = self.tr("Out of date: the plan cannot be computed as it stands. ") if self._dimmed else ""
            self.setAccessibleDescription(note + self.summary())

    # Qt's own.

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.catch_up()

    def event(self, event: QEvent) -> bool:
        # The window has a Copy of its own on the same keys; while a chart has the focus they are the chart's.
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and _is_copy(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if _is_copy(event):
            self.copy_numbers()
        elif not self._reader.press(Qt.Key(event.key())):
            event.ignore()
            return
        self._ring.setVisible(True)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._reader.point_at(self.mapToScene(event.position().toPoint()))

    def leaveEvent(self, event: QEvent) -> None:
        self._reader.leave()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        by_key = event.reason() is QContextMenuEvent.Reason.Keyboard
        self.menu().popup(self.mapToGlobal(self.rect().center()) if by_key else event.globalPos())


def _is_copy(event: QKeyEvent) -> bool:
    return bool(event.matches(QKeySequence.StandardKey.Copy))
