"""Push-pull pair against a published rating and the single valve."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.distortion import harmonics
from planner.electrics.push_pull import push_pull_line, push_pull_power
from planner.electrics.single_ended import sine_power
from planner.electrics.triode import operating_law, plate_current

LAW = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
POINT = (300.0, -62.0)


def test_that_a_2a3_pair_in_class_ab1_gives_the_watts_of_the_manuals():
    # Valve manuals, from memory: fixed bias, 300 V, -62 V, 3000 ohm plate to plate, 15 W at 2.5 %.
    watts, distortion = push_pull_power(LAW, *POINT, 3000.0)
    assert watts == pytest.approx(15.0, rel=0.25)
    assert distortion < 2.5


@given(st.floats(0.05, 1.0), st.floats(0.5, 10.0))
def test_that_a_straight_pair_gives_twice_what_each_valve_gives_into_half_the_load(share, times):
    # Closed form: each valve sees R / 2 while both conduct.
    law = operating_law(240.0, -20.0, 0.160, 4.0, 1000.0, knee=1e5)
    load = times * 2000.0
    pair, _ = push_pull_power(law, 240.0, -20.0, load, share * 20.0)
    single, _ = sine_power(law, 240.0, -20.0, load / 2, share * 20.0)
    assert pair == pytest.approx(2 * single, rel=1e-6)


@given(st.floats(0.05, 1.5), st.floats(800.0, 20000.0))
def test_that_even_harmonics_cancel_and_the_currents_fit_the_plates(share, load):
    # Symmetry; and each current is that of its own plate and grid volts.
    first, second = push_pull_line(LAW, *POINT, load, share * 62.0)
    peaks = harmonics(first - second)
    assert peaks[0::2] == pytest.approx(0.0, abs=1e-9)
    drop = load / 4 * (first - second)
    swing = share * 62.0 * np.cos(2 * np.pi * np.arange(72) / 72)
    for current, sign in ((first, 1), (second, -1)):
        expected = plate_current(LAW, 300.0 - sign * drop, np.minimum(-62.0 + sign * swing, 0.0))
        assert current == pytest.approx(expected, abs=1e-9)


@given(st.floats(0.3, 1.0), st.floats(1500.0, 20000.0))
def test_that_class_ab_never_gives_as_much_as_an_ideal_class_b(share, load):
    # Energy: pi / 4 of what is drawn is the limit of class B.
    first, second = push_pull_line(LAW, *POINT, load, share * 62.0)
    watts, _ = push_pull_power(LAW, *POINT, load, share * 62.0)
    assert 0.0 < watts < np.pi / 4 * 300.0 * np.mean(first + second)


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((0.0, -62.0, 3000.0, 62.0), "plate_v must be above 0, got 0"),
        ((300.0, 62.0, 3000.0, 62.0), "grid_v must be below 0, got 62"),
        ((300.0, -62.0, -3000.0, 62.0), "load_ohm must be above 0, got -3000"),
        ((300.0, -62.0, 3000.0, np.inf), "drive_v must be above 0, got inf"),
    ],
)
def test_that_senseless_pairs_are_refused_by_name_and_value(arguments, named):
    with pytest.raises(ValueError, match=named):
        push_pull_power(LAW, *arguments)


def test_that_loads_and_drives_broadcast_and_scalars_stay_scalars():
    load, drive = np.array([3000.0, 5000.0])[:, None], np.array([20.0, 40.0, 62.0])
    watts, distortion = push_pull_power(LAW, *POINT, load, drive)
    assert watts.shape == distortion.shape == (2, 3)
    alone = push_pull_power(LAW, *POINT, 5000.0)
    assert (watts[1, 2], distortion[1, 2]) == pytest.approx(alone)
    assert all(isinstance(value, float) for value in alone)
