"""The parts that a report is made of: titles, texts, tables and pictures, without a word on how they look."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.plan import Plan
from planner.plan.units import Preference
from planner.report.figures.chart import Chart

__all__ = [
    "Block",
    "Column",
    "Heading",
    "KeyFigures",
    "NewPage",
    "Picture",
    "RoomView",
    "Side",
    "Table",
    "Terms",
    "Text",
    "Title",
    "Verdict",
]


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins a page."""


@dataclass(frozen=True, slots=True)
class Title:
    """The head of a part: what it is, its name, and a line below."""

    kind: str
    text: str
    below: str = ""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 opens a chapter, 2 a section, 3 names what follows."""

    text: str
    level: Literal[1, 2, 3] = 2


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph: running text, or a quieter note."""

    text: str
    kind: Literal["body", "note"] = "body"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer with its mark: verdict, its word, and the sentence that carries the figures."""

    verdict: str
    word: str
    sentence: str


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """A row of large figures: each a figure, and what it is."""

    figures: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Terms:
    """Names with a text each, one below the other."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, the unit below it, and the side on which its cells stand.

    Neighbours with the same word `over` them share it.
    """

    heading: str
    unit: str = ""
    side: Literal["left", "right"] = "right"
    over: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows with a cell for every column, or with one alone that names what follows.

    After each `group` of rows stands a line; without, after every row. `close` rows lie close together,
    and all on one page.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    group: int = 0
    close: bool = False

    def __post_init__(self) -> None:
        if any(len(row) not in (1, len(self.columns)) for row in self.rows):
            raise ValueError(f"every row needs one cell or {len(self.columns)}")


@dataclass(frozen=True, slots=True, eq=False)
class RoomView:
    """The scale drawing of the room as one seat and candidate see it."""

    plan: Plan
    candidate: int
    seat: int
    preference: Preference


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """A chart or a room drawing, at least so high [pt]; `stretch` says whether it takes up free room."""

    content: Chart | RoomView
    height_pt: float
    stretch: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """Columns of blocks beside one another, in shares of the width."""

    columns: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...]


Block = NewPage | Title | Heading | Text | Verdict | KeyFigures | Terms | Table | Picture | Side
