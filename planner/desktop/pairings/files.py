"""The pairs on the clipboard and in a file."""

from __future__ import annotations

from PySide6.QtCore import QLocale, QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.pairings.model import PairsModel
from planner.desktop.pairings.numbers import SaveError, as_csv, as_grid, filters, save

__all__ = ["PairsFiles"]


class PairsFiles(QObject):
    """Copies and saves what a model shows; ``told`` brings a sentence to show."""

    told = Signal(str)

    def __init__(self, window: QWidget, document: PlanDocument, model: PairsModel) -> None:
        super().__init__(window)
        self._window, self._document, self._model = window, document, model
        self._decimal_comma = False

    def copy(self) -> None:
        """Put the grid on the clipboard, for a spreadsheet of the reader's own locale."""
        if self._model.rowCount():
            QGuiApplication.clipboard().setText(as_grid(self._model, QLocale.system().decimalPoint()))
            self.told.emit(self.tr("The grid is on the clipboard."))

    def ask_where(self) -> None:
        """Let a person choose the file to write."""
        dialog = QFileDialog(self._window, self.tr("Save every pairing"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setNameFilters(list(filters()))
        dialog.setDefaultSuffix("csv")
        dialog.selectFile(self.tr("pairings"))
        dialog.filterSelected.connect(self._take_filter)
        dialog.fileSelected.connect(self.write)
        self._decimal_comma = False
        dialog.open()

    def write(self, path: str) -> None:
        """Write every pair that is shown."""
        try:
            save(path, as_csv(self._model, self._document.plan, self._decimal_comma))
        except SaveError as fault:
            self.told.emit(str(fault))
        else:
            self.told.emit(self.tr("Every pair that is shown is in {0}.").format(path))

    def _take_filter(self, chosen: str) -> None:
        self._decimal_comma = filters().get(chosen, False)
