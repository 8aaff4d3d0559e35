"""The three verdicts as a word and as an icon."""

from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap

from planner.report.style import Colours, paint_verdict

__all__ = ["verdict_icon", "verdict_word"]

SCREEN_SCALES = (1.0, 1.5, 2.0, 3.0)


def verdict_word(verdict: str) -> str:
    """Say a verdict in the reader's language; raises KeyError for any other word."""
    return {
        "clears": QCoreApplication.translate("Verdict", "Clears"),
        "tight": QCoreApplication.translate("Verdict", "Tight"),
        "short": QCoreApplication.translate("Verdict", "Short"),
    }[verdict]


def verdict_icon(verdict: str, colours: Colours, extent: int = 16) -> QIcon:
    """Make an icon of a verdict, sharp on screens of one to three times scaling."""
    icon = QIcon()
    for scale in SCREEN_SCALES:
        pixmap = QPixmap(round(extent * scale), round(extent * scale))
        pixmap.setDevicePixelRatio(scale)
        pixmap.fill(Qt.GlobalColor.transparent)
        with QPainter(pixmap) as painter:
            paint_verdict(painter, QRectF(0.0, 0.0, extent, extent), verdict, colours)
        icon.addPixmap(pixmap)
    return icon
