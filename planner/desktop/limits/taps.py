"""The taps of an amplifier side by side: one press uses another, one gives the choice back to the rule."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.charts.figures import significant
from planner.desktop.charts.seat_panel import short_name, signed, watts_text
from planner.desktop.fields import Hint
from planner.desktop.limits.tile import TapTile, ohm_text
from planner.desktop.window.chooser import Chooser
from planner.headroom.taps import AmplifierTaps

__all__ = ["TapsRow"]

MOST_IN_A_ROW = 4
BETTER_DB = 0.05


class TapsRow(QWidget):
    """Shows what :func:`planner.headroom.taps.tap_choices` found; others carry out what is wanted."""

    tap_wanted = Signal(int, float)
    rule_wanted = Signal(int)
    valve_wanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Taps"))
        self._choices: tuple[AmplifierTaps, ...] = ()
        self._seat = 0
        self.tiles: list[TapTile] = []
        self.title = QLabel(self.tr("Tap&s of"))
        self.title.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.chooser = Chooser(self.tr("Amplifier looked at"), self.tr("Whose taps are shown"))
        self.title.setBuddy(self.chooser)
        self.name = QLabel()
        self.rule = QPushButton(self.tr("By r&ule"))
        self.rule.setAccessibleName(self.tr("Choose the tap by rule"))
        self.rule.setToolTip(
            self.tr("Take the tap nearest to the nominal impedance on a log scale, whatever the load becomes")
        )
        self.valve = QPushButton(self.tr("From a &valve…"))
        self.valve.setToolTip(
            self.tr("Estimate the ratings of this amplifier from its valve and transformer")
        )
        self.why = Hint()
        self._lay_out()
        self.chooser.activated.connect(self._show)
        self.rule.clicked.connect(self._want_rule)
        self.valve.clicked.connect(self._want_valve)

    @property
    def amplifier(self) -> int:
        """Index of the amplifier whose taps are shown."""
        return max(0, min(self.chooser.currentIndex(), len(self._choices) - 1))

    def show_choices(self, choices: tuple[AmplifierTaps, ...], seat: int) -> None:
        """Show the taps of a candidate's amplifiers at a seat; none empties the row."""
        self._choices, self._seat = choices, seat
        self.setVisible(bool(choices))
        if choices:
            names = [one.name for one in choices]
            self.chooser.offer(names, min(max(self.chooser.currentIndex(), 0), len(names) - 1))
            self._show()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(self.title)
        head.addWidget(self.name, 1)
        head.addWidget(self.chooser, 1)
        head.addWidget(self.rule)
        head.addWidget(self.valve)
        self.name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.grid = QGridLayout()
        self.grid.setSpacing(6)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 2, 4, 0)
        lines.setSpacing(4)
        lines.addLayout(head)
        lines.addLayout(self.grid)
        lines.addWidget(self.why)

    def _show(self) -> None:
        shown = self._choices[self.amplifier]
        several = len(self._choices) > 1
        self.chooser.setVisible(several)
        self.name.setVisible(not several)
        self.name.setText(short_name(shown.name))
        self._fit_tiles(len(shown.taps))
        for tile, tap in zip(self.tiles, shown.taps, strict=True):
            tile.show_tap(
                tap, self._seat, in_use=tap.ohm == shown.in_use_ohm, by_rule=tap.ohm == shown.by_rule_ohm
            )
        self.rule.setEnabled(shown.stated_ohm is not None)
        self.why.say(self._reason(shown))

    def _fit_tiles(self, count: int) -> None:
        while len(self.tiles) < count:
            tile, place = TapTile(self), len(self.tiles)
            tile.clicked.connect(self._want_tap)
            self.tiles.append(tile)
            self.grid.addWidget(tile, place // MOST_IN_A_ROW, place % MOST_IN_A_ROW)
        while len(self.tiles) > count:
            tile = self.tiles.pop()
            self.grid.removeWidget(tile)
            tile.hide()
            tile.deleteLater()

    def _reason(self, shown: AmplifierTaps) -> str:
        used, best = shown.in_use, shown.best
        words = {
            "tap": ohm_text(used.ohm),
            "nominal": ohm_text(shown.nominal_ohm),
            "rule": ohm_text(shown.by_rule_ohm),
            "watts": watts_text(used.rating.watts),
            "distortion": significant(used.rating.distortion_pct),
        }
        if shown.stated_ohm is None:
            text = self.tr(
                "{tap} by the rule, nearest to {nominal} nominal; it counts {watts} at {distortion} %."
            )
        elif used.ohm == shown.by_rule_ohm:
            text = self.tr(
                "{tap} by the plan; the rule would take it too. It counts {watts} at {distortion} %."
            )
        else:
            text = self.tr(
                "{tap} by the plan; the rule would take {rule}. It counts {watts} at {distortion} %."
            )
        said = text.format(**words)
        more = float(best.headroom_db[self._seat] - used.headroom_db[self._seat])
        if best.ohm != used.ohm and more > BETTER_DB:
            text = self.tr("{tap} would give {more} dB more.")
            said = f"{said} {text.format(tap=ohm_text(best.ohm), more=signed(more).lstrip('+'))}"
        return said

    def _want_tap(self) -> None:
        tile = self.sender()
        if isinstance(tile, TapTile):
            self.tap_wanted.emit(self.amplifier, tile.ohm)

    def _want_rule(self) -> None:
        self.rule_wanted.emit(self.amplifier)

    def _want_valve(self) -> None:
        self.valve_wanted.emit(self.amplifier)
