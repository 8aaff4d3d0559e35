"""The gain chain drawn: levels at each link, what is to spare, what overloads first, what the plan lacks."""

from functools import partial
from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.document import PlanDocument
from planner.desktop.gain import GainPanel
from planner.desktop.gain.chain import Station
from planner.desktop.gain.drawn import Drawn
from planner.desktop.gain.symbols import SIGNS
from planner.desktop.gain.words import station_word
from planner.headroom.gain import gain_chain
from planner.headroom.system import system_at
from planner.plan import load
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import DEMO_ROOMS, demo, edit, open_air_plan, put_up
from tests.desktop.freed import is_freed
from tests.plans import amplifier, changed, open_air, plan_of

SMALL = (480, 320)
LINE = {"kind": "line", "volts": 2.0}
PHONO = {"kind": "phono", "cartridge_mv": 2.5, "phono_gain_db": 40.0, "phono_overload_v": 5.0}
SOURCE = ("candidates", 0, "source")


def chained(source=LINE, gain_db=20.0):
    """2.5 W into 8 ohm, peaks of 100 dB at 4 m from a loudspeaker of 100 dB for 1 W, without a room."""
    data = changed(open_air(), "candidates.0.source", source)
    return plan_of(changed(data, "candidates.0.amplifiers", [amplifier(gain_db=gain_db)]))


def shown(qtbot, plan, size=SMALL):
    return put_up(qtbot, GainPanel, PlanDocument(plan), size)


@pytest.fixture
def panel(qtbot):
    return shown(qtbot, chained())


@pytest.fixture
def two_amplifiers(qtbot):
    return put_up(qtbot, GainPanel, demo("reading_room"), (640, 400))


def stations(panel) -> dict[str, Station]:
    return {one.key: one for one in panel.chart.shown.chain.stations}


# By hand: 100 dB at 4 m are 112.04 dB at 1 m and 0.18 dB more for what air takes: 12.22 dB over the 100 dB of
# sqrt(8) V, 11.55 V of peak, 8.17 V as rms of a sine. The source gives 2 V, ten times 20 V: 7.78 dB more.
def test_that_the_levels_are_those_of_a_chain_reckoned_by_hand(panel):
    found = stations(panel)
    assert list(found) == ["line", "volume", "amplifier"]
    levels = [one.level_v for one in found.values()]
    assert levels == pytest.approx([2.0, 0.817, 8.17], rel=2e-3)
    assert found["line"].level_dbv == pytest.approx(6.02, abs=0.01)
    assert found["line"].peak_v == pytest.approx(2.8284, rel=1e-4)
    assert found["volume"].gain_db == pytest.approx(-7.78, abs=0.01)
    assert found["amplifier"].gain_db == 20.0


# By hand: full output is sqrt(20) = 4.472 V rms or 13.01 dBV; 8.17 V lie 5.23 dB above it.
def test_that_full_output_stands_at_the_end_with_what_is_to_spare(qtbot, panel):
    full = panel.chart.picture.drawn.spots[-1]
    assert full.ceiling == pytest.approx(13.01, abs=0.01) and full.above == "4.47 V"
    assert full.figure == "−5.2 dB" and full.over and panel.chart.picture.drawn.token == "short"
    edit(qtbot, panel._document, ("target", "peak_db"), 90.0)
    full = panel.chart.picture.drawn.spots[-1]
    assert (full.figure, full.below) == ("+4.8 dB", "to spare") and not full.over
    assert full.ceiling - full.place == pytest.approx(4.77, abs=0.02)
    assert panel.chart.picture.drawn.token == "clears"


def test_that_the_headline_says_whether_a_preamplifier_is_wanted_and_where_the_volume_sits(qtbot):
    # By hand: 20 V over 4.472 V are 13.01 dB; 0.3 V ten times is 3 V, 3.47 dB too little.
    strong = shown(qtbot, chained())
    told = "Full output without a preamplifier, 13.0 dB to spare; volume at −7.8 dB"
    assert strong.chart.headline() == told
    weak = shown(qtbot, chained({"kind": "line", "volts": 0.3}))
    assert weak.chart.headline() == "The source lacks 3.5 dB to drive this amplifier fully"


def test_that_a_target_out_of_the_sources_reach_is_told(qtbot):
    # By hand: 0.5 V ten times is 5 V, enough for 4.472 V, and 4.26 dB less than 8.17 V.
    panel = shown(qtbot, chained({"kind": "line", "volts": 0.5}))
    chart = panel.chart
    assert chart.headline() == "Full output without a preamplifier, yet 4.3 dB too little for the target"
    assert stations(panel)["volume"].gain_db == 0.0
    assert chart.picture.drawn.up is None


def test_that_the_volume_control_fully_up_is_drawn_beside_the_level(panel):
    drawn = panel.chart.picture.drawn
    assert drawn.up == pytest.approx((6.02, 26.02), abs=0.01)
    assert drawn.up_words == "fully up 20 V" and drawn.spots[drawn.up_from].key == "volume"
    assert drawn.spots[drawn.up_from].turned_db == pytest.approx(-7.78, abs=0.01)


def test_that_what_overloads_first_is_named_with_its_margin(panel):
    facts = [words for _, words in panel.chart.key_entries()]
    assert facts[0] == "Triode overloads first, 5.2 dB below the peaks"
    # By hand: 4.472 V over ten.
    assert "0.447 V at its input for full output" in facts


# By hand: 2.5 mV at 5 cm/s are 10 mV at the highest peaks, 1 V behind 40 dB; 5 V are 13.98 dB more.
def test_that_a_record_goes_through_cartridge_and_phono_stage_with_its_overload(qtbot):
    panel = shown(qtbot, chained(PHONO))
    chart = panel.chart
    cartridge, phono = chart.picture.drawn.spots[:2]
    assert (cartridge.key, cartridge.figure, cartridge.gain) == ("cartridge", "10 mV", "")
    assert (phono.key, phono.figure, phono.gain) == ("phono", "1 V", "+40.0 dB")
    assert phono.ceiling - phono.place == pytest.approx(13.98, abs=0.01)
    assert phono.above == "overloads at 5 V"
    facts = [words for _, words in chart.key_entries()]
    assert "phono stage overloads 14.0 dB above a record’s peaks" in facts
    # The curve of IEC 60098 at 100 Hz is +13.1 dB, at 10 kHz -13.7 dB re 1 kHz; 5 V are 100 cm/s at 1 kHz.
    assert "takes 22 cm/s at 100 Hz, 100 at 1 kHz and 490 at 10 kHz" in chart.table().settings


def test_that_a_phono_stage_without_a_stated_overload_says_so(qtbot):
    source = {key: value for key, value in PHONO.items() if key != "phono_overload_v"}
    panel = shown(qtbot, chained(source))
    chart = panel.chart
    assert chart.picture.drawn.spots[1].ceiling is None
    assert "overload of the phono stage not in the plan" in [words for _, words in chart.key_entries()]


def test_that_a_missing_source_is_told_and_its_place_marked(qtbot):
    panel = shown(qtbot, chained(None))
    chart = panel.chart
    spots = chart.picture.drawn.spots
    assert [(spot.key, spot.known) for spot in spots] == [
        ("source", False),
        ("volume", True),
        ("amplifier", True),
        ("full", True),
    ]
    assert (spots[0].gain, spots[2].gain) == ("?", "+20.0 dB")
    assert chart.headline() == "The plan does not tell enough of the gain chain"
    assert [words for _, words in chart.key_entries()] == ["no source in the plan"]
    note = chart.picture.drawn.note
    assert note == "To draw the levels, give the source, by its volts or its cartridge."
    assert note in chart.summary()
    assert chart.table().columns[0].values == ("source", "volume", "amplifier", "full output")


def test_that_a_missing_gain_is_told_by_the_name_of_its_amplifier(qtbot):
    panel = shown(qtbot, chained(gain_db=None))
    chart = panel.chart
    assert [words for _, words in chart.key_entries()] == ["no gain in the plan for Triode"]
    assert not chart.picture.drawn.spots[2].known
    assert chart.picture.drawn.note == "To draw the levels, give the gain of Triode."


def test_that_each_amplifier_has_its_chain_with_level_control_and_crossover(qtbot, two_amplifiers):
    panel = two_amplifiers
    assert panel.chooser.isVisible()
    panel.chooser.setFocus()
    qtbot.keyClick(panel.chooser, Qt.Key.Key_Down)
    assert list(stations(panel)) == ["line", "volume", "level", "crossover", "amplifier"]
    for index in range(panel.chooser.count()):
        panel._choose(index)
        chain, seat = panel.chart.shown.chain, panel.chart.sight.seat
        # What is drawn between level and full output is what the answer says of this amplifier's volts.
        gap = 20.0 * np.log10(chain.amplifier.full_v / chain.stations[-1].level_v)
        name = chain.amplifier.name
        (limit,) = (one for one in seat.limits if (one.part, one.quantity) == (name, "voltage"))
        assert gap == pytest.approx(limit.headroom_db, abs=1e-6)
        assert chain.voltage_db == pytest.approx(limit.headroom_db, abs=1e-9)


def test_that_links_agree_with_the_engines_own(two_amplifiers):
    sight = two_amplifiers.chart.sight
    whole = gain_chain(system_at(sight.plan, sight.candidate), sight.plan, sight.place)
    links = {link.key: link.peak_v for link in whole.amplifiers[0].links}
    found = stations(two_amplifiers)
    for key in ("line", "volume"):
        assert found[key].peak_v == pytest.approx(links[key])
    crossed = found["crossover"].gain_db
    assert found["amplifier"].peak_v == pytest.approx(links["amplifier"] * 10.0 ** (crossed / 20.0))


def test_that_current_that_gives_out_before_the_volts_is_told(qtbot):
    panel = put_up(qtbot, GainPanel, demo("map_room"), SMALL)
    panel._document.choose(candidate=2)
    seat = panel.chart.sight.seat
    assert seat.first_limit.quantity == "current"
    facts = [words for _, words in panel.chart.key_entries()]
    assert f"by current: −{-seat.amplifiers[0].headroom_db:.1f} dB" in facts


def test_that_the_reading_goes_from_link_to_link_and_the_table_has_them_all(panel):
    table = panel.chart.table()
    assert table.columns[0].values == ("line source", "volume", "amplifier", "full output")
    assert table.headers == ["Link", "Gain (dB)", "Level, sine rms (V)", "Level, re 1 V (dB)", "Peak (V)"]
    press(panel.chart, Qt.Key.Key_Right)
    press(panel.chart, Qt.Key.Key_Right)
    assert panel.chart.reading().startswith("volume:") and "Gain −7.8 dB" in panel.chart.reading()
    assert panel.chart._reader.cursor.isVisible()
    panel.show_table(True)
    assert panel._model.rowCount() == 4


@pytest.mark.parametrize("path", DEMO_ROOMS, ids=lambda path: path.stem)
@pytest.mark.parametrize("size", [(420, 300), SMALL, (640, 400)], ids=str)
def test_that_links_keep_apart_and_hold_their_figures(qtbot, path, size):
    panel = put_up(qtbot, GainPanel, PlanDocument(load(str(path))), size)
    for candidate in range(len(panel._document.outcomes)):
        panel._document.choose(candidate=candidate)
        for index in range(panel.chooser.count()):
            panel._choose(index)
            picture = panel.chart.picture
            boxes = [picture._box(column) for column in range(len(picture.drawn.spots))]
            assert all(left.right() < right.left() for left, right in pairwise(boxes))
            assert all(box.width() >= picture._words_px() for box in boxes)
            assert boxes[-1].right() <= picture.boundingRect().right()
            levels = [picture._y(spot.place) for spot in picture.drawn.spots if spot.place is not None]
            assert all(boxes[0].bottom() < level < picture.boundingRect().bottom() for level in levels)


def test_that_every_link_has_a_sign_and_a_name():
    keys = {"cartridge", "phono", "line", "source", "volume", "level", "crossover", "amplifier", "full"}
    assert {*SIGNS, "volume", "level"} == keys
    assert len({station_word(key) for key in keys}) == len(keys)


def test_that_the_chart_is_told_in_words(panel):
    summary = panel.chart.summary()
    assert summary.startswith(panel.chart.headline()) and "{" not in summary
    assert "line source 2 V (+6.0 dBV); volume −7.8 dB: 0.817 V (−1.8 dBV)" in summary
    assert "volts are rms of a sine with the same peaks" in summary.lower()


def test_that_an_edit_shows_at_once_and_undo_brings_it_back(qtbot, panel):
    before = panel.chart.picture.drawn
    edit(qtbot, panel._document, (*SOURCE, "volts"), 4.0)
    # By hand: twice the volts, 6.02 dB further down.
    assert stations(panel)["volume"].gain_db == pytest.approx(-13.80, abs=0.01)
    with qtbot.waitSignal(panel._document.solved):
        panel._document.history.undo()
    assert panel.chart.picture.drawn == before


def test_that_a_chart_made_over_a_plan_that_cannot_be_computed_draws_nothing(qtbot):
    document = PlanDocument(open_air_plan())
    edit(qtbot, document, ("seats", 0, "x_m"), 0.1)
    document.reset(document.plan)
    panel = put_up(qtbot, GainPanel, document, SMALL)
    assert not panel.chart.has_data and panel.chart.picture.drawn == Drawn()
    panel.grab()


def test_that_a_closed_panel_is_freed(qapp):
    document = demo("reading_room")
    assert is_freed(partial(GainPanel, document))
    document.solved.emit()
