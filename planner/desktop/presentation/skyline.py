"""Music as the skyline of a town: its loudest moments beside its average."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from planner.desktop.presentation.look import Look
from planner.desktop.presentation.words import level_text
from planner.report.language import tr

__all__ = ["Skyline", "heights", "paint_skyline"]

FloatArray = NDArray[np.float64]
MOMENTS = 180
SEED = 27


@dataclass(frozen=True, slots=True)
class Skyline:
    """Peaks above the average [dB], the most the system gives and the tallest that is drawn, likewise."""

    crest_db: float
    most_db: float
    tallest_db: float
    peak_db: float
    average_db: float

    @property
    def words(self) -> str:
        """The picture in words."""
        return tr(
            "Bars as tall as the music swings from moment to moment. The average stands at {average}, "
            "the loudest moment {above} higher at {peak}; the system gives {most} above the average.",
            average=level_text(self.average_db),
            above=level_text(self.peak_db - self.average_db),
            peak=level_text(self.peak_db),
            most=level_text(self.most_db),
        )


def heights(crest_db: float) -> FloatArray:
    """Heights of the bars re their root mean square, (MOMENTS,), the tallest so many decibels above it.

    One made-up piece of music whose contrasts are drawn out or evened out; its order stays. So few
    moments cannot go beyond some 20 dB: there the last shape is kept and drawn taller.
    """
    music, contrasts, crests = _family()
    shape = np.exp(float(np.interp(crest_db, crests, contrasts)) * (music - music.max()))
    return np.asarray(shape * 10.0 ** (crest_db / 20.0))


@cache
def _family() -> tuple[FloatArray, FloatArray, FloatArray]:
    """Log heights of the music (MOMENTS,), contrasts that they may be multiplied by, and the crests [dB]."""
    along = np.linspace(0.0, 1.0, MOMENTS)
    phrase = np.sin(2.0 * np.pi * (2.3 * along - 0.15)) + 0.5 * np.sin(2.0 * np.pi * 7.1 * along)
    order = np.argsort(np.argsort(phrase + np.random.default_rng(SEED).normal(0.0, 0.9, MOMENTS)))
    ranked = np.linspace(-1.0, 1.0, MOMENTS)
    music = (1.6 * ranked + 2.0 * ranked**25)[order]
    contrasts = np.linspace(0.0, 1.6, 200)
    power = np.mean(np.exp(2.0 * contrasts[:, None] * (music - music.max())), axis=1)
    return music, contrasts, -10.0 * np.log10(power)


def paint_skyline(skyline: Skyline, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Paint the bars, the part of them that is lost, and the two heights with their names."""
    names = _names(skyline)
    widest = max(look.metrics("body", strong=True).horizontalAdvance(text) for _, text, _ in names)
    field = rect.adjusted(0.0, 0.5 * look.line("body"), -widest - look.px(26.0), 0.0)
    tall = field.height() / 10.0 ** (skyline.tallest_db / 20.0)
    bars = heights(skyline.crest_db) * tall
    most = 10.0 ** (skyline.most_db / 20.0) * tall
    _paint_bars(painter, field, bars, tall, most, look)
    _paint_names(painter, field, [(text, level, token) for level, text, token in names], tall, look)


def _names(skyline: Skyline) -> list[tuple[float, str, str]]:
    """Heights [dB above the average] with what they are called and their colours."""
    return [
        (skyline.most_db, tr("the most it gives"), "ink"),
        (skyline.crest_db, tr("loudest moment, {level}", level=level_text(skyline.peak_db)), "accent"),
        (0.0, tr("average, {level}", level=level_text(skyline.average_db)), "muted"),
    ]


def _paint_bars(
    painter: QPainter, field: QRectF, bars: FloatArray, tall: float, most: float, look: Look
) -> None:
    """Each bar pale up to the average, full above it, and in another colour where it is lost."""
    step, ground = field.width() / bars.size, field.bottom()
    x = field.left() + step * (np.arange(bars.size) + 0.5)
    colours = (look.colours.pick("accent", 0.4), look.colours.pick("accent"), look.colours.pick("short"))
    ends = (0.0, min(tall, most), most, np.inf)
    for colour, (low, high) in zip(colours, pairwise(ends), strict=True):
        seen = bars > low
        painter.setPen(QPen(colour, 0.62 * step, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        feet, tops = np.full(seen.sum(), ground - low), ground - np.minimum(bars[seen], high)
        for ends in np.column_stack([x[seen], feet, x[seen], tops]).tolist():
            painter.drawLine(QLineF(*ends))
    painter.setPen(QPen(look.colours.pick("edge"), look.px(1.5)))
    painter.drawLine(field.bottomLeft(), field.bottomRight())


def _paint_names(
    painter: QPainter, field: QRectF, names: list[tuple[str, float, str]], tall: float, look: Look
) -> None:
    """Lines at the heights, and their names right of them, pushed apart where they would touch."""
    line, last = look.line("body"), field.top() - look.line("body")
    room = [field.bottom() + 0.5 * line - line * (len(names) - 1 - number) for number in range(len(names))]
    for (text, level_db, token), lowest in zip(sorted(names, key=_height, reverse=True), room, strict=True):
        y = field.bottom() - 10.0 ** (level_db / 20.0) * tall
        shown = y >= field.top() - 1.0
        y = max(y, field.top())
        if shown:
            style = Qt.PenStyle.DashLine if token == "ink" else Qt.PenStyle.SolidLine
            painter.setPen(QPen(look.colours.pick(token), look.px(1.5), style))
            painter.drawLine(QPointF(field.left(), y), QPointF(field.right() + look.px(6.0), y))
        last = min(max(y, last + line), lowest)
        words = text if shown else tr("{name} ↑", name=text)
        at = QPointF(field.right() + look.px(14.0), last)
        look.write(painter, at, words, "body", token, 0.0, 0.5, strong=token != "muted")


def _height(name: tuple[str, float, str]) -> float:
    return name[1]
