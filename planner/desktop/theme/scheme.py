"""Light, dark, or as the system has it: one call that dresses the whole program."""

from enum import Enum

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QStyleFactory

from planner.desktop.theme.palette import palette_of
from planner.desktop.theme.sheet import style_sheet
from planner.report.style import DARK, LIGHT, base_font

__all__ = ["Scheme", "apply", "chosen_scheme"]

DRESSER = "fewwatts theme"


class Scheme(Enum):
    """What the user chose; the values are what settings files keep."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


ASKED_OF_QT = {
    Scheme.SYSTEM: Qt.ColorScheme.Unknown,
    Scheme.LIGHT: Qt.ColorScheme.Light,
    Scheme.DARK: Qt.ColorScheme.Dark,
}


def apply(app: QApplication, scheme: Scheme) -> None:
    """Dress *app* in a scheme: Fusion style, palette, style sheet and font.

    Widgets hear of it as `PaletteChange`. With `Scheme.SYSTEM` the program goes on following the platform;
    one that does not tell counts as light.
    """
    dresser = _dresser(app) or _Dresser(app)
    dresser.wear(scheme)


def chosen_scheme(app: QApplication) -> Scheme:
    """Say which scheme was applied last; `Scheme.SYSTEM` before the first."""
    dresser = _dresser(app)
    return dresser.scheme if dresser else Scheme.SYSTEM


def _dresser(app: QApplication) -> "_Dresser | None":
    return app.findChild(_Dresser, DRESSER, Qt.FindChildOption.FindDirectChildrenOnly)


class _Dresser(QObject):
    """Keeps the chosen scheme with the application and follows the platform's."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self.setObjectName(DRESSER)
        self.scheme = Scheme.SYSTEM
        self._app = app
        app.setStyle(QStyleFactory.create("Fusion"))
        app.setFont(base_font())
        app.styleHints().colorSchemeChanged.connect(self._follow)

    def wear(self, scheme: Scheme) -> None:
        self.scheme = scheme
        # Frames and dialogs that the platform draws itself follow only if Qt is asked, where it can.
        self._app.styleHints().setColorScheme(ASKED_OF_QT[scheme])
        told = self._app.styleHints().colorScheme() if scheme is Scheme.SYSTEM else ASKED_OF_QT[scheme]
        self._paint(told)

    def _follow(self, told: Qt.ColorScheme) -> None:
        if self.scheme is Scheme.SYSTEM:
            self._paint(told)

    def _paint(self, told: Qt.ColorScheme) -> None:
        colours = DARK if told is Qt.ColorScheme.Dark else LIGHT
        self._app.setPalette(palette_of(colours))
        self._app.setStyleSheet(style_sheet(colours))
