"""Curves that others measured: response, impedance or level off axis, read from a table of text."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from typing import Literal

from planner.measurements.errors import MeasurementError
from planner.measurements.table import Table, parse_table

__all__ = ["Curve", "Kind", "curve_of", "read_curve", "read_table_text"]

Kind = Literal["response", "impedance", "off_axis"]
"""Level over frequency; ohm and degrees over frequency; level over angle."""

LARGEST_BYTES = 20_000_000

_MEANINGS = {
    "angle_deg": r"angle|azimuth|elevation|off.?axis|winkel|angolo",
    "phase_deg": r"phase|phas\b|deg|grad|°",
    "ohm": r"ohm|\u03a9|\u2126|imped|\|z\||^z\b",
    "frequency": r"freq|hz|frek",
    "level_db": r"\bdb|spl|level|pegel|magn|respon|ampl|gain|niveau",
}
_FIRST = {"response": "frequency", "impedance": "frequency", "off_axis": "angle_deg"}
_SECOND = {"response": "level_db", "impedance": "ohm", "off_axis": "level_db"}
_WORDS = {
    "frequency": "frequency in Hz",
    "level_db": "level in dB",
    "ohm": "impedance in ohm",
    "phase_deg": "phase in degrees",
    "angle_deg": "angle in degrees",
}


@dataclass(frozen=True, slots=True)
class Curve:
    """One measured curve, points in rising order, and how the table was understood."""

    kind: Kind
    points: tuple[float, ...]
    """Frequencies in Hz, or angles in degrees (n,)."""
    values: tuple[float, ...]
    """Levels in dB, or ohms (n,)."""
    phase_deg: tuple[float, ...] | None
    """Phase, where the table has it (n,)."""
    understood: str
    """What each column was taken for and why, for the reader to confirm."""
    certain: bool
    """Whether the header named the columns; False if the kind was guessed from the numbers."""


def read_curve(path: str | os.PathLike[str], kind: Kind | None = None) -> Curve:
    """Read a curve from a file of text; see :func:`curve_of`.

    Parameters
    ----------
    path : path
        Text or CSV in UTF-8, UTF-16 or Latin-1, up to 20 MB [dimensionless].
    kind : str or None
        "response", "impedance" or "off_axis"; None leaves it to the table [dimensionless].

    Returns
    -------
    Curve
        Points and values [dimensionless].

    Raises
    ------
    MeasurementError
        If the file cannot be read or holds no such table: it names file and line.

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    >>> import pathlib, tempfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "horn.txt"
    >>> _ = file.write_text("* Freq SPL\\n100 90.5\\n200 91\\n")
    >>> read_curve(file).values
    (90.5, 91.0)
    """
    try:
        return curve_of(parse_table(read_table_text(path)), kind)
    except MeasurementError as error:
        raise MeasurementError(f"{os.fspath(path)}: {error}") from None


def read_table_text(path: str | os.PathLike[str]) -> str:
    """The text of a file, in whichever encoding it is; raises :class:`MeasurementError` if it is none."""
    try:
        if os.path.getsize(path) > LARGEST_BYTES:
            raise MeasurementError("is larger than 20 MB, which no table is; check the file")
        with open(path, "rb") as stream:
            content = stream.read()
    except OSError as error:
        raise MeasurementError(f"cannot be read ({error.strerror}); check name and folder") from error
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", errors="replace")
    if b"\0" in content[:1000]:
        raise MeasurementError("holds no text; export the curve as text or CSV")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def curve_of(table: Table, kind: Kind | None = None) -> Curve:
    """Make a curve of a table: by its header, or else by its numbers.

    Parameters
    ----------
    table : Table
        At least two columns and two rows [dimensionless].
    kind : str or None
        "response", "impedance" or "off_axis"; None leaves it to the table [dimensionless].

    Returns
    -------
    Curve
        Points in rising order; rows at 0 Hz are left out [dimensionless].

    Raises
    ------
    MeasurementError
        If columns or rows are lacking, a point stands twice, or a value is impossible: it names the line.

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    >>> coil = curve_of(parse_table("f [kHz]; Z [ohm]; phase\\n0,1; 6,1; 12\\n1; 7,3; 30\\n"))
    >>> coil.kind, coil.points, coil.phase_deg
    ('impedance', (100.0, 1000.0), (12.0, 30.0))
    """
    if table.columns < 2:
        raise MeasurementError(f"line {table.lines[0]}: expected two columns or more, found one")
    named = [_meaning(word) for word in table.header or [""] * table.columns]
    found = kind or _kind_by_header(named) or _kind_by_numbers(table)
    first = _place(named, _FIRST[found], 0)
    second = _place(named, _SECOND[found], 1 if first == 0 else 0)
    phase = _phase_column(table, named, found, first, second)
    certain = kind is not None or _kind_by_header(named) is not None
    scale = 1000.0 if table.header and re.search("khz", table.header[first], re.IGNORECASE) else 1.0
    rows = _ordered(table, found, first, second)
    return Curve(
        found,
        tuple(row[first] * scale for row in rows),
        tuple(row[second] for row in rows),
        tuple(row[phase] for row in rows) if phase is not None else None,
        _understood(table, found, {first: _FIRST[found], second: _SECOND[found], phase: "phase_deg"}, scale),
        certain,
    )


def _meaning(heading: str) -> str | None:
    for meaning, pattern in _MEANINGS.items():
        if re.search(pattern, heading, re.IGNORECASE):
            return meaning
    return None


def _kind_by_header(named: list[str | None]) -> Kind | None:
    if "ohm" in named:
        return "impedance"
    if "level_db" in named:
        return "off_axis" if "angle_deg" in named and "frequency" not in named else "response"
    return None


def _kind_by_numbers(table: Table) -> Kind:
    """Points at or below zero are angles; values that only ohms have make an impedance."""
    points, values = table.column(0), table.column(1)
    if min(points) < 0.0 or (min(points) == 0.0 and max(points) <= 180.0):
        return "off_axis"
    return "impedance" if min(values) > 0.5 and sorted(values)[len(values) // 2] < 50.0 else "response"


def _place(named: list[str | None], meaning: str, otherwise: int) -> int:
    return named.index(meaning) if meaning in named else otherwise


def _phase_column(table: Table, named: list[str | None], kind: Kind, first: int, second: int) -> int | None:
    """A column that the header calls phase, or without a header the third of a table over frequency."""
    if kind == "off_axis":
        return None
    if "phase_deg" in named:
        return named.index("phase_deg")
    if table.header or table.columns < 3:
        return None
    third = table.column(2)
    return 2 if {first, second} == {0, 1} and max(map(abs, third)) <= 360.0 else None


def _ordered(table: Table, kind: Kind, first: int, second: int) -> list[tuple[float, ...]]:
    """Rows by rising point, without a first one at 0 Hz; refuses what cannot be."""
    rows: dict[float, tuple[int, tuple[float, ...]]] = {}
    for line, row in zip(table.lines, table.rows, strict=True):
        point = row[first]
        if kind != "off_axis" and point == 0.0:
            continue  # the constant part, which transforms put first
        fault = _fault(kind, point, row[second])
        if point in rows:
            fault = f"{point:g} stands in line {rows[point][0]} too; each point may stand once"
        if fault:
            raise MeasurementError(f"line {line}: {fault}")
        rows[point] = line, row
    if len(rows) < 2:
        raise MeasurementError(f"line {table.lines[-1]}: expected two points or more, found {len(rows)}")
    return [rows[point][1] for point in sorted(rows)]


def _fault(kind: Kind, point: float, value: float) -> str:
    """What is impossible about one row; empty if nothing is."""
    if kind == "off_axis":
        return f"the angle {point:g}° is beyond a full turn" if abs(point) > 360.0 else ""
    if point < 0.0:
        return f"the frequency {point:g} is not above 0"
    if kind == "impedance" and value <= 0.0:
        return f"an impedance of {value:g} ohm is not above 0"
    return ""


def _understood(table: Table, kind: Kind, meanings: dict[int | None, str], scale: float) -> str:
    """One sentence that tells the reader how his table was read."""
    columns = ", ".join(
        f"column {index + 1} {_WORDS[meaning] if scale == 1.0 else _WORDS[meaning].replace('Hz', 'kHz')}"
        for index, meaning in sorted((i, m) for i, m in meanings.items() if i is not None)
    )
    unread = table.columns - sum(index is not None for index in meanings)
    marks = {"tab": "tabs", "semicolon": "semicolons", "comma": "commas", "spaces": "spaces"}
    how = f"{len(table.rows)} rows from line {table.lines[0]}, {marks[table.delimiter]} between"
    decimal = ", decimal comma" if table.decimal_comma else ""
    source = "" if table.header else "; no header, so this is a guess from the numbers"
    rest = f"; {unread} more not read" if unread else ""
    return f"{how}{decimal}: {columns}{rest}{source}"
