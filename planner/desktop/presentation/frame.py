"""What stands where in the presentation's window, and how large it is."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from planner.desktop.presentation.buttons import Dots, Turn
from planner.desktop.presentation.look import Look, look_for
from planner.desktop.presentation.picture import Picture
from planner.desktop.presentation.slider import BigSlider

__all__ = ["Frame"]

EDGE_PX, GAP_PX = 34.0, 10.0
TURN_WIDE_PX, TURN_TALL_PX = 150.0, 46.0
SENTENCE_LINES = 2.05


class Frame(QWidget):
    """Question and answer over a picture, the slider under it, and the buttons that turn the page."""

    def __init__(self, questions: list[str], parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        look = self.look()
        self.who, self.question, self.sentence, self.tries, self.value, self.note, self.keys = (
            QLabel(self) for _ in range(7)
        )
        self.picture = Picture(look, self)
        self.slider = BigSlider(look, self)
        self.reset = Turn(self.tr("&Back to the plan as it is"), self)
        self.back = Turn(self.tr("‹ &Previous"), self)
        self.dots = Dots(questions, look, self)
        self.onward = Turn(self.tr("&Next ›"), self)
        self.leave = Turn(self.tr("&Leave"), self)
        self._whole = QVBoxLayout(self)
        self._set_texts()
        self._lay_out()
        self.dress()

    def look(self) -> Look:
        """Sizes and colours that belong to the window as it is."""
        dots_per_inch = self.logicalDpiY()
        return look_for(self.width(), self.height(), self.palette(), QApplication.font(), dots_per_inch)

    def _set_texts(self) -> None:
        for label in (self.who, self.question, self.sentence, self.value, self.note, self.keys):
            label.setTextFormat(Qt.TextFormat.PlainText)
        for label in (self.who, self.question, self.sentence, self.tries, self.note):
            label.setWordWrap(True)
        for label in (self.who, self.note, self.keys):
            label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.tries.setBuddy(self.slider)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.who, 1)
        top.addWidget(self.leave)
        whole = self._whole
        whole.addLayout(top)
        whole.addWidget(self.question)
        whole.addWidget(self.sentence)
        whole.addWidget(self.picture, 1)
        whole.addLayout(self._trial())
        whole.addWidget(self.note)
        whole.addLayout(self._turns())

    def _trial(self) -> QGridLayout:
        trial = QGridLayout()
        trial.addWidget(self.tries, 0, 0)
        trial.addWidget(self.value, 0, 1, Qt.AlignmentFlag.AlignRight)
        trial.addWidget(self.slider, 1, 0, 1, 2)
        trial.addWidget(self.reset, 1, 2, Qt.AlignmentFlag.AlignTop)
        trial.setColumnStretch(0, 1)
        return trial

    def _turns(self) -> QHBoxLayout:
        middle = QVBoxLayout()
        for part in (self.dots, self.keys):
            middle.addWidget(part, 0, Qt.AlignmentFlag.AlignHCenter)
        turns = QHBoxLayout()
        turns.addWidget(self.back)
        turns.addStretch(1)
        turns.addLayout(middle)
        turns.addStretch(1)
        turns.addWidget(self.onward)
        return turns

    def dress(self) -> None:
        """Give every text and every gap the size that belongs to the window's."""
        look = self.look()
        kinds = {
            "small": (self.who, self.note, self.keys),
            "body": (self.tries, self.reset, self.leave, self.back, self.onward),
            "answer": (self.sentence, self.value),
            "question": (self.question,),
        }
        for kind, widgets in kinds.items():
            for widget in widgets:
                widget.setFont(look.font(kind, strong=widget is self.value))
        for part in (self.picture, self.slider, self.dots):
            part.show_look(look)
        # Two lines are kept free, so that the picture does not jump while the sentence changes.
        self.sentence.setMinimumHeight(round(SENTENCE_LINES * look.line("answer")))
        for button in (self.back, self.onward):
            button.setMinimumSize(round(look.px(TURN_WIDE_PX)), round(look.px(TURN_TALL_PX)))
        edge = round(look.px(EDGE_PX))
        self._whole.setContentsMargins(edge, round(0.6 * edge), edge, round(0.6 * edge))
        self._whole.setSpacing(round(look.px(GAP_PX)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.ApplicationFontChange):
            self.dress()
