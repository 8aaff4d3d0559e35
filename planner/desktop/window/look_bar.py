"""The slim bar under the ladder that chooses which panels are looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QTabBar, QWidget

from planner.desktop.theme import small_font
from planner.desktop.window.panels import LOOKS

if TYPE_CHECKING:
    from planner.desktop.window.looks import Looks

__all__ = ["LookBar"]


class LookBar(QWidget):
    """One tab for each look, and beside them the question that the chosen one answers."""

    def __init__(self, looks: Looks, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._looks = looks
        self.tabs = self._made_tabs()
        self.question = QLabel()
        self.question.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        # Where there is no space for the question, the tabs go on saying it as a tip.
        self.question.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 8, 0)
        line.setSpacing(10)
        line.addWidget(self.tabs)
        line.addWidget(self.question, 1)
        self._refont()
        self.tabs.currentChanged.connect(self._choose)
        looks.changed.connect(self._follow)
        self._follow()

    def _made_tabs(self) -> QTabBar:
        tabs = QTabBar()
        tabs.setObjectName("looks")
        tabs.setAccessibleName(self.tr("Look"))
        tabs.setDrawBase(False)
        tabs.setExpanding(False)
        tabs.setUsesScrollButtons(False)
        tabs.setElideMode(Qt.TextElideMode.ElideNone)
        for look in LOOKS:
            index = tabs.addTab(look.title.replace("&", ""))
            tabs.setTabToolTip(index, f"{look.tip} ({self._looks.actions[look.name].shortcut().toString()})")
            tabs.setTabWhatsThis(index, look.tip)
        return tabs

    def _choose(self, index: int) -> None:
        self._looks.choose(LOOKS[index].name)

    def _follow(self) -> None:
        index = [look.name for look in LOOKS].index(self._looks.current)
        self.tabs.setCurrentIndex(index)
        self.question.setText(LOOKS[index].tip)

    def _refont(self) -> None:
        self.question.setFont(small_font(self.font()))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
