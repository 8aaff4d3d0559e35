"""From quiet to loud: every level where the engine has it, each named, and whether silence is silent."""

from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts.quiet_to_loud import QuietToLoudChart
from planner.desktop.document import PlanDocument
from planner.desktop.theme import DARK
from planner.headroom.noise import seat_noises
from planner.headroom.quiet_to_loud import quiet_to_loud
from planner.headroom.system import system_at
from planner.plan import get, load
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import DEMO_ROOMS, PEAK, demo, edit, open_air_plan, put_up, words_of
from tests.desktop.freed import is_freed
from tests.plans import amplifier, changed, in_room, open_air, plan_of, room

AMPLIFIER = ("candidates", 0, "amplifiers", 0)
RESIDUAL = {"hum_mv": 0.0, "mains_hz": 50.0, "hiss_mv": 0.2, "weighting": "Z"}
NAMES = {
    "loudspeaker": "loudspeaker limit",
    "clip": "amplifier clips",
    "peak": "peaks asked for",
    "average": "average",
    "room": "room noise",
    "noise": "amplifier noise",
    "threshold": "threshold of hearing",
}
SMALL = (480, 320)


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, QuietToLoudChart, demo("map_room"), SMALL)


def quiet_plan(**residual):
    """A room of NC 20 with an amplifier that hisses."""
    data = in_room(candidates=open_air()["candidates"])
    data = changed(data, "room", room(noise={"nc": 20.0}))
    data = changed(data, "stands.0.x_m", 0.0)
    return plan_of(changed(data, "candidates.0.amplifiers", [amplifier(residual={**RESIDUAL, **residual})]))


def engine(panel):
    """The same levels by the engine alone."""
    sight = panel.chart.sight
    system = system_at(sight.plan, sight.candidate)
    noise = seat_noises(system, sight.plan)[sight.place]
    return noise, quiet_to_loud(system, sight.plan, sight.place, noise)


def test_that_every_level_is_drawn_where_the_engine_has_it(map_room):
    noise, span = engine(map_room)
    expected = {
        "loudspeaker": span.loudspeaker_db,
        "clip": span.clip_db,
        "peak": span.peak_db,
        "average": span.average_db,
        "room": noise.quiet.room.third_db,
        "noise": noise.amplifier.level_db,
        "threshold": noise.quiet.threshold_db,
    }
    for key, levels in expected.items():
        hz, shown = map_room.chart.curves[key].shown
        assert hz == pytest.approx(span.centre_hz)
        assert shown == pytest.approx(levels), key
        assert map_room.chart.curves[key].isVisible()


# Pink noise without a room has the same level in all 31 thirds but for what air takes: 100 dB of peaks at
# 12 dB of crest are 88 dB on average, 10 log 31 = 14.9 dB less in each third.
def test_that_pink_noise_in_open_air_lies_level_its_crest_factor_below_its_peaks(qtbot):
    panel = put_up(qtbot, QuietToLoudChart, PlanDocument(open_air_plan()))
    chart = panel.chart
    average, peak = (chart.curves[key].shown[1] for key in ("average", "peak"))
    assert average[:20] == pytest.approx(np.full(20, 88.0 - 10.0 * np.log10(31.0)), abs=0.2)
    assert peak - average == pytest.approx(np.full(31, 12.0))
    headroom = chart.sight.seat.headroom_db
    assert chart.curves["clip"].shown[1] - peak == pytest.approx(np.full(31, headroom))


def test_that_the_headline_says_what_is_heard_in_which_band_and_by_how_much(qtbot, map_room):
    noise, _ = engine(map_room)
    assert not noise.amplifier.audible
    margin = noise.amplifier.margin_db
    assert (
        map_room.chart.headline() == f"The amplifier is not heard: hum stays {margin:.1f} dB under at 160 Hz"
    )
    hum = get(map_room._document.plan, (*AMPLIFIER, "residual", "hum_mv"))
    # Hum raised by the margin and 6.02 dB more stands 6.02 dB out.
    edit(qtbot, map_room._document, (*AMPLIFIER, "residual", "hum_mv"), 2.0 * hum * 10.0 ** (margin / 20.0))
    headline = map_room.chart.headline()
    assert headline.startswith("The amplifier is heard in silence: hum stands 6.0 dB out at 160 Hz")


def test_that_hiss_raised_by_twenty_decibels_comes_out_in_the_band_that_computation_says(qtbot):
    panel = put_up(qtbot, QuietToLoudChart, PlanDocument(quiet_plan()))
    assert "is not heard" in panel.chart.headline()
    edit(qtbot, panel._document, (*AMPLIFIER, "residual", "hiss_mv"), 2.0)
    noise, _ = engine(panel)
    above = noise.amplifier.level_db - noise.quiet.limit_db
    assert above.max() > 0.0
    band = panel.chart.nearest._shown[0][0]
    assert band == pytest.approx(float(panel.chart.shown.span.centre_hz[np.argmax(above)]))
    assert f"hiss stands {above.max():.1f} dB out" in panel.chart.headline()


def test_that_the_gap_between_noise_and_what_hides_it_is_drawn_and_named(map_room):
    noise, _ = engine(map_room)
    amplifier_noise = noise.amplifier
    hertz, ends = map_room.chart.gaps["clears"].shown
    assert hertz == pytest.approx([amplifier_noise.band_hz] * 2)
    assert ends[1] - ends[0] == pytest.approx(amplifier_noise.margin_db)
    assert map_room.chart.gaps["short"].shown[1].size == 0
    assert f"hum {amplifier_noise.margin_db:.1f} dB under" in words_of(map_room.chart.captions)


@pytest.mark.parametrize("path", DEMO_ROOMS, ids=lambda path: path.stem)
@pytest.mark.parametrize("size", [SMALL, (640, 400)], ids=str)
def test_that_every_level_has_its_name_beside_it_also_in_a_small_panel(qtbot, path, size):
    panel = put_up(qtbot, QuietToLoudChart, PlanDocument(load(str(path))), size)
    told = words_of(panel.chart.captions)
    known = panel.chart.shown.levels()
    assert [NAMES[key] for key in known if NAMES[key] not in told] == []


def test_that_a_plan_that_gives_no_residual_says_so_and_draws_no_noise(qtbot):
    panel = put_up(qtbot, QuietToLoudChart, PlanDocument(open_air_plan()))
    chart = panel.chart
    assert chart.headline() == "The plan does not say how much the amplifier hums and hisses"
    assert not chart.curves["noise"].isVisible() and not chart.curves["room"].isVisible()
    assert not chart.curves["loudspeaker"].isVisible()
    assert [words for _, words in chart.key_entries()] == ["room noise not in the plan"]
    titles = [column.title for column in chart.table().columns]
    assert titles == ["Band", "threshold of hearing", "average", "peaks asked for", "amplifier clips"]


def test_that_levels_here_and_at_one_metre_and_what_is_tolerated_stand_below_the_chart(map_room):
    noise, _ = engine(map_room)
    silent = noise.amplifier
    (tolerated,) = silent.tolerated
    assert [words for _, words in map_room.chart.key_entries()] == [
        f"amplifier noise {silent.dba:.1f} dB(A) here, {silent.dba_1m:.1f} dB(A) at 1 m",
        f"room {noise.room_noise_dba:.1f} dB(A)",
        f"unheard up to {tolerated.hum_mv:.1f} mV of hum or {tolerated.hiss_mv:.1f} mV of hiss",
    ]


def test_that_a_band_is_read_by_keys_with_every_level(map_room):
    chart = map_room.chart
    press(chart, Qt.Key.Key_Home)
    for _ in range(17):
        press(chart, Qt.Key.Key_Right)
    table = chart.table()
    assert chart.reading() == table.reading(17) and chart.reading().startswith("1 kHz:")
    entries = [words for _, words in chart.reading_entries(17)]
    figures = [f"{column.values[17]:.1f}".replace("-", "−") for column in table.columns[1:]]
    assert entries == ["1 kHz, in dB:", *figures]


def test_that_the_chart_is_told_in_words(map_room):
    summary = map_room.chart.summary()
    assert map_room.chart.headline() in summary and "{" not in summary
    assert all(name in summary for name in NAMES.values())
    assert map_room.chart.accessibleDescription() == summary


def test_that_an_edit_shows_at_once_and_undo_brings_it_back(qtbot, map_room):
    before = [column.values[10] for column in map_room.chart.table().columns[1:]]
    edit(qtbot, map_room._document, PEAK, 98.0)
    threshold, noise, room_noise, average, peak, clip, _ = (
        column.values[10] for column in map_room.chart.table().columns[1:]
    )
    assert (threshold, noise, room_noise, clip) == pytest.approx((*before[:3], before[5]))
    assert (average, peak) == pytest.approx((before[3] - 6.0, before[4] - 6.0))
    with qtbot.waitSignal(map_room._document.solved):
        map_room._document.history.undo()
    assert [column.values[10] for column in map_room.chart.table().columns[1:]] == pytest.approx(before)


def test_that_it_is_drawn_in_the_colours_of_the_night(map_room):
    map_room.chart.restyle(DARK)
    image = map_room.chart.grab().toImage()
    assert image.pixelColor(image.width() - 3, 3).name() == DARK.surface.lower()


def test_that_a_closed_chart_is_freed(qapp):
    document = demo("map_room")
    assert is_freed(partial(QuietToLoudChart, document))
    document.solved.emit()
