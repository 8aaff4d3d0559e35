"""The map of the floor in the window: live, to scale, read by pointer and keys, copied and saved."""

import csv
import gc
import weakref
import xml.etree.ElementTree as ET
from itertools import pairwise, product

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import QImage, QMouseEvent

from planner.desktop.charts import export
from planner.desktop.document import PlanDocument
from planner.desktop.floor_map import FloorMapPanel, view
from planner.desktop.floor_map.quantity import Choice, Quantity
from planner.desktop.floor_map.ramp import ramp
from planner.desktop.settings import settings
from planner.desktop.theme import Scheme, apply, colours_of, contrast
from planner.headroom.floor_map import COLUMNS, ROWS, figure_at, floor_map
from planner.headroom.nulls import nulls
from planner.plan import put
from planner.plan.units import Preference
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import edit, open_air_plan
from tests.plans import changed, in_room, plan_of

EAR_M, SIXTY_THREE_HZ = 1.1, 5
SHIFT, ALT = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.AltModifier
STAND = ("stands", 0, "x_m")


@pytest.fixture
def document(qapp, sample_plan):
    """The sample plan with all ears at one height, which is then that of the map."""
    return PlanDocument(put(sample_plan, ("seats", 1, "z_m"), EAR_M))


@pytest.fixture
def panel(qtbot, document):
    return put_up(qtbot, document)


def put_up(qtbot, document, size=(720, 460)):
    made = FloorMapPanel(document)
    qtbot.addWidget(made)
    made.resize(*size)
    made.show()
    settle()
    return made


def settle():
    for _ in range(4):
        QCoreApplication.processEvents()


def show(panel, quantity, band=SIXTY_THREE_HZ):
    """Choose in the box what the map shows, as a person does."""
    wanted = Choice(quantity, band).title(panel.chart.sight.seat.bands.centre_hz)
    panel.chooser.setCurrentIndex(panel.chooser.findText(wanted))
    panel.chooser.activated.emit(panel.chooser.currentIndex())
    settle()


def point_at(panel, x_m, y_m):
    """Move the pointer over a place of the floor."""
    chart, floor = panel.chart, panel.chart.shown.map.floor
    field = chart.plotItem.vb.sceneBoundingRect()
    across, up = (x_m - floor.x_m) / floor.length_m, (y_m - floor.y_m) / floor.width_m
    scene = QPointF(field.left() + across * field.width(), field.bottom() - up * field.height())
    where = QPointF(chart.mapFromScene(scene))
    none = Qt.MouseButton.NoButton
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        where,
        QPointF(chart.viewport().mapToGlobal(where.toPoint())),
        none,
        none,
        Qt.KeyboardModifier.NoModifier,
    )
    QCoreApplication.sendEvent(chart.viewport(), event)


def figures(text):
    """Every number of a text that ends in dB."""
    words = text.replace("−", "-").replace("≈ ", "").split()
    return [float(word) for word, unit in pairwise(words) if unit == "dB"]


@pytest.mark.parametrize("quantity", list(Quantity))
def test_that_the_map_shows_what_is_chosen(panel, document, quantity):
    show(panel, quantity)
    drawn = floor_map(document.plan, 0)
    wanted = {
        Quantity.PEAK: drawn.loudest_peak_db,
        Quantity.HEADROOM: drawn.headroom_db,
        Quantity.GAIN: drawn.room_gain_db[SIXTY_THREE_HZ],
    }[quantity]
    assert panel.chart.shown.values == pytest.approx(wanted, nan_ok=True)
    heat = panel.chart.heat
    assert np.array_equal(heat._values, panel.chart.shown.closed)
    assert quantity.title in panel.chart.bar.title


@pytest.fixture
def lopsided(qtbot, document):
    """A map that is not alike from left to right, nor from front to back."""
    plan = put(put(document.plan, ("stands", 0, "y_m"), 0.3), ("stands", 1, "x_m"), 2.4)
    return put_up(qtbot, PlanDocument(plan))


def test_that_colours_are_those_of_the_key(lopsided):
    """A pixel of the picture in the middle of a cell has the colour of the step its value lies in."""
    panel, chart = lopsided, lopsided.chart
    image, field = panel.grab().toImage(), chart.plotItem.vb.sceneBoundingRect()
    values, steps = chart.shown.closed, chart.bar.steps
    cells = [at for at in product(range(6, 56, 2), range(4, 42, 2)) if _inside(chart, *at)]
    assert len(cells) > 20
    for column, row in cells:
        scene = QPointF(
            field.left() + (column + 0.5) / COLUMNS * field.width(),
            field.bottom() - (row + 0.5) / ROWS * field.height(),
        )
        where = chart.viewport().mapTo(panel, chart.mapFromScene(scene))
        assert image.pixelColor(where).rgb() == ramp(steps.count)[steps.numbers(values[column, row])]


def _inside(chart, column, row):
    """Whether a cell and all about it lie in one step of colour, away from symbols and words."""
    plan, floor = chart.sight.plan, chart.shown.map.floor
    at = floor.columns_m[column], floor.rows_m[row]
    if any(abs(at[0] - one.x_m) < 1.6 and abs(at[1] - one.y_m) < 0.7 for one in (*plan.seats, *plan.stands)):
        return False
    near = chart.bar.steps.numbers(chart.shown.closed[column - 1 : column + 2, row - 1 : row + 2])
    return len(np.unique(near)) == 1


def test_that_the_floor_is_drawn_to_scale_with_its_walls_as_ends(panel, document):
    field = panel.chart.plotItem.vb.sceneBoundingRect()
    length, width, _ = document.plan.room.dimensions_m
    assert field.width() / field.height() == pytest.approx(length / width, rel=0.01)
    assert (panel.chart.scales.x.low, panel.chart.scales.x.high) == (0.0, length)
    assert (panel.chart.scales.y.low, panel.chart.scales.y.high) == (0.0, width)
    panel.resize(420, 620)
    settle()
    field = panel.chart.plotItem.vb.sceneBoundingRect()
    assert field.width() / field.height() == pytest.approx(length / width, rel=0.01)


@pytest.mark.parametrize("size", [(420, 300), (505, 330), (720, 460), (300, 420), (1000, 400)])
def test_that_the_key_of_the_colours_finds_room_beside_the_floor(qtbot, document, size):
    panel = put_up(qtbot, document, size)
    chart = panel.chart
    bar = chart.bar
    field = chart.plotItem.vb.geometry()
    assert bar._box.left() > field.right()
    assert field.right() + bar.room_px <= chart.plotItem.size().width()
    assert field.width() > 60.0


@pytest.mark.parametrize("quantity", [Quantity.HEADROOM, Quantity.PEAK])
def test_that_the_line_lies_where_the_target_is_just_met(qtbot, panel, document, quantity):
    show(panel, quantity)
    edit(qtbot, document, ("target", "peak_db"), 110.0)
    settle()
    chart = panel.chart
    pieces = chart.line.pieces
    assert 0.0 < chart.shown.share_met < 1.0 and len(pieces) > 20
    length, width, _ = document.plan.room.dimensions_m
    for x_share, y_share in pieces.mean(axis=1)[:: len(pieces) // 8]:
        exact = figure_at(document.plan, 0, x_share * length, y_share * width)
        # The map is within 1 dB of a seat there.
        assert abs(exact.headroom_db) < 1.0
    assert "110 dB" in " ".join(caption.text for caption, _ in chart.captions.placed)
    assert f"{round(100 * chart.shown.share_met)} %" in chart.headline()


def test_that_the_line_is_drawn_where_it_lies(qtbot, lopsided):
    edit(qtbot, lopsided._document, ("target", "peak_db"), 110.0)
    settle()
    line = lopsided.chart.line
    field = lopsided.chart.plotItem.vb.rect()
    for (start, end), drawn in zip(line.pieces, line._lines, strict=True):
        for (across, up), point in ((start, drawn.p1()), (end, drawn.p2())):
            assert point.x() == pytest.approx(across * field.width(), abs=0.01)
            assert point.y() == pytest.approx((1.0 - up) * field.height(), abs=0.01)


def test_that_places_too_near_a_stand_are_hatched(panel, document):
    """Ears at 1.1 m are 0.3 m from a stand at 1.0 m on a circle of √(0.09 − 0.01) = 0.283 m."""
    image, chart, stand = panel.grab().toImage(), panel.chart, document.plan.stands[0]

    def shade(away_m):
        # To the right of the way it faces, so that its own symbol is not in between.
        floor, field = chart.shown.map.floor, chart.plotItem.vb.sceneBoundingRect()
        x_m, y_m = stand.x_m + away_m, stand.y_m + 0.02
        scene = QPointF(
            field.left() + x_m / floor.length_m * field.width(),
            field.bottom() - y_m / floor.width_m * field.height(),
        )
        return image.pixelColor(chart.viewport().mapTo(panel, chart.mapFromScene(scene))).rgb()

    colours = set(ramp(chart.bar.steps.count).tolist())
    assert not colours & {shade(away_m) for away_m in (0.2, 0.22, 0.24, 0.26)}
    assert {shade(0.36), shade(0.4)} <= colours


def test_that_a_target_met_everywhere_or_nowhere_is_said_and_has_no_line(qtbot, panel, document):
    edit(qtbot, document, ("target", "peak_db"), 60.0)
    settle()
    assert len(panel.chart.line.pieces) == 0 and "whole floor" in panel.chart.headline()
    edit(qtbot, document, ("target", "peak_db"), 140.0)
    settle()
    assert len(panel.chart.line.pieces) == 0 and "nowhere" in panel.chart.headline()


def test_that_a_drag_is_mapped_live_one_turn_after_the_answer_and_once_for_many_edits(
    qtbot, panel, document, monkeypatch
):
    drawn = []
    monkeypatch.setattr(panel.chart, "draw", lambda view, draw=panel.chart.draw: drawn.append(draw(view)))
    before = panel.chart.shown.values
    with qtbot.waitSignal(document.solved):
        for step in range(1, 6):
            document.edit(STAND, 0.9 + 0.05 * step, "Move")
    assert drawn == []
    settle()
    assert len(drawn) == 1
    assert panel.chart.shown.values != pytest.approx(before, nan_ok=True)
    assert panel.chart.shown.sight.plan is document.plan


def test_that_a_hidden_map_is_not_computed_until_it_is_shown(qtbot, document, monkeypatch):
    computed = []
    monkeypatch.setattr(view, "floor_map", lambda *about: computed.append(about) or floor_map(*about))
    panel = FloorMapPanel(document)
    qtbot.addWidget(panel)
    edit(qtbot, document, STAND, 1.0)
    edit(qtbot, document, STAND, 1.1)
    settle()
    assert computed == []
    panel.show()
    settle()
    assert [plan for plan, _ in computed] == [document.plan]


def test_that_the_scale_of_colours_stands_still_while_something_is_dragged(qtbot, panel, document):
    edit(qtbot, document, STAND, 0.95)
    settle()
    steps = panel.chart.bar.steps
    for step in range(8):
        edit(qtbot, document, STAND, 0.96 + 0.01 * step)
        settle()
        assert panel.chart.bar.steps == steps


def test_that_the_pointer_reads_about_the_figure_at_once_and_exactly_after_a_rest(qtbot, panel, document):
    show(panel, Quantity.GAIN)
    point_at(panel, 3.0, 1.5)
    about = panel.chart.reading()
    assert about.count("≈") == 3 and about.startswith("x ")
    assert panel.chart.cross.spot == pytest.approx((3.0, 1.5), abs=0.02)
    with qtbot.waitSignal(panel.chart.reading_changed):
        pass
    said = panel.chart.reading()
    assert "≈" not in said
    spot = panel.chart.cross.spot
    exact = figure_at(document.plan, 0, *spot)
    wanted = [exact.loudest_peak_db, exact.headroom_db, exact.bands.room_gain_db[SIXTY_THREE_HZ]]
    assert figures(said) == pytest.approx(wanted, abs=0.051)
    assert figures(about)[:2] == pytest.approx(wanted[:2], abs=1.0)


def test_that_home_reads_at_the_seat_what_the_seat_is_told(qtbot, panel, document):
    press(panel.chart, Qt.Key.Key_Home)
    panel.chart.read_exactly()
    seat = document.outcome.seats[0]
    assert figures(panel.chart.reading())[:2] == pytest.approx(
        [seat.loudest_peak_db, seat.headroom_db], abs=0.051
    )


def test_that_arrow_keys_walk_the_cross_in_the_steps_of_the_drawing(panel):
    press(panel.chart, Qt.Key.Key_Home)
    walked = []
    for key, modifiers in ((Qt.Key.Key_Left, None), (Qt.Key.Key_Up, SHIFT), (Qt.Key.Key_Right, ALT)):
        assert press(panel.chart, key, modifiers or Qt.KeyboardModifier.NoModifier)
        walked.append(panel.chart.cross.spot)
    assert walked == [pytest.approx(one) for one in ((4.15, 2.2), (4.15, 2.7), (4.16, 2.7))]
    assert panel.chart.cross.cross.isVisible()
    for _ in range(20):
        press(panel.chart, Qt.Key.Key_Right, SHIFT)
    assert panel.chart.cross.spot == pytest.approx((6.0, 2.7))
    press(panel.chart, Qt.Key.Key_Escape)
    assert panel.chart.reading() == "" and not panel.chart.cross.cross.isVisible()


def test_that_a_reading_by_pointer_ends_when_it_leaves_and_one_by_keys_stays(panel):
    point_at(panel, 3.0, 1.5)
    QCoreApplication.sendEvent(panel.chart.viewport(), QEvent(QEvent.Type.Leave))
    panel.chart.leaveEvent(QEvent(QEvent.Type.Leave))
    assert panel.chart.reading() == ""
    press(panel.chart, Qt.Key.Key_Left)
    panel.chart.leaveEvent(QEvent(QEvent.Type.Leave))
    assert panel.chart.reading() != ""


def test_that_beside_a_stand_nobody_may_sit(panel, document):
    stand = document.plan.stands[0]
    point_at(panel, stand.x_m + 0.1, stand.y_m)
    assert "–" in panel.chart.reading()
    panel.chart.read_exactly()
    assert "too near a stand" in panel.chart.reading()


def test_that_a_place_read_by_keys_is_read_anew_after_an_edit(qtbot, panel, document):
    press(panel.chart, Qt.Key.Key_Home)
    panel.chart.read_exactly()
    before = panel.chart.reading()
    edit(qtbot, document, ("target", "peak_db"), 97.0)
    settle()
    panel.chart.read_exactly()
    assert figures(panel.chart.reading())[1] == pytest.approx(figures(before)[1] + 3.0, abs=0.11)


def test_that_feet_are_shown_to_who_reads_feet(panel):
    settings().units = Preference.US
    settle()
    # 6 m are 19.685 ft.
    assert panel.chart.scales.x.high == pytest.approx(19.685, abs=1e-3)
    press(panel.chart, Qt.Key.Key_Home)
    assert panel.chart.reading().startswith("x 13 ft 9.4 in")
    assert panel.chart.table().headers[0] == "x (ft)"


def test_that_seats_are_told_with_their_own_figures(panel, document):
    words = [caption.text for caption, _ in panel.chart.captions.placed]
    shown = panel.chart.shown
    for seat in document.outcome.seats:
        assert any(shown.choice.text(seat.headroom_db) in text for text in words)
        assert f"{seat.name} {shown.choice.text(seat.headroom_db)}" in panel.chart.summary()
    assert panel.chart.accessibleDescription() == panel.chart.summary()
    assert "1.10 m" in panel.chart.summary()


def test_that_another_seat_or_candidate_is_followed(panel, document):
    before = panel.chart.shown.values
    document.choose(candidate=1, seat=1)
    settle()
    assert panel.chart.shown.values != pytest.approx(before, nan_ok=True)
    assert "Desk" in panel.chart.table().settings


def test_that_nulls_are_told_below_the_map_after_a_rest(qtbot):
    # In the middle of the length half of the modes along it have a node, and little damps the others.
    aimed = {"azimuth_deg": 0.0, "elevation_deg": 0.0}
    stand = {"name": "Left", "x_m": 0.02, "y_m": 2.5, "z_m": 0.02, "aim": aimed}
    data = in_room(stands=[stand], seats=[{"name": "Chair", "x_m": 4.0, "y_m": 2.5, "z_m": 1.5}])
    data = changed(data, "room.measured_t60_s", {"63": 3.0})
    document = PlanDocument(plan_of(data))
    found = nulls(document.plan)
    assert found, "the plan must have a null to tell of"
    panel = put_up(qtbot, document)
    qtbot.waitUntil(lambda: bool(panel.nulls.text()))
    assert f"is a null at Chair (−{found[0].below_db:.0f} dB)" in panel.nulls.text()
    assert panel.nulls.isVisible()
    edit(qtbot, document, ("seats", 0, "x_m"), 7.9)
    assert nulls(document.plan) == ()
    qtbot.waitUntil(lambda: not panel.nulls.isVisible())


def test_that_an_answer_out_of_date_is_dimmed_and_kept(qtbot, panel, document):
    before = panel.chart.shown.values
    edit(qtbot, document, ("seats", 0, "x_m"), 90.0)
    settle()
    assert panel.chart.stale_look and panel.chart.heat.opacity() < 0.5
    assert panel.chart.shown.values == pytest.approx(before, nan_ok=True)


def test_that_open_air_is_mapped_round_seats_and_stands(qtbot):
    document = PlanDocument(open_air_plan())
    panel = put_up(qtbot, document)
    floor = panel.chart.shown.map.floor
    # Stand at x = 0, chair at 4, and a metre about both.
    assert (floor.x_m, floor.length_m) == (-1.0, 6.0)
    assert "Room gain" not in " ".join(panel.chart.table().headers)
    press(panel.chart, Qt.Key.Key_Home)
    panel.chart.read_exactly()
    assert figures(panel.chart.reading()) == pytest.approx(
        [document.outcome.seats[0].loudest_peak_db, document.outcome.seats[0].headroom_db], abs=0.051
    )
    show(panel, Quantity.GAIN)
    assert "Open air" in panel.chart.headline()


def test_that_the_map_is_saved_as_picture_drawing_page_and_numbers(panel, tmp_path, document):
    for kind in export.Kind:
        export.save(panel.chart, tmp_path / f"map-{kind.name}.{kind.suffix}", kind)
    assert QImage(str(tmp_path / "map-PNG.png")).width() == 2 * panel.chart.viewport().width()
    words = " ".join(ET.parse(tmp_path / "map-SVG.svg").getroot().itertext())
    assert "Headroom (dB)" in words and "From the front wall (m)" in words
    assert (tmp_path / "map-PDF.pdf").read_bytes().startswith(b"%PDF")
    with open(tmp_path / "map-CSV.csv", encoding="utf-8", newline="") as file:
        rows = [row for row in csv.reader(file) if not row[0].startswith("#")]
    assert rows[0] == ["x (m)", "y (m)", "Loudest peak (dB)", "Headroom (dB)", "Room gain at 63 Hz (dB)"]
    assert len(rows) == 1 + COLUMNS * ROWS
    drawn = floor_map(document.plan, 0)
    column, row = 30, 20
    told = [float(cell) for cell in rows[1 + column * ROWS + row]]
    assert told[:4] == pytest.approx(
        [
            drawn.x_m[column],
            drawn.y_m[row],
            drawn.loudest_peak_db[column, row],
            drawn.headroom_db[column, row],
        ]
    )
    blank = [row for row in rows[1:] if row[3] == ""]
    assert len(blank) == np.isnan(drawn.headroom_db).sum() > 0


def test_that_pictures_show_no_cross_and_the_screen_keeps_it(panel):
    press(panel.chart, Qt.Key.Key_Home)
    plain = export.encoded(panel.chart, export.Kind.PNG)
    assert panel.chart.cross.cross.isVisible()
    press(panel.chart, Qt.Key.Key_Escape)
    assert export.encoded(panel.chart, export.Kind.PNG) == plain


def test_that_the_numbers_can_stand_in_the_place_of_the_map(panel):
    panel.show_table(True)
    assert panel._model.rowCount() == COLUMNS * ROWS


@pytest.mark.parametrize("scheme", [Scheme.LIGHT, Scheme.DARK])
def test_that_the_line_stands_out_from_every_colour_of_the_map(qapp, panel, scheme):
    """Ink or its casing reaches 3:1 on each colour (WCAG 2.2, graphical objects)."""
    apply(qapp, scheme)
    colours = colours_of(panel.palette())
    for colour in ramp(9).tolist():
        shade = f"#{colour & 0xFFFFFF:06x}"
        assert max(contrast(colours.ink, shade), contrast(colours.surface, shade)) >= 3.0


def test_that_the_chooser_stands_below_the_headline_where_there_is_little_room(panel):
    beside = panel.chooser.geometry().top() < panel._headline.geometry().bottom()
    panel.resize(320, 460)
    settle()
    below = panel.chooser.geometry().top() >= panel._headline.geometry().bottom()
    assert beside and below


def test_that_redraws_build_nothing_anew(qtbot, panel, document):
    edit(qtbot, document, STAND, 1.0)
    settle()
    items = len(panel.chart.scene().items())
    for step in range(10):
        edit(qtbot, document, STAND, 1.02 + 0.02 * step)
        settle()
    assert len(panel.chart.scene().items()) == items


def test_that_a_closed_map_is_freed(qapp, document):
    panel = FloorMapPanel(document)
    panel.show()
    settle()
    press(panel.chart, Qt.Key.Key_Home)
    gone = [weakref.ref(panel), weakref.ref(panel.chart), weakref.ref(panel.chart.heat)]
    panel.close()
    panel.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del panel
    gc.collect()
    assert [reference() for reference in gone] == [None, None, None]
    document.solved.emit()
