"""A line under a field or a row: what is wrong, and what was expected."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from planner.desktop.fields.bound import Bound
from planner.desktop.fields.number import NumberField
from planner.desktop.fields.place import Place
from planner.desktop.settings import settings
from planner.desktop.theme import colours_of, small_font
from planner.plan import Finding
from planner.plan.edit import path_text
from planner.plan.units import Preference, show

__all__ = ["Note"]

BAR_PX = 3
_METRES = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) (m²|m)(?![a-zA-Z0-9²/])")


class Note(QLabel):
    """Shows the faults of the fields it watches, else the findings of its places; hidden without any."""

    def __init__(self, *places: Place, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.places = places
        self._fields: list[Bound] = []
        self._findings: tuple[Finding, ...] = ()
        self._dressing = False
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setContentsMargins(BAR_PX + 5, 0, 0, 2)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.hide()
        self._dress()
        settings().units_changed.connect(self.refresh)

    def watch(self, *fields: Bound) -> None:
        """Show the faults of these fields too."""
        for field in fields:
            self._fields.append(field)
            field.fault_changed.connect(self.refresh)

    def show_findings(self, findings: Sequence[Finding]) -> None:
        """Show what the plan's cross-checks say about these places."""
        self._findings = tuple(findings)
        self.refresh()

    def refresh(self) -> None:
        """Say what is wrong now."""
        faults = [
            self.tr("Not taken: {0}.").format(field.fault.rstrip("."))
            for field in self._fields
            if field.fault
        ]
        findings = [self._finding(one) for one in self._findings]
        text = "\n".join(faults or findings)
        self.setText(text)
        self.setAccessibleName(text)
        self.setVisible(bool(text))

    def _finding(self, finding: Finding) -> str:
        expected, found = in_units(finding.expected, settings().units), self._found(finding)
        if found:
            return self.tr("To mend: expected {0}; found {1}.").format(expected, found)
        return self.tr("To mend: expected {0}.").format(expected)

    def _found(self, finding: Finding) -> str:
        """The value at fault as the field shows it that stands here, else as the finding has it."""
        for field in self._fields:
            if isinstance(field, NumberField) and path_text(field.place.path) == finding.path:
                return field.text()
        return in_units(finding.value, settings().units)

    def _dress(self) -> None:
        self._dressing = True
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.WindowText, colours_of(palette).pick("short"))
        self.setPalette(palette)
        self.setFont(small_font(self.font()))
        self._dressing = False

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and not self._dressing:
            self._dress()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        with QPainter(self) as painter:
            painter.fillRect(
                QRectF(0.0, 2.0, BAR_PX, self.height() - 4.0), colours_of(self.palette()).pick("short")
            )


def in_units(text: str, units: Preference) -> str:
    """A text in whose figures metres and square metres are turned into the units preferred.

    Examples
    --------
    >>> in_units("0 to 2.54 m", Preference.US), in_units("0 to 2.54 m", Preference.METRIC)
    ('0 to 8 ft 4.0 in', '0 to 2.54 m')
    """
    if units is Preference.METRIC:
        return text
    return _METRES.sub(partial(_shown, units), text)


def _shown(units: Preference, match: re.Match[str]) -> str:
    return show(float(match[1]), "m2" if match[2] == "m²" else "m", units)
