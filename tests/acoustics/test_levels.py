"""Level arithmetic against its definitions and published checks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.levels import (
    correlated_gain,
    distance_loss,
    efficiency,
    level_sum,
    one_watt_level,
)
from planner.resources import simulated_programme

levels = st.floats(-50.0, 200.0)
ohms = st.floats(0.5, 1000.0)


@pytest.mark.parametrize(
    ("parts_db", "total_db"),
    [
        # Definition, by hand: 95 + 10 log10(2).
        pytest.param([95.0, 95.0], 98.0103, id="two equal ones"),
        # By hand: 10 log10(1e9 + 1e8) = 90 + 10 log10(1.1).
        pytest.param([90.0, 80.0], 90.4139, id="ten decibels apart"),
        # By hand: ten equal ones are 10 dB more.
        pytest.param([60.0] * 10, 70.0, id="ten equal ones"),
        # By hand: 10 log10(1e8 + 1e8.3 + 1e7.8) = 10 log10(1e8 (1 + 1.99526 + 0.63096)) = 80 + 5.59457.
        pytest.param([80.0, 83.0, 78.0], 85.5946, id="three different ones"),
    ],
)
def test_that_powers_add(parts_db, total_db):
    assert level_sum(parts_db) == pytest.approx(total_db, abs=1e-4)


def test_that_the_sum_of_the_programme_table_is_the_published_full_range_level():
    # IEC 60268-1:1985 table II: the bands sum to 12.558 dB; its clause 7 says about 12.5 dB.
    _, table_db = simulated_programme()
    assert level_sum(table_db) == pytest.approx(12.558, abs=1e-3)


def test_that_silence_adds_nothing():
    assert level_sum([70.0, -np.inf]) == 70.0
    assert level_sum([-np.inf, -np.inf]) == -np.inf
    assert level_sum([]) == -np.inf


def test_that_huge_levels_neither_overflow_nor_vanish():
    assert level_sum([4000.0, 4000.0]) == pytest.approx(4003.0103)
    assert level_sum([-4000.0, -4000.0]) == pytest.approx(-3996.9897)


def test_that_the_summed_axis_goes_and_the_others_stay():
    grid = np.full((3, 4, 5), 60.0)
    assert level_sum(grid).shape == (3, 4)
    assert level_sum(grid, axis=0).shape == (4, 5)
    assert level_sum(grid, axis=(0, 2)).shape == (4,)
    assert level_sum(grid, axis=None) == pytest.approx(60.0 + 10 * np.log10(60))
    assert isinstance(level_sum(60.0), float)


@given(st.lists(levels, min_size=1, max_size=8), levels)
def test_that_one_more_sound_never_makes_it_quieter(parts, extra):
    assert level_sum([*parts, extra]) >= level_sum(parts) - 1e-9


@given(st.lists(levels, min_size=1, max_size=8), st.floats(-40.0, 40.0))
def test_that_a_gain_on_all_parts_is_the_same_gain_on_the_sum(parts, gain):
    assert level_sum(np.add(parts, gain)) == pytest.approx(level_sum(parts) + gain, abs=1e-9)


@pytest.mark.parametrize(
    ("count", "coherence", "gain_db"),
    [
        pytest.param(1, 0.3, 0.0, id="one source is itself"),
        pytest.param(2, 0.0, 3.0103, id="two strangers, 10 log10(2)"),
        pytest.param(2, 1.0, 6.0206, id="two alike, 20 log10(2)"),
        pytest.param(2, 0.5, 4.7712, id="half alike, 10 log10(3) by hand"),
        pytest.param(4, 1.0, 12.0412, id="four alike, 20 log10(4)"),
        pytest.param(4, 0.5, 10.0, id="four half alike, 10 log10(4 + 12 x 0.5)"),
        pytest.param(2, -1.0, -np.inf, id="two opposite ones cancel"),
    ],
)
def test_that_alike_sources_add_more_than_strangers(count, coherence, gain_db):
    assert correlated_gain(count, coherence) == pytest.approx(gain_db, abs=1e-4)


@given(st.integers(1, 20), st.floats(0.0, 1.0))
def test_that_the_gain_lies_between_power_and_pressure_sums(count, coherence):
    gain = correlated_gain(count, coherence)
    assert 10 * np.log10(count) - 1e-9 <= gain <= 20 * np.log10(count) + 1e-9


def test_that_distance_costs_six_decibels_each_doubling():
    # ISO 9613-2 equation (7) without its 11 dB: 40 dB at 100 m. Doubling: 20 log10(2) = 6.0206.
    assert distance_loss(100.0) == pytest.approx(40.0)
    assert distance_loss([0.5, 1.0, 2.0, 4.0]) == pytest.approx([-6.0206, 0.0, 6.0206, 12.0412], abs=1e-4)


@given(st.floats(0.01, 1000.0), st.floats(1.001, 100.0))
def test_that_farther_is_never_louder(distance, factor):
    assert distance_loss(distance * factor) > distance_loss(distance)


@pytest.mark.parametrize(
    ("level_2v83_db", "ohm", "one_watt_db"),
    [
        pytest.param(93.0, 8.0, 93.0, id="8 ohm takes 1 W at the trade's 2.83 V"),
        pytest.param(93.0, 4.0, 89.9897, id="4 ohm takes 2 W, 10 log10(2) less"),
        pytest.param(93.0, 16.0, 96.0103, id="16 ohm takes half a watt"),
        pytest.param(90.0, 6.0, 88.7506, id="6 ohm, 10 log10(6/8) = -1.2494 by hand"),
    ],
)
def test_that_one_watt_level_refers_to_the_nominal_impedance(level_2v83_db, ohm, one_watt_db):
    assert one_watt_level(level_2v83_db, ohm) == pytest.approx(one_watt_db, abs=1e-4)


@given(levels, ohms)
def test_that_half_the_impedance_is_three_decibels_less_for_a_watt(level, ohm):
    halved = one_watt_level(level, ohm / 2)
    assert halved == pytest.approx(one_watt_level(level, ohm) - 10 * np.log10(2), abs=1e-9)


@pytest.mark.parametrize(
    ("level_db", "factor", "share", "tolerance"),
    [
        # 1 acoustic watt in half space: 112.159 dB at rho c = 413.2 (definition, computed);
        # Small 1972 prints 112.1 with his air (from memory).
        pytest.param(112.159, 2.0, 1.0, 2e-4, id="all of it, half space"),
        pytest.param(109.149, 1.0, 1.0, 2e-4, id="all of it, full space"),
        # A published driver sheet: 1.047 % and 92.40 dB; its C is 112.20 where ours is 112.16, so 1 %.
        pytest.param(92.40, 2.0, 0.01047, 0.012, id="a published driver sheet"),
        # Worked set in Small's manner: eta0 1.07034 % and 92.438 dB with rho 1.2, c 343, rho c 411.6.
        pytest.param(92.438, 2.0, 0.0107034, 0.005, id="a worked driver set"),
        # By hand: 108 dB is 5.0238 Pa; 4 pi x 25.2383 / (413.2 x 12.86) = 0.05968.
        pytest.param(108.0, 12.86, 0.05968, 1e-3, id="a horn of 108 dB, by hand"),
    ],
)
def test_that_efficiency_matches_published_pairs(level_db, factor, share, tolerance):
    assert efficiency(level_db, factor) == pytest.approx(share, rel=tolerance)


@given(st.floats(60.0, 130.0), st.floats(1.0, 50.0))
def test_that_ten_decibels_more_is_ten_times_the_efficiency(level, factor):
    assert efficiency(level + 10.0, factor) == pytest.approx(10.0 * efficiency(level, factor), rel=1e-9)
    assert efficiency(level, 2 * factor) == pytest.approx(efficiency(level, factor) / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: distance_loss(0.0), "distance_m must be above 0, got 0"),
        (lambda: distance_loss([1.0, -2.0]), "distance_m must be above 0, got -2"),
        (lambda: distance_loss(np.nan), "distance_m must be above 0, got nan"),
        (lambda: distance_loss(np.inf), "distance_m must be above 0, got inf"),
        (lambda: one_watt_level(90.0, 0.0), "impedance_ohm must be above 0, got 0"),
        (lambda: one_watt_level(np.nan, 8.0), "level_2v83_db must be finite, got nan"),
        (lambda: efficiency(90.0, -1.0), "directivity_factor must be above 0, got -1"),
        (lambda: correlated_gain(0, 0.5), "count must be at least 1, got 0"),
        (lambda: correlated_gain(2, 1.5), "coherence must be at least -1 and at most 1, got 1.5"),
        (lambda: correlated_gain(3, -0.9), r"coherence x \(count - 1\) must be at least -1, got -1.8"),
    ],
)
def test_that_senseless_inputs_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_scalars_give_floats_and_arrays_give_arrays():
    for formula, arguments in [
        (correlated_gain, (2, 0.5)),
        (distance_loss, (2,)),
        (one_watt_level, (90, 8)),
        (efficiency, (90, 2)),
    ]:
        assert isinstance(formula(*arguments), float)
        column = np.full((3, 1), arguments[0])
        row = [np.full(4, argument) for argument in arguments[1:]]
        assert formula(column, *row).shape == ((3, 4) if row else (3, 1))
