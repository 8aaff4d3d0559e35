"""The grid of pairs as a table model: rows and columns picked out of an answer, cells read at one seat."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from planner.desktop.pairings.answer import Answer, AtSeat, Pair
from planner.desktop.pairings.making import pair_name
from planner.desktop.pairings.offers import Offer
from planner.desktop.pairings.wanted import Wanted, shown
from planner.desktop.pairings.words import below_text, headroom_text, pair_sentence, reason
from planner.desktop.theme import verdict_word
from planner.plan import Finding
from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Loudspeaker
from planner.report.words import watts_text

__all__ = ["Cell", "Keys", "PairsModel"]

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
IntArray = NDArray[np.int_]
NONE = np.zeros(0, dtype=int)
NO_ANSWER = "–"
Keys = tuple[str, str]


class Cell(NamedTuple):
    """What a cell shows; without a verdict there is no answer, and the headroom says so."""

    verdict: str
    headroom: str
    below: str = ""
    made: bool = False


class PairsModel(QAbstractTableModel):
    """Pairs of the newest answer, as they are wanted."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._answer: Answer | None = None
        self._at: AtSeat | None = None
        self._rows: IntArray = NONE
        self._columns: IntArray = NONE
        self._made: Mapping[Keys, int] = {}
        self._out: tuple[dict[int, str], dict[int, str]] = ({}, {})
        self._cells: dict[tuple[int, int], Cell] = {}
        self.wanted = Wanted()

    def show_pairs(self, answer: Answer | None, wanted: Wanted, made: Mapping[Keys, int]) -> None:
        """Show other pairs; *made* are those that are candidates already, by their keys."""
        before = self._rows, self._columns
        self._cells = {}
        self._answer, self.wanted, self._made = answer, wanted, made
        self._at = None if answer is None or answer.pairs is None else answer.at(wanted.seat)
        rows, columns = NONE, NONE
        if answer is not None and answer.pairs is not None and self._at is not None:
            rows, columns = shown(answer, self._at, wanted)
            self._out = _reasons(answer.pairs.findings), _reasons(answer.pairs.amplifier_findings)
        if (
            np.array_equal(rows, before[0])
            and np.array_equal(columns, before[1])
            and rows.size
            and columns.size
        ):
            self.dataChanged.emit(self.index(0, 0), self.index(rows.size - 1, columns.size - 1))
            for side, count in (
                (Qt.Orientation.Vertical, rows.size),
                (Qt.Orientation.Horizontal, columns.size),
            ):
                self.headerDataChanged.emit(side, 0, count - 1)
            return
        self.beginResetModel()
        self._rows, self._columns = rows, columns
        self.endResetModel()

    @property
    def answer(self) -> Answer | None:
        """What the pairs are taken from."""
        return self._answer

    def counts(self) -> dict[str, int]:
        """How many of the pairs shown have each verdict, and how many take part."""
        if self._at is None or not self._rows.size or not self._columns.size:
            return {"clears": 0, "tight": 0, "short": 0, "all": 0}
        headroom = self._at.headroom_db[np.ix_(self._rows, self._columns)]
        headroom = headroom[np.isfinite(headroom)]
        clears, not_short = int((headroom >= 3.0).sum()), int((headroom >= 0.0).sum())
        return {
            "clears": clears,
            "tight": not_short - clears,
            "short": headroom.size - not_short,
            "all": headroom.size,
        }

    def loudspeaker(self, row: int) -> Offer[Loudspeaker]:
        """The loudspeaker of a row."""
        assert self._answer is not None
        return self._answer.loudspeakers[int(self._rows[row])]

    def amplifier(self, column: int) -> Offer[Amplifier]:
        """The amplifier of a column."""
        assert self._answer is not None
        return self._answer.amplifiers[int(self._columns[column])]

    def figure(self, section: int, orientation: Qt.Orientation) -> str:
        """The sensitivity of a row's loudspeaker, or the watts of a column's amplifier."""
        assert self._answer is not None
        if orientation is Qt.Orientation.Horizontal:
            watts = float(self._answer.watts[self._columns[section]])
            return watts_text(watts) if np.isfinite(watts) else "–"
        level = float(self._answer.sensitivity_db[self._rows[section]])
        return f"{level:.1f} dB" if np.isfinite(level) else "–"

    def pair(self, row: int, column: int) -> Pair:
        """What comes of a pair."""
        assert self._at is not None
        return self._at.pair(int(self._rows[row]), int(self._columns[column]))

    def cell(self, row: int, column: int) -> Cell:
        """What a cell shows, remembered: a grid that is scrolled is painted over and over."""
        found = self._cells.get((row, column))
        if found is None:
            found = self._cells[row, column] = self._made_cell(row, column)
        return found

    def _made_cell(self, row: int, column: int) -> Cell:
        if self.why_not(row, column):
            return Cell("", NO_ANSWER)
        pair = self.pair(row, column)
        made = self.candidate(row, column) is not None
        return Cell(pair.verdict, headroom_text(pair), below_text(pair), made)

    def number(self, row: int, column: int) -> tuple[int, int]:
        """Loudspeaker and amplifier by their numbers in the answer."""
        return int(self._rows[row]), int(self._columns[column])

    def name(self, row: int, column: int) -> str:
        """What a candidate of the pair would be called."""
        return pair_name(self.loudspeaker(row), self.amplifier(column))

    def candidate(self, row: int, column: int) -> int | None:
        """The candidate that the pair is already."""
        return self._made.get((self.loudspeaker(row).key, self.amplifier(column).key))

    def why_not(self, row: int, column: int) -> str:
        """Why a pair cannot take part; empty if it can."""
        return self.loudspeaker_reason(row) or self.amplifier_reason(column)

    def loudspeaker_reason(self, row: int) -> str:
        """Why a row cannot take part; empty if it can."""
        return self._out[0].get(int(self._rows[row]), "")

    def amplifier_reason(self, column: int) -> str:
        """Why a column cannot take part; empty if it can."""
        return self._out[1].get(int(self._columns[column]), "")

    def sentence(self, row: int, column: int) -> str:
        """What comes of a pair, in words."""
        if why := self.why_not(row, column):
            return f"{self.name(row, column)}: {why}"
        pair = self.pair(row, column)
        assert self._answer is not None
        said = pair_sentence(self.name(row, column), pair, self._answer.seats[pair.seat])
        made = self.candidate(row, column)
        return said if made is None else f"{said} {self.tr('A candidate of this plan.')}"

    def keys(self, index: Index) -> Keys:
        """What tells the pair of a cell from all others."""
        return self.loudspeaker(index.row()).key, self.amplifier(index.column()).key

    def place_of(self, keys: Keys) -> QModelIndex:
        """The cell of a pair, or none where it is not shown."""
        rows = [self.loudspeaker(row).key for row in range(self.rowCount())]
        columns = [self.amplifier(column).key for column in range(self.columnCount())]
        if keys[0] not in rows or keys[1] not in columns:
            return QModelIndex()
        return self.index(rows.index(keys[0]), columns.index(keys[1]))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() or not self._columns.size else int(self._rows.size)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() or not self._rows.size else int(self._columns.size)

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        row, column = index.row(), index.column()
        if role in (Role.ToolTipRole, Role.AccessibleTextRole):
            return self.sentence(row, column)
        if role != Role.DisplayRole:
            return None
        cell = self.cell(row, column)
        if not cell.verdict:
            return cell.headroom
        return f"{verdict_word(cell.verdict)} {cell.headroom} dB, {cell.below}"

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        across = orientation is Qt.Orientation.Horizontal
        offer: Offer = self.amplifier(section) if across else self.loudspeaker(section)
        if role == Role.DisplayRole:
            return offer.name
        if role in (Role.ToolTipRole, Role.AccessibleTextRole):
            why = self.amplifier_reason(section) if across else self.loudspeaker_reason(section)
            figure = self.figure(section, orientation)
            text = (
                self.tr("{name}, {figure} into 8 Ω") if across else self.tr("{name}, {figure} for 1 W at 1 m")
            )
            said = text.format(name=offer.name, figure=figure)
            more = self.tr("A press sorts by the headroom with it.")
            return f"{said}\n{why or more}"
        return None


def _reasons(findings: Mapping[int, tuple[Finding, ...]]) -> dict[int, str]:
    return {number: reason(found) for number, found in findings.items()}
