"""The links of a gain chain and their levels in words."""

from __future__ import annotations

import numpy as np

from planner.desktop.charts.figures import significant
from planner.desktop.charts.seat_panel import signed
from planner.report.language import tr

__all__ = ["dbv_text", "gain_text", "in_dbv", "station_word", "volts_text"]

LEAST_VOLTS = 0.0995
"""Below it volts are written in mV."""


def station_word(key: str) -> str:
    """A link by name."""
    return {
        "cartridge": tr("cartridge"),
        "phono": tr("phono stage"),
        "line": tr("line source"),
        "source": tr("source"),
        "volume": tr("volume"),
        "level": tr("level control"),
        "crossover": tr("crossover"),
        "amplifier": tr("amplifier"),
        "full": tr("full output"),
    }[key]


def volts_text(volts: float) -> str:
    """Volts, or millivolts below a tenth of one."""
    return f"{significant(1000.0 * volts)} mV" if volts < LEAST_VOLTS else f"{significant(volts)} V"


def dbv_text(level_dbv: float) -> str:
    """A level re 1 V."""
    return f"{signed(level_dbv)} dBV"


def gain_text(gain_db: float) -> str:
    """A gain or a loss."""
    return f"{signed(gain_db)} dB"


def in_dbv(volts: float) -> float:
    """Volts as a level re 1 V [dB]."""
    return float(20.0 * np.log10(volts))
