"""From quiet to loud at the seat: ear, room and amplifier in silence, the music, and what ends it."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import BELOW, LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.figures import band_text, figure, significant
from planner.desktop.charts.items import Curve, Marks
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.quiet_view import QuietView
from planner.desktop.charts.scales import LinearScale, frequency_scale
from planner.desktop.charts.seat_panel import band_column
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.system_panel import SystemGraph, SystemPanel, facts
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.headroom.noise import AmplifierNoise
from planner.report.cautions import part_word

__all__ = ["QuietToLoudChart", "QuietToLoudGraph"]

FloatArray = NDArray[np.float64]
STEP_DB = 10.0
LOWEST_DB = -10.0
WORDS_DB = 4.0
FLOOR_DB = -60.0
ABOVE, BELOW_LEFT = (0.0, 1.0), (-1.0, -1.0)
SIDES = {"peak": (BELOW, ABOVE), "average": (BELOW, ABOVE), "threshold": (BELOW_LEFT, ABOVE, BELOW)}
# Token and dashes of every level, the loudest first; room noise is a ground rather than a line.
STYLES = {
    "loudspeaker": ("series 3", (5.0, 2.5)),
    "clip": ("series 1", ()),
    "peak": ("ink", (2.5, 2.0)),
    "average": ("series 0", ()),
    "room": ("series 2", ()),
    "noise": ("series 4", ()),
    "threshold": ("muted", (1.2, 2.0)),
}
# Where the words of a level are tried, by third octave counted from 20 Hz; the first that is free is taken.
PLACES = {
    "loudspeaker": (15, 10, 20, 5, 25),
    "clip": (8, 13, 18, 23),
    "peak": (18, 14, 22, 11),
    "average": (12, 18, 9, 23),
    "room": (22, 25, 19, 16, 12, 28),
    "noise": (11, 14, 26, 17, 8, 20, 29),
    "threshold": (6, 5, 4, 8, 10, 27),
}


class QuietToLoudGraph(SystemGraph):
    """All levels over frequency, each with its name beside it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("QuietToLoudGraph", "From quiet to loud")
        x = frequency_scale(QCoreApplication.translate("QuietToLoudGraph", "Frequency"), 18.0, 22000.0)
        super().__init__(name, x, _level_side(LOWEST_DB, 120.0), parent)
        self._ends: Ends | None = None
        names = self._names()
        self.curves = {
            key: self.add(
                Curve(
                    self.scales,
                    names[key],
                    token,
                    width=1.2 if key == "room" else 2.0,
                    dash=dash,
                    fill_to=FLOOR_DB if key == "room" else None,
                ),
                1 if key == "room" else 2,
            )
            for key, (token, dash) in STYLES.items()
        }
        self.gaps = {
            token: self.add(Curve(self.scales, "", token, width=2.0), 4) for token in ("clears", "short")
        }
        self.nearest = self.add(Marks(self.scales, "", "series 4", "d", 11.0), 5)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> QuietView:
        view: QuietView = self.view
        return view

    def draw(self, view: QuietView) -> None:
        self.fit()
        hz, levels = view.span.centre_hz, view.levels()
        for key, curve in self.curves.items():
            curve.setVisible(key in levels)
            curve.show_points(hz, levels.get(key, np.full(hz.size, np.nan)))
        amplifier = view.noise.amplifier
        near = [] if amplifier is None else [(amplifier.band_hz, *self._gap(amplifier))]
        self.nearest.show_points([hertz for hertz, _, _ in near], [level for _, level, _ in near])
        for token, line in self.gaps.items():
            ends = near if amplifier is not None and _token(amplifier) == token else []
            line.show_points(
                [hertz for hertz, *_ in ends for _ in "ab"], [end for _, *both in ends for end in both]
            )
        self.write()

    def fit(self) -> None:
        loudest = max(float(levels.max()) for levels in self.shown.levels().values())
        self._ends = held(LOWEST_DB, loudest + WORDS_DB, STEP_DB, self._ends)
        self.set_scales(self.scales.x, _level_side(*self._ends))

    def write(self) -> None:
        hz, amplifier = self.shown.span.centre_hz, self.shown.noise.amplifier
        lines: list[tuple[ArrayLike, ArrayLike]] = []
        for levels in self.shown.levels().values():
            fine = np.geomspace(hz[0], hz[-1], 8 * hz.size)
            lines.append((fine, np.interp(np.log(fine), np.log(hz), levels)))
        marks = [] if amplifier is None else [(amplifier.band_hz, self._gap(amplifier)[0])]
        self.captions.show_captions(self._captions(), marks, lines)

    def table(self) -> Table:
        names, span = self._names(), self.shown.span
        columns = [
            Column(names[key], "dB", levels, 1) for key, levels in reversed(self.shown.levels().items())
        ]
        told = "\n".join((self.sight.settings, self.headline(), *self._facts()))
        return Table((band_column(self.tr("Band"), span.centre_hz), *columns), told)

    def key_entries(self) -> list[Entry]:
        return facts(self._facts()) if self.has_data else []

    def reading_entries(self, row: int) -> list[Entry]:
        levels = self.shown.levels()
        said: list[Entry] = [
            (self.curves[key].key, figure(float(levels[key][row]), 1)) for key in reversed(levels)
        ]
        unit = self.tr("{band}, in dB:").format(band=band_text(float(self.shown.span.centre_hz[row])))
        return [(None, unit), *said]

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        amplifier = self.shown.noise.amplifier
        if amplifier is None:
            return self.tr("The plan does not say how much the amplifier hums and hisses")
        text = (
            self.tr("The amplifier is heard in silence: {part} stands {margin} dB out at {band}")
            if amplifier.audible
            else self.tr("The amplifier is not heard: {part} stays {margin} dB under at {band}")
        )
        return text.format(
            part=part_word(amplifier.part),
            margin=figure(abs(amplifier.margin_db), 1),
            band=band_text(amplifier.band_hz),
        )

    def summary(self) -> str:
        names, hz = self._names(), self.shown.span.centre_hz
        middle = int(np.argmin(np.abs(np.log(hz / 1000.0))))
        levels = "; ".join(
            f"{names[key]} {figure(float(values[middle]), 1)} dB"
            for key, values in self.shown.levels().items()
        )
        text = self.tr("{headline}. At 1 kHz, from loud to quiet: {levels}. {facts}")
        told = [f"{fact[:1].upper()}{fact[1:]}." for fact in self._facts()]
        return text.format(headline=self.headline(), levels=levels, facts=" ".join(told))

    def _names(self) -> dict[str, str]:
        return {
            "loudspeaker": self.tr("loudspeaker limit"),
            "clip": self.tr("amplifier clips"),
            "peak": self.tr("peaks asked for"),
            "average": self.tr("average"),
            "room": self.tr("room noise"),
            "noise": self.tr("amplifier noise"),
            "threshold": self.tr("threshold of hearing"),
        }

    def _facts(self) -> Iterator[str]:
        noise = self.shown.noise
        amplifier, room_dba = noise.amplifier, noise.room_noise_dba
        if amplifier is not None:
            text = self.tr("amplifier noise {seat} dB(A) here, {near} dB(A) at 1 m")
            yield text.format(seat=figure(amplifier.dba, 1), near=figure(amplifier.dba_1m, 1))
        if room_dba is not None:
            yield self.tr("room {level} dB(A)").format(level=figure(room_dba, 1))
        else:
            yield self.tr("room noise not in the plan")
        if amplifier is not None:
            yield from self._tolerated(amplifier)
            if not amplifier.complete:
                yield self.tr("not every amplifier’s noise is in the plan")

    def _tolerated(self, amplifier: AmplifierNoise) -> Iterator[str]:
        for one in amplifier.tolerated:
            parts = [
                text.format(value=significant(value, 2))
                for text, value in (
                    (self.tr("{value} mV of hum"), one.hum_mv),
                    (self.tr("{value} mV of hiss"), one.hiss_mv),
                )
                if value is not None
            ]
            if parts:
                of = f" ({one.amplifier})" if len(amplifier.tolerated) > 1 else ""
                most = self.tr(" or ").join(parts)
                yield self.tr("unheard up to {most}{of}").format(most=most, of=of)

    def _gap(self, amplifier: AmplifierNoise) -> tuple[float, float]:
        """Level of the noise and of the limit that it is judged by, in the band where they come closest."""
        row = int(np.argmin(np.abs(np.log(self.shown.span.centre_hz / amplifier.band_hz))))
        level = float(amplifier.level_db[row])
        return level, level + amplifier.margin_db

    def _captions(self) -> Iterator[Caption]:
        names, levels, hz = self._names(), self.shown.levels(), self.shown.span.centre_hz
        amplifier = self.shown.noise.amplifier
        if amplifier is not None:
            level, limit = self._gap(amplifier)
            text = self.tr("{part} {margin} dB {side}").format(
                part=part_word(amplifier.part),
                margin=figure(abs(amplifier.margin_db), 1),
                side=self.tr("out") if amplifier.audible else self.tr("under"),
            )
            near, *others = (
                (amplifier.band_hz, level + share * (limit - level)) for share in (0.5, 0.2, 0.0, 0.8)
            )
            yield Caption(
                text, *near, _token(amplifier), (RIGHT, LEFT), 6.0, True, elsewhere=tuple(others), plate=False
            )
        for key in ("peak", "noise", "threshold", "room", "clip", "loudspeaker", "average"):
            if key in levels:
                points = [(float(hz[row]), float(levels[key][row])) for row in PLACES[key]]
                (x, y), *elsewhere = points
                sides, token = SIDES.get(key, (ABOVE, BELOW)), STYLES[key][0]
                yield Caption(names[key], x, y, token, sides, 1.0, may_go=True, elsewhere=tuple(elsewhere))


class QuietToLoudChart(SystemPanel):
    """From quiet to loud at the seat looked at, on its card."""

    kind = QuietView

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, QuietToLoudGraph(), parent)


def _token(amplifier: AmplifierNoise) -> str:
    return "short" if amplifier.audible else "clears"


def _level_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("QuietToLoudGraph", "Level in third octaves")
    return LinearScale(title, "dB", low_db, high_db, steps=(10.0, 20.0, 40.0))
