"""Tables of numbers in plain text, whatever program or hand wrote them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from planner.measurements.errors import MeasurementError

__all__ = ["Table", "parse_table"]

_COMMENT = ("#", ";", "*", "//", '"', "%", "!")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
_WHOLE_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?([eE][+-]?\d+)?")
_DELIMITERS: dict[str, str | None] = {"tab": "\t", "semicolon": ";", "comma": ",", "spaces": None}
_LONGEST_QUOTE = 40
_LOOKED_AT = 20  # rows by which the separator is chosen


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of numbers, and how the text was understood."""

    rows: tuple[tuple[float, ...], ...]
    lines: tuple[int, ...]
    """Line of the text, from 1, in which each row stands."""
    header: tuple[str, ...]
    """Heading of each column; empty if none was found."""
    delimiter: str
    """``tab``, ``semicolon``, ``comma`` or ``spaces``."""
    decimal_comma: bool

    @property
    def columns(self) -> int:
        """How many columns there are."""
        return len(self.rows[0])

    def column(self, index: int) -> tuple[float, ...]:
        """Numbers of one column, from 0."""
        return tuple(row[index] for row in self.rows)


class _Line(NamedTuple):
    number: int
    text: str


def parse_table(text: str) -> Table:
    """Read a table of numbers: any of four separators, decimal point or comma, comments, a header or none.

    Lines that are empty or begin with ``#``, ``;``, ``*``, ``//``, ``"``, ``%`` or ``!`` are passed over,
    and all lines before the first number; the last of them that has as many words as there are columns is
    the header.

    Parameters
    ----------
    text : str
        The table [dimensionless].

    Returns
    -------
    Table
        Rows, in the order of the text [dimensionless].

    Raises
    ------
    MeasurementError
        If there are no numbers, or a line is no row of as many numbers as the first: it names the line.

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    By hand: with a semicolon between the numbers a comma is the decimal mark.

    >>> table = parse_table("Hz;dB\\n100;90,5\\n200;91,0\\n")
    >>> table.header, table.rows
    (('Hz', 'dB'), ((100.0, 90.5), (200.0, 91.0)))
    """
    lines = [_Line(number, line.strip()) for number, line in enumerate(text.splitlines(), start=1)]
    data = _data_lines(lines)
    delimiter = _delimiter(data)
    decimal_comma = delimiter != "comma" and any("," in line.text for line in data)
    rows = tuple(_row(line, delimiter, decimal_comma) for line in data)
    for line, row in zip(data, rows, strict=True):
        if len(row) != len(rows[0]):
            expected = f"expected {len(rows[0])} numbers as in line {data[0].number}, found {len(row)}"
            raise MeasurementError(f"line {line.number}: {expected} ({_quoted(line.text)})")
    header = _header(lines, data[0].number, delimiter, len(rows[0]))
    return Table(rows, tuple(line.number for line in data), header, delimiter, decimal_comma)


def _data_lines(lines: list[_Line]) -> list[_Line]:
    """From the first line of numbers on, all lines that are no comments."""
    starts = [index for index, line in enumerate(lines) if _begins_with_number(line.text)]
    if not starts:
        raise MeasurementError(
            "line 1: no table of numbers begins here or below; expected rows such as 1000; 90.5"
        )
    rest = (line for line in lines[starts[0] :] if line.text)
    return [line for line in rest if _begins_with_number(line.text) or not line.text.startswith(_COMMENT)]


def _begins_with_number(text: str) -> bool:
    """Whether the first word of a line, as far as any separator, is a number."""
    word = re.split(r"[\s;]", text.lstrip('"'), maxsplit=1)[0].strip('"')
    return bool(_NUMBER.fullmatch(word) or _NUMBER.fullmatch(word.split(",")[0]))


def _delimiter(data: list[_Line]) -> str:
    texts = [line.text for line in data[:_LOOKED_AT]]
    for name, mark in (("tab", "\t"), ("semicolon", ";")):
        if _in_half(mark, texts):
            return name
    if not _in_half(",", texts):
        return "spaces"
    # Commas with no other separator: decimal marks if blanks stand between the numbers, else separators.
    words = [text.split() for text in texts]
    blanks = all(len(row) > 1 and all(map(_WHOLE_NUMBER.fullmatch, row)) for row in words)
    return "spaces" if blanks else "comma"


def _in_half(mark: str, texts: list[str]) -> bool:
    return 2 * sum(mark in text for text in texts) >= len(texts)


def _row(line: _Line, delimiter: str, decimal_comma: bool) -> tuple[float, ...]:
    return tuple(_number(word, line, decimal_comma) for word in _words(line.text, delimiter))


def _words(text: str, delimiter: str) -> list[str]:
    words = [word.strip().strip('"').strip() for word in text.split(_DELIMITERS[delimiter])]
    # A separator after the last number opens no new column.
    return words[:-1] if len(words) > 1 and not words[-1] else words


def _number(word: str, line: _Line, decimal_comma: bool) -> float:
    plain = word.replace("\u2212", "-")
    if not _NUMBER.fullmatch(plain):
        raise MeasurementError(f"line {line.number}: expected a number, found {_quoted(word)}")
    if decimal_comma and "." in plain:
        raise MeasurementError(
            f"line {line.number}: a decimal point in {_quoted(word)}, and commas in other numbers; use one"
        )
    value = float(plain.replace(",", "."))
    if value in (float("inf"), float("-inf")):
        raise MeasurementError(f"line {line.number}: {_quoted(word)} is beyond all bounds")
    return value


def _header(lines: list[_Line], first_line: int, delimiter: str, columns: int) -> tuple[str, ...]:
    """Words of the last line above the numbers that has as many of them as there are columns."""
    above = [line.text.lstrip('#;*/%! \t"') for line in lines if line.number < first_line and line.text]
    for text in reversed(above):
        for name in (delimiter, "tab", "semicolon", "comma", "spaces"):
            words = _words(text, name)
            if len(words) == columns and all(words):
                return tuple(words)
    return ()


def _quoted(text: str) -> str:
    return f"'{text[:_LONGEST_QUOTE]}{'…' if len(text) > _LONGEST_QUOTE else ''}'"
