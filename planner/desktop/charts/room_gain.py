"""Room gain by third octave, with the room's modes, its Schroeder frequency and the three regions."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import BELOW, Caption, Captions, Side
from planner.desktop.charts.figures import band_text, frequency_text
from planner.desktop.charts.items import Bars
from planner.desktop.charts.mode_words import MODES_TOLD, modes_in_band, modes_told, order_text
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.scales import LinearScale, LogScale, frequency_scale
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight, band_column, signed
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.charts.ticks import LONGEST_PX, Ticks
from planner.desktop.document import PlanDocument
from planner.desktop.theme import small_font
from planner.headroom.room_gain import RoomGain, room_gain

__all__ = ["RoomGainChart", "RoomGainGraph"]

FloatArray = NDArray[np.float64]
HALF_BAR = 10.0**0.042
LOWEST, LEAST_HIGHEST, HIGHEST = 1.25, 3.05, 4.35
OCTAVE = 0.3
ABOVE_SCHROEDER = 2.5
STEP_DB = 6.0
LINES_ROUND_FIELD, EDGES_PX, LEAST_FIELD_PX = 3.5, 20.0, 60.0
MOST_WORDS = 0.5
MODES_NAMED = 12
LEAST_NAMED = 2.0**0.6
TOKENS = {"pressure": "series 4", "modal": "accent", "statistical": "muted"}


@dataclass(frozen=True, eq=False)
class RoomGainView:
    """What is looked at, and its room gain once somebody asks for it."""

    sight: Sight

    @cached_property
    def room(self) -> RoomGain | None:
        """Gain, modes and regions at the seat; None in open air."""
        return room_gain(self.sight.plan, self.sight.candidate, self.sight.place)


class RoomGainGraph(SeatChart):
    """Bars of room gain below the names of the regions and the marks of the modes."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("RoomGainGraph", "Room gain")
        super().__init__(name, _frequency_side(LEAST_HIGHEST), _gain_side(-6.0, 30.0), parent)
        self._roomy = True
        self._octaves: Ends | None = None
        self._y_ends: Ends | None = None
        self.zones = {
            kind: self.add(Zone(self.scales, "", token, level=False), -5) for kind, token in TOKENS.items()
        }
        self.louder = self.add(Bars(self.scales, self.tr("louder than in free field"), "series 0"), 1)
        self.quieter = self.add(Bars(self.scales, self.tr("quieter"), "series 1"), 1)
        self.zero = self.add(Rule(self.scales, "", "ink", level=True), 2)
        self.schroeder = self.add(Rule(self.scales, "", "ink", level=False, dash=(4.0, 3.0)), 3)
        self.modes = self.add(Ticks(self.scales, "ink"), 5)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> RoomGainView:
        """What is looked at, with its room gain."""
        view: RoomGainView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    @property
    def gains(self) -> tuple[FloatArray, FloatArray]:
        """Band mid frequencies [Hz] and room gain in each [dB]."""
        bands = self.sight.seat.bands
        return bands.centre_hz, bands.room_gain_db

    def draw(self, view: RoomGainView) -> None:
        self.fit()
        room, (band_hz, gain_db) = view.room, self.gains
        up = gain_db >= 0.0
        for bars, rows in ((self.louder, up), (self.quieter, ~up)):
            hz = band_hz[rows]
            bars.show_bars(hz / HALF_BAR, hz * HALF_BAR, 0.0, gain_db[rows])
            bars.setVisible(room is not None)
        regions = {str(region.kind): region for region in (() if room is None else room.regions)}
        for kind, zone in self.zones.items():
            found = regions.get(kind)
            zone.show_between(*((1.0, 1.0) if found is None else (found.low_hz, found.high_hz)))
        self.zero.show_at(0.0)
        self.schroeder.show_at(None if room is None else room.schroeder_hz)
        nothing = np.empty(0)
        self.modes.show_ticks(*((nothing, nothing) if room is None else (room.mode_hz, room.coupling)))
        self.write()

    def write(self) -> None:
        room = self.shown.room
        self.captions.show_captions(self._no_room() if room is None else self._captions(room))

    def table(self) -> Table:
        band_hz, gain_db = self.gains
        columns = [
            band_column(self.tr("Band"), band_hz),
            Column(self.tr("Room gain"), "dB", gain_db, 1, _gain_text),
        ]
        room = self.shown.room
        if room is not None:
            columns.append(Column(self.tr("Region"), "", tuple(self._region_of(room, hz) for hz in band_hz)))
            columns.append(Column(self.tr("Modes"), "", tuple(modes_in_band(room, hz) for hz in band_hz)))
        return Table(tuple(columns), "\n".join((self.sight.settings, self.headline())))

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        if self.shown.room is None:
            return self.tr("Open air: there is no room, and no room gain")
        (band_hz, gain_db), schroeder_hz = self.gains, self.shown.room.schroeder_hz
        text = self.tr("Below {schroeder} the room gives {most} dB at {high} and {least} dB at {low}")
        below = np.flatnonzero(band_hz <= schroeder_hz)
        if below.size < 2:
            text = self.tr("The room gives {most} dB at {high} and {least} dB at {low}")
            below = np.arange(band_hz.size)
        least, most = (below[pick(gain_db[below])] for pick in (np.argmin, np.argmax))
        return text.format(
            schroeder=frequency_text(schroeder_hz),
            most=signed(float(gain_db[most])),
            high=band_text(float(band_hz[most])),
            least=signed(float(gain_db[least])),
            low=band_text(float(band_hz[least])),
        )

    def summary(self) -> str:
        room = self.shown.room
        if room is None:
            return f"{self.headline()}."
        regions = "; ".join(
            f"{self._region_name(one.kind)} {frequency_text(one.low_hz)} – {frequency_text(one.high_hz)}"
            for one in room.regions
        )
        text = self.tr(
            "{headline}. Schroeder frequency {schroeder}. {count} modes, the lowest {modes}. {regions}."
        )
        return text.format(
            headline=self.headline(),
            schroeder=frequency_text(room.schroeder_hz),
            count=len(room.mode_hz),
            modes=modes_told(room, np.arange(min(MODES_TOLD, len(room.mode_hz)))),
            regions=regions,
        )

    def fit(self) -> None:
        """Leave room for the words and marks above the bars, and show enough of what lies above the modes."""
        room, gain_db = self.shown.room, self.gains[1]
        wanted = LEAST_HIGHEST if room is None else float(np.log10(ABOVE_SCHROEDER * room.schroeder_hz))
        further = max(wanted - LEAST_HIGHEST, 0.0) / OCTAVE
        self._octaves = held(-1.0, further, 1.0, self._octaves)
        highest = min(LEAST_HIGHEST + OCTAVE * self._octaves[1], HIGHEST)
        metrics = QFontMetricsF(small_font(self.font()))
        round_px = LINES_ROUND_FIELD * metrics.height() + EDGES_PX
        field_px = max(self.height() - round_px, LEAST_FIELD_PX)
        words_px = 2.0 * metrics.height() + LONGEST_PX + 8.0
        self._roomy = words_px < MOST_WORDS * field_px
        words_px = min(words_px, MOST_WORDS * field_px)
        low, high = min(0.0, float(gain_db.min())), max(0.0, float(gain_db.max()))
        self._y_ends = held(
            low, high + (high - low) * words_px / (field_px - words_px), STEP_DB, self._y_ends
        )
        self.set_scales(_frequency_side(highest), _gain_side(*self._y_ends))

    def _captions(self, room: RoomGain) -> Iterator[Caption]:
        """Names of the regions above, of the rule and the modes below the marks of the modes."""
        top, below_px = self.scales.y.high, self.modes.bottom_px
        for region in room.regions:
            low, high = max(region.low_hz, self.scales.x.low), min(region.high_hz, self.scales.x.high)
            if low < high:
                middle, name = float(np.sqrt(low * high)), self._region_name(region.kind)
                sliver = high / low < LEAST_NAMED
                yield Caption(name, middle, top, "muted", (BELOW,), 1.0, may_go=sliver, plate=False)
        if not self._roomy:
            return
        text = self.tr("Schroeder {frequency}").format(frequency=frequency_text(room.schroeder_hz))
        yield self._below_marks(text, room.schroeder_hz, ((1.0, -1.0), (-1.0, -1.0)), below_px)
        for hz, orders in zip(room.mode_hz.tolist(), room.mode_orders[:MODES_NAMED].tolist(), strict=False):
            yield self._below_marks(order_text(orders), hz, (BELOW,), below_px)

    def _below_marks(self, text: str, hz: float, sides: tuple[Side, ...], below_px: float) -> Caption:
        top = self.scales.y.high
        return Caption(text, hz, top, "ink", sides, 3.0, may_go=True, down_px=below_px, plate=False)

    def _no_room(self) -> Iterator[Caption]:
        x, y = self.scales.x, self.scales.y
        text = self.tr("open air: there is no room")
        yield Caption(text, float(np.sqrt(x.low * x.high)), (y.low + y.high) / 2.0, "muted", ((0.0, 0.0),))

    def _region_name(self, kind: str) -> str:
        return {
            "pressure": self.tr("pressure"),
            "modal": self.tr("modal"),
            "statistical": self.tr("statistical"),
        }[kind]

    def _region_of(self, room: RoomGain, band_hz: float) -> str:
        kinds = [one.kind for one in room.regions if one.low_hz <= band_hz < one.high_hz]
        return self._region_name(kinds[0]) if kinds else ""


class RoomGainChart(SeatPanel):
    """Room gain at the seat looked at, on its card."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, RoomGainGraph(), parent)

    def _view(self) -> object:
        sight = self._sight()
        return None if sight is None else RoomGainView(sight)


def _gain_text(gain_db: float) -> str:
    return f"{signed(gain_db)} dB"


def _frequency_side(highest_decade: float) -> LogScale:
    title = QCoreApplication.translate("RoomGainGraph", "Frequency")
    return frequency_scale(title, 10.0**LOWEST, 10.0**highest_decade)


def _gain_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("RoomGainGraph", "Room gain")
    return LinearScale(title, "dB", low_db, high_db, steps=(6.0, 12.0, 24.0))
