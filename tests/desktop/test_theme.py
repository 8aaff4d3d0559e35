"""The theme: contrast, colours told apart without colour vision, the scheme that the platform asks for."""

import itertools
import re
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QRectF, Qt
from PySide6.QtGui import QFont, QFontInfo, QImage, QPainter, QPalette
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.theme import (
    DARK,
    LIGHT,
    VERDICTS,
    Colours,
    Scheme,
    apply,
    base_font,
    chosen_scheme,
    colours_of,
    contrast,
    headline_font,
    paint_verdict,
    small_font,
    title_font,
    verdict_icon,
    verdict_word,
)
from planner.desktop.theme.palette import palette_of
from planner.desktop.theme.sheet import style_sheet

GROUNDS = ("window", "surface", "raised")
THEMES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]

# Machado, Oliveira and Fernandes 2009, "A physiologically-based model for simulation of color vision
# deficiency", severity 1.0, for linear sRGB; from memory. Each row sums to 1, as grey must stay grey.
COLOUR_VISION = {
    "normal": np.eye(3),
    "no red cones": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "no green cones": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "no blue cones": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}


@pytest.fixture
def app(qapp):
    """The application, undressed again afterwards."""
    style, font = qapp.style().name(), qapp.font()
    yield qapp
    apply(qapp, Scheme.LIGHT)
    qapp.setStyleSheet("")
    qapp.setStyle(style)
    qapp.setPalette(QPalette())
    qapp.setFont(font)


def linear_rgb(name: str) -> np.ndarray:
    parts = np.array([int(name[at : at + 2], 16) / 255.0 for at in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def cielab(rgb: np.ndarray) -> np.ndarray:
    """CIE 1976 L*a*b* of linear sRGB under D65 (CIE 15, IEC 61966-2-1)."""
    to_xyz = np.array(
        [
            [0.4124564, 0.3575761, 0.1804375],
            [0.2126729, 0.7151522, 0.0721750],
            [0.0193339, 0.1191920, 0.9503041],
        ]
    )
    xyz = to_xyz @ np.clip(rgb, 0.0, 1.0) / np.array([0.95047, 1.0, 1.08883])
    f = np.where(xyz > 216 / 24389, np.cbrt(xyz), (24389 / 27 * xyz + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def least_distance(names: tuple[str, ...], vision: np.ndarray) -> float:
    seen = [cielab(vision @ linear_rgb(name)) for name in names]
    return min(float(np.linalg.norm(a - b)) for a, b in itertools.combinations(seen, 2))


# WCAG 2.2, 1.4.3: text at least 4.5:1.
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("token", ["ink", "muted", "accent", "clears", "tight", "short"])
@pytest.mark.parametrize("colours", THEMES)
def test_that_text_stands_out_from_every_ground(colours, token, ground):
    assert contrast(getattr(colours, token), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("colours", THEMES)
def test_that_words_on_the_accent_can_be_read(colours):
    assert contrast(colours.on_accent, colours.accent) >= 4.5


# WCAG 2.2, 1.4.11: what must be seen to understand a picture or find a control, at least 3:1.
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("colours", THEMES)
def test_that_lines_stand_out_from_every_ground(colours, ground):
    lines = (colours.edge, colours.accent, *colours.series)
    assert min(contrast(line, getattr(colours, ground)) for line in lines) >= 3.0


@pytest.mark.parametrize("colours", THEMES)
def test_that_the_grid_is_seen_but_quieter_than_every_line_of_data(colours):
    quietest = min(contrast(line, colours.surface) for line in colours.series)
    assert 1.15 < contrast(colours.grid, colours.surface) < quietest / 2.0


# Just noticeable is about 2.3 (Mahy, Van Eycken, Oosterlinck 1994); 15 is plain at a glance, our choice.
@pytest.mark.parametrize("vision", list(COLOUR_VISION))
@pytest.mark.parametrize("colours", THEMES)
def test_that_series_are_told_apart_with_and_without_full_colour_vision(colours, vision):
    assert least_distance(colours.series, COLOUR_VISION[vision]) >= 15.0
    assert least_distance(colours.series[:4], COLOUR_VISION[vision]) >= 20.0


@pytest.mark.parametrize("vision", list(COLOUR_VISION))
def test_that_the_simulated_eye_keeps_grey_grey(vision):
    assert COLOUR_VISION[vision] @ np.ones(3) == pytest.approx(np.ones(3), abs=1e-5)


# WCAG 2.2: by definition white on black is 21 and a colour on itself 1.
def test_that_contrast_runs_from_1_to_21_whichever_colour_comes_first():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert contrast("#8C8375", "#8C8375") == pytest.approx(1.0)


@pytest.mark.parametrize("colours", THEMES)
def test_that_every_role_of_the_palette_is_set_by_hand(colours):
    palette = palette_of(colours)
    unset = {QPalette.ColorRole.NoRole, QPalette.ColorRole.NColorRoles}
    roles = set(QPalette.ColorRole) - unset
    group = QPalette.ColorGroup.Active
    assert [role.name for role in roles if not palette.isBrushSet(group, role)] == []


@pytest.mark.parametrize(
    ("text", "ground"),
    [
        ("WindowText", "Window"),
        ("Text", "Base"),
        ("Text", "AlternateBase"),
        ("PlaceholderText", "Base"),
        ("ButtonText", "Button"),
        ("BrightText", "Button"),
        ("ToolTipText", "ToolTipBase"),
        ("HighlightedText", "Highlight"),
        ("Link", "Base"),
        ("LinkVisited", "Base"),
    ],
)
@pytest.mark.parametrize("colours", THEMES)
def test_that_the_palette_pairs_text_and_ground_readably(colours, text, ground):
    palette = palette_of(colours)
    first, second = (palette.color(QPalette.ColorRole[role]) for role in (text, ground))
    assert contrast(first, second) >= 4.5


@pytest.mark.parametrize("colours", THEMES)
def test_that_a_palette_is_known_again_as_its_theme(colours):
    assert colours_of(palette_of(colours)) is colours


def test_that_a_token_with_no_meaning_is_refused():
    with pytest.raises(KeyError):
        LIGHT.pick("mauve")
    with pytest.raises(KeyError):
        LIGHT.pick("pick")


@pytest.mark.parametrize("colours", THEMES)
def test_that_the_style_sheet_uses_the_themes_colours_and_shapes_that_exist(colours):
    sheet = style_sheet(colours)
    known = {getattr(colours, name) for name in Colours.__slots__ if name != "series"}
    assert set(re.findall(r"#[0-9A-Fa-f]{6}", sheet)) <= known
    shapes = re.findall(r'url\("(.+?)"\)', sheet)
    assert shapes and all(Path(shape).is_file() for shape in shapes)


# The log of Qt fails a test at a warning, and a sheet that cannot be parsed is one.
@pytest.mark.parametrize(("scheme", "colours"), [(Scheme.LIGHT, LIGHT), (Scheme.DARK, DARK)])
def test_that_a_scheme_dresses_windows_already_open(qtbot, app, scheme, colours):
    apply(app, Scheme.DARK if scheme is Scheme.LIGHT else Scheme.LIGHT)
    window = QWidget()
    button = QPushButton("OK", window)
    qtbot.addWidget(window)
    window.resize(200, 100)
    window.show()
    apply(app, scheme)
    app.processEvents()
    assert colours_of(window.palette()) is colours
    assert button.palette().color(QPalette.ColorRole.ButtonText) == colours.pick("ink")
    assert window.grab().toImage().pixelColor(150, 90) == colours.pick("window")
    assert chosen_scheme(app) is scheme


class Hearer(QObject):
    """Counts the palette changes that a widget hears of."""

    def __init__(self) -> None:
        super().__init__()
        self.heard = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.heard += event.type() == QEvent.Type.PaletteChange
        return False


def test_that_widgets_hear_of_another_scheme(qtbot, app):
    apply(app, Scheme.LIGHT)
    window, hearer = QWidget(), Hearer()
    qtbot.addWidget(window)
    window.show()
    window.installEventFilter(hearer)
    apply(app, Scheme.DARK)
    app.processEvents()
    assert hearer.heard > 0


# Measured: the offscreen platform and plain X11 tell nothing.
def test_that_a_platform_that_does_not_tell_counts_as_light(qtbot, app):
    assert app.styleHints().colorScheme() is Qt.ColorScheme.Unknown
    apply(app, Scheme.SYSTEM)
    assert colours_of(app.palette()) is LIGHT


def test_that_system_follows_the_platform_and_a_choice_does_not(qtbot, app):
    apply(app, Scheme.SYSTEM)
    app.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert colours_of(app.palette()) is DARK
    apply(app, Scheme.LIGHT)
    app.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert colours_of(app.palette()) is LIGHT


def test_that_dressing_again_leaves_one_follower(qtbot, app):
    for scheme in (*Scheme, *Scheme):
        apply(app, scheme)
    followers = [child for child in app.children() if child.objectName() == "fewwatts theme"]
    assert len(followers) == 1


def test_that_fonts_are_in_points_and_keep_their_order_of_size(qtbot):
    base = base_font()
    assert base.pixelSize() == -1
    sizes = [font.pointSizeF() for font in (small_font(base), base, headline_font(base), title_font(base))]
    assert sizes == sorted(sizes) and sizes[0] >= 8.0


def test_that_a_font_given_in_pixels_still_gives_points(qtbot):
    pixels = QFont(base_font())
    pixels.setPixelSize(30)
    made = headline_font(pixels)
    assert made.pixelSize() == -1
    assert made.pointSizeF() == pytest.approx(1.1 * QFontInfo(pixels).pointSizeF())


def silhouette(verdict: str, colours: Colours) -> np.ndarray:
    """Where a verdict's shape covers the ground, as 0 and 1."""
    image = QImage(32, 32, QImage.Format.Format_ARGB32)
    image.fill(colours.pick("surface"))
    with QPainter(image) as painter:
        paint_verdict(painter, QRectF(0.0, 0.0, 32.0, 32.0), verdict, colours)
    ground = colours.pick("surface").rgb()
    return np.array([[image.pixel(QPoint(x, y)) != ground for x in range(32)] for y in range(32)])


@pytest.mark.parametrize("colours", THEMES)
def test_that_verdicts_differ_in_shape_and_word_and_not_in_colour_alone(qtbot, colours):
    shapes = [silhouette(verdict, colours) for verdict in VERDICTS]
    for first, second in itertools.combinations(shapes, 2):
        assert np.mean(first != second) > 0.1
    assert len({verdict_word(verdict) for verdict in VERDICTS}) == 3


def test_that_a_verdict_icon_is_sharp_on_dense_screens(qtbot):
    icon = verdict_icon("tight", DARK, 16)
    assert {size.width() for size in icon.availableSizes()} == {16, 24, 32, 48}


@pytest.mark.parametrize("paint", [verdict_word, lambda word: verdict_icon(word, LIGHT)])
def test_that_a_fourth_verdict_is_refused(qtbot, paint):
    with pytest.raises(KeyError):
        paint("marginal")
