"""``fewwatts report`` by its manners: what it writes, what it says, and with which status it ends."""

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSettings
from PySide6.QtGui import QColor, QImage

from planner.report import pdf
from planner.report.csv_tables import COLUMNS, csv_text
from planner.report.document import plan_document
from planner.report.maker import Maker, kept_maker
from planner.report.pdf import report
from planner.resources import demo_rooms
from tests.plans import changed, in_room, open_air
from tests.report.papers import cases_of, figures_of, pages_of

CHECKOUT = Path(__file__).parents[2]
pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def plan_file(tmp_path):
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(in_room()), encoding="utf-8")
    return str(file)


def test_that_a_plan_becomes_a_pdf_and_the_status_is_nought_even_if_it_is_short(plan_file, tmp_path, capsys):
    target = tmp_path / "report.pdf"
    assert report(plan_file, str(target)) == 0
    assert target.read_bytes().startswith(b"%PDF-")
    assert capsys.readouterr() == ("", "")


def test_that_a_report_of_a_short_candidate_is_a_report_all_the_same(tmp_path):
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(open_air(target={"peak_db": 130.0})), encoding="utf-8")
    assert report(str(file), str(tmp_path / "report.pdf")) == 0
    assert "falls short" in pages_of((tmp_path / "report.pdf").read_bytes())[0]


def test_that_the_file_is_replaced_in_one_step_and_leaves_nothing_beside_it(plan_file, tmp_path):
    target = tmp_path / "report.pdf"
    target.write_text("old", encoding="utf-8")
    target.chmod(0o640)
    assert report(plan_file, str(target)) == 0
    assert target.read_bytes().startswith(b"%PDF-")
    assert sorted(file.name for file in tmp_path.iterdir()) == ["plan.json", "report.pdf"]
    assert target.stat().st_mode & 0o777 == 0o640


def test_that_a_report_that_cannot_be_written_is_said_on_standard_error(plan_file, tmp_path, capsys):
    target = tmp_path / "nowhere" / "report.pdf"
    assert report(plan_file, str(target)) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith(f"{target}: cannot be written") and err.count("\n") == 1


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(changed(in_room(), "target", {"peak_db": "loud"}), id="a value that is no number"),
        pytest.param(changed(in_room(), "seats.0.x_m", 50.0), id="a seat outside the room"),
    ],
)
def test_that_every_fault_of_a_plan_is_a_line_on_standard_error(data, tmp_path, capsys):
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    assert report(str(file), str(tmp_path / "report.pdf")) == 2
    out, err = capsys.readouterr()
    assert out == "" and all(line.startswith(str(file)) for line in err.splitlines())
    assert not (tmp_path / "report.pdf").exists()


def test_that_a_file_that_is_not_there_is_named(tmp_path, capsys):
    assert report(str(tmp_path / "none.json"), str(tmp_path / "report.pdf")) == 2
    assert "none.json" in capsys.readouterr().err


def test_that_a_report_without_a_place_to_go_to_is_refused(plan_file, capsys):
    assert report(plan_file, None) == 2
    assert "-o report.pdf" in capsys.readouterr().err


def test_that_a_plan_is_read_from_standard_input(plan_file, tmp_path, monkeypatch):
    content = Path(plan_file).read_bytes()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content)))
    assert report("-", str(tmp_path / "report.pdf")) == 0


def test_that_paper_and_units_are_as_asked(plan_file, tmp_path):
    target = tmp_path / "report.pdf"
    assert report(plan_file, str(target), paper="letter", units="us") == 0
    page = PdfReader(target).pages[0]
    assert float(page.mediabox.width) == 612.0
    assert "13 ft" in "\n".join(pages_of(target.read_bytes()))


def test_that_a_machine_without_qt_s_libraries_is_told_what_to_install(
    plan_file, tmp_path, monkeypatch, capsys
):
    monkeypatch.setattr(pdf, "missing", lambda need_window: [("libEGL.so.1", "libegl1")])
    assert report(plan_file, str(tmp_path / "report.pdf")) == 3
    err = capsys.readouterr().err
    assert "libEGL.so.1" in err and "apt-get install -y libegl1" in err
    assert report(plan_file, None, as_csv=True) == 0


@pytest.mark.skipif(sys.platform != "linux", reason="fontconfig finds the fonts on Linux alone")
def test_that_a_machine_without_a_font_is_told_what_to_install(plan_file, tmp_path):
    config = tmp_path / "fonts.conf"
    (tmp_path / "fonts").mkdir()
    folder = f"<dir>{tmp_path / 'fonts'}</dir><cachedir>{tmp_path / 'cache'}</cachedir>"
    config.write_text(f'<?xml version="1.0"?><fontconfig>{folder}</fontconfig>', encoding="utf-8")
    code = f"from planner.report.pdf import report; print(report({plan_file!r}, {str(tmp_path / 'r.pdf')!r}))"
    environment = {**os.environ, "FONTCONFIG_FILE": str(config)}
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        cwd=CHECKOUT,
    )
    assert done.stdout.split() == ["3"], done.stderr
    assert "apt-get install -y fonts-dejavu-core" in done.stderr
    assert not (tmp_path / "r.pdf").exists()


def test_that_figures_as_a_table_need_no_qt(plan_file):
    code = (
        "import sys; from planner.report.pdf import report\n"
        f"status = report({plan_file!r}, None, as_csv=True)\n"
        "sys.stderr.write(f'{status} {sorted({name.split(chr(46))[0] for name in sys.modules})}')"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, cwd=CHECKOUT
    )
    assert done.stderr.startswith("0 ")
    assert "PySide6" not in done.stderr and "pyqtgraph" not in done.stderr
    assert done.stdout.startswith(",".join(COLUMNS))


def test_that_a_pdf_needs_neither_widgets_nor_the_window_s_charts(plan_file, tmp_path):
    target = str(tmp_path / "report.pdf")
    code = (
        f"import sys; from planner.report.pdf import report; print(report({plan_file!r}, {target!r}));"
        "print(*sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, cwd=CHECKOUT
    )
    assert done.stdout.startswith("0\n"), done.stderr
    loaded = set(done.stdout.split())
    assert not {"PySide6.QtWidgets", "PySide6.QtPrintSupport", "pyqtgraph", "planner.desktop"} & loaded


def test_that_the_table_holds_every_figure_of_the_answer_in_full():
    cases = cases_of("reading_room")
    rows = list(csv.DictReader(io.StringIO(csv_text(cases))))
    document = plan_document("", "", [case.answer for case in cases])
    for candidate in document["candidates"]:
        for seat in candidate["seats"]:
            mine = [
                row for row in rows if row["candidate"] == candidate["name"] and row["seat"] == seat["name"]
            ]
            texts = {row["value"] for row in mine} | {row["item"] for row in mine}
            missing = [(path, value) for path, value in figures_of(seat) if repr(value) not in texts]
            assert len(figures_of(seat)) > 100 and missing == []


def test_that_the_table_names_the_unit_of_every_number():
    rows = csv.DictReader(io.StringIO(csv_text(cases_of("map_room"))))
    for row in rows:
        if row["unit"] in ("W", "V", "A", "dB", "Hz", "m"):
            assert row["value"] == "not possible" or float(row["value"]) is not None


def test_that_the_table_goes_into_a_file_if_one_is_named(plan_file, tmp_path, capsys):
    target = tmp_path / "figures.csv"
    assert report(plan_file, str(target), as_csv=True) == 0
    assert target.read_text(encoding="utf-8").startswith("candidate,seat,table")
    assert capsys.readouterr().out == ""


def test_that_every_chart_is_saved_as_a_picture_and_as_a_drawing(tmp_path):
    folder = tmp_path / "charts" / "new"
    plan = str(demo_rooms() / "tea_room.json")
    assert report(plan, None, figures=str(folder)) == 0
    pictures, drawings = sorted(folder.glob("*.png")), sorted(folder.glob("*.svg"))
    assert [file.stem for file in pictures] == [file.stem for file in drawings]
    assert len(pictures) == 1 + 3 * 6
    for file in pictures:
        assert not QImage(str(file)).isNull()
    for file in drawings:
        ElementTree.parse(file)


def test_that_a_folder_that_cannot_be_made_is_said_on_standard_error(plan_file, tmp_path, capsys):
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert report(plan_file, None, figures=str(tmp_path / "file" / "charts")) == 2
    assert "cannot be made" in capsys.readouterr().err


def test_that_the_maker_s_name_and_address_head_the_first_page(plan_file, tmp_path):
    mark = QImage(20, 10, QImage.Format.Format_RGB32)
    mark.fill(QColor("#1E5B66"))
    mark.save(str(tmp_path / "mark.png"))
    target = tmp_path / "report.pdf"
    maker = Maker("Horns by the mill", "Mill lane 3\nRiverside", str(tmp_path / "mark.png"))
    assert report(plan_file, str(target), maker=maker) == 0
    pages = pages_of(target.read_bytes())
    assert pages[0].startswith("Horns by the mill\nMill lane 3\nRiverside")
    assert not any("Horns by the mill" in page for page in pages[1:])
    assert len(PdfReader(target).pages[0].images) == 1


def test_that_a_mark_that_is_lost_is_said_so_and_left_out(plan_file, tmp_path, capsys):
    target, mark = tmp_path / "report.pdf", tmp_path / "lost.svg"
    assert report(plan_file, str(target), maker=Maker(mark_file=str(mark))) == 0
    assert pages_of(target.read_bytes())[0].startswith("Will it play loud enough?")
    assert capsys.readouterr().err.startswith(f"{mark}: no picture")


def test_that_the_maker_is_taken_from_the_preferences(plan_file, tmp_path, monkeypatch):
    file = tmp_path / "fewwatts.ini"
    store = QSettings(str(file), QSettings.Format.IniFormat)
    store.setValue("maker/name", "Horns by the mill")
    store.sync()
    monkeypatch.setattr("platformdirs.user_config_path", lambda name: tmp_path)
    assert report(plan_file, str(tmp_path / "report.pdf")) == 0
    assert pages_of((tmp_path / "report.pdf").read_bytes())[0].startswith("Horns by the mill")
    assert kept_maker(store.value) == Maker("Horns by the mill")
