"""Words that keep clear of one another, sides that hold still, rows that are left out, marks that crowd."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.desktop.charts import LinearScale, Scales, frequency_scale
from planner.desktop.charts.captions import BELOW, LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.rows import picked_rows
from planner.desktop.charts.steady import held
from planner.desktop.charts.ticks import Ticks
from planner.desktop.theme import small_font

SIDES = (LinearScale("x", "", 0.0, 100.0), LinearScale("y", "", 0.0, 100.0))
PLACES = st.tuples(st.floats(-10.0, 110.0), st.floats(-10.0, 110.0), st.text("abc 0,", max_size=30))


@pytest.fixture
def captions(qapp):
    made = Captions(Scales(*SIDES, 400.0, 200.0))
    made.refont(small_font(qapp.font()))
    return made


def box_of(captions, text):
    return next(box for caption, box in captions.placed if caption.text == text)


@given(st.lists(PLACES, max_size=12))
def test_that_words_that_may_go_never_touch_others_and_never_leave_the_chart(qapp, places):
    captions = Captions(Scales(*SIDES, 400.0, 200.0))
    captions.refont(small_font(qapp.font()))
    captions.show_captions(Caption(text, x, y, may_go=True) for x, y, text in places)
    boxes = [box for _, box in captions.placed]
    assert all(captions.boundingRect().adjusted(-1, -1, 1, 1).contains(box) for box in boxes)
    letters = [box.adjusted(0.0, 0.15 * box.height(), 0.0, -0.15 * box.height()) for box in boxes]
    assert not any(a.intersects(b) for n, a in enumerate(letters) for b in letters[:n])


def test_that_words_take_the_first_side_that_is_free(captions):
    captions.show_captions([Caption("first", 50.0, 50.0), Caption("second", 50.0, 50.0)])
    first, second = box_of(captions, "first"), box_of(captions, "second")
    assert first.left() > 200.0 and first.bottom() < 100.0
    assert second.right() < 200.0 and second.bottom() < 100.0


def test_that_words_stand_beside_below_and_left_of_their_point(captions):
    said = [
        Caption("right", 50.0, 50.0, sides=(RIGHT,)),
        Caption("left", 50.0, 50.0, sides=(LEFT,)),
        Caption("below", 50.0, 50.0, sides=(BELOW,), down_px=20.0),
    ]
    captions.show_captions(said)
    right, left, below = (box_of(captions, one.text) for one in said)
    assert right.left() == pytest.approx(206.0) and left.right() == pytest.approx(194.0)
    assert right.center().y() == pytest.approx(100.0)
    assert below.center().x() == pytest.approx(200.0) and below.top() == pytest.approx(126.0)


def test_that_words_keep_clear_of_marks_and_of_lines(captions):
    line = (np.linspace(0.0, 100.0, 200), np.linspace(45.0, 65.0, 200))
    captions.show_captions([Caption("words", 50.0, 50.0)], marks=[(58.0, 55.0)], lines=[line])
    box = box_of(captions, "words")
    across, down = line[0] * 4.0, 200.0 - line[1] * 2.0
    assert not np.any(
        (across > box.left()) & (across < box.right()) & (down > box.top()) & (down < box.bottom())
    )
    assert not box.contains(58.0 * 4.0, 200.0 - 55.0 * 2.0)


def test_that_words_without_room_go_elsewhere_or_are_moved_into_the_chart(captions):
    captions.show_captions(
        [
            Caption("at the corner", 0.0, 0.0, sides=((-1.0, -1.0),), elsewhere=((60.0, 60.0),)),
            Caption("stays", 0.0, 100.0, sides=((-1.0, 1.0),)),
            Caption("goes", 0.0, 100.0, sides=((-1.0, 1.0),), may_go=True),
            Caption("nowhere", float("nan"), 10.0),
        ]
    )
    assert box_of(captions, "at the corner").right() < 240.0
    assert (box_of(captions, "stays").left(), box_of(captions, "stays").top()) == (0.0, 0.0)
    assert len(captions.placed) == 2


def test_that_words_longer_than_the_chart_are_cut_to_it(captions):
    captions.show_captions([Caption("endless " * 40, 50.0, 50.0)])
    ((caption, box),) = captions.placed
    assert box.width() == 400.0 and box.left() == 0.0
    assert captions._fitted(caption, box).endswith("…")


@given(
    st.floats(-200.0, 200.0, allow_subnormal=False),
    st.floats(0.0, 100.0),
    st.sampled_from([0.5, 1.0, 5.0, 6.0]),
    st.floats(-3.0, 3.0),
    st.floats(-3.0, 3.0),
)
def test_that_held_ends_always_hold_the_data_and_stand_still_for_small_moves(low, span, step, shift, growth):
    ends = held(low, low + span, step)
    assert ends[0] <= low and low + span <= ends[1] and ends[1] - ends[0] >= step
    assert held(low, low + span, step, ends) == ends
    inside_low = max(ends[0], low + shift)
    inside_high = min(ends[1], max(inside_low, low + span + growth))
    later = held(inside_low, inside_high, step, ends)
    assert later[0] <= inside_low and inside_high <= later[1]
    if abs(shift) <= step and abs(growth) <= step:
        assert later == ends


def test_that_ends_move_when_the_data_leave_them_or_leave_them_idle():
    assert held(79.0, 104.0, 5.0, (80.0, 105.0)) == (75.0, 105.0)
    assert held(83.0, 106.0, 5.0, (80.0, 105.0)) == (80.0, 110.0)
    assert held(83.0, 87.0, 5.0, (80.0, 105.0)) == (80.0, 90.0)
    assert held(96.0, 104.0, 5.0, (80.0, 105.0)) == (95.0, 105.0)


def test_that_rows_left_out_have_no_place_and_the_others_close_up():
    side = picked_rows(("a", "b", "c", "d"), (0, 2, 3))
    assert side.place([0.0, 2.0, 3.0]) == pytest.approx([0.0, -1.0, -2.0])
    assert np.isnan(side.place(1.0))
    assert np.all(np.isnan(side.place([-1.0, 4.0, np.nan])))
    assert side.place([1.7, 2.3]) == pytest.approx([-0.7, -1.3])
    assert side.ends == (-2.5, 0.5)
    assert [tick.text for tick in next(side.choices())] == ["a", "c", "d"]


def test_that_of_marks_on_one_pixel_the_strongest_is_drawn(qapp):
    ticks = Ticks(Scales(frequency_scale("f", 10.0, 1000.0), SIDES[1], 200.0, 100.0), "ink")
    ticks.refont(small_font(qapp.font()))
    ticks.show_ticks([100.0, 100.001, 5.0, 2000.0, 316.228], [0.0, 1.0, 1.0, 1.0, 0.5])
    assert [(line.x1(), line.dy()) for line in ticks.lines] == [(100.5, 14.0), (150.5, 9.0)]
    assert max(line.y2() for line in ticks.lines) == ticks.bottom_px
