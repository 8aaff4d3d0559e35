"""One tap of an amplifier as a button: its rating, the headroom it would leave, and whether it is in use."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QEnterEvent, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from planner.desktop.charts.figures import significant
from planner.desktop.charts.seat_panel import signed, watts_text
from planner.desktop.theme import Colours, colours_of, paint_verdict, small_font, verdict_word
from planner.headroom.outcome import verdict_of
from planner.headroom.taps import Tap

__all__ = ["TapTile", "ohm_text"]

PAD_PX, GAP_PX, CORNER_PX = 8.0, 6.0, 5.0
TINT = 0.10
WIDEST, NARROWEST = "16 Ω   −00.0 dB", "16 Ω"


class TapTile(QAbstractButton):
    """Press it to use the tap; the one in use stands in a frame of the accent."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.ohm = 0.0
        self._verdict, self._headroom, self._rating = "clears", "", ""

    def show_tap(self, tap: Tap, seat: int, *, in_use: bool, by_rule: bool) -> None:
        """Show what a tap would give at a seat."""
        self.ohm, headroom_db = tap.ohm, float(tap.headroom_db[seat])
        self._verdict, self._headroom = verdict_of(headroom_db), signed(headroom_db)
        self._rating = self.tr("{watts} at {distortion} %").format(
            watts=watts_text(tap.rating.watts), distortion=significant(tap.rating.distortion_pct)
        )
        self.setText(ohm_text(tap.ohm))
        self.setChecked(in_use)
        self._describe(tap, by_rule)
        self.updateGeometry()
        self.update()

    def nextCheckState(self) -> None:
        # What is in use follows the plan, not the press.
        self.update()

    def _describe(self, tap: Tap, by_rule: bool) -> None:
        use = self.tr("The {ohm} tap is in use") if self.isChecked() else self.tr("Use the {ohm} tap")
        parts = [
            self.tr("{rating}, output impedance {output} Ω").format(
                rating=self._rating, output=significant(tap.rating.output_ohm)
            ),
            self.tr("headroom {headroom} dB, {verdict}").format(
                headroom=self._headroom, verdict=verdict_word(self._verdict).lower()
            ),
        ]
        if by_rule:
            parts.append(self.tr("the rule takes this one"))
        if not tap.counts:
            parts.append(self.tr("all its ratings lie above the distortion asked for"))
        self.setAccessibleName(use.format(ohm=self.text()))
        self.setAccessibleDescription("; ".join(parts))
        self.setToolTip("\n".join((self.accessibleName(), *parts)))

    def sizeHint(self) -> QSize:
        lines = self._strong().height() + QFontMetricsF(small_font(self.font())).height()
        wide = max(
            self._strong().horizontalAdvance(WIDEST),
            QFontMetricsF(small_font(self.font())).horizontalAdvance(self._rating),
        )
        return QSize(round(wide + 2.0 * PAD_PX + GAP_PX + self._mark_px()), round(lines + 1.2 * PAD_PX))

    def minimumSizeHint(self) -> QSize:
        narrow = self._strong().horizontalAdvance(NARROWEST) + self._mark_px() + 3.0 * PAD_PX
        return QSize(round(narrow), self.sizeHint().height())

    def _strong(self) -> QFontMetricsF:
        return QFontMetricsF(self._strong_font())

    def _strong_font(self) -> QFont:
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        return font

    def _mark_px(self) -> float:
        return 0.9 * QFontMetricsF(self.font()).height()

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_frame(painter, colours)
            room = QRectF(self.rect()).adjusted(PAD_PX, 0.6 * PAD_PX, -PAD_PX, -0.6 * PAD_PX)
            above = QRectF(room.left(), room.top(), room.width(), self._strong().height())
            self._paint_above(painter, above, colours)
            painter.setFont(small_font(self.font()))
            painter.setPen(colours.pick("muted" if self.isEnabled() else "edge"))
            below = QRectF(room.left(), above.bottom(), room.width(), room.bottom() - above.bottom())
            self._write(painter, below, self._rating, Qt.AlignmentFlag.AlignLeft)

    def _paint_frame(self, painter: QPainter, colours: Colours) -> None:
        strong = self.isChecked() or self.hasFocus()
        line = 2.0 if strong else 1.0
        inset = line / 2.0
        painter.setPen(QPen(colours.pick("accent" if strong else "edge"), line))
        if self.isChecked():
            painter.setBrush(colours.pick("accent", TINT))
        else:
            painter.setBrush(colours.pick("grid" if self.underMouse() and self.isEnabled() else "raised"))
        painter.drawRoundedRect(
            QRectF(self.rect()).adjusted(inset, inset, -inset, -inset), CORNER_PX, CORNER_PX
        )

    def _paint_above(self, painter: QPainter, room: QRectF, colours: Colours) -> None:
        side = self._mark_px()
        paint_verdict(
            painter, QRectF(room.left(), room.center().y() - side / 2.0, side, side), self._verdict, colours
        )
        painter.setFont(self._strong_font())
        painter.setPen(colours.pick("ink" if self.isEnabled() else "edge"))
        words = room.adjusted(side + GAP_PX, 0.0, 0.0, 0.0)
        self._write(painter, words, self.text(), Qt.AlignmentFlag.AlignLeft)
        painter.setFont(self.font())
        free = words.width() - self._strong().horizontalAdvance(self.text()) - GAP_PX
        text = self.tr("{headroom} dB").format(headroom=self._headroom)
        if QFontMetricsF(self.font()).horizontalAdvance(text) <= free:
            self._write(painter, words, text, Qt.AlignmentFlag.AlignRight)

    @staticmethod
    def _write(painter: QPainter, room: QRectF, text: str, side: Qt.AlignmentFlag) -> None:
        shown = QFontMetricsF(painter.font()).elidedText(
            text, Qt.TextElideMode.ElideRight, room.width() + 1.0
        )
        painter.drawText(room, side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, shown)


def ohm_text(ohm: float) -> str:
    """A tap by its load."""
    return f"{significant(ohm)} Ω"
