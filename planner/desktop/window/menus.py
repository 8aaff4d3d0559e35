"""The menu bar, made from the table of commands; menus that change are filled when they open."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from planner.desktop.settings import settings
from planner.desktop.theme import Scheme
from planner.desktop.window.actions import MENUS, make_actions, menu_text
from planner.desktop.window.panels import ALWAYS, LOOKS, TABLE
from planner.plan.units import Preference
from planner.resources import demo_rooms

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

translate = QCoreApplication.translate

__all__ = ["Menus", "example_files", "scheme_names", "unit_names"]


def example_files() -> list[Path]:
    """The sample rooms that come with the program."""
    folder = Path(str(demo_rooms()))
    return sorted(folder.glob("*.json"))


def unit_names() -> dict[str, str]:
    """What the systems of units are called."""
    return {
        Preference.METRIC.value: translate("Choices", "&Metric"),
        Preference.US.value: translate("Choices", "&US customary"),
    }


def scheme_names() -> dict[str, str]:
    """What the themes are called."""
    return {
        Scheme.SYSTEM.value: translate("Choices", "As the &system"),
        Scheme.LIGHT.value: translate("Choices", "&Light"),
        Scheme.DARK.value: translate("Choices", "&Dark"),
    }


class Menus(QObject):
    """Builds the menus of one window and keeps what they offer up to date."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.actions = make_actions(window)
        self.examples = self._submenu(self.tr("New from &Example"), self._list_examples, self._open_example)
        self.recent = self._submenu(self.tr("Open &Recent"), self._list_recent, self._open_recent)
        self.export = self._submenu(self.tr("E&xport"), self._list_exports, self._export_chart)
        self.panels = self._made_panels()
        self.units = self._choice(self.tr("&Units"), unit_names(), self._choose_units)
        self.theme = self._choice(self.tr("&Theme"), scheme_names(), self._choose_scheme)
        for menu in MENUS:
            self._build(window.menuBar().addMenu(menu_text(menu)), menu.holds)
        window.files.moved.connect(self.refresh)
        window.document.history.indexChanged.connect(self.refresh)
        window.document.history.cleanChanged.connect(self.refresh)
        settings().units_changed.connect(self._check_choices)
        settings().scheme_changed.connect(self._check_choices)
        self._check_choices()
        self.refresh()

    def refresh(self) -> None:
        """Offer only what can be done now."""
        files, clean = self._window.files, self._window.document.history.isClean()
        # Save itself is always on offer: what is still being typed is no change yet.
        self.actions["revert"].setEnabled(files.path is not None and not clean)

    def shortcut_rows(self) -> list[tuple[str, str]]:
        """Every command that has keys: what it is called, and the keys."""
        return [
            (action.text().replace("&", ""), keys)
            for action in (*self.actions.values(), *self._window.looks.actions.values())
            if (keys := ", ".join(_typed(action.shortcuts())))
        ]

    def _build(self, menu: QMenu, holds: tuple[str, ...]) -> None:
        menu.setToolTipsVisible(True)
        for name in holds:
            if name == "-":
                menu.addSeparator()
            elif name == "looks":
                menu.addActions(list(self._window.looks.actions.values()))
            elif name.endswith(">"):
                menu.addMenu(getattr(self, name.removesuffix(">")))
            else:
                menu.addAction(self.actions[name])
        # A command that no menu holds any more would lose its keys; the window holds them all.
        self._window.addActions(menu.actions())

    def _made_panels(self) -> QMenu:
        """What switches each panel on and off, each once, under the first of its looks."""
        docks = self._window.docks.all
        menu = QMenu(self.tr("Pa&nels"), self._window)
        menu.addAction(docks[ALWAYS].toggleViewAction())
        for look in LOOKS:
            menu.addSection(look.title.replace("&", ""))
            own = (panel for panel in TABLE if panel.looks[:1] == (look.name,))
            menu.addActions([docks[panel.name].toggleViewAction() for panel in own])
        return menu

    def _submenu(self, text: str, fill: object, chosen: object) -> QMenu:
        menu = QMenu(text, self._window)
        menu.aboutToShow.connect(fill)
        menu.triggered.connect(chosen)
        return menu

    def _choice(self, text: str, names: dict[str, str], chosen: object) -> QMenu:
        menu = QMenu(text, self._window)
        group = QActionGroup(menu)
        for value, name in names.items():
            action = menu.addAction(name)
            action.setCheckable(True)
            action.setData(value)
            group.addAction(action)
        group.triggered.connect(chosen)
        return menu

    def _list_examples(self) -> None:
        self.examples.clear()
        for file in example_files():
            self._add(self.examples, file.stem.replace("_", " ").capitalize(), file)

    def _list_recent(self) -> None:
        self.recent.clear()
        for number, file in enumerate(settings().recent, start=1):
            action = self._add(self.recent, f"&{number % 10}  {_literal(file.name)}", file)
            action.setToolTip(str(file))
            action.setEnabled(file.is_file())
        self.recent.addSeparator()
        clear = self.recent.addAction(self.tr("&Clear"))
        clear.setEnabled(bool(settings().recent))

    def _list_exports(self) -> None:
        self.export.clear()
        self.export.addAction(self.actions["export_report"])
        self.export.addSeparator()
        for index, name in enumerate(self._window.charts.names()):
            self.export.addAction(self.tr("{0} as Picture or Table…").format(_literal(name))).setData(index)
        self.export.addSeparator()
        self.export.addActions([self.actions["export_json"], self.actions["export_text"]])

    def _add(self, menu: QMenu, text: str, file: Path) -> QAction:
        action = menu.addAction(text)
        action.setData(str(file))
        return action

    def _open_example(self, action: QAction) -> None:
        self._window.files.open_example(Path(action.data()))

    def _open_recent(self, action: QAction) -> None:
        if action.data() is None:
            settings().forget_recent()
        else:
            self._window.files.open_file(Path(action.data()))

    def _export_chart(self, action: QAction) -> None:
        if action.data() is not None:
            self._window.charts.export(action.data())

    def _choose_units(self, action: QAction) -> None:
        settings().units = Preference(action.data())

    def _choose_scheme(self, action: QAction) -> None:
        settings().scheme = action.data()

    def _check_choices(self) -> None:
        for menu, current in ((self.units, settings().units.value), (self.theme, settings().scheme)):
            for action in menu.actions():
                action.setChecked(action.data() == current)


def _typed(keys: Iterable[QKeySequence]) -> list[str]:
    """Keys as they are engraved, without those that only some keyboards have for music and browsers."""
    shown = QKeySequence.SequenceFormat.NativeText
    return [key.toString(shown) for key in keys if key[0].key() < Qt.Key.Key_Back]  # type: ignore[index]


def _literal(text: str) -> str:
    """A name as a menu shows it: an ampersand in it is no access key."""
    return text.replace("&", "&&")
