"""Which inputs the doubt comes from, as a ranked list of bars beside their tolerances."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.certainty.answer import Sureness
from planner.desktop.settings import settings
from planner.desktop.theme import colours_of, small_font
from planner.plan.units import show
from planner.report.content.doubt import input_word

__all__ = ["DoubtBars", "tolerance_text"]

LEAST_SHARE = 0.005
GAP_PX, BAR_PX = 10.0, 9.0
PITCH = 1.55
FEWEST_ROWS = 5
STALE_OPACITY = 0.4
VCENTRE = Qt.AlignmentFlag.AlignVCenter
UNITS = {"db": "dB", "pct": "%", "m": "m"}


class DoubtBars(QWidget):
    """A row for each input that matters: its name, its tolerance, its share of the doubt."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: list[tuple[str, str, float]] = []
        self.setAccessibleName(self.tr("Where the doubt comes from"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def rows(self) -> list[tuple[str, str, float]]:
        """Name, tolerance and share of each input, the greatest share first."""
        return self._rows

    def show_sureness(self, found: Sureness | None) -> None:
        """Show another answer."""
        doubt = () if found is None else found.sure.doubt
        self._rows = [
            (input_word(key), tolerance_text(found, key), share)
            for key, share in doubt
            if found is not None and share >= LEAST_SHARE
        ]
        said = [f"{name} {tolerance}: {share:.0%}" for name, tolerance, share in self._rows]
        self.setAccessibleDescription("; ".join(said))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(small_font(self.font()))
        rows = max(len(self._rows), FEWEST_ROWS)
        return QSize(round(30 * metrics.height()), round(rows * PITCH * metrics.height()))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.sizeHint().width() // 2, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(small_font(self.font()))
            painter.setOpacity(1.0 if self.isEnabled() else STALE_OPACITY)
            self._paint_rows(painter)

    def _paint_rows(self, painter: QPainter) -> None:
        metrics, colours = QFontMetricsF(painter.font(), self), colours_of(self.palette())
        names_px = max((metrics.horizontalAdvance(name) for name, _, _ in self._rows), default=0.0)
        amounts_px = max((metrics.horizontalAdvance(text) for _, text, _ in self._rows), default=0.0)
        share_px = metrics.horizontalAdvance("100 %")
        bars_left = names_px + amounts_px + 2.0 * GAP_PX
        room_px = max(self.width() - bars_left - share_px - GAP_PX, 20.0)
        most = max((share for _, _, share in self._rows), default=1.0)
        pitch = PITCH * metrics.height()
        for number, (name, tolerance, share) in enumerate(self._rows):
            row = QRectF(0.0, number * pitch, self.width(), pitch)
            bar_px = room_px * share / most
            painter.setPen(colours.pick("ink"))
            painter.drawText(row, VCENTRE, name)
            painter.drawText(
                row.adjusted(bars_left + bar_px + 6.0, 0.0, 0.0, 0.0), VCENTRE, f"{100.0 * share:.0f} %"
            )
            painter.setPen(colours.pick("muted"))
            amounts = QRectF(names_px + GAP_PX, row.top(), amounts_px, pitch)
            painter.drawText(amounts, VCENTRE | Qt.AlignmentFlag.AlignRight, tolerance)
            bar = QRectF(bars_left, row.center().y() - BAR_PX / 2.0, bar_px, BAR_PX)
            painter.fillRect(bar, colours.pick("series 0"))


def tolerance_text(found: Sureness, key: str) -> str:
    """One standard deviation of an input with its unit: ``± 2 dB``, ``×/÷ 1.6``."""
    value = float(getattr(found.tolerances, key))
    if key.endswith("ratio"):
        return f"×/÷ {value:g}"
    unit = UNITS[key.rpartition("_")[2]]
    return f"± {show(value, 'm', settings().units)}" if unit == "m" else f"± {value:g} {unit}"
