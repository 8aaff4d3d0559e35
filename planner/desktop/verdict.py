"""The verdict band: the answer at one seat as a mark, a word, a sentence and the figures that matter."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPalette, QPen, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.theme import (
    Colours,
    colours_of,
    headline_font,
    small_font,
    title_font,
    verdict_icon,
    verdict_word,
)
from planner.desktop.window.cautions import Cautions, caution_texts
from planner.desktop.window.chooser import Chooser
from planner.desktop.window.figure import headline_figures, plain_label
from planner.headroom.outcome import SeatOutcome
from planner.report.words import asked_text, limit_text, verdict_sentence, watts_text

__all__ = ["VerdictBand"]

MARK_LINES = 2.4


class VerdictBand(QWidget):
    """Says at once whether the system looked at makes the peaks at the seat looked at."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._marked: tuple[object, ...] = ()
        self.setAccessibleName(self.tr("Verdict"))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.mark = QLabel()
        self.word = plain_label()
        self.sentence = plain_label(wrap=True)
        self.asked = plain_label(wrap=True)
        self.asked.setToolTip(
            self.tr("What the answer holds for; the length of a peak tells how far the room builds up")
        )
        self.cautions = Cautions()
        self._said = QWidget()
        self.candidates = Chooser(
            self.tr("Candidate looked at"), self.tr("Which candidate the verdict and the charts show")
        )
        self.seats = Chooser(self.tr("Seat looked at"), self.tr("Which seat the verdict and the charts show"))
        self.figures = headline_figures(self)
        self._lay_out()
        self._refont()
        self.candidates.activated.connect(self._choose_candidate)
        self.seats.activated.connect(self._choose_seat)
        document.edited.connect(self._pull_names)
        document.solved.connect(self._refresh)
        document.chosen.connect(self._refresh)
        self._pull_names()
        self._refresh()

    def add_certainty(self, line: QWidget) -> None:
        """Have *line* say below the sentence how sure it is."""
        self.cautions.put_beside(line)

    def _lay_out(self) -> None:
        choosers = QHBoxLayout()
        choosers.setSpacing(6)
        for text, box in ((self.tr("&Candidate"), self.candidates), (self.tr("Se&at"), self.seats)):
            label = QLabel(text)
            label.setBuddy(box)
            choosers.addWidget(label)
            choosers.addWidget(box)
            choosers.addSpacing(6)
        top = QHBoxLayout()
        top.setSpacing(12)
        top.addWidget(self.word, 1)
        top.addLayout(choosers)
        words = QVBoxLayout()
        words.setSpacing(1)
        words.addLayout(top)
        words.addWidget(self._said)
        said = QVBoxLayout(self._said)
        said.setContentsMargins(0, 0, 0, 0)
        said.setSpacing(1)
        said.addWidget(self.sentence)
        said.addWidget(self.asked)
        said.addWidget(self.cautions)
        said.addStretch(1)
        answer = QHBoxLayout()
        answer.setSpacing(12)
        answer.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        answer.addLayout(words, 1)
        tiles = QHBoxLayout()
        tiles.setSpacing(28)
        for figure in self.figures.values():
            tiles.addWidget(figure, 1 if figure.wraps else 0)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 6, 8, 4)
        whole.setSpacing(4)
        whole.addLayout(answer)
        whole.addLayout(tiles)

    def _choose_candidate(self, index: int) -> None:
        self._document.choose(candidate=index)

    def _choose_seat(self, index: int) -> None:
        self._document.choose(seat=index)

    def _pull_names(self) -> None:
        plan = self._document.plan
        self.candidates.offer([one.name for one in plan.candidates], self._document.candidate)
        self.seats.offer([seat.name for seat in plan.seats], self._document.seat)

    def _refresh(self) -> None:
        self._pull_names()
        seat = self._seat()
        if seat is None:
            self._show_nothing()
        else:
            self._show(seat)
        self._mark_verdicts()
        self._tint()

    def _seat(self) -> SeatOutcome | None:
        """The answer at the seat looked at; of an earlier plan, if the present one cannot be computed."""
        outcome = self._document.outcome
        if outcome is None:
            return None
        return outcome.seats[min(self._document.seat, len(outcome.seats) - 1)]

    def _show_nothing(self) -> None:
        self.word.setText(self.tr("No answer yet"))
        self.asked.clear()
        self.cautions.show_texts([])
        self.sentence.setText(self.tr("Parts of the plan contradict one another; mend what is listed below."))
        for figure in self.figures.values():
            figure.show_value("–")

    def _show(self, seat: SeatOutcome) -> None:
        outcome = self._document.outcome
        assert outcome is not None
        words = verdict_sentence(outcome, seat)
        if self._document.stale:
            self.word.setText(self.tr("Out of date"))
            words = self.tr("The last answer there was: {0}").format(words)
        else:
            self.word.setText(verdict_word(seat.verdict))
        self.sentence.setText(words)
        self.asked.setText("" if self._document.stale else asked_text(self._document.shown))
        self.cautions.show_texts([] if self._document.stale else caution_texts(outcome, seat))
        needed, rated = watts_text(seat.watts_needed), watts_text(seat.watts_rated)
        self.figures["watts"].show_value(self.tr("{needed} of {rated}").format(needed=needed, rated=rated))
        self.figures["headroom"].show_value(f"{seat.headroom_db:+.1f} dB".replace("-", "−"))
        self.figures["peak"].show_value(f"{seat.loudest_peak_db:.1f} dB")
        self.figures["limit"].show_value(_capital(limit_text(seat.first_limit)))

    def _mark_verdicts(self) -> None:
        """Put each candidate's and each seat's own mark beside its name in the choosers."""
        outcome, stale = self._document.outcome, self._document.stale
        if outcome is None or stale:
            self.candidates.mark([], self._colours())
            self.seats.mark([], self._colours())
        else:
            self.candidates.mark([one.verdict for one in self._document.outcomes], self._colours())
            self.seats.mark([seat.verdict for seat in outcome.seats], self._colours())

    def _tint(self) -> None:
        """Mark and word in the colour of the verdict; all of it muted where it is out of date."""
        colours, seat = self._colours(), self._seat()
        quiet = seat is None or self._document.stale
        verdict = None if seat is None or quiet else seat.verdict
        look = (verdict, quiet, colours, self.mark.width())
        if look == self._marked:
            return
        self._marked = look
        side, scale = self.mark.width(), self.devicePixelRatioF()
        icon = verdict_icon(verdict, colours, side) if verdict else None
        self.mark.setPixmap(
            icon.pixmap(QSize(side, side), scale) if icon else _no_verdict(side, scale, colours)
        )
        _ink(self.word, colours, verdict or "muted")
        for label in (self.sentence, *(figure.value for figure in self.figures.values())):
            _ink(label, colours, "muted" if quiet else "ink")

    def _colours(self) -> Colours:
        return colours_of(self.palette())

    def _refont(self) -> None:
        base = self.font()
        self.word.setFont(title_font(base))
        self.sentence.setFont(headline_font(base))
        self.asked.setFont(small_font(base))
        self.asked.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        # Room for two lines is kept, so that the charts do not jump while the sentence grows and shrinks.
        large, small = (QFontMetricsF(font(base)).lineSpacing() for font in (headline_font, small_font))
        self._said.setMinimumHeight(ceil(2.0 * (large + small)) + 6)
        side = round(MARK_LINES * QFontMetricsF(title_font(base)).height())
        self.mark.setFixedSize(side, side)
        for figure in self.figures.values():
            figure.refont(base)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._mark_verdicts()
            self._tint()


def _no_verdict(side: int, scale: float, colours: Colours) -> QPixmap:
    """An empty ring with an exclamation mark: there is no verdict, and something to mend."""
    pixmap = QPixmap(round(side * scale), round(side * scale))
    pixmap.setDevicePixelRatio(scale)
    pixmap.fill(Qt.GlobalColor.transparent)
    with QPainter(pixmap) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(side / 2.0, side / 2.0)
        painter.scale(side / 16.0, side / 16.0)
        painter.setPen(QPen(colours.pick("muted"), 1.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawEllipse(QPointF(0.0, 0.0), 6.8, 6.8)
        painter.drawLine(QPointF(0.0, -3.4), QPointF(0.0, 0.8))
        painter.drawPoint(QPointF(0.0, 3.4))
    return pixmap


def _ink(label: QLabel, colours: Colours, token: str) -> None:
    # A palette of its own would be lost whenever the program is dressed anew; a rule of its own stays.
    label.setStyleSheet(f"color: {colours.pick(token).name()};")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
