"""All charts of a document: drawn when seen, in step with it, legible, freed."""

import gc
import weakref

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QAccessible

from planner.desktop.charts.captions import LEADING, Captions
from planner.desktop.charts.seat_panel import level_text, short_name, signed, watts_text
from planner.desktop.document import PlanDocument
from planner.desktop.theme import DARK
from planner.plan import load
from planner.report.words import watts_text as plain_watts_text
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import DEMO_ROOMS, KINDS, PEAK, edit, open_air_plan, put_up

SIZES = ((640, 300), (640, 360), (420, 300), (900, 500))
FAR_AWAY = ("seats", 0, "x_m")


@pytest.fixture(params=KINDS, ids=lambda kind: kind.__name__)
def kind(request):
    return request.param


@pytest.fixture
def up(qtbot, kind, document):
    return put_up(qtbot, kind, document)


def everything(chart) -> tuple:
    """All that a chart shows, in words and numbers."""
    rows = [[str(cell) for cell in row] for row in chart.table().rows]
    return (chart.headline(), chart.summary(), rows)


def test_that_an_edit_shows_at_once_and_undo_brings_the_old_answer_back(qtbot, up, document):
    before = everything(up.chart)
    edit(qtbot, document, ("room", "length_m"), 7.5)
    edit(qtbot, document, PEAK, 103.0)
    assert everything(up.chart) != before
    assert up._headline.text() == up.chart.headline()
    with qtbot.waitSignal(document.solved):
        document.history.undo()
        document.history.undo()
    assert everything(up.chart) == before


def test_that_another_seat_or_candidate_is_followed(up, document):
    before = everything(up.chart)
    document.choose(seat=1)
    at_the_desk = everything(up.chart)
    document.choose(candidate=1)
    assert before != at_the_desk != everything(up.chart)
    assert "Desk" in up.chart.table().settings and "Small boxes" in up.chart.table().settings


def test_that_a_hidden_chart_neither_draws_nor_tells_of_itself_until_it_is_shown(
    qtbot, kind, document, monkeypatch
):
    panel = kind(document)
    qtbot.addWidget(panel)
    drawn = []
    monkeypatch.setattr(panel.chart, "draw", lambda view, draw=panel.chart.draw: drawn.append(draw(view)))
    edit(qtbot, document, PEAK, 101.0)
    edit(qtbot, document, PEAK, 102.0)
    assert drawn == [] and panel.chart.accessibleDescription() == ""
    panel.show()
    assert len(drawn) == 1
    assert panel.chart.accessibleDescription() == panel.chart.summary()


def test_that_an_answer_out_of_date_is_dimmed_and_kept(qtbot, up, document):
    before = everything(up.chart)
    edit(qtbot, document, FAR_AWAY, 90.0)
    assert document.stale and up.chart.stale_look
    assert all(part.opacity() < 0.5 for part in up.chart.parts)
    assert everything(up.chart) == before
    edit(qtbot, document, FAR_AWAY, 4.4)
    assert not up.chart.stale_look
    assert everything(up.chart) != before


def test_that_a_chart_made_over_a_plan_that_cannot_be_computed_is_empty_until_it_can(qtbot, kind, document):
    edit(qtbot, document, FAR_AWAY, 90.0)
    plan = document.plan
    document.reset(plan)
    panel = put_up(qtbot, kind, document)
    assert not panel.chart.has_data
    assert panel._headline.text() == panel.chart.accessibleName()
    edit(qtbot, document, FAR_AWAY, 4.2)
    assert panel.chart.has_data and panel._headline.text() == panel.chart.headline()


def test_that_a_chart_is_emptied_by_another_plan_that_cannot_be_computed(qtbot, up, document):
    press(up.chart, Qt.Key.Key_Home)
    up.show_table(True)
    edit(qtbot, document, FAR_AWAY, 90.0)
    document.reset(document.plan)
    assert up._model.rowCount() == 0
    up.show_table(False)
    assert not up.chart.has_data and up.chart.row_read is None
    assert not any(part.isVisible() for part in up.chart.parts)
    assert up.chart.reading() == "" and up.chart.key_entries() == []
    up.grab()
    document.reset(open_air_plan())
    assert up.chart.has_data and any(part.isVisible() for part in up.chart.parts)


def test_that_redraws_build_nothing_anew(qtbot, up, document, qapp):
    edit(qtbot, document, PEAK, 101.0)
    parts = len(up.chart.scene().items())
    for step in range(20):
        edit(qtbot, document, PEAK, 90.0 + step)
        qapp.processEvents()
    assert len(up.chart.scene().items()) == parts


def test_that_the_sides_stand_still_while_a_value_is_dragged_to_and_fro(qtbot, up, document):
    edit(qtbot, document, PEAK, 99.0)
    edit(qtbot, document, PEAK, 101.0)
    sides = (up.chart.scales.x, up.chart.scales.y)
    for peak_db in np.arange(99.0, 101.0, 0.1):
        edit(qtbot, document, PEAK, float(peak_db))
        assert (up.chart.scales.x, up.chart.scales.y) == sides


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("room", DEMO_ROOMS, ids=lambda path: path.stem)
def test_that_words_keep_clear_of_one_another_and_within_the_chart(qtbot, kind, room, size):
    document = PlanDocument(load(str(room)))
    panel = put_up(qtbot, kind, document, size)
    (captions,) = (part for part in panel.chart.parts if isinstance(part, Captions))
    for candidate in range(len(document.outcomes)):
        document.choose(candidate=candidate, seat=candidate % len(document.plan.seats))
        boxes = [box for _, box in captions.placed]
        field = captions.boundingRect().adjusted(-1.0, -1.0, 1.0, 1.0)
        assert all(field.contains(box) for box in boxes)
        letters = [box.adjusted(0.0, LEADING * box.height(), 0.0, -LEADING * box.height()) for box in boxes]
        met = [(a, b) for n, a in enumerate(letters) for b in letters[:n] if a.intersects(b)]
        assert met == []


def test_that_words_follow_a_chart_that_is_resized(qtbot, up, qapp):
    (captions,) = (part for part in up.chart.parts if isinstance(part, Captions))
    for size in ((900, 500), (420, 300), (700, 420)):
        up.resize(*size)
        for _ in range(3):
            qapp.processEvents()
        placed = [(caption.text, box) for caption, box in captions.placed]
        up.chart.show_data(up._view())
        assert placed == [(caption.text, box) for caption, box in captions.placed]


def test_that_every_row_can_be_read_by_keys_with_units(up):
    table = up.chart.table()
    press(up.chart, Qt.Key.Key_Home)
    for row in range(len(table)):
        assert up.chart.row_read == row
        assert up.chart.reading() == table.reading(row)
        press(up.chart, Qt.Key.Key_Down)
        press(up.chart, Qt.Key.Key_Right) if up.chart.row_read == row else None
    assert all(column.title for column in table.columns)


def test_that_the_whole_chart_is_told_in_words(up):
    interface = QAccessible.queryAccessibleInterface(up.chart)
    assert interface.text(QAccessible.Text.Description) == up.chart.summary()
    assert up.chart.headline() in up.chart.summary()
    assert "{" not in up.chart.summary() + up.chart.table().settings + up.chart.headline()


def test_that_a_chart_in_the_dark_takes_the_dark_colours(up):
    up.chart.restyle(DARK)
    image = up.grab().toImage()
    assert image.pixelColor(image.width() // 2, image.height() - 40).lightness() < 90


def test_that_open_air_is_no_trouble(qtbot, kind):
    panel = put_up(qtbot, kind, PlanDocument(open_air_plan()))
    assert panel.chart.has_data and len(panel.chart.table()) > 2
    assert "Chair" in panel.chart.table().settings


def test_that_a_closed_chart_of_a_document_that_lives_on_is_freed(qapp, kind, document):
    panel = kind(document)
    panel.show()
    qapp.processEvents()
    gone = [weakref.ref(panel), weakref.ref(panel.chart), weakref.ref(panel.chart.parts[-1])]
    panel.close()
    panel.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del panel
    gc.collect()
    assert [reference() for reference in gone] == [None, None, None]
    document.solved.emit()


def test_that_names_that_others_gave_never_crowd_out_the_figures():
    assert short_name("Sofa") == "Sofa"
    assert short_name("x" * 80) == f"{'x' * 31}…"


@pytest.mark.parametrize(
    ("written", "text"),
    [
        (level_text(103.0), "103"),
        (level_text(102.96), "103"),
        (level_text(84.8), "84.8"),
        (signed(4.04), "+4.0"),
        (signed(-0.04), "0.0"),
        (signed(0.04), "0.0"),
        (signed(-11.8), "−11.8"),
        (watts_text(0.53), plain_watts_text(0.53)),
    ],
)
def test_that_figures_are_written_as_one_says_them(written, text):
    assert written == text
