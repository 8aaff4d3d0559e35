"""A button that asks for a file with a measured table and shows what it would be at one place of the plan."""

from __future__ import annotations

from PySide6.QtWidgets import QFileDialog, QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.fields import Place
from planner.report.language import tr

__all__ = ["TableButton"]


class TableButton(QPushButton):
    """Asks for the file; the dialog that follows previews it, and the plan changes only there."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(tr("Measured, from a File…"))
        self.setToolTip(tr("Read a table of text: frequency with dB, or with ohm and degrees"))
        self._document, self._place = document, place
        self.dialog: QFileDialog | None = None
        self.clicked.connect(self._ask)

    def show_file(self, path: str) -> None:
        """Show what the table of a file would be here."""
        from planner.desktop.measured.table_dialog import TableDialog

        TableDialog(self._document, path, self.window(), place=self._place.path).open()

    def _ask(self) -> None:
        self.dialog = QFileDialog(self.window(), tr("A Measured Table"))
        self.dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        self.dialog.setNameFilter(tr("Tables of text (*.txt *.csv *.tsv *.dat *.asc);;All files (*)"))
        self.dialog.fileSelected.connect(self.show_file)
        self.dialog.open()
