"""What the charts of the wiring look at: one amplifier, its cable, and the impedance that it drives."""

from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.scales import LogScale, frequency_scale
from planner.desktop.charts.system_panel import SystemView
from planner.headroom.drive import Drive, impedance_at
from planner.headroom.wiring import Bend, Wiring, wirings

__all__ = ["BendView"]

FloatArray = NDArray[np.float64]
BESIDE = 1.1
EVERY = 2
"""Every second of the points that are computed is drawn: 80 to a decade."""


class BendView(SystemView):
    """What is looked at, with the wiring of one amplifier."""

    @cached_property
    def wiring(self) -> Wiring:
        """Cable, damping and bends of the amplifier looked at."""
        return wirings(self.system)[self.amplifier]

    @property
    def drive(self) -> Drive:
        """The amplifier looked at in its load."""
        return self.system.drives[self.amplifier]

    @cached_property
    def rows(self) -> NDArray[np.int64]:
        """Which of the points that are computed are drawn, the first and the last among them (F,)."""
        last = self.wiring.frequency_hz.size - 1
        return np.append(np.arange(0, last, EVERY), last)

    @property
    def hertz(self) -> FloatArray:
        """Frequencies that are drawn (F,) [Hz]."""
        return np.asarray(self.wiring.frequency_hz[self.rows])

    @cached_property
    def load_ohm(self) -> NDArray[np.complex128]:
        """What the amplifier drives at these frequencies (F,) [ohm]."""
        return impedance_at(self.drive.load, self.hertz)

    @property
    def side(self) -> LogScale:
        """The bottom side: the part of the audible range that this amplifier plays."""
        hertz = self.wiring.frequency_hz
        return replace(frequency_scale("", float(hertz[0]) / BESIDE, float(hertz[-1]) * BESIDE), unit="")

    def bend(self, key: str) -> Bend:
        """One of the three bends."""
        found: Bend = getattr(self.wiring, key)
        return found

    def response(self, key: str) -> FloatArray:
        """One of the three bends at the frequencies that are drawn (F,) [dB]."""
        return np.asarray(self.bend(key).response_db[self.rows])
