"""What a wider baffle buys, as the chart shows and tells it."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.seat_panel import Sight, signed, watts_text
from planner.headroom.baffle import BaffleCurve, baffle_curve
from planner.plan.loudspeaker import Dipole
from planner.plan.units import Preference, show, to_display

__all__ = ["SNAP_M", "BaffleView"]

FloatArray = NDArray[np.float64]
SNAP_M = {Preference.METRIC: 0.01, Preference.US: 0.5 * 0.0254}
"""Widths are set in whole centimetres, or in halves of an inch."""
TIMES = 2.0
NOTHING_DB = 0.05


@dataclass(frozen=True, eq=False)
class BaffleView:
    """What is looked at, the units to show it in, and its curve once somebody asks for it."""

    sight: Sight
    preference: Preference

    @cached_property
    def curve(self) -> BaffleCurve | None:
        """Level and watts against width; None where the width changes nothing that is stated."""
        return baffle_curve(self.sight.plan, self.sight.candidate, self.sight.place)

    @property
    def dipole(self) -> bool:
        """Whether the whole loudspeaker is an open baffle."""
        sections = self.sight.plan.candidates[self.sight.candidate].loudspeaker.sections
        return all(isinstance(section.radiator, Dipole) for section in sections)

    def place(self, width_m: ArrayLike) -> FloatArray:
        """Widths in the units shown."""
        return np.asarray(to_display(np.asarray(width_m, dtype=float), "m", self.preference))

    def width_text(self, width_m: float) -> str:
        """A width as people say it: to the centimetre, or to half an inch."""
        return show(width_m, "m", self.preference, 1 if self.preference is Preference.US else 2)

    def bought(self, curve: BaffleCurve, width_m: float) -> tuple[float, float]:
        """Level at 100 Hz re now [dB], and the watts needed, with a baffle of a width."""
        along, at = np.log(curve.width_m), np.log(width_m)
        return float(np.interp(at, along, curve.level_db)), float(np.interp(at, along, curve.watts_needed))

    def headline(self) -> str:
        """What twice the width would buy, or why nothing is to be gained."""
        curve = self.curve
        if curve is None:
            return self._why_nothing()
        if curve.here_m is None:
            return tr("Flush in a wall nothing is to be gained: the wall is the baffle")
        wider_m = min(TIMES * curve.here_m, float(curve.width_m.max()))
        level_db, watts = self.bought(curve, wider_m)
        if level_db < NOTHING_DB:
            return tr("A wider baffle buys nothing more at 100 Hz")
        return tr("A baffle of {width} buys {level} dB at 100 Hz: {watts} instead of {now}").format(
            width=self.width_text(wider_m),
            level=signed(level_db),
            watts=watts_text(watts),
            now=watts_text(curve.here_watts),
        )

    def summary(self) -> str:
        """The headline, and what the narrowest and the widest baffle would do."""
        curve = self.curve
        if curve is None:
            return f"{self.headline()}."
        text = tr("{headline}. From {narrow} to {wide}: {least} to {most} dB at 100 Hz, {more} to {less}.")
        return text.format(
            headline=self.headline(),
            narrow=self.width_text(float(curve.width_m[0])),
            wide=self.width_text(float(curve.width_m[-1])),
            least=signed(float(curve.level_db[0])),
            most=signed(float(curve.level_db[-1])),
            more=watts_text(float(curve.watts_needed[0])),
            less=watts_text(float(curve.watts_needed[-1])),
        )

    def _why_nothing(self) -> str:
        if self.dipole:
            return tr("Nothing to be gained: an open baffle is a gradient source, without a step")
        return tr("Nothing to be gained: stated in free field, its level holds its own baffle’s step already")


def tr(text: str) -> str:
    """The text in the language of the window."""
    return QCoreApplication.translate("BaffleGraph", text)
