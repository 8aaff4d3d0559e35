"""Coverage in the scale drawing: at which frequency, whom it leaves out, and who sits too near."""

import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtWidgets import QToolButton

from planner.desktop.document import PlanDocument
from planner.desktop.drawing import RoomDrawing
from planner.desktop.drawing.fan_chooser import FanChooser
from planner.desktop.settings import settings
from planner.desktop.theme import LIGHT
from planner.headroom.coverage import horn_coverage, least_distances
from planner.plan import put
from planner.plan.units import Preference
from planner.report.drawing.places import Place
from planner.report.drawing.reach import reach_of
from planner.report.drawing.symbols import fan_angles, shape_of
from tests.desktop.charts.seat_samples import edit

SOFA, DESK = Place("seats", 0), Place("seats", 1)
HORN = ("candidates", 0, "loudspeaker", "sections", 1)


@pytest.fixture
def beamy(sample_plan):
    """The sample with a horn of 90° by 60°, and the desk 60° off the axis of the left loudspeaker."""
    return put(put(sample_plan, ("seats", 1, "x_m"), 1.5), ("seats", 1, "y_m"), 3.0)


@pytest.fixture
def drawing(qtbot, beamy):
    widget = RoomDrawing(PlanDocument(beamy))
    qtbot.addWidget(widget)
    widget.resize(640, 560)
    widget.show()
    return widget


def beamy_horn(plan):
    return plan.candidates[0].loudspeaker.sections[1].radiator.model_dump()


def buttons(drawing):
    return drawing.findChild(FanChooser).findChildren(QToolButton)


def point_of(drawing, place, view=0):
    return drawing.frames()[view].to_px(place.of(drawing.document.plan).position_m)


def below(drawing):
    return QPointF(60.0, drawing.height() - 8.0)


def test_that_the_fans_are_drawn_at_the_frequency_that_is_chosen(qtbot, drawing):
    assert [button.text() for button in buttons(drawing)] == ["2", "4", "8 kHz"]
    assert drawing.look().fan_hz == 2000.0 and buttons(drawing)[0].isChecked()
    before = drawing.grab().toImage()
    qtbot.mouseClick(buttons(drawing)[2], Qt.MouseButton.LeftButton)
    assert drawing.look().fan_hz == 8000.0
    assert drawing.grab().toImage() != before


def test_that_the_menu_offers_the_frequencies_to_the_keyboard(drawing):
    menu = drawing.menu_at(None)
    (fans,) = [action.menu() for action in menu.actions() if action.menu() is not None]
    assert [(one.text(), one.isChecked()) for one in fans.actions()] == [
        ("&2 kHz", True),
        ("&4 kHz", False),
        ("&8 kHz", False),
    ]
    fans.actions()[1].trigger()
    assert drawing.look().fan_hz == 4000.0 and buttons(drawing)[1].isChecked()


def test_that_what_no_horn_plays_is_not_offered(qtbot, beamy):
    low = put(beamy, (*HORN, "high_hz"), 5000.0)
    drawing = RoomDrawing(PlanDocument(low))
    qtbot.addWidget(drawing)
    drawing.show()
    assert [button.isEnabled() for button in buttons(drawing)] == [True, True, False]
    drawing.document.choose(candidate=1)
    assert not drawing.findChild(FanChooser).isVisible()
    assert all(action.menu() is None for action in drawing.menu_at(None).actions())


def test_that_of_two_horns_at_one_edge_the_upper_one_is_drawn_and_counted(beamy):
    sections = beamy.candidates[0].loudspeaker.model_dump(exclude_none=True)["sections"]
    narrow = {**sections[1], "name": "Treble", "low_hz": 4000.0}
    narrow["radiator"] = {**narrow["radiator"], "horizontal_deg": 40.0, "vertical_deg": 40.0}
    plan = put(put(beamy, (*HORN, "high_hz"), 4000.0), (*HORN[:-1],), [*_with_edge(sections), narrow])
    loudspeaker, stand = plan.candidates[0].loudspeaker, plan.stands[0]
    assert fan_angles(loudspeaker, stand, 4000.0) == (40.0, 40.0)
    assert fan_angles(loudspeaker, stand, 2000.0) == (90.0, 60.0)
    (treble,) = [one for one in horn_coverage(plan, 0) if (one.section, one.stand) == ("Treble", "Left")]
    losses = {one.seat: one.loss_db for one in reach_of(plan, 0).beyond(1, 4000.0) if one.stand == "Left"}
    assert losses == {1: pytest.approx(treble.loss_db[0, 1])}


def _with_edge(sections):
    return [sections[0], {**sections[1], "high_hz": 4000.0}]


def test_that_a_seat_outside_is_marked_in_word_and_sign(drawing, beamy):
    (horn,) = [one for one in horn_coverage(beamy, 0) if one.stand == "Left"]
    assert horn.outside[0].tolist() == [False, True]
    loss = f"{horn.loss_db[0, 1]:.1f}".replace("-", "−")
    told = f"outside the coverage of Left at 2 kHz: {loss} dB"
    assert told in drawing.tip_at(point_of(drawing, DESK))
    assert told in drawing.tip_at(below(drawing)) and told in drawing.accessibleDescription()
    assert "outside" not in drawing.tip_at(point_of(drawing, SOFA))
    # By hand: 45° are 6 dB down, and the loss goes with the square of the angle, to −20 dB at most.
    assert -20.0 <= horn.loss_db[0, 1] < -6.02


def test_that_a_small_horn_leaves_out_at_8_khz_whom_it_reaches_at_2_khz(qtbot, beamy):
    # A mouth of 4 cm holds 90° across down to 25 400/(0.04 × 90) = 7.06 kHz; at 2 kHz it sends all round.
    mouth = {"mouth_width_m": 0.04, "mouth_height_m": 0.04}
    small = put(beamy, (*HORN, "radiator"), {**beamy_horn(beamy), **mouth})
    (horn,) = [one for one in horn_coverage(small, 0) if one.stand == "Left"]
    assert horn.outside[:, 1].tolist() == [False, False, True]
    drawing = RoomDrawing(PlanDocument(small))
    qtbot.addWidget(drawing)
    drawing.show()
    assert "outside" not in drawing.accessibleDescription()
    drawing.show_fans_at(8000.0)
    loss = f"{horn.loss_db[2, 1]:.1f}".replace("-", "−")
    assert f"outside the coverage of Left at 8 kHz: {loss} dB" in drawing.accessibleDescription()


def test_that_the_sign_is_painted_beside_the_head_of_a_seat_outside(drawing):
    image = drawing.grab().toImage()
    frame = drawing.frames()[0]

    def strokes(place):
        corner = shape_of(drawing.look(), frame, place).box.topRight() + QPointF(2.0, -2.0)
        return sum(
            image.pixelColor(round(corner.x()) + across, round(corner.y()) + down) == LIGHT.pick("short")
            for across in range(-7, 8)
            for down in range(-7, 8)
        )

    assert strokes(DESK) > 3 and strokes(SOFA) == 0


def test_that_the_sign_goes_when_the_seat_comes_back_into_the_coverage(qtbot, drawing):
    edit(qtbot, drawing.document, ("seats", 1, "x_m"), 4.5)
    edit(qtbot, drawing.document, ("seats", 1, "y_m"), 2.6)
    assert drawing.look().reach.beyond(1, 2000.0) == ()
    assert "outside" not in drawing.accessibleDescription()


def test_that_a_seat_nearer_than_one_source_is_told_with_the_rule(drawing, beamy):
    found = {one.stand: one for one in least_distances(beamy, 0)}
    # Three times the mouth of 0.6 m; the desk is 0.67 m from Right and 1.99 m from Left.
    assert found["Right"].distance_m == pytest.approx(1.8) and found["Right"].nearer == ("Desk",)
    assert found["Left"].nearer == ()
    told = "nearer than 1.80 m to Right: 3 × the size of Horn"
    assert told in drawing.tip_at(point_of(drawing, DESK))
    assert "nearer" not in drawing.tip_at(point_of(drawing, SOFA))


def test_that_the_far_field_of_a_piston_is_told_as_such(qtbot, beamy):
    large = put(beamy, (*HORN, "radiator"), {"kind": "diaphragm", "diameter_m": 0.9})
    (rule,) = {one.rule for one in least_distances(large, 0)}
    drawing = RoomDrawing(PlanDocument(large))
    qtbot.addWidget(drawing)
    drawing.show()
    assert rule == "piston" and "the far field of Horn" in drawing.tip_at(below(drawing))


def test_that_distances_are_told_in_feet_to_who_reads_feet(drawing):
    settings().units = Preference.US
    # 1.8 m are 70.9 in.
    assert "nearer than 5 ft 11 in to Right" in drawing.tip_at(point_of(drawing, DESK))


def test_that_saved_pictures_keep_the_frequency_in_words(drawing, tmp_path):
    drawing.show_fans_at(8000.0)
    drawing.save_picture(str(tmp_path / "room.svg"))
    text = (tmp_path / "room.svg").read_text(encoding="utf-8")
    assert "horn, −6 dB at 8 kHz" in text and "seat outside" in text


def test_that_a_plan_with_faults_keeps_the_reach_of_the_last_one(qtbot, drawing):
    before = drawing.look().reach
    edit(qtbot, drawing.document, ("seats", 0, "x_m"), 90.0)
    assert drawing.document.stale and drawing.look().reach == before


class Paints(QObject):
    """Counts how often a widget is painted."""

    def __init__(self, widget):
        super().__init__()
        self.count = 0
        widget.installEventFilter(self)

    def eventFilter(self, watched, event):
        self.count += event.type() == QEvent.Type.Paint
        return False


def test_that_a_seat_all_horns_reach_is_painted_once_for_its_place_and_the_answer(qtbot, document):
    drawing = RoomDrawing(document)
    qtbot.addWidget(drawing)
    drawing.show()
    qtbot.wait(20)
    paints = Paints(drawing)
    with qtbot.waitSignal(drawing.document.solved):
        drawing.document.edit(("seats", 0, "x_m"), 4.0, "Move")
    qtbot.wait(30)
    assert paints.count == 1
