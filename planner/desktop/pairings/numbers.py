"""The pairs as tables: the grid as it is shown for the clipboard, every pair in full for a file."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QCoreApplication, QIODevice, QSaveFile

from planner.desktop.charts.table import Column, Table, to_csv, to_tsv
from planner.desktop.pairings.answer import Answer
from planner.desktop.pairings.model import PairsModel
from planner.plan import Plan
from planner.report.words import asked_text

__all__ = ["SaveError", "as_csv", "as_grid", "filters", "save"]

translate = QCoreApplication.translate


class SaveError(Exception):
    """A file could not be written; the message says why, and what to do."""


def filters() -> dict[str, bool]:
    """The ways to write a file by the words that a file dialog shows, and whether decimals are commas."""
    return {
        translate("Pairings", "CSV table, decimal points (*.csv)"): False,
        translate("Pairings", "CSV table, decimal commas and semicolons (*.csv)"): True,
    }


def as_grid(model: PairsModel, decimal_point: str) -> str:
    """The headroom of the pairs shown, in their order, for a spreadsheet."""
    rows, columns = range(model.rowCount()), range(model.columnCount())
    names = tuple(model.loudspeaker(row).name for row in rows)
    levels = [
        Column(
            model.amplifier(column).name,
            "dB",
            np.array([model.pair(row, column).headroom_db for row in rows]),
        )
        for column in columns
    ]
    head = Column(translate("Pairings", "Headroom of loudspeaker with amplifier"), "", names)
    return to_tsv(Table((head, *levels)), decimal_point)


def as_csv(model: PairsModel, plan: Plan, decimal_comma: bool) -> str:
    """Every pair shown as a row: its parts, the headroom and the watts needed at every seat."""
    answer = model.answer
    assert answer is not None, "there is nothing to write before there is an answer"
    places = [(row, column) for row in range(model.rowCount()) for column in range(model.columnCount())]
    return to_csv(Table(tuple(_columns(model, answer, places)), _settings(plan)), decimal_comma)


def save(path: str, text: str) -> None:
    """Write a file whole or not at all; raises :class:`SaveError`."""
    data = text.encode("utf-8-sig")
    file = QSaveFile(path)
    opened = file.open(QIODevice.OpenModeFlag.WriteOnly)
    if not (opened and file.write(data) == len(data) and file.commit()):
        template = translate(
            "Pairings", "{path} could not be written: {reason}. Choose a folder that you may write to."
        )
        raise SaveError(template.format(path=path, reason=file.errorString()))


def _columns(model: PairsModel, answer: Answer, places: list[tuple[int, int]]) -> Iterator[Column]:
    assert answer.pairs is not None
    rows = np.array([model.number(row, column) for row, column in places], dtype=int).reshape(-1, 2)
    loudspeakers, amplifiers = rows[:, 0], rows[:, 1]
    yield Column(
        translate("Pairings", "Loudspeaker"), "", tuple(model.loudspeaker(row).name for row, _ in places)
    )
    yield Column(
        translate("Pairings", "Amplifier"), "", tuple(model.amplifier(one).name for _, one in places)
    )
    yield Column(translate("Pairings", "1 W at 1 m"), "dB", answer.sensitivity_db[loudspeakers])
    yield Column(
        translate("Pairings", "Watts rated"), "W", answer.pairs.watts_rated[loudspeakers, amplifiers], None
    )
    for number, seat in enumerate(answer.seats):
        headroom = answer.pairs.headroom_db[loudspeakers, amplifiers, number]
        needed = answer.pairs.watts_needed[loudspeakers, amplifiers, number]
        yield Column(translate("Pairings", "Headroom at {0}").format(seat), "dB", headroom)
        yield Column(translate("Pairings", "Watts needed at {0}").format(seat), "W", needed, None)
    yield Column(translate("Pairings", "Why not"), "", tuple(model.why_not(*place) for place in places))


def _settings(plan: Plan) -> str:
    return f"{plan.title}\n{asked_text(plan)}"
