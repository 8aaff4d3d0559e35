"""The chart's own menu: copy, save, show as a table."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QFileDialog, QMenu, QMessageBox

from planner.desktop.charts import export

if TYPE_CHECKING:
    from planner.desktop.charts.base import Chart

__all__ = ["ChartMenu"]


class ChartMenu(QMenu):
    """What can be done with a chart besides reading it."""

    def __init__(self, chart: "Chart") -> None:
        super().__init__(chart)
        self._chart = chart
        self._dialog: QFileDialog | None = None
        self.setAccessibleName(self.tr("Chart menu"))
        self._copies = self.addAction(self.tr("Copy &picture"))
        self._copies.triggered.connect(self._copy_picture)
        self._numbers = self.addAction(self.tr("Copy &numbers"))
        self._numbers.triggered.connect(self._copy_numbers)
        # The chart itself answers these keys; here they are only shown.
        self._numbers.setShortcut(QKeySequence.StandardKey.Copy)
        self._numbers.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self._saves = self.addAction(self.tr("&Save as…"))
        self._saves.triggered.connect(self.ask_where)
        self.addSeparator()
        self.table_action = QAction(self.tr("Show as &table"), self)
        self.table_action.setCheckable(True)
        # Whoever can put a table in the chart's place shows it.
        self.table_action.setVisible(False)
        self.addAction(self.table_action)
        self.table_action.triggered.connect(chart.table_wanted)
        self.aboutToShow.connect(self._refresh)

    def ask_where(self) -> None:
        """Ask for a file and a format, then save."""
        dialog = QFileDialog(self._chart, self.tr("Save the chart"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setNameFilters(list(export.kinds_by_filter()))
        dialog.selectFile(export.file_name(self._chart))
        dialog.filterSelected.connect(self._take_filter)
        dialog.fileSelected.connect(self.save_to)
        self._dialog = dialog
        self._take_filter(dialog.selectedNameFilter())
        dialog.open()

    def save_to(self, path: str) -> None:
        """Save the chart in the format chosen in the dialog; a fault is told, nothing is half written."""
        chosen = self._dialog.selectedNameFilter() if self._dialog is not None else ""
        self._dialog = None
        try:
            export.save(self._chart, path, export.kind_for(path, chosen))
        except export.ExportError as fault:
            self.tell(str(fault))

    def tell(self, message: str) -> None:
        """Show a fault without holding anything up."""
        box = QMessageBox(QMessageBox.Icon.Warning, self.tr("Save the chart"), message, parent=self._chart)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def _take_filter(self, chosen: str) -> None:
        if self._dialog is not None:
            self._dialog.setDefaultSuffix(export.kind_for("", chosen).suffix)

    def _copy_picture(self) -> None:
        self._chart.copy_picture()

    def _copy_numbers(self) -> None:
        self._chart.copy_numbers()

    def _refresh(self) -> None:
        for action in (self._copies, self._numbers, self._saves, self.table_action):
            action.setEnabled(self._chart.has_data)
