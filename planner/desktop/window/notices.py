"""A quiet strip for what must be said without holding anybody up."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QStyle,
    QWidget,
)

from planner.desktop.settings import settings

__all__ = ["BusyNotice", "Notice", "StartHere", "TroubleNotice"]


class Notice(QFrame):
    """One message with buttons beside it; hidden until there is something to say."""

    def __init__(self, symbol: QStyle.StandardPixmap, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.AlternateBase)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        mark = QLabel()
        mark.setPixmap(self.style().standardIcon(symbol).pixmap(QSize(18, 18)))
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(10, 4, 6, 4)
        self._row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        self._row.addWidget(self.message, 1)
        self.hide()

    def offer(self, text: str, tip: str, does: Callable[[], object]) -> QPushButton:
        """Put one more button beside the message."""
        button = QPushButton(text)
        button.setToolTip(tip)
        button.clicked.connect(does)
        self._row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        return button

    def say(self, message: str) -> None:
        """Show the strip with this message."""
        self.message.setText(message)
        self.show()


class TroubleNotice(Notice):
    """Tells of a fault of the program itself; the plan stays as it is and can be saved."""

    def __init__(self, save: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(QStyle.StandardPixmap.SP_MessageBoxWarning, parent)
        self.setAccessibleName(self.tr("Trouble"))
        self._details = ""
        self._times = 0
        self.copy_button = self.offer(
            self.tr("Copy &Details"), self.tr("Put what happened on the clipboard, to report it"), self._copy
        )
        self.save_button = self.offer(
            self.tr("Save the &Plan"), self.tr("Save the plan as it now stands"), save
        )
        self.hide_button = self.offer(self.tr("H&ide"), self.tr("Hide this message"), self._put_away)

    def tell(self, summary: str, details: str) -> None:
        """Show what went wrong; the same again only counts."""
        same = details == self._details and not self.isHidden()
        self._times = self._times + 1 if same else 1
        self._details = details
        again = self.tr(" ({0} times)").format(self._times) if self._times > 1 else ""
        self.say(
            self.tr("Something went wrong in the program: {0}{1}. Your plan is kept as it is.").format(
                summary, again
            )
        )

    def _copy(self) -> None:
        QApplication.clipboard().setText(self._details)

    def _put_away(self) -> None:
        self.hide()


class BusyNotice(Notice):
    """Says what is being worked out beside the window, and can stop it."""

    def __init__(self, cancel: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(QStyle.StandardPixmap.SP_MessageBoxInformation, parent)
        self.setAccessibleName(self.tr("At work"))
        self.progress = QProgressBar()
        self.progress.setAccessibleName(self.tr("Progress"))
        self.progress.setRange(0, 0)
        self.progress.setTextVisible(False)
        self._row.addWidget(self.progress, 0, Qt.AlignmentFlag.AlignVCenter)
        self.cancel_button = self.offer(self.tr("Cance&l"), self.tr("Give up this work"), cancel)


class StartHere(Notice):
    """Says on the first day what is to be seen, until it is put away."""

    def __init__(self, new: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(QStyle.StandardPixmap.SP_MessageBoxInformation, parent)
        self.setAccessibleName(self.tr("Start here"))
        self.new_button = self.offer(self.tr("&New Plan…"), self.tr("Begin with a typical room"), new)
        self.hide_button = self.offer(self.tr("H&ide"), self.tr("Do not show this again"), self._put_away)

    def greet(self) -> None:
        """Show the strip, unless it was once put away."""
        if settings().value("greeted") is None:
            self.say(
                self.tr(
                    "A finished sample room: change any number, drag a seat, and watch the answer follow."
                )
            )

    def _put_away(self) -> None:
        settings().keep("greeted", "yes")
        self.hide()
