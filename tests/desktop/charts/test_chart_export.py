"""Charts on the clipboard and in files: light paper, exact numbers, whole or not at all."""

import csv
import gc
import io
from xml.etree import ElementTree

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, QSaveFile, Qt
from PySide6.QtGui import (
    QFontMetricsF,
    QImage,
    QKeyEvent,
)

from planner.desktop.charts import (
    Column,
    Marks,
    Table,
    export,
)
from planner.desktop.charts.export import ExportError, Kind
from planner.desktop.charts.menu import ChartMenu
from planner.desktop.charts.table import to_csv, to_tsv
from planner.desktop.theme import DARK, LIGHT
from planner.desktop.theme.palette import palette_of
from tests.desktop.charts.samples import BANDS_HZ, LEVELS_DB, press


def test_that_copy_belongs_to_the_chart_that_has_the_focus(shown, clipboard):
    event = QKeyEvent(QEvent.Type.ShortcutOverride, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    event.ignore()
    QCoreApplication.sendEvent(shown, event)
    assert event.isAccepted()
    assert press(shown, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = clipboard.text().splitlines()
    assert lines[0].split("\t") == ["Band (Hz)", "Direct (dB)", "Reverberant (dB)"]
    assert float(lines[18].split("\t")[1]) == pytest.approx(LEVELS_DB[17])


def test_that_a_copied_picture_is_twice_the_size_and_on_light_paper_in_the_dark(shown, qapp, clipboard):
    shown.setPalette(palette_of(DARK))
    press(shown, Qt.Key.Key_Home)
    qapp.processEvents()
    shown.copy_picture()
    image = clipboard.image()
    assert image.width() == 2 * shown.viewport().width()
    assert image.height() > 2 * shown.viewport().height()
    corners = [(1, 1), (image.width() - 2, image.height() - 2)]
    assert [image.pixelColor(*corner) for corner in corners] == [LIGHT.pick("surface")] * 2
    assert shown.colours is DARK
    assert shown.first.opts["pen"].color() == DARK.pick("series 0")
    assert shown.first.opts["segmentedLineMode"] == "on"
    assert shown._ring.isVisible() and shown._reader.cursor.isVisible()


def test_that_lines_of_a_picture_are_twice_as_thick_as_on_the_screen(shown):
    shown.first.show_points([20.0, 20000.0], [90.0, 90.0])
    image = export.picture(shown)
    ink = LIGHT.pick("series 0")
    column = [image.pixelColor(image.width() // 2, y) for y in range(image.height())]
    assert sum(colour == ink for colour in column) in (3, 4)


def test_that_a_chart_nobody_saw_can_be_saved(chart):
    chart.show_data(LEVELS_DB)
    image = QImage.fromData(export.encoded(chart, Kind.PNG))
    assert image.width() == 2 * 640
    assert chart.drawn == 1
    ink = LIGHT.pick("series 0")
    colours = {image.pixelColor(x, y).rgb() for x in range(0, 1280, 2) for y in range(0, image.height(), 2)}
    assert ink.rgb() in colours


def texts_of(svg: bytes) -> dict[str, float]:
    """Every text of a drawing made by Qt, with the left end where it begins."""
    space = "{http://www.w3.org/2000/svg}"
    found = {}
    for group in ElementTree.fromstring(svg).iter(f"{space}g"):
        shift = group.get("transform", "matrix(1,0,0,1,0,0)").removeprefix("matrix(").removesuffix(")")
        for text in group.findall(f"{space}text"):
            found[str(text.text)] = float(text.get("x", "0")) + float(shift.split(",")[4])
    return found


def test_that_a_drawing_puts_its_figures_under_the_data_and_keeps_text_as_text(shown):
    texts = texts_of(export.encoded(shown, Kind.SVG))
    assert shown.headline() in texts and "Frequency (Hz)" in texts and "Reverberant" in texts
    metrics = QFontMetricsF(shown._bottom._font)
    for text, hz in (("125", 10**2.1), ("1k", 1000.0), ("8k", 10**3.9)):
        middle = texts[text] + metrics.horizontalAdvance(text) / 2.0
        place = shown.plotItem.vb.mapViewToScene(QPointF(float(np.log10(hz)), 80.0))
        assert middle == pytest.approx(place.x(), abs=1.0)


def test_that_a_page_has_the_size_of_the_chart_and_holds_no_bitmap(shown):
    shown.add(Marks(shown.scales, "", "accent", "d")).show_points([1000.0], [85.0])
    page = export.encoded(shown, Kind.PDF)
    assert page.startswith(b"%PDF") and page.rstrip().endswith(b"%%EOF")
    width = shown.viewport().width() * 72.0 / shown.logicalDpiX()
    box = page.split(b"/MediaBox [")[1].split(b"]")[0].split()
    assert float(box[2]) == pytest.approx(width, abs=1.0)
    assert b"/Subtype /Image" not in page


# Measured: at another resolution than the screen's the text grows away from the places it was reckoned for.
@pytest.mark.parametrize("kind", [Kind.SVG, Kind.PDF])
def test_that_paper_is_counted_in_the_pixels_of_the_screen(shown, monkeypatch, kind):
    devices = []

    def look_at(chart, painter, size):
        devices.append((painter.device().logicalDpiX(), painter.device().width() - size.width()))

    monkeypatch.setattr(export, "_paint_sheet", look_at)
    export.encoded(shown, kind)
    assert devices == [(shown.logicalDpiX(), pytest.approx(0, abs=1))]


@pytest.mark.parametrize(("kind", "separator", "point"), [(Kind.CSV, ",", "."), (Kind.CSV_COMMA, ";", ",")])
def test_that_a_csv_file_says_settings_and_units_and_loses_no_digit_that_counts(
    shown, kind, separator, point
):
    first, *rest = export.encoded(shown, kind).decode().splitlines()
    assert first == "# Demo room, sofa"
    header, *rows = csv.reader(io.StringIO("\n".join(rest)), delimiter=separator)
    assert header == ["Band (Hz)", "Direct (dB)", "Reverberant (dB)"]
    numbers = np.array([[float(cell.replace(point, ".")) for cell in row] for row in rows])
    assert numbers == pytest.approx(np.column_stack([BANDS_HZ, LEVELS_DB, LEVELS_DB - 3.0]), rel=1e-9)


def test_that_gaps_are_empty_cells_and_names_start_no_formula():
    table = Table(
        (Column("Seat", "", ("=1+1", "Sofa; left")), Column("Level", "dB", np.array([np.nan, -2.5])))
    )
    assert to_csv(table, decimal_comma=True) == 'Seat;Level (dB)\n\'=1+1;\n"Sofa; left";-2,5\n'
    assert to_tsv(table, ".") == "Seat\tLevel (dB)\n'=1+1\t\nSofa; left\t-2.5\n"


@pytest.mark.parametrize("kind", list(Kind))
def test_that_saving_writes_the_whole_file(shown, tmp_path, kind):
    path = tmp_path / f"chart.{kind.suffix}"
    path.write_bytes(b"old")
    export.save(shown, path, kind)
    assert path.stat().st_size > 500
    assert list(tmp_path.iterdir()) == [path]


def test_that_a_folder_that_cannot_be_written_is_named(shown, tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    path = blocked / "chart.png"
    with pytest.raises(ExportError, match="Choose a folder that you may write to") as fault:
        export.save(shown, path, Kind.PNG)
    assert str(path) in str(fault.value)


def test_that_a_save_that_fails_at_the_end_leaves_the_old_file(shown, tmp_path, monkeypatch):
    path = tmp_path / "chart.csv"
    path.write_text("old")
    monkeypatch.setattr(QSaveFile, "commit", lambda file: False)
    with pytest.raises(ExportError):
        export.save(shown, path, Kind.CSV)
    gc.collect()
    assert path.read_text() == "old"


@pytest.mark.parametrize(
    ("path", "chosen", "kind"),
    [
        ("a.svg", Kind.PNG, Kind.SVG),
        ("a.PDF", Kind.PNG, Kind.PDF),
        ("a.csv", Kind.CSV_COMMA, Kind.CSV_COMMA),
        ("a.csv", Kind.PNG, Kind.CSV),
        ("a", Kind.PDF, Kind.PDF),
        ("a.v2", Kind.SVG, Kind.SVG),
    ],
)
def test_that_the_files_own_suffix_rules_over_the_dialogs_filter(path, chosen, kind):
    words = {kind: words for words, kind in export.kinds_by_filter().items()}
    assert export.kind_for(path, words[chosen]) is kind


def test_that_the_dialog_saves_and_a_fault_is_told(shown, tmp_path, monkeypatch):
    told = []
    monkeypatch.setattr(ChartMenu, "tell", lambda menu, message: told.append(message))
    menu = shown.menu()
    menu.save_to(str(tmp_path / "chart.svg"))
    assert (tmp_path / "chart.svg").read_bytes().startswith(b"<?xml")
    menu.save_to(str(tmp_path / "none" / "chart.svg"))
    assert len(told) == 1 and "none" in told[0]


def test_that_asking_where_opens_a_dialog_with_every_kind_and_a_name(shown, qapp):
    menu = shown.menu()
    menu.ask_where()
    dialog = menu._dialog
    assert len(dialog.nameFilters()) == 5
    assert [name.rsplit("/")[-1] for name in dialog.selectedFiles()] == ["Level by band.png"]
    assert dialog.defaultSuffix() == "png"
    dialog.reject()
