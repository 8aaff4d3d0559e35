"""The numbers behind a chart, as columns with units: for reading, for showing, for copying, for files."""

import csv
import io
import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.figures import figure, significant

__all__ = ["Column", "Table", "to_csv", "to_tsv"]

Cell = float | str


@dataclass(frozen=True, eq=False)
class Column:
    """One quantity: its title, its unit, its values, and how many decimals people read of them.

    `decimals` of None means three digits that count; `show` writes a value with its unit for a reading.
    """

    title: str
    unit: str
    values: NDArray[np.float64] | tuple[str, ...]
    decimals: int | None = 1
    show: Callable[[float], str] | None = None

    @property
    def header(self) -> str:
        """The title with its unit."""
        return f"{self.title} ({self.unit})" if self.unit else self.title

    def cell(self, row: int) -> Cell:
        """The value of a row, as a number of Python's or as text."""
        value = self.values[row]
        return value if isinstance(value, str) else float(value)

    def text(self, row: int) -> str:
        """The value of a row as people read it, its unit said by the header."""
        value = self.cell(row)
        if isinstance(value, str):
            return value
        return significant(value) if self.decimals is None else figure(value, self.decimals)

    def reading(self, row: int) -> str:
        """The value of a row with its unit."""
        value = self.cell(row)
        if isinstance(value, str):
            return value
        if self.show is not None:
            return self.show(value)
        return f"{self.text(row)} {self.unit}".rstrip()


@dataclass(frozen=True, eq=False)
class Table:
    """Columns of one length, the abscissa first; `settings` say for what they hold, at the head of files."""

    columns: tuple[Column, ...]
    settings: str = field(default="")

    def __post_init__(self) -> None:
        lengths = {column.title: len(column.values) for column in self.columns}
        if len(set(lengths.values())) > 1:
            raise ValueError(f"columns differ in length: {lengths}")

    def __len__(self) -> int:
        return len(self.columns[0].values) if self.columns else 0

    @property
    def headers(self) -> list[str]:
        """Every column's title with its unit."""
        return [column.header for column in self.columns]

    @property
    def rows(self) -> list[list[Cell]]:
        """Every row's values."""
        return [[column.cell(row) for column in self.columns] for row in range(len(self))]

    def reading(self, row: int) -> str:
        """One row in words: the abscissa, then every other quantity with its unit."""
        first, *others = self.columns
        said = "   ".join(f"{column.title} {column.reading(row)}" for column in others)
        return f"{first.reading(row)}:   {said}" if said else first.reading(row)


def to_csv(table: Table, decimal_comma: bool = False) -> str:
    """Write a table as CSV: settings in a comment line, units in the headers, full precision.

    Parameters
    ----------
    table : Table
        What to write.
    decimal_comma : bool
        Decimal commas, and semicolons between the columns, as many a European spreadsheet wants them.
    """
    text = io.StringIO()
    for line in table.settings.splitlines():
        text.write(f"# {line}\n")
    writer = csv.writer(text, delimiter=";" if decimal_comma else ",", lineterminator="\n")
    writer.writerows(_cells(table, "," if decimal_comma else "."))
    return text.getvalue()


def to_tsv(table: Table, decimal_point: str) -> str:
    """Write a table as a spreadsheet takes it from the clipboard: tabs, and the reader's decimal point."""
    text = io.StringIO()
    csv.writer(text, delimiter="\t", lineterminator="\n").writerows(_cells(table, decimal_point))
    return text.getvalue()


def _cells(table: Table, decimal_point: str) -> list[list[str]]:
    rows = [[_written(cell, decimal_point) for cell in row] for row in table.rows]
    return [[_harmless(header) for header in table.headers], *rows]


def _written(cell: Cell, decimal_point: str) -> str:
    if isinstance(cell, str):
        return _harmless(cell)
    return f"{cell:.10g}".replace(".", decimal_point) if math.isfinite(cell) else ""


def _harmless(text: str) -> str:
    # A spreadsheet takes text that begins so for a formula and runs it; names come from other people's plans.
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r")) else text
