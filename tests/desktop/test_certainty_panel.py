"""How sure is that? The chance in words, the spread as dots, the doubt by inputs, and the quiet line."""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtGui import QColor

from planner.desktop.background import PATIENCE_MS, LateAnswer
from planner.desktop.certainty import CertaintyLine, CertaintyPanel, answer
from planner.desktop.certainty.answer import SHORT_MS, SUSTAINED_MS, certainty_of
from planner.desktop.certainty.dots import stacked
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.desktop.theme import DARK, LIGHT, Scheme, apply, chosen_scheme
from planner.headroom import compute
from planner.headroom.certainty import CASES, certainty
from planner.plan import put
from planner.plan.units import Preference
from planner.report.words import certainty_line
from tests.plans import in_room, open_air, plan_of

PEAK = ("target", "peak_db")
TRANSIENT = ("programme", "transient_ms")


@pytest.fixture
def document(qapp):
    """One loudspeaker in a room of one material."""
    return PlanDocument(plan_of(in_room()))


@pytest.fixture
def panel(qtbot, document):
    made = CertaintyPanel(document)
    qtbot.addWidget(made)
    made.resize(900, 340)
    made.show()
    wait_fresh(qtbot, document)
    return made


def wait_fresh(qtbot, document):
    late = certainty_of(document)
    qtbot.waitUntil(lambda: late.fresh and not late.busy)


def words(panel):
    """The headline; its figures are kept from their unit by a space that does not break."""
    return panel.headline.text().replace("\N{NO-BREAK SPACE}", " ")


def test_that_the_headline_says_the_chance_in_words_and_figures(panel, document):
    (sure,) = certainty(document.plan)
    chance = f"{100.0 * sure.chance_unclipped:.0f} %"
    assert words(panel).endswith(f"to play the peaks unclipped at Chair: {chance}")


def test_that_the_dots_are_the_cases_and_the_bar_is_the_range(panel, document):
    (sure,) = certainty(document.plan)
    low, high = sure.range_db
    said = panel.dots.accessibleDescription()
    assert f"from {low:+.1f} dB to {high:+.1f} dB".replace("-", "−") in said
    assert panel.dots._shown.sure.cases_db == sure.cases_db and len(sure.cases_db) == CASES


def test_that_the_doubts_are_ranked_with_their_tolerances(panel, document):
    (sure,) = certainty(document.plan)
    shares = [share for _, _, share in panel.doubts.rows]
    assert shares == sorted(shares, reverse=True)
    assert shares == [share for _, share in sure.doubt if share >= 0.005]
    tolerances = {name: text for name, text, _ in panel.doubts.rows}
    assert tolerances["Sensitivity"] == "± 0.75 dB"
    assert tolerances["How long a peak lasts"] == "×/÷ 1.6"
    assert "common practice, no published source" in panel.sources.text()


# Computed from scratch with peaks of 5 and of 50 ms; the longer one lets the room build up further.
def test_that_the_length_of_a_peak_stands_beside_with_what_it_decides(panel, document):
    at = [compute(put(document.plan, TRANSIENT, ms)).seats[0].headroom_db for ms in (SHORT_MS, SUSTAINED_MS)]
    assert at[1] > at[0] + 0.1
    said = panel.transient.text()
    assert "taken as 20 ms" in said
    for headroom_db in at:
        assert f"{headroom_db:+.1f} dB".replace("-", "−") in said


def test_that_in_open_air_the_length_of_a_peak_is_said_not_to_matter(qtbot):
    document = PlanDocument(plan_of(open_air()))
    panel = CertaintyPanel(document)
    qtbot.addWidget(panel)
    panel.show()
    wait_fresh(qtbot, document)
    assert "does not lean on it" in panel.transient.text()


def test_that_an_edit_greys_the_old_answer_until_the_new_one_is_there(qtbot, panel, document):
    before = panel.headline.text()
    document.edit(PEAK, 92.0, "Change peak level")
    assert not panel.dots.isEnabled() and not panel.headline.isEnabled()
    assert panel.headline.text() == before
    wait_fresh(qtbot, document)
    assert panel.dots.isEnabled() and panel.headline.isEnabled()
    assert panel.headline.text() != before


def test_that_a_preview_is_judged_as_well(qtbot, panel, document):
    before = panel.headline.text()
    document.preview(put(document.plan, PEAK, 90.0), "A lower target")
    wait_fresh(qtbot, document)
    assert words(panel) == "Almost certain to play the peaks unclipped at Chair: > 99 %"
    document.preview(None)
    wait_fresh(qtbot, document)
    assert panel.headline.text() == before


def test_that_tolerances_of_the_plans_own_are_shown_and_said_to_be_so(qtbot, panel, document):
    own = {"sensitivity_db": 2.5, "distance_m": 0.5}
    document.replace(plan_of(in_room(tolerances=own)), "Change tolerances")
    wait_fresh(qtbot, document)
    tolerances = {name: text for name, text, _ in panel.doubts.rows}
    assert tolerances["Sensitivity"] == "± 2.5 dB"
    assert tolerances["Distance of the seat"] == "± 0.50 m"
    assert "as the plan gives it" in panel.sources.text()
    settings().units = Preference.US
    assert {name: text for name, text, _ in panel.doubts.rows}["Distance of the seat"] == "± 1 ft 7.7 in"


def test_that_the_line_says_range_and_chance_and_is_greyed_until_they_hold(qtbot, document):
    line = CertaintyLine(document)
    qtbot.addWidget(line)
    line.show()
    wait_fresh(qtbot, document)
    (sure,) = certainty(document.plan)
    assert line.text() == certainty_line(sure)
    assert line.isEnabled()
    document.edit(PEAK, 92.0, "Change peak level")
    assert not line.isEnabled() and line.text() == certainty_line(sure)
    wait_fresh(qtbot, document)
    assert line.isEnabled() and line.text() != certainty_line(sure)


def test_that_line_and_panel_share_one_computation(qtbot, document, monkeypatch):
    judged = []
    real = answer.certainty
    monkeypatch.setattr(answer, "certainty", lambda *given: judged.append(given) or real(*given))
    line, panel = CertaintyLine(document), CertaintyPanel(document)
    for widget in (line, panel):
        qtbot.addWidget(widget)
        widget.show()
    wait_fresh(qtbot, document)
    qtbot.wait(PATIENCE_MS + 60)
    assert len(judged) == 1
    assert len(document.findChildren(LateAnswer)) == 1


def test_that_whatever_is_made_after_the_answer_shows_it_at_once(qtbot, panel, document):
    later, line = CertaintyPanel(document), CertaintyLine(document)
    for widget in (later, line):
        qtbot.addWidget(widget)
    assert later.headline.text() == panel.headline.text()
    assert line.text() == certainty_line(certainty_of(document).value.sure)


def test_that_nothing_is_judged_while_nobody_looks(qtbot, document):
    line = CertaintyLine(document)
    qtbot.addWidget(line)
    document.edit(PEAK, 92.0, "Change peak level")
    qtbot.wait(PATIENCE_MS + 60)
    assert certainty_of(document).value is None
    assert line.text() == " "


# By hand: 1.0 and 1.4 lie within a width of 0.5; 1.6 does not lie within 0.5 of 1.0; −0.1 and 0.1 are
# of two verdicts, so that a case that clips never stands among those that do not.
@pytest.mark.parametrize(
    ("values", "places"),
    [
        pytest.param((1.0, 1.4, 1.6), [(1.2, 0), (1.2, 1), (1.6, 0)], id="piles by width"),
        pytest.param((-0.1, 0.1), [(-0.1, 0), (0.1, 0)], id="apart at 0 dB"),
        pytest.param((2.9, 3.1), [(2.9, 0), (3.1, 0)], id="apart at 3 dB"),
    ],
)
def test_that_cases_are_piled_by_width_and_verdict(values, places):
    found = stacked(values, 0.5)
    assert [level for _, level in found] == [level for _, level in places]
    assert [place for place, _ in found] == pytest.approx([place for place, _ in places])


def test_that_sides_stand_beside_each_other_only_where_there_is_room(qtbot, panel):
    assert panel.doubts.mapTo(panel, panel.doubts.rect().topLeft()).x() > panel.width() / 2
    panel.resize(430, 400)
    QCoreApplication.processEvents()
    assert panel.doubts.mapTo(panel, panel.doubts.rect().topLeft()).x() < panel.width() / 4


def test_that_the_picture_takes_the_colours_of_the_theme(qtbot, qapp, panel):
    before = chosen_scheme(qapp)
    try:
        for scheme, colours in ((Scheme.DARK, DARK), (Scheme.LIGHT, LIGHT)):
            apply(qapp, scheme)
            image = panel.dots.grab().toImage()
            seen = {
                QColor(image.pixel(x, y)).name()
                for x in range(0, image.width(), 2)
                for y in range(0, image.height(), 2)
            }
            assert colours.pick("accent").name() in seen and colours.pick("tight").name() in seen
    finally:
        apply(qapp, before)


def test_that_everything_has_a_name(panel):
    for widget in (panel, panel.dots, panel.doubts):
        assert widget.accessibleName()
    assert "Sensitivity ± 0.75 dB" in panel.doubts.accessibleDescription()


def test_that_closed_widgets_are_freed_and_the_answer_with_its_document(qtbot):
    document = PlanDocument(plan_of(open_air()))
    panel, line = CertaintyPanel(document), CertaintyLine(document)
    panel.show()
    line.show()
    wait_fresh(qtbot, document)
    gone = [weakref.ref(one) for one in (panel, line, panel.dots)]
    late = weakref.ref(certainty_of(document))
    for one in (panel, line):
        one.close()
        one.deleteLater()
    del panel, line, one
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    document.edit(PEAK, 99.0, "Change peak level")
    qtbot.wait(PATIENCE_MS + 60)
    assert [ref() for ref in gone] == [None] * 3
    assert not late().busy
    document.deleteLater()
    del document
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    assert late() is None
