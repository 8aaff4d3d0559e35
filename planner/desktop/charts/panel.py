"""A chart on its card: headline above, key and reading below, and its numbers as a table in its place."""

from PySide6.QtCore import (
    QEvent,
    QPointF,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFontMetricsF, QIcon, QPainter, QPaintEvent, QPen, QPixmap, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QSizePolicy,
    QStackedWidget,
    QTableView,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.charts.base import Chart
from planner.desktop.charts.keys import Entry, keys_height, paint_keys
from planner.desktop.charts.table_model import TableModel
from planner.desktop.theme import colours_of, headline_font, small_font

__all__ = ["ChartPanel", "ReadingStrip", "three_dots"]

CORNER_PX = 7.0
SIDE_PX = 4


class ChartPanel(QFrame):
    """One chart with everything round it; owns the chart."""

    def __init__(self, chart: Chart, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chart = chart
        self.setAccessibleName(chart.accessibleName())
        self._headline = QLabel(chart.headline(), self)
        self._headline.setWordWrap(True)
        # A headline may hold names that other people gave: they are words and no markup.
        self._headline.setTextFormat(Qt.TextFormat.PlainText)
        self._button = self._make_button()
        self._model = TableModel(self)
        self._numbers = self._make_table()
        self._strip = ReadingStrip(chart, self)
        self._stack = QStackedWidget(self)
        self._stack.addWidget(chart)
        self._stack.addWidget(self._numbers)
        self._lay_out()
        chart.menu().table_action.setVisible(True)
        chart.table_wanted.connect(self._turn)
        chart.changed.connect(self._refresh)
        self._refont()

    @property
    def shows_table(self) -> bool:
        """Whether the numbers stand in the chart's place."""
        return self._stack.currentWidget() is self._numbers

    def show_table(self, shown: bool) -> None:
        """Show the numbers in the chart's place, or the chart again."""
        if shown != self.shows_table:
            shown_now, hidden_now = (self._numbers, self.chart) if shown else (self.chart, self._numbers)
            had_focus = hidden_now.hasFocus()
            self._stack.setCurrentWidget(shown_now)
            self.chart.menu().table_action.setChecked(shown)
            self._strip.setVisible(not shown)
            self._refresh()
            if had_focus:
                shown_now.setFocus()

    def set_stale_look(self, stale: bool) -> None:
        """Dim chart and headline while they belong to the last plan that could be computed."""
        self.chart.set_stale_look(stale)
        self._headline.setEnabled(not stale)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refresh()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
        elif event.type() == QEvent.Type.PaletteChange:
            self._button.setIcon(three_dots(colours_of(self.palette()).pick("muted")))

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("rule"), 1.0))
            painter.setBrush(colours.pick("surface"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), CORNER_PX, CORNER_PX)

    def _make_button(self) -> QToolButton:
        button = QToolButton(self)
        button.setAutoRaise(True)
        button.setIcon(three_dots(colours_of(self.palette()).pick("muted")))
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(self.chart.menu())
        button.setAccessibleName(self.tr("Chart menu: {name}").format(name=self.chart.accessibleName()))
        button.setToolTip(self.tr("Copy, save or show as a table"))
        return button

    def _make_table(self) -> QTableView:
        table = QTableView(self)
        table.setModel(self._model)
        table.setAccessibleName(self.tr("{name}, as a table").format(name=self.chart.accessibleName()))
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setAlternatingRowColors(True)
        table.setShowGrid(False)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        table.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        table.customContextMenuRequested.connect(self._menu_at)
        return table

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self._headline, 1)
        top.addWidget(self._button, 0, Qt.AlignmentFlag.AlignTop)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(12, 8, 8, 8)
        lines.setSpacing(4)
        lines.addLayout(top)
        lines.addWidget(self._stack, 1)
        lines.addWidget(self._strip)

    def _refont(self) -> None:
        self._headline.setFont(headline_font(self.font()))
        self._numbers.verticalHeader().setDefaultSectionSize(round(1.7 * self.fontMetrics().height()))

    def _refresh(self) -> None:
        if not self.isVisible():
            return
        self._headline.setText(self.chart.headline())
        self._strip.refresh()
        if self.shows_table and self.chart.has_data:
            self._model.show_table(self.chart.table())

    def _turn(self) -> None:
        self.show_table(not self.shows_table)

    def _menu_at(self, where: object) -> None:
        self.chart.menu().popup(self._numbers.viewport().mapToGlobal(where))  # type: ignore[call-overload]


class ReadingStrip(QWidget):
    """Below a chart: its key, and while a point is read the figures there beside the same samples."""

    def __init__(self, chart: Chart, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._chart = chart
        self._names: list[str] = []
        self._sized = False
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(self.tr("Reading"))
        chart.reading_changed.connect(self._read)

    def text(self) -> str:
        """The reading in words; with nothing to read, how to read."""
        return self._chart.reading() or self.tr("Point or press arrow keys to read.")

    def refresh(self) -> None:
        """Take the key again, and other room where it changed; digits that change ask for none."""
        names = [words for _, words in self._chart.key_entries()]
        if names != self._names or not self._sized:
            self._names, self._sized = names, self._readable()
            self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(120, self.heightForWidth(max(self.width(), 120)))

    def heightForWidth(self, width: int) -> int:
        # Room for a reading is kept while there is none, so that the chart does not jump under the pointer.
        shown = [self._idle(), self._chart.reading_entries(0)] if self._readable() else [self._idle()]
        metrics = QFontMetricsF(small_font(self.font()))
        return round(max(keys_height(entries, width - 2 * SIDE_PX, metrics) for entries in shown))

    def paintEvent(self, event: QPaintEvent) -> None:
        row = self._chart.row_read
        entries = self._idle() if row is None else self._chart.reading_entries(row)
        token = "ink" if row is not None or self._chart.key_entries() else "muted"
        with QPainter(self) as painter:
            painter.setFont(small_font(self.font()))
            colours = colours_of(self.palette())
            paint_keys(
                painter, QRectF(self.rect()).adjusted(SIDE_PX, 0.0, -SIDE_PX, 0.0), entries, colours, token
            )

    def _readable(self) -> bool:
        return self._chart.has_data and len(self._chart.table()) > 0

    def _idle(self) -> list[Entry]:
        return self._chart.key_entries() or [(None, self.text())]

    def _read(self) -> None:
        self.setAccessibleDescription(self.text())
        self.update()


def three_dots(colour: QColor) -> QIcon:
    """The mark of a button that opens a menu of further commands."""
    icon = QIcon()
    for scale in (1.0, 1.5, 2.0, 3.0):
        pixmap = QPixmap(round(16 * scale), round(16 * scale))
        pixmap.setDevicePixelRatio(scale)
        pixmap.fill(Qt.GlobalColor.transparent)
        with QPainter(pixmap) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour)
            for x in (3.0, 8.0, 13.0):
                painter.drawEllipse(QPointF(x, 8.0), 1.5, 1.5)
        icon.addPixmap(pixmap)
    return icon
