"""How output impedance and cable bend the response, above the impedance that makes them do so."""

from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts import export
from planner.desktop.charts.bend import BendChart
from planner.desktop.document import PlanDocument
from planner.headroom.drive import impedance_at
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import demo, edit, open_air_plan, put_up, words_of
from tests.desktop.freed import is_freed
from tests.plans import amplifier, changed, open_air, plan_of

SMALL = (480, 320)
SOFT = [{"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 3.0}]
PEAKED = {
    "nominal_ohm": 8.0,
    "table": [[20, 8, 0], [100, 32, 0], [500, 8, 0], [2000, 5, -30], [20000, 8, 30]],
}
OUTPUT = ("candidates", 0, "amplifiers", 0, "taps", 0, "output_ohm")


def peaked_plan(**cable):
    """3 ohm of output impedance before a load of 32 ohm at 100 Hz and 5 ohm at 2 kHz."""
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(taps=SOFT)])
    data = changed(data, "candidates.0.loudspeaker.impedance", PEAKED)
    return plan_of(changed(data, "candidates.0.cable", cable or None))


@pytest.fixture
def panel(qtbot):
    return put_up(qtbot, BendChart, PlanDocument(peaked_plan(loop_ohm=0.4)), (640, 400))


@pytest.fixture
def two_amplifiers(qtbot):
    """The first candidate of the reading room has one amplifier for the bass and one for the horn."""
    return put_up(qtbot, BendChart, demo("reading_room"), (640, 400))


def bend_at(panel, key, hertz):
    hz, bend = panel.chart.curves[key].shown
    return float(np.interp(np.log(hertz), np.log(hz), bend))


# By hand, re the nominal 8 ohm: 32/35 over 8/11 is 1.99 dB; behind 0.4 ohm alone 32/32.4 over 8/8.4 0.316 dB;
# 32/35.4 over 8/11.4 2.20 dB. At 2 kHz 5 ohm at 30 degrees, |5∠-30° + 3| = 7.745 ohm: 5/7.745 over 8/11 is
# -1.034 dB.
def test_that_the_curves_are_what_ohms_law_says_of_a_peak_and_a_dip(panel):
    assert bend_at(panel, "without_cable", 100.0) == pytest.approx(1.99, abs=0.02)
    assert bend_at(panel, "cable_alone", 100.0) == pytest.approx(0.316, abs=0.01)
    assert bend_at(panel, "together", 100.0) == pytest.approx(2.20, abs=0.02)
    assert bend_at(panel, "without_cable", 2000.0) == pytest.approx(-1.034, abs=0.03)


def test_that_headline_and_key_say_each_bend_from_peak_to_peak(panel):
    wiring = panel.chart.shown.wiring
    together, bare, cable = (
        np.ptp(each.response_db) for each in (wiring.together, wiring.without_cable, wiring.cable_alone)
    )
    assert panel.chart.headline() == f"Response bent by {together:.1f} dB from peak to peak"
    words = [words for _, words in panel.chart.key_entries()]
    assert words[:3] == [
        f"together {together:.1f} dB",
        f"without cable {bare:.1f} dB",
        f"cable alone {cable:.1f} dB",
    ]
    # By hand: 8/3.4 and 8/3; 20 log (11.4/11) = 0.310 dB.
    assert words[3:] == ["damping factor 2.4, without cable 2.7", "cable 0.4 Ω loses 0.31 dB"]
    told = words_of(panel.chart.captions)
    high, low = (float(pick(wiring.together.response_db)) for pick in (np.max, np.min))
    assert told == [f"+{high:.2f} dB at 100 Hz", f"−{-low:.2f} dB at 2 kHz"]


def test_that_without_cable_the_key_says_so_and_shows_one_curve(qtbot):
    panel = put_up(qtbot, BendChart, PlanDocument(peaked_plan()), SMALL)
    words = [words for _, words in panel.chart.key_entries()]
    assert words[1:] == ["damping factor 2.7, without cable 2.7", "no cable in the plan"]
    assert panel.chart.curves["cable_alone"].shown[1] == pytest.approx(0.0)


def test_that_an_amplifier_without_output_impedance_leaves_the_response_straight(qtbot):
    panel = put_up(qtbot, BendChart, PlanDocument(open_air_plan()), SMALL)
    assert panel.chart.headline() == "Output impedance and cable leave the response straight"
    assert panel.chart.curves["together"].shown[1] == pytest.approx(0.0, abs=1e-9)
    assert "damping factor ∞, without cable ∞" in [words for _, words in panel.chart.key_entries()]
    assert words_of(panel.chart.captions) == []


def test_that_the_impedance_stands_below_with_its_phase_and_its_extremes(panel):
    view, load = panel.chart.shown, panel.load
    ohm = impedance_at(view.drive.load, view.hertz)
    assert load.magnitude.shown[1] == pytest.approx(np.abs(ohm))
    assert load.nominal.line().y1() == pytest.approx(np.log10(8.0))
    told = words_of(load.captions)
    assert {"32 Ω at 100 Hz", "5 Ω at 2 kHz"} <= set(told)
    low, high = load.scales.y.ends
    shares = (np.log10(load.phase.shown[1]) - low) / (high - low)
    # 0 degrees lie in the middle, 100 at the edges.
    assert shares == pytest.approx(0.5 + np.degrees(np.angle(ohm)) / 200.0)
    assert "0°" in told and "5 Ω at 2 kHz at the least and 32 Ω at 100 Hz" in load.headline()


def test_that_both_charts_line_up(panel):
    upper, lower = panel.chart, panel.load
    assert upper.scales.x == lower.scales.x
    edges = [chart.plotItem.vb.sceneBoundingRect() for chart in (upper, lower)]
    assert edges[0].left() == pytest.approx(edges[1].left(), abs=0.5)
    assert edges[0].right() == pytest.approx(edges[1].right(), abs=0.5)


def test_that_reading_one_chart_reads_the_other(panel):
    press(panel.chart, Qt.Key.Key_Home)
    press(panel.chart, Qt.Key.Key_Right)
    assert panel.load.row_read == panel.chart.row_read == 1
    press(panel.load, Qt.Key.Key_End)
    last = len(panel.chart.table()) - 1
    assert panel.chart.row_read == last
    entries = [words for _, words in panel.chart.reading_entries(last)]
    assert entries[0] == "20 kHz" and entries[-2:] == ["|Z| 8 Ω", "30°"]
    press(panel.load, Qt.Key.Key_Escape)
    assert panel.chart.row_read is None


def test_that_with_one_amplifier_there_is_nothing_to_choose(panel):
    assert not panel.chooser.isVisible()


def test_that_a_chooser_looks_at_the_other_amplifier_and_the_band_that_it_plays(qtbot, two_amplifiers):
    panel, candidate = two_amplifiers, two_amplifiers._document.plan.candidates[0]
    assert panel.chooser.isVisible()
    names = [panel.chooser.itemText(index) for index in range(panel.chooser.count())]
    assert names == [one.name for one in candidate.amplifiers]
    assert panel.chart.curves["together"].shown[0][-1] == pytest.approx(
        candidate.loudspeaker.sections[0].high_hz
    )
    panel.chooser.setFocus()
    qtbot.keyClick(panel.chooser, Qt.Key.Key_Down)
    assert panel.chart.shown.wiring.amplifier == names[1]
    assert panel.chart.curves["together"].shown[0][0] == pytest.approx(
        candidate.loudspeaker.sections[1].low_hz
    )
    panel._document.choose(candidate=1)
    assert panel.chart.shown.amplifier < len(panel._document.plan.candidates[1].amplifiers)


def test_that_the_table_has_all_bends_with_impedance_and_phase_and_takes_the_place_of_both_charts(panel):
    table = panel.chart.table()
    assert table.headers == [
        "Frequency (Hz)",
        "Together (dB)",
        "Without cable (dB)",
        "Cable alone (dB)",
        "|Z| (Ω)",
        "Phase (°)",
    ]
    assert "damping factor" in table.settings
    panel.show_table(True)
    assert not panel.load.isVisible() and panel._model.rowCount() == len(table) > 200
    panel.show_table(False)
    assert panel.load.isVisible()


def test_that_on_paper_the_upper_chart_says_its_own_frequencies(panel):
    chart = panel.chart
    assert chart._bottom.bare and chart.scales.x.label == ""
    with chart.on_paper():
        assert not chart._bottom.bare and chart.scales.x.label == "Frequency (Hz)"
        assert [tick.text for tick in chart._bottom.ticks][:2] != []
    assert chart._bottom.bare and chart.scales.x.label == ""
    assert export.encoded(chart, export.Kind.SVG).count(b"1k") == 1


def test_that_an_edit_shows_at_once_and_undo_brings_it_back(qtbot, panel):
    before = panel.chart.headline()
    edit(qtbot, panel._document, OUTPUT, 0.0)
    # By hand: 32/32.4 over 5∠-30°/|5∠-30° + 0.4| = 0.9877/0.9342.
    assert panel.chart.headline() == "Response bent by 0.5 dB from peak to peak"
    with qtbot.waitSignal(panel._document.solved):
        panel._document.history.undo()
    assert panel.chart.headline() == before


def test_that_an_answer_out_of_date_is_dimmed_in_both_charts(qtbot, panel):
    edit(qtbot, panel._document, ("seats", 0, "x_m"), 0.1)
    assert panel.chart.stale_look and panel.load.stale_look
    edit(qtbot, panel._document, ("seats", 0, "x_m"), 4.0)
    assert not panel.chart.stale_look and not panel.load.stale_look


def test_that_the_chart_is_told_in_words(panel):
    summary = panel.chart.summary()
    assert summary.startswith("Triode. Response bent by ") and "up at 100 Hz, down at 2 kHz" in summary
    assert "{" not in summary + panel.load.summary()
    assert panel.load.accessibleDescription() == panel.load.summary()
    assert "from −30° to 30°" in panel.load.summary()


def test_that_a_closed_chart_is_freed(qapp):
    document = demo("reading_room")
    assert is_freed(partial(BendChart, document))
    document.solved.emit()
