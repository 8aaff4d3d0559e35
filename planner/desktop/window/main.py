"""The main window: the verdict and the ladder in the middle, everything else around them in docks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.verdict import VerdictBand
from planner.desktop.window.charts import Charts
from planner.desktop.window.clipboard import Clipboard
from planner.desktop.window.commands import Commands
from planner.desktop.window.docks import MIDDLE, Docks
from planner.desktop.window.exports import Exports
from planner.desktop.window.files import Files
from planner.desktop.window.findings import FindingsStrip, finding_text
from planner.desktop.window.look_bar import LookBar
from planner.desktop.window.looks import Looks
from planner.desktop.window.menus import Menus
from planner.desktop.window.notices import BusyNotice, StartHere, TroubleNotice
from planner.desktop.window.panels import ALWAYS, PANELS, BuiltInTurns, Factory, TakesOffers
from planner.desktop.window.place import keep_place, restore_place
from planner.desktop.window.questions import Questions
from planner.desktop.window.recovery import Recovery, RecoveryNotice
from planner.desktop.window.reports import Reports
from planner.plan import Finding

__all__ = ["MainWindow"]

EDGE_PX = 4


class MainWindow(QMainWindow):
    """One document in one window.

    What a person types into is there at once; the charts bring a slow library with them and are made
    after the first paint, one in each turn of the event loop, and not before they are in sight.
    """

    def __init__(self, document: PlanDocument, panels: Mapping[str, Factory] = PANELS) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(True)
        self.document = document
        self._panels = panels
        self._painted = self._late = False
        self._middle: QWidget | None = None
        self._make_soon = QTimer(self, singleShot=True, interval=0)
        self._make_soon.timeout.connect(self._make_next)
        self.questions = Questions(self)
        self.files = Files(self)
        self.exports = Exports(self)
        self.clipboard = Clipboard(self)
        self.charts = Charts(self)
        self.commands = Commands(self)
        self.reports = Reports(self)
        self.docks = Docks(self)
        self.looks = Looks(self)
        self.trouble = TroubleNotice(self.files.save)
        self.start_here = StartHere(self.files.new)
        self.busy = BusyNotice(self.reports.cancel)
        self.recovery = Recovery(self)
        self.recovery_notice = RecoveryNotice(self)
        self.verdict = VerdictBand(document)
        self.findings = FindingsStrip(document)
        self._lines = self._made_middle()
        self.docks.fill(ALWAYS, panels)
        self.docks.wanted.connect(self._want_panels)
        editors = self.docks.all[ALWAYS].panel
        if isinstance(editors, TakesOffers):
            editors.offer_catalogue(self.commands.take_from_catalogue)
        self.menus = Menus(self)
        self.clipboard.refresh()
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self.clipboard.follow)
        application.focusChanged.connect(self.charts.follow)
        self.files.moved.connect(self._retitle)
        document.edited.connect(self._retitle)
        document.history.cleanChanged.connect(self._retitle)
        self._retitle()

    def _made_middle(self) -> QVBoxLayout:
        middle = QWidget()
        lines = QVBoxLayout(middle)
        lines.setContentsMargins(0, 0, EDGE_PX, 0)
        lines.setSpacing(2)
        notices = (self.trouble, self.recovery_notice, self.start_here, self.busy)
        for strip in (*notices, self.verdict, self.findings):
            lines.addWidget(strip)
        lines.addStretch(1)
        lines.addWidget(LookBar(self.looks))
        self.setCentralWidget(middle)
        return lines

    # What others tell the window.

    def take_place(self, number: int) -> None:
        """Stand where the last window stood, the *number*-th a step further down."""
        restore_place(self, number)
        self.looks.restore()
        # Nobody has chosen a field yet, so none takes what is typed; Tab goes to the first.
        self.setFocus()

    def come_forward(self) -> None:
        """Show this window before the others."""
        if self.isMinimized():
            self.showNormal()
        self.raise_()
        self.activateWindow()

    def tell(self, heading: str, text: str) -> None:
        """Say what could not be done, and why."""
        from planner.desktop.window.dialogs import TextDialog

        TextDialog(self.tr("Few Watts"), heading, text, self).open()

    def tell_findings(self, heading: str, findings: Iterable[Finding]) -> None:
        """Say what could not be done, with every finding that stands in the way."""
        self.tell(heading, "\n\n".join(finding_text(one) for one in findings))

    @property
    def is_complete(self) -> bool:
        """Whether every panel in sight is there."""
        return self._painted and self._middle is not None and self.docks.next_unmade() is None

    def make_panels(self) -> None:
        """Make at once every panel of every look."""
        self._make_soon.stop()
        self._make_middle()
        for name in self.docks.all:
            self.docks.fill(name, self._panels)
        self._make_late()
        while self._build_next():
            continue

    # What the menu calls.

    def quit(self) -> None:
        """Close every window, each after its own question."""
        QApplication.closeAllWindows()

    def toggle_full_screen(self) -> None:
        """Fill the screen, or stop doing so."""
        self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)

    # Inside.

    def _want_panels(self) -> None:
        if self._painted:
            self._make_soon.start()

    def _make_next(self) -> None:
        """Make one panel, or what else can wait until all in sight are there, and the next one soon."""
        name = MIDDLE if self._middle is None else self.docks.next_unmade()
        if name == MIDDLE:
            self._make_middle()
        elif name is not None:
            self.docks.fill(name, self._panels)
        elif not self._late:
            self._make_late()
        elif not self._build_next():
            return
        self._make_soon.start()

    def _build_next(self) -> bool:
        """Build more of the editors; whether there is more yet."""
        editors = self.docks.all[ALWAYS].panel
        return isinstance(editors, BuiltInTurns) and editors.build_next()

    def _make_middle(self) -> None:
        if self._middle is None:
            self._middle = self._panels[MIDDLE](self.document, self)
            place = self._lines.count() - 2
            self._lines.takeAt(place)
            self._lines.insertWidget(place, self._middle, 1)

    def _make_late(self) -> None:
        """Add to the verdict what takes a while: how sure it is, and what says that it is a preview."""
        if self._late:
            return
        from planner.desktop.certainty import CertaintyLine
        from planner.desktop.ways import PreviewStrip

        self._late = True
        self.verdict.add_certainty(CertaintyLine(self.document))
        self._lines.insertWidget(self._lines.indexOf(self.verdict), PreviewStrip(self.document))

    def _retitle(self) -> None:
        self.setWindowFilePath(str(self.files.path or ""))
        self.setWindowTitle(self.tr("{0}[*] — Few Watts").format(self.files.name))
        self.setWindowModified(not self.document.history.isClean())

    # Qt's own.

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            self._make_soon.start()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.looks.follow_width()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _local_files(event):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.commands.take_files(_local_files(event))

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.may_close():
            event.ignore()
            return
        keep_place(self)
        self.looks.keep()
        self.recovery.drop()
        event.accept()


def _local_files(event: QDropEvent) -> list[Path]:
    return [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
