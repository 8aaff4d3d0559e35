"""A table on the clipboard or as a CSV file."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QIODevice, QLocale, QSaveFile
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from planner.desktop.charts.table import Table, to_csv, to_tsv

__all__ = ["TableDialog", "copy_table", "save_table"]


def copy_table(table: Table) -> None:
    """Put a table on the clipboard, for a spreadsheet of the reader's own locale."""
    QGuiApplication.clipboard().setText(to_tsv(table, QLocale().decimalPoint()))


def save_table(table: Table, path: str, *, decimal_comma: bool = False) -> str:
    """Save a table as CSV, whole or not at all; gives what stood in the way, nothing if nothing did."""
    data = to_csv(table, decimal_comma=decimal_comma).encode()
    file = QSaveFile(path)
    opened = file.open(QIODevice.OpenModeFlag.WriteOnly)
    if opened and file.write(data) == len(data) and file.commit():
        return ""
    return str(file.errorString())


class TableDialog(QFileDialog):
    """Asks where to save a table, and saves it."""

    def __init__(self, table: Table, name: str, parent: QWidget) -> None:
        super().__init__(parent, QCoreApplication.translate("TableDialog", "Save the table"))
        self._table = table
        self.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        self.setDefaultSuffix("csv")
        self._comma = self.tr("CSV table, decimal commas and semicolons (*.csv)")
        self.setNameFilters([self.tr("CSV table, decimal points (*.csv)"), self._comma])
        self.selectFile(name)
        self.fileSelected.connect(self.save_to)
        self.finished.connect(self.deleteLater)

    def save_to(self, path: str) -> None:
        """Save the table as the chosen kind; a fault is told, nothing is half written."""
        fault = save_table(self._table, path, decimal_comma=self.selectedNameFilter() == self._comma)
        if fault:
            text = self.tr("“{path}” cannot be written: {fault}. Choose a folder that you may write to.")
            message = text.format(path=path, fault=fault)
            box = QMessageBox(
                QMessageBox.Icon.Warning, self.windowTitle(), message, parent=self.parentWidget()
            )
            box.finished.connect(box.deleteLater)
            box.open()
