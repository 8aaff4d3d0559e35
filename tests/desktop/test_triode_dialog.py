"""Ratings from a valve: tried in a draft, drawn, told to be estimates, put into the plan in one step."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog

from planner.desktop.document import PlanDocument
from planner.desktop.triode import TriodeDialog
from planner.desktop.triode.dialog import with_ratings
from planner.desktop.triode.stage import STARTS
from planner.desktop.triode.working import StageFault, ratings_of, work_out
from planner.electrics.single_ended import load_line, sine_power
from planner.electrics.triode import operating_law, plate_current
from planner.electrics.triode_ratings import triode_ratings
from planner.headroom.compute import compute
from planner.plan import get
from planner.plan.amplifier import Amplifier
from planner.report.cautions import HIGH_VOLTAGE_CAUTION
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import demo
from tests.desktop.editing import button, type_into
from tests.desktop.freed import is_freed
from tests.plans import amplifier

AMPLIFIERS = ("candidates", 0, "amplifiers")
LAW = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
LOSSLESS = STARTS[0].model_copy(update={"loss_db": 0.0})


@pytest.fixture
def document(qapp) -> PlanDocument:
    """The first candidate of the reading room has two amplifiers."""
    return demo("reading_room")


@pytest.fixture
def dialog(qtbot, document):
    made = TriodeDialog(document, None, 1)
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.resize(960, 700)
    made.open()
    qtbot.waitExposed(made)
    return made


def worked(qtbot, dialog, name, text):
    """Type into a field and wait until the stage is worked out."""
    with qtbot.waitSignal(dialog.draft.worked):
        type_into(qtbot, dialog.form.fields[name], text)


# Data page of a directly heated triode, class A1: 250 V, -45 V, 60 mA, 2500 ohm, 3.5 W; 5 % of second
# harmonic from memory of valve manuals.
def test_that_a_published_operating_point_comes_out_within_a_fifth():
    working = work_out(LOSSLESS)
    at_tap = np.interp(np.log(8.0), np.log(working.load_ohm), working.load_watts)
    assert at_tap == pytest.approx(3.5, rel=0.2)
    distortion = np.interp(np.log(8.0), np.log(working.load_ohm), working.load_distortion_pct)
    assert distortion == pytest.approx(5.0, abs=1.2)
    # By hand: 800 ohm / (2500 / tap).
    assert working.output_ohm == pytest.approx([1.28, 2.56, 5.12])


def test_that_ratings_curves_and_line_are_the_engines_own():
    working = work_out(LOSSLESS)
    _, watts, distortion, _ = triode_ratings(LAW, 250.0, -45.0, 2500.0, 8.0)
    assert working.watts == pytest.approx(watts) and working.distortion_pct == pytest.approx(distortion)
    row = 2
    expected = plate_current(LAW, working.plate_v, working.grid_v[row]) * 1000.0
    assert working.current_ma[row] == pytest.approx(expected)
    assert working.grid_v == pytest.approx([0.0, -15.0, -30.0, -45.0, -60.0, -75.0, -90.0])
    amps, volts = load_line(LAW, 250.0, -45.0, 2500.0, 45.0)
    assert working.cycle_v == pytest.approx(volts) and working.cycle_ma == pytest.approx(1000.0 * amps)


# By hand for 0.5 dB: r1 152.523 and r2 0.488 ohm, so the plate works into 312.5 x 8.488 = 2652.5 ohm
# beyond r1, of whose watts 8/8.488 reach the tap.
def test_that_the_windings_take_their_share_of_the_watts_into_a_load():
    working = work_out(STARTS[0].model_copy(update={"loss_db": 0.5}))
    at_plate, distortion = sine_power(LAW, 250.0, -45.0, 2652.5, None, 152.523)
    place = np.log(working.load_ohm)
    watts = np.interp(np.log(8.0), place, working.load_watts)
    assert watts == pytest.approx(float(at_plate) * 8.0 / 8.488, rel=2e-3)
    found = np.interp(np.log(8.0), place, working.load_distortion_pct)
    assert found == pytest.approx(float(distortion), rel=2e-3)


# By hand: the load line of 2500 ohm falls 1 mA in 2.5 V.
def test_that_the_load_line_is_drawn_through_the_curves_with_the_slope_of_the_load(dialog):
    dialog.draft.replace(LOSSLESS, "x")
    dialog.draft._work()
    chart = dialog.plates.chart
    volts, current = chart.line.shown
    slopes = np.diff(volts)[np.abs(np.diff(current)) > 0.1] / np.diff(current)[np.abs(np.diff(current)) > 0.1]
    assert slopes == pytest.approx(np.full(slopes.size, -2.5), rel=1e-6)
    assert chart.rest._shown == ([250.0], [60.0])
    told = {caption.text for caption, _ in chart.captions.placed}
    assert {"at rest", "0 V", "−45 V", "−90 V"} <= told
    assert len(chart.curves) == 7 and all(curve.shown[1].size for curve in chart.curves)


def test_that_watts_against_load_are_drawn_with_the_tap_marked(dialog):
    chart, working = dialog.loads.chart, dialog.draft.working
    assert chart.curve.shown[0] == pytest.approx(working.load_ohm)
    assert chart.curve.shown[1] == pytest.approx(working.load_watts)
    (ohm,), (watts,) = chart.right._shown
    assert ohm == working.load_tap_ohm == 8.0
    assert watts == pytest.approx(np.interp(np.log(8.0), np.log(working.load_ohm), working.load_watts))
    assert f"{watts:.1f} W into 8 Ω" in [caption.text for caption, _ in chart.captions.placed]
    assert chart.table().headers == ["Load (Ω)", "Watts (W)", "Distortion (%)"]


def test_that_the_table_of_ratings_shows_watts_at_each_distortion_and_every_output_impedance(dialog):
    working = dialog.draft.working
    assert [cell.text() for cell in dialog.ratings.heads[1:]] == ["1 %", "3 %", "5 %", "10 %"]
    watts = [float(cell.text().removesuffix(" W")) for cell in dialog.ratings.watts[1:]]
    assert watts == pytest.approx(working.watts.tolist(), rel=0.05)
    assert dialog.ratings.outputs.text() == ("Output impedance 1.57 Ω at 4 Ω, 3.13 Ω at 8 Ω, 6.26 Ω at 16 Ω")


def test_that_typing_works_the_stage_out_again_and_can_be_undone(qtbot, dialog):
    before = dialog.ratings.watts[2].text()
    worked(qtbot, dialog, "primary_ohm", "5000")
    assert dialog.draft.plan.primary_ohm == 5000.0
    assert dialog.ratings.watts[2].text() != before
    # By hand: half the output impedance for twice the primary load, but for the windings.
    assert dialog.draft.working.output_ohm[1] == pytest.approx(8.0 / 5000.0 * 800.0 + 0.571, abs=0.01)
    with qtbot.waitSignal(dialog.draft.worked):
        qtbot.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert dialog.draft.plan == STARTS[0] and dialog.ratings.watts[2].text() == before


def test_that_a_decimal_comma_and_a_unit_are_understood(qtbot, dialog):
    worked(qtbot, dialog, "mu", "4,0")
    assert dialog.draft.plan.mu == 4.0
    worked(qtbot, dialog, "plate_ma", "0.055 A")
    assert dialog.draft.plan.plate_ma == pytest.approx(55.0)


def test_that_return_in_a_field_does_not_put_anything_into_the_plan(qtbot, document, dialog):
    before = document.plan
    worked(qtbot, dialog, "plate_v", "260")
    assert dialog.isVisible() and document.plan is before


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        # By hand: 250 - 6 x 45 = -20 V.
        pytest.param(
            "mu",
            "6",
            "plate voltage plus amplification factor times bias is −20 V",
            id="cut off",
        ),
        # By hand: (250 - 4.2 x 45) / (2000 x 0.06) = 61 / 120.
        pytest.param("plate_ohm", "2000", "the exponent of its law comes to 0.51", id="no valve"),
    ],
)
def test_that_figures_that_make_no_stage_are_refused_in_words(qtbot, document, dialog, name, text, told):
    worked(qtbot, dialog, name, text)
    assert told in dialog.form.fault.text() and dialog.form.fault.isVisible()
    assert dialog.plates.chart.stale_look and not dialog.take.isEnabled() and not dialog.ratings.isEnabled()
    qtbot.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(dialog.take.isEnabled)
    assert not dialog.form.fault.isVisible() and not dialog.plates.chart.stale_look


def test_that_putting_replaces_the_taps_of_the_chosen_amplifier_as_one_step(qtbot, document, dialog):
    before = document.plan
    other = get(before, (*AMPLIFIERS, 0))
    assert dialog.amplifiers.currentText() == get(before, (*AMPLIFIERS, 1, "name"))
    expected = ratings_of(dialog.draft.working)
    qtbot.mouseClick(button(dialog, "Put into the plan"), Qt.MouseButton.LeftButton)
    assert dialog.result() == QDialog.DialogCode.Accepted
    changed = get(document.plan, (*AMPLIFIERS, 1))
    assert changed.taps == expected and changed.output == "transformer" and changed.tap_ohm is None
    assert get(document.plan, (*AMPLIFIERS, 0)) is other
    assert document.history.count() == 1
    assert document.history.undoText() == "Take ratings from a valve"
    assert compute(document.plan).seats[0].amplifiers[1].watts_rated in [one.watts for one in expected]
    document.history.undo()
    assert document.plan is before


def test_that_another_amplifier_can_be_chosen(qtbot, document, dialog):
    dialog.amplifiers.setFocus()
    qtbot.keyClick(dialog.amplifiers, Qt.Key.Key_Up)
    qtbot.mouseClick(button(dialog, "Put into the plan"), Qt.MouseButton.LeftButton)
    assert get(document.plan, (*AMPLIFIERS, 0)).taps == ratings_of(dialog.draft.working)


def test_that_cancel_leaves_the_plan_alone(qtbot, document, dialog):
    before = document.plan
    worked(qtbot, dialog, "plate_v", "260")
    qtbot.mouseClick(button(dialog, "Cancel"), Qt.MouseButton.LeftButton)
    assert not dialog.isVisible() and document.plan is before and document.history.count() == 0


def test_that_ratings_are_rounded_and_each_stands_once():
    ratings = ratings_of(work_out(STARTS[0]))
    assert [one.ohm for one in ratings] == [4.0] * 4 + [8.0] * 4 + [16.0] * 4
    assert [one.distortion_pct for one in ratings[:4]] == [1.0, 3.0, 5.0, 10.0]
    assert all(value == float(f"{value:.3g}") for one in ratings for value in (one.watts, one.output_ohm))
    assert len(set(ratings)) == len(ratings)


def test_that_a_distortion_that_is_never_reached_makes_no_rating_twice():
    working = work_out(STARTS[0])
    # As the engine gives them where four times the drive of class A1 makes 4.2 % and no more.
    short = replace(
        working, distortion_pct=np.array([1.0, 3.0, 4.2, 4.2]), watts=np.array([0.1, 1.0, 2.0, 2.0])
    )
    ratings = ratings_of(short)
    assert [(one.distortion_pct, one.watts) for one in ratings[:3]] == [(1.0, 0.1), (3.0, 1.0), (4.2, 2.0)]
    assert len(ratings) == 9


def test_that_a_stated_tap_is_kept_only_while_the_amplifier_has_it():
    ratings = ratings_of(work_out(STARTS[0]))
    eight, two = (
        Amplifier.model_validate(
            amplifier(
                tap_ohm=ohm,
                output="direct",
                taps=[{"ohm": ohm, "watts": 2.0, "distortion_pct": 3.0, "output_ohm": 1.0}],
            )
        )
        for ohm in (8.0, 2.0)
    )
    assert (with_ratings(eight, ratings).tap_ohm, with_ratings(two, ratings).tap_ohm) == (8.0, None)
    assert with_ratings(eight, ratings).output == "transformer"


def test_that_taps_may_be_left_out(qtbot, dialog):
    worked(qtbot, dialog, "third_tap_ohm", "")
    worked(qtbot, dialog, "second_tap_ohm", "4")
    assert dialog.draft.plan.taps_ohm == (4.0,)
    assert {one.ohm for one in ratings_of(dialog.draft.working)} == {4.0}


def test_that_other_published_points_can_be_started_from(qtbot, dialog):
    dialog.form.starts.setFocus()
    with qtbot.waitSignal(dialog.draft.worked):
        qtbot.keyClick(dialog.form.starts, Qt.Key.Key_Down)
    assert dialog.draft.plan == STARTS[1]
    assert dialog.form.fields["plate_v"].text() == "275 V"
    worked(qtbot, dialog, "plate_v", "276")
    assert dialog.form.starts.currentIndex() == -1


@pytest.mark.parametrize("stage", STARTS, ids=lambda stage: f"{stage.plate_v:g} V")
def test_that_every_start_can_be_worked_out(stage):
    working = work_out(stage)
    assert np.all(np.diff(working.watts) > 0.0) and working.distortion_pct[-1] == 10.0


def test_that_a_fault_is_one_of_the_stage_and_no_other():
    with pytest.raises(StageFault, match="should be 30 V or more"):
        work_out(STARTS[0].model_copy(update={"bias_v": -59.0}))


def test_that_estimates_are_called_so_and_high_voltage_is_warned_of(dialog):
    assert dialog.estimate.text().startswith("These are estimates.")
    assert "2 to 18 % too high" in dialog.estimate.text() and "3.9 to 4.9 %" in dialog.estimate.text()
    assert dialog.caution.text() == HIGH_VOLTAGE_CAUTION and dialog.caution.isVisible()
    for label in (dialog.estimate, dialog.caution):
        assert label.height() >= label.heightForWidth(label.width())


def test_that_the_charts_are_read_by_keys_and_told_in_words(dialog):
    press(dialog.plates.chart, Qt.Key.Key_Home)
    press(dialog.plates.chart, Qt.Key.Key_Right)
    assert dialog.plates.chart.row_read == 1
    entries = [words for _, words in dialog.plates.chart.reading_entries(30)]
    assert entries[0].endswith("V at the plate") and entries[1].startswith("0 V: ")
    assert dialog.plates.chart.headline() == "250 V and 60 mA at rest: 15 W on the plate"
    assert "load line of 2500 Ω" in dialog.plates.chart.summary()
    assert "{" not in dialog.plates.chart.summary() + dialog.loads.chart.summary()


def test_that_every_field_has_a_key_of_its_own(dialog):
    texts = [label.text() for label in dialog.form.findChildren(type(dialog.form.fault).__mro__[2])]
    keys = [text[text.index("&") + 1].upper() for text in texts if "&" in text]
    assert len(keys) == len(set(keys)) == 11


def test_that_a_closed_dialog_is_freed(qapp, document):
    assert is_freed(partial(TriodeDialog, document))
    document.solved.emit()
