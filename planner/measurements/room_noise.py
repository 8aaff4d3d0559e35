"""The noise of a room from a table by octave band, rated by curve and by A-weighted level."""

from __future__ import annotations

import os
from dataclasses import dataclass

import numpy as np

from planner.acoustics.bands import weighting
from planner.acoustics.levels import level_sum
from planner.acoustics.noise_criteria import NC_OCTAVES_HZ, nc_rating
from planner.measurements.curves import curve_of, read_table_text
from planner.measurements.errors import MeasurementError
from planner.measurements.table import Table, parse_table

__all__ = ["RoomNoise", "read_room_noise", "room_noise_of"]

_NEAR = 10.0**0.05  # a nominal mid frequency lies this close to the exact one
_LOWEST_DB, _HIGHEST_DB = -30.0, 194.0


@dataclass(frozen=True, slots=True)
class RoomNoise:
    """Levels of octave bands in dB re 20 µPa, and what they amount to."""

    centre_hz: tuple[float, ...]
    """Exact mid frequencies of those of the octaves 16 Hz to 8 kHz that the table has."""
    level_db: tuple[float, ...]
    nc: float
    """Noise criterion by the tangency method, not rounded."""
    dba: float
    understood: str


def read_room_noise(path: str | os.PathLike[str]) -> RoomNoise:
    """Read the octave bands of a room's noise from a file; see :func:`room_noise_of`.

    Parameters
    ----------
    path : path
        Text or CSV of two columns [dimensionless].

    Returns
    -------
    RoomNoise
        Levels and ratings [dB re 20 µPa].

    Raises
    ------
    MeasurementError
        If the file cannot be read or holds no such table: it names file and line.

    References
    ----------
    ANSI/ASA S12.2-2019; IEC 61672-1:2013.

    Examples
    --------
    >>> import pathlib, tempfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "night.csv"
    >>> _ = file.write_text("Hz,dB\\n500,26\\n1000,22\\n")
    >>> print(f"NC-{read_room_noise(file).nc:.0f}")
    NC-20
    """
    try:
        return room_noise_of(parse_table(read_table_text(path)))
    except MeasurementError as error:
        raise MeasurementError(f"{os.fspath(path)}: {error}") from None


def room_noise_of(table: Table) -> RoomNoise:
    """Rate a table of octave-band levels.

    Parameters
    ----------
    table : Table
        Nominal or exact mid frequencies of octaves from 16 Hz to 8 kHz, and levels; some may lack
        [dimensionless].

    Returns
    -------
    RoomNoise
        Levels and ratings; octaves that lack count as silent [dB re 20 µPa].

    Raises
    ------
    MeasurementError
        If a frequency is none of these octaves, or a level is no level of a room: it names the line.

    References
    ----------
    ANSI/ASA S12.2-2019, tangency method; IEC 61672-1:2013 (weighting A).

    Examples
    --------
    By hand: 45 dB at 500 Hz is 41.8 dB(A) and lies a fifth of the way from NC-40 (44 dB) to NC-45 (49 dB).

    >>> noise = room_noise_of(parse_table("500 45\\n1000 0\\n"))
    >>> print(f"{noise.dba:.1f} dB(A), NC-{noise.nc:.0f}")
    41.8 dB(A), NC-41
    """
    curve = curve_of(table, "response")
    levels = np.full(NC_OCTAVES_HZ.size, -np.inf)
    for frequency_hz, level_db in zip(curve.points, curve.values, strict=True):
        distance = np.abs(np.log(NC_OCTAVES_HZ / frequency_hz))
        if distance.min() > np.log(_NEAR):
            words = "is not the middle of an octave from 16 Hz to 8 kHz"
            raise MeasurementError(f"line {_line_of(table, frequency_hz)}: {frequency_hz:g} Hz {words}")
        if not _LOWEST_DB <= level_db <= _HIGHEST_DB:
            raise MeasurementError(
                f"line {_line_of(table, frequency_hz)}: {level_db:g} dB is no level of a room"
            )
        levels[np.argmin(distance)] = level_db
    there = np.isfinite(levels)
    return RoomNoise(
        centre_hz=tuple(NC_OCTAVES_HZ[there].tolist()),
        level_db=tuple(levels[there].tolist()),
        nc=float(nc_rating(levels)),
        dba=float(level_sum(levels[there] + weighting(NC_OCTAVES_HZ[there], "A"))),
        understood=curve.understood,
    )


def _line_of(table: Table, frequency_hz: float) -> int:
    """The line in which a frequency stands."""
    return next(
        line
        for line, row in zip(table.lines, table.rows, strict=True)
        if any(np.isclose(value * unit, frequency_hz) for value in row for unit in (1.0, 1000.0))
    )
