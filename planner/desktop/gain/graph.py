"""The gain chain as a chart: drawn link by link, read, copied and saved like any other."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.figures import figure, significant
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.scales import LinearScale, NameScale
from planner.desktop.charts.seat_panel import short_name, signed
from planner.desktop.charts.system_panel import SystemGraph, SystemView, facts
from planner.desktop.charts.table import Column, Table
from planner.desktop.gain.chain import Chain, Missing, Station, chain_of, missing_from
from planner.desktop.gain.drawn import bare_chain, drawn_chain, link_keys, wanted_words
from planner.desktop.gain.picture import ChainPicture
from planner.desktop.gain.words import dbv_text, gain_text, station_word, volts_text
from planner.headroom.gain import gain_chain, peak_velocity
from planner.plan.amplifier import PhonoSource

__all__ = ["GainGraph", "GainView"]

TOLD_HZ = (100.0, 1000.0, 10_000.0)
LEAST_DB = 0.05


@dataclass(frozen=True, eq=False)
class GainView(SystemView):
    """What is looked at, with the chain of one amplifier."""

    @cached_property
    def chain(self) -> Chain | None:
        """The chain at the seat; None where the plan does not say enough."""
        whole = gain_chain(self.system, self.sight.plan, self.sight.place)
        return None if whole is None else chain_of(whole, self.system, self.sight.place, self.amplifier)

    @property
    def missing(self) -> Missing:
        """What the plan does not say."""
        return missing_from(self.candidate)


class GainGraph(SystemGraph):
    """One picture on a field without figures at its sides; the reading goes from link to link."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("GainGraph", "Gain chain")
        super().__init__(name, _columns(3), LinearScale("", "", 0.0, 1.0, steps=(10.0,), origin=5.0), parent)
        for side in ("left", "bottom"):
            self.plotItem.hideAxis(side)
        self.picture = self.add(ChainPicture(self.scales), 2)

    @property
    def shown(self) -> GainView:
        view: GainView = self.view
        return view

    def draw(self, view: GainView) -> None:
        if view.chain is None:
            drawn = bare_chain(view.candidate, view.amplifier, view.missing)
        else:
            drawn = drawn_chain(view.chain, view.candidate)
        self.set_scales(_columns(len(drawn.spots)), self.scales.y)
        self.picture.show_chain(drawn)

    def table(self) -> Table:
        chain = self.shown.chain
        told = "\n".join((self.sight.settings, self.headline(), *self._facts(), *self._groove_facts()))
        if chain is None:
            return Table(
                (
                    Column(
                        self.tr("Link"),
                        "",
                        tuple(station_word(key) for key in link_keys(self.shown.candidate)),
                    ),
                ),
                told,
            )
        rows = self._rows(chain)
        gains = [np.nan if row.gain_db is None else row.gain_db for row in rows]
        return Table(
            (
                Column(self.tr("Link"), "", tuple(station_word(row.key) for row in rows)),
                Column(self.tr("Gain"), "dB", np.array(gains), 1, gain_text),
                Column(
                    self.tr("Level, sine rms"), "V", np.array([row.level_v for row in rows]), None, volts_text
                ),
                Column(
                    self.tr("Level, re 1 V"), "dB", np.array([row.level_dbv for row in rows]), 1, dbv_text
                ),
                Column(self.tr("Peak"), "V", np.array([row.peak_v for row in rows]), None, volts_text),
            ),
            told,
        )

    def key_entries(self) -> list[Entry]:
        return facts(self._facts()) if self.has_data else []

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        chain = self.shown.chain
        if chain is None:
            return self.tr("The plan does not tell enough of the gain chain")
        spare = figure(abs(chain.amplifier.spare_db), 1)
        if chain.amplifier.spare_db < 0.0:
            text = self.tr("The source lacks {spare} dB to drive this amplifier fully")
        elif chain.whole.volume_db > LEAST_DB:
            text = self.tr("Full output without a preamplifier, yet {lacking} dB too little for the target")
        else:
            text = self.tr("Full output without a preamplifier, {spare} dB to spare; volume at {volume} dB")
        volume = chain.whole.volume_db
        return text.format(spare=spare, volume=signed(volume), lacking=figure(volume, 1))

    def summary(self) -> str:
        chain = self.shown.chain
        told = " ".join(f"{fact[:1].upper()}{fact[1:]}." for fact in (*self._facts(), *self._groove_facts()))
        if chain is None:
            return f"{self.headline()}. {told} {wanted_words(self.shown.missing)}".strip()
        links = "; ".join(self._station_text(row) for row in self._rows(chain))
        text = self.tr("{headline}. From link to link: {links}. {facts}")
        return text.format(headline=self.headline(), links=links, facts=told)

    def _station_text(self, station: Station) -> str:
        level = f"{volts_text(station.level_v)} ({dbv_text(station.level_dbv)})"
        gain = "" if station.gain_db is None else f" {gain_text(station.gain_db)}:"
        return f"{station_word(station.key)}{gain} {level}"

    def _rows(self, chain: Chain) -> tuple[Station, ...]:
        return (*chain.stations, Station("full", None, chain.amplifier.full_v))

    def _facts(self) -> Iterator[str]:
        chain = self.shown.chain
        if chain is None:
            yield from self._unsaid()
            return
        part, margin_db = chain.whole.overloads_first, chain.whole.overload_margin_db
        name = self.tr("the phono stage") if part == "phono" else short_name(part)
        if margin_db >= 0.0:
            text = self.tr("{part} overloads first, {margin} dB above the peaks")
        else:
            text = self.tr("{part} overloads first, {margin} dB below the peaks")
        yield text.format(part=name, margin=figure(abs(margin_db), 1))
        text = self.tr("{volts} at its input for full output")
        yield text.format(volts=volts_text(chain.amplifier.sensitivity_v))
        if chain.current_db < chain.voltage_db:
            yield self.tr("by current: {margin} dB").format(margin=signed(chain.current_db))
        yield from self._phono_facts(chain)
        yield self.tr("volts are rms of a sine with the same peaks")

    def _phono_facts(self, chain: Chain) -> Iterator[str]:
        phono = chain.whole.phono
        if phono is None:
            return
        if phono.overload_margin_db is None:
            yield self.tr("overload of the phono stage not in the plan")
            return
        if phono.overload_margin_db >= 0.0:
            text = self.tr("phono stage overloads {margin} dB above a record’s peaks")
        else:
            text = self.tr("phono stage overloads {margin} dB below a record’s peaks")
        yield text.format(margin=figure(abs(phono.overload_margin_db), 1))

    def _groove_facts(self) -> Iterator[str]:
        """The groove velocities that overload the phono stage, which follow its playback curve."""
        chain = self.shown.chain
        velocity = (
            None if chain is None or chain.whole.phono is None else chain.whole.phono.overload_velocity_cm_s
        )
        if velocity is None:
            return
        hz = self.shown.system.stage.scene.band_hz
        told = [significant(float(velocity[np.argmin(np.abs(np.log(hz / one)))]), 2) for one in TOLD_HZ]
        text = self.tr(
            "the phono stage takes {low} cm/s at 100 Hz, {middle} at 1 kHz and {high} at 10 kHz (curve of "
            "IEC 60098); the highest peaks are taken as {peak} cm/s"
        )
        source = self.shown.system.candidate.source
        assert isinstance(source, PhonoSource), "only a phono stage has a velocity at which it overloads"
        peak = significant(peak_velocity(source), 2)
        yield text.format(low=told[0], middle=told[1], high=told[2], peak=peak)

    def _unsaid(self) -> Iterator[str]:
        missing = self.shown.missing
        if missing.source:
            yield self.tr("no source in the plan")
        for name in missing.amplifiers:
            yield self.tr("no gain in the plan for {name}").format(name=short_name(name))


def _columns(count: int) -> NameScale:
    return NameScale("", "", -0.5, count - 0.5, (), False)
