"""What must hold for any plan: more of a good thing never takes headroom away."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from planner.headroom import compute
from planner.plan import dumps, loads
from tests.plans import changed, in_room, plan_of, section

TAP = "candidates.0.amplifiers.0.taps.0"
SENSITIVITY = "candidates.0.loudspeaker.sections.0.sensitivity.level_db"


def headroom(data):
    return compute(plan_of(data)).worst.headroom_db


def baffled():
    return changed(in_room(), "candidates.0.loudspeaker.baffle_width_m", 0.5)


@given(st.floats(0.01, 100.0), st.floats(1.01, 50.0))
def test_that_more_watts_give_exactly_their_decibels(watts, ratio):
    less, more = (headroom(changed(in_room(), f"{TAP}.watts", one)) for one in (watts, watts * ratio))
    assert math.isclose(more - less, 10 * math.log10(ratio), abs_tol=1e-9)


@given(st.floats(60.0, 120.0), st.floats(0.0, 10.0))
def test_that_sensitivity_is_worth_as_many_decibels_as_it_has(level, more):
    base, better = (headroom(changed(in_room(), SENSITIVITY, one)) for one in (level, level + more))
    assert math.isclose(better - base, more, abs_tol=1e-9)


@given(st.floats(1.0, 7.0), st.floats(0.05, 0.9))
def test_that_a_seat_farther_away_never_has_more(near, step):
    # Modes may favour a seat farther away, so only what lies above them plays.
    above = {"low_hz": 500.0, "slopes_db_per_octave": [96.0, 24.0]}
    data = changed(in_room(), "candidates.0.loudspeaker.sections.0", section(**above))
    closer = changed(data, "seats.0.x_m", near)
    farther = changed(data, "seats.0.x_m", near + step)
    assert headroom(farther) <= headroom(closer) + 1e-9


@given(st.floats(1.0, 1000.0), st.floats(1.0, 3.0))
def test_that_a_longer_transient_never_has_less(transient, ratio):
    short = changed(in_room(), "programme.transient_ms", transient)
    long = changed(in_room(), "programme.transient_ms", min(transient * ratio, 2000.0))
    assert headroom(long) >= headroom(short) - 1e-9


@given(st.floats(0.05, 3.0), st.floats(1.0, 4.0))
def test_that_a_wider_baffle_never_has_less(width, ratio):
    narrow = changed(in_room(), "candidates.0.loudspeaker.baffle_width_m", width)
    wide = changed(in_room(), "candidates.0.loudspeaker.baffle_width_m", width * ratio)
    assert headroom(wide) >= headroom(narrow) - 1e-9


@given(
    st.floats(0.5, 100.0),
    st.floats(0.5, 100.0),
    st.floats(0.5, 100.0),
    st.floats(0.05, 30.0),
    st.floats(1.0, 2000.0),
)
def test_that_any_room_within_the_ranges_gives_finite_figures(length, width, height, t60, transient):
    data = baffled()
    for key, value in (("length_m", length), ("width_m", width), ("height_m", height)):
        data = changed(data, f"room.{key}", value)
    data = changed(data, "room.measured_t60_s", {"500": t60})
    data = changed(data, "programme.transient_ms", transient)
    places = {"seats": 0.95, "stands": 0.05}
    for group, part in places.items():
        for key, size in (("x_m", length), ("y_m", width), ("z_m", height)):
            data = changed(data, f"{group}.0.{key}", size * part)
    seat = compute(plan_of(data)).worst
    assert all(map(math.isfinite, (seat.headroom_db, seat.watts_needed, seat.average_dba)))
    assert np.all(np.isfinite(seat.bands.level_db))


finite = st.floats(-50.0, 50.0)


@given(x=finite, y=finite, z=st.floats(0.0, 20.0), title=st.text(), crest=st.floats(0.0, 40.0))
def test_that_any_plan_survives_its_file(x, y, z, title, crest):
    data = changed(in_room(), "seats.0", {"name": "Chair", "x_m": x, "y_m": y, "z_m": z})
    data = changed(changed(data, "title", title), "programme.crest_db", crest)
    plan = plan_of(data)
    assert loads(dumps(plan)) == plan
