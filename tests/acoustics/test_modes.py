"""Modes and the field of a shoebox, against printed values, closed forms and a sum over image sources."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics import green
from planner.acoustics.modes import floor_transfer, mode_frequencies, transfer, transfer_db
from tests.reference.images import axis_images, image_sum

LIVING = (6.0, 4.5, 2.6)
SPEED = 343.2
HALL = (100.0, 100.0, 100.0)
HALL_T60 = 0.05  # every reflection in this hall is more than 100 dB down, so that sources stand in free field
DECAYING = 6.907755279  # 3 ln 10: amplitude decay in nepers over one T60


# --- mode lists

# Long, Architectural Acoustics, 2nd ed., table 8.1: room of 7 x 5 x 3 m, first six modes as printed.
LONG_HZ = [24.6, 34.5, 42.4, 49.2, 57.4, 60.1]
LONG_ORDERS = [(1, 0, 0), (0, 1, 0), (1, 1, 0), (2, 0, 0), (0, 0, 1), (2, 1, 0)]


# The print leaves the speed of sound open: it fits 344.7 m/s best, and 344 m/s within 0.13 Hz.
@pytest.mark.parametrize(("speed", "within_hz"), [(344.7, 0.06), (344.0, 0.13)])
def test_that_the_first_modes_are_those_of_a_printed_example(speed, within_hz):
    frequencies, orders = mode_frequencies((7, 5, 3), 61.0, speed)
    assert [tuple(order) for order in orders.tolist()] == LONG_ORDERS
    assert frequencies == pytest.approx(LONG_HZ, abs=within_hz)


def test_that_later_modes_follow_the_formula_worked_by_hand():
    """The same room at 343 m/s, from half-wavelengths on a pocket calculator."""
    frequencies, orders = mode_frequencies((7, 5, 3), 71.5, 343.0)
    assert [tuple(order) for order in orders[6:].tolist()] == [(1, 0, 1), (0, 1, 1), (0, 2, 0), (1, 1, 1)]
    expected = [24.50, 34.30, 42.15, 49.00, 57.17, 59.81, 62.20, 66.67, 68.60, 71.03]
    assert frequencies == pytest.approx(expected, abs=0.005)


def test_that_a_mode_on_the_limit_is_listed():
    frequencies, _ = mode_frequencies((7, 5, 3), 343.0 / 10.0, 343.0)
    assert frequencies == pytest.approx([24.5, 34.3])


def test_that_nothing_is_listed_below_the_first_mode():
    frequencies, orders = mode_frequencies((7, 5, 3), 20.0)
    assert frequencies.shape == (0,)
    assert orders.shape == (0, 3)


def test_that_the_density_of_modes_is_the_printed_one():
    """Long Eq. (8.46): 34 modes per hertz at 1 kHz in 7 x 5 x 3 m; counted here between 950 and 1050 Hz."""
    frequencies, _ = mode_frequencies((7, 5, 3), 1050.0, 344.0)
    assert np.count_nonzero(frequencies > 950.0) / 100.0 == pytest.approx(34.3, abs=0.5)


@given(st.tuples(*[st.floats(0.5, 12.0)] * 3), st.floats(10.0, 300.0))
def test_that_modes_rise_and_each_is_the_frequency_of_its_orders(size, top):
    frequencies, orders = mode_frequencies(size, top)
    by_hand = SPEED / 2 * np.sqrt(((orders / np.array(size)) ** 2).sum(axis=1))
    assert frequencies == pytest.approx(by_hand)
    assert np.all(np.diff(frequencies) >= 0)
    assert len({tuple(order) for order in orders.tolist()}) == len(orders)
    assert np.all(orders.sum(axis=1) > 0)


# --- the oracle itself


def test_that_the_oracle_has_the_number_of_images_of_a_handbook():
    """Kuttruff, Room Acoustics, Eq. (9.23): (2/3)(2 N^3 + 3 N^2 + 4 N), 1560 for 10; and the source."""
    orders = [axis_images(side, 0.3 * side, 40.0 * side)[1] for side in LIVING]
    total = np.add.outer(np.add.outer(orders[0], orders[1]), orders[2])
    assert np.count_nonzero(total <= 10) == 1561


def test_that_the_direct_sound_of_the_oracle_is_that_of_a_handbook():
    """Vorlaender, Auralization, 2nd ed., Eq. (11.38): 1/(4 pi r), 0.0198944 at 4 m."""
    direct = image_sum((8, 5, 3), (2, 2.5, 1.5), (6, 2.5, 1.5), 50.0, 1e6, radius=4.1 / 0.8)
    nearer = image_sum((8, 5, 3), (2, 2.5, 1.5), (6, 2.5, 1.5), 50.0, 1e6, radius=3.9)
    assert abs(direct[0]) > abs(nearer[0]) == 0.0
    alone = image_sum((800, 500, 300), (402, 252.5, 101.5), (406, 252.5, 101.5), 50.0, 1e6, radius=20.0)
    assert abs(alone[0]) / (4 * np.pi) == pytest.approx(0.0198944, abs=1e-6)


# --- the field against the images

CASES = [
    pytest.param(LIVING, 0.2, (0.5, 0.6, 0.4), (4.0, 2.0, 1.2), (20, 40, 84, 107), id="living room, dead"),
    pytest.param(LIVING, 0.2, (0.01, 0.01, 0.01), (5.99, 4.49, 2.59), (20, 63, 107), id="opposite corners"),
    pytest.param(
        LIVING, 0.5, (0.01, 0.6, 0.01), (0.01, 0.9, 0.01), (20, 84, 169), id="0.3 m apart on an edge"
    ),
    pytest.param(
        LIVING, 0.5, (2.0, 1.5, 0.7), (2.2, 1.7, 0.8), (28.6, 110, 169), id="0.3 m apart in the open"
    ),
    pytest.param(
        (3.0, 3.0, 3.0), 0.4, (0.0, 0.0, 0.0), (1.5, 1.4, 1.6), (57.2, 243), id="cube, source in a corner"
    ),
    pytest.param(
        (2.5, 2.0, 2.2), 0.4, (0.5, 0.6, 0.4), (2.0, 1.5, 1.2), (85.8, 600), id="small hard room, 600 Hz"
    ),
    pytest.param((9.0, 2.4, 2.4), 0.8, (0.4, 1.2, 1.2), (8.0, 1.2, 1.2), (19.1, 248), id="corridor"),
    pytest.param(
        (7, 5, 3), 1.5, (0.5, 0.6, 0.4), (4.0, 2.0, 1.2), (20, 34.47, 239), id="hard room, T60 1.5 s"
    ),
]


@pytest.mark.parametrize(("size", "t60", "source", "receiver", "lines"), CASES)
def test_that_the_field_is_the_sum_over_image_sources(size, t60, source, receiver, lines):
    """The limit of 0.02 dB is the oracle's own: a finite number of images, dead by 65 dB at its edge."""
    level = transfer_db(size, source, receiver, lines, t60)
    expected = 20 * np.log10(np.abs(image_sum(size, source, receiver, lines, t60)))
    assert level == pytest.approx(expected, abs=0.02)


def test_that_the_field_has_the_phase_of_the_images_too():
    args = (LIVING, (0.5, 0.6, 0.4), (4.0, 2.0, 1.2), np.array([25.0, 60.0, 107.0]), 0.2)
    assert transfer(*args) == pytest.approx(image_sum(*args), rel=1e-4)


def test_that_each_line_has_its_own_reverberation_time():
    lines, t60 = np.array([25.0, 60.0, 107.0]), np.array([0.3, 0.25, 0.2])
    args = (LIVING, (0.5, 0.6, 0.4), (4.0, 2.0, 1.2), lines, t60)
    assert transfer(*args) == pytest.approx(image_sum(*args), rel=2e-3)
    one_by_one = [transfer(*args[:3], f, t) for f, t in zip(lines, t60, strict=True)]
    assert transfer(*args) == pytest.approx(one_by_one)


# --- the field against closed forms


def test_that_in_a_hall_without_reflections_only_the_direct_sound_is_left():
    """exp(-jkr)/r with time as exp(+j omega t): the sound comes late, and damped on its way."""
    field = transfer(HALL, (50, 50, 50), (53, 54, 50), [5.0, 20.0], HALL_T60)
    k = (2 * np.pi * np.array([5.0, 20.0]) - 1j * DECAYING / HALL_T60) / SPEED
    assert field == pytest.approx(np.exp(-1j * k * 5.0) / 5.0, rel=1e-4)


def test_that_a_hard_floor_under_the_source_gives_six_decibels():
    free = transfer_db(HALL, (50, 50, 50), (53, 54, 50), [5.0, 20.0], HALL_T60)
    on_floor = transfer_db(HALL, (50, 50, 0), (53, 54, 0), [5.0, 20.0], HALL_T60)
    assert on_floor - free == pytest.approx([6.0206, 6.0206], abs=0.001)


def test_that_a_lightly_damped_mode_stands_out_as_its_closed_form_says():
    """On (1, 0, 0), k_n^2 - k^2 is 2j omega delta/c^2 nearly: G = (2/V) cos cos c^2/(2j omega delta)."""
    first_hz, t60 = SPEED / 12.0, 20.0
    field = transfer(LIVING, (0.0, 1.0, 1.0), (6.0, 2.0, 0.5), first_hz, t60)
    omega, delta = 2 * np.pi * first_hz, DECAYING / t60
    alone = 4 * np.pi * 2 / 70.2 * -1.0 * SPEED**2 / (2j * omega * delta)
    assert field == pytest.approx(alone, rel=0.02)


def test_that_far_below_the_first_mode_the_air_is_a_spring():
    """p = rho c^2 Q/(j omega V), the volume's stiffness: 4 pi/(V k^2) at k far below the first mode's."""
    expected = 4 * np.pi / (1.2 * ((2 * np.pi * 3.0) ** 2 + (DECAYING / 5.0) ** 2) / SPEED**2)
    field = transfer((1.0, 1.0, 1.2), (0.2, 0.2, 0.2), (0.9, 0.9, 0.9), 3.0, 5.0)
    assert abs(field) == pytest.approx(expected, rel=1e-3)


places = st.tuples(*[st.floats(0.0, 1.0)] * 3)


@given(places, places, st.floats(20.0, 300.0), st.floats(0.1, 3.0))
def test_that_source_and_receiver_may_change_places(one, other, frequency, t60):
    one, other = np.multiply(one, LIVING), np.multiply(other, LIVING)
    if np.linalg.norm(one - other) < 1e-3:
        return
    forth = transfer(LIVING, one, other, frequency, t60)
    assert transfer(LIVING, other, one, frequency, t60) == pytest.approx(forth, rel=1e-6, abs=1e-6)


@given(places, places, st.permutations([0, 1, 2]))
def test_that_a_room_turned_on_its_side_or_mirrored_sounds_the_same(source, receiver, axes):
    size = np.array(LIVING)
    source, receiver = source * size, receiver * size
    if np.linalg.norm(source - receiver) < 1e-3:
        return
    upright = transfer(size, source, receiver, [30.0, 90.0], 0.4)
    turned = transfer(size[axes], (size - source)[axes], (size - receiver)[axes], [30.0, 90.0], 0.4)
    assert turned == pytest.approx(upright, rel=1e-6, abs=1e-6)


@given(st.floats(1e-6, 0.01))
def test_that_close_to_the_source_the_direct_sound_rules(r):
    field = transfer(LIVING, (2.0, 1.5, 0.7), (2.0 + r * 1.0001, 1.5, 0.7), 100.0, 0.5)
    assert abs(field) * r == pytest.approx(1.0, abs=0.1)


# --- how it is asked


def test_that_positions_and_frequencies_broadcast_as_arrays_do():
    sources, seats = np.array([[1.0, 1, 1], [2, 3, 1]]), np.array([[4.0, 1, 1.2], [4, 2, 1.2], [4, 3, 1.2]])
    lines, t60 = np.geomspace(20.0, 200.0, 5), np.linspace(0.5, 0.3, 5)
    table = transfer(LIVING, sources[:, None, None], seats[None, :, None], lines, t60)
    assert table.shape == (2, 3, 5)
    assert table[1, 2] == pytest.approx(transfer(LIVING, sources[1], seats[2], lines, t60))
    together = transfer(LIVING, seats, sources[0], lines[:3], t60[:3])
    one_by_one = [transfer(LIVING, seats[i], sources[0], lines[i], t60[i]) for i in range(3)]
    assert together == pytest.approx(one_by_one)
    assert transfer(LIVING, sources[0], seats[0], 50.0, 0.5).shape == ()
    assert transfer(LIVING, sources[:0, None], seats[0], lines, t60).shape == (0, 5)


def test_that_a_line_is_the_same_alone_or_among_others():
    """Lines are computed in groups with a cut each; no seam may show."""
    lines = np.geomspace(10.0, 500.0, 40)
    args = (LIVING, (0.5, 0.6, 0.4), (0.7, 0.8, 0.5))
    assert transfer(*args, lines, 0.5) == pytest.approx([transfer(*args, f, 0.5) for f in lines], rel=1e-6)


def test_that_the_answer_does_not_depend_on_the_size_of_the_blocks(monkeypatch):
    seats = np.random.default_rng(1).uniform(0.1, 0.9, (7, 1, 3)) * LIVING
    lines = np.geomspace(20.0, 200.0, 9)
    grid = ([1.0, 2.0, 3.5], [1.0, 4.0], 1.1)
    args = (LIVING, [(0.5, 0.6, 0.4)])
    at_once = transfer(*args, seats, lines, 0.5), floor_transfer(*args, *grid, lines, 0.5)
    monkeypatch.setattr(green, "PAIRS_AT_ONCE", 2)
    monkeypatch.setattr(green, "ELEMENTS_AT_ONCE", 300)
    assert transfer(*args, seats, lines, 0.5) == pytest.approx(at_once[0], rel=1e-9, abs=1e-7)
    assert floor_transfer(*args, *grid, lines, 0.5) == pytest.approx(at_once[1], rel=1e-9, abs=1e-9)


def test_that_a_leak_acts_on_the_pressure_mode_alone():
    lines = np.array([5.0, 25.0, 80.0])
    args = (LIVING, (0.5, 0.6, 0.4), (4.0, 2.0, 1.2), lines, 0.5)
    k2 = ((2 * np.pi * lines - 1j * DECAYING / 0.5) / SPEED) ** 2
    pressure = -4 * np.pi / (6.0 * 4.5 * 2.6 * k2)
    expected = transfer(*args) - pressure + pressure * 1j * lines / (1j * lines + 25.0)
    assert transfer(*args, leak_hz=25.0) == pytest.approx(expected)


def test_that_the_floor_is_the_field_at_each_of_its_points():
    sources = np.array([[0.3, 0.6, 0.5], [0.01, 3.9, 0.01]])
    x, y, z = np.linspace(0.0, 6.0, 7), np.linspace(0.2, 4.4, 5), 1.1
    lines, t60 = np.geomspace(20.0, 300.0, 6), np.linspace(0.9, 0.3, 6)
    field = floor_transfer(LIVING, sources, x, y, z, lines, t60, leak_hz=25.0)
    points = np.stack(np.meshgrid(x, y, [z], indexing="ij"), axis=-1).reshape(7, 5, 3)
    one_by_one = transfer(
        LIVING, sources[:, None, None, None], points, lines[:, None, None], t60[:, None, None], leak_hz=25.0
    )
    assert field.shape == (2, 6, 7, 5)
    assert field == pytest.approx(one_by_one, rel=1e-6, abs=1e-6)


def test_that_the_floor_is_finite_where_a_source_stands_and_exact_a_centimetre_off():
    field = floor_transfer(LIVING, [(2.0, 1.5, 1.1)], [2.0, 2.01], [1.5], 1.1, [50.0], 0.5)
    assert 100.0 < abs(field[0, 0, 0, 0]) < 1000.0
    beside = transfer(LIVING, (2.0, 1.5, 1.1), (2.01, 1.5, 1.1), [50.0], 0.5)
    assert field[0, 0, 1, 0] == pytest.approx(beside[0], rel=1e-5)


@pytest.mark.parametrize("size", [(0.5,) * 3, (1, 1, 1), (100, 0.5, 0.5), (100, 100, 0.5), (100, 100, 100)])
@pytest.mark.parametrize("t60", [0.05, 12.0, 30.0])
def test_that_rooms_and_decays_at_the_ends_of_the_range_give_finite_levels(size, t60):
    top = min(1000.0, 2000.0 * np.sqrt(t60 / np.prod(size)))
    lines = np.geomspace(min(1.0, top / 2), top, 20)
    seats = np.multiply([[[0.0, 0, 0]], [[0.7, 0.2, 1.0]]], size)
    assert np.all(np.isfinite(transfer_db(size, np.multiply(0.37, size), seats, lines, t60)))


FINE = {
    "dimensions_m": LIVING,
    "source_m": (1.0, 1.0, 1.0),
    "receiver_m": (3.0, 2.0, 1.2),
    "frequency_hz": 50.0,
    "t60_s": 0.5,
}


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"receiver_m": (1.0, 1.0, 1.0 + 1e-7)}, r"at least.*1\."),
        ({"source_m": (-0.1, 1.0, 1.0)}, "source_m must lie in the room.*-0.1"),
        ({"receiver_m": (1.0, 1.0, 2.7)}, "receiver_m must lie in the room.*2.7"),
        ({"receiver_m": (1.0, np.nan, 1.0)}, "receiver_m"),
        ({"receiver_m": (1.0, 1.0)}, "receiver_m must have x, y, z"),
        ({"dimensions_m": (6.0, 0.0, 2.6)}, "dimensions_m must be above 0"),
        ({"dimensions_m": (6.0, 4.5)}, "dimensions_m must be length, width and height"),
        ({"frequency_hz": 0.0}, "frequency_hz must be above 0"),
        ({"t60_s": [0.5, 0.0]}, "t60_s must be above 0"),
        ({"t60_s": np.inf}, "t60_s"),
        ({"sound_speed": -1.0}, "sound_speed must be above 0"),
        ({"leak_hz": -1.0}, "leak_hz must be at least 0"),
    ],
)
def test_that_what_cannot_be_is_refused_with_its_name_and_value(wrong, said):
    with pytest.raises(ValueError, match=said):
        transfer(**{**FINE, **wrong})


def test_that_too_many_modes_to_list_are_refused():
    with pytest.raises(ValueError, match="up_to_hz of 1000"):
        mode_frequencies((100, 100, 100), 1000.0)


@pytest.mark.parametrize(("place", "value"), [(1, (1, 1, 1)), (2, [7.0]), (4, [1.0, 1.2]), (5, [[50.0]])])
def test_that_a_floor_of_the_wrong_shape_or_outside_the_room_is_refused(place, value):
    args = [LIVING, [(1.0, 1.0, 1.0)], [2.0], [2.0], 1.1, [50.0], 0.5]
    args[place] = value
    with pytest.raises(ValueError):
        floor_transfer(*args)
