"""J1 against scipy and the printed table."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import j1

from planner.acoustics.bessel import bessel_j1, jinc, jinc_deficit


def test_that_j1_matches_scipy_everywhere_between_zero_and_a_thousand():
    x = np.concatenate([[0.0], np.geomspace(1e-9, 1000.0, 20001), np.linspace(0.0, 60.0, 60001)])
    assert np.max(np.abs(bessel_j1(x) - j1(x))) < 1e-10


def test_that_j1_matches_scipy_on_both_sides_of_the_seam_of_its_two_series():
    x = 12.0 + np.array([-1e-3, -1e-9, 0.0, 1e-9, 1e-3])
    assert np.max(np.abs(bessel_j1(x) - j1(x))) < 1e-10


def test_that_j1_of_huge_arguments_stays_small_and_right():
    x = np.array([1e4, 1e5, 1e6])
    assert bessel_j1(x) == pytest.approx(j1(x), abs=1e-10)


@pytest.mark.parametrize(
    ("x", "printed"),
    # Abramowitz and Stegun, table 9.1, from memory; scipy agrees with each.
    [(0.0, 0.0), (1.0, 0.4400505857), (2.0, 0.5767248078), (5.0, -0.3275791376), (10.0, 0.0434727462)],
)
def test_that_j1_matches_the_printed_table(x, printed):
    assert bessel_j1(x) == pytest.approx(printed, abs=5e-11)


@pytest.mark.parametrize("null", [3.8317059702, 7.0155866698, 10.1734681351, 13.3236919363])
def test_that_j1_vanishes_at_its_nulls(null):
    # Abramowitz and Stegun, table 9.5, from memory; the first two also in every book on pistons.
    assert bessel_j1(null) == pytest.approx(0.0, abs=1e-10)


@given(st.floats(0.0, 500.0))
def test_that_j1_is_odd_and_its_pattern_even(x):
    assert bessel_j1(-x) == -bessel_j1(x)
    assert jinc(-x) == jinc(x)


@given(st.floats(1e-3, 500.0))
def test_that_pattern_and_deficit_follow_from_j1(x):
    assert jinc(x) == pytest.approx(2 * j1(x) / x, abs=1e-10)
    assert jinc_deficit(x) == pytest.approx((1 - 2 * j1(x) / x) / (x / 2) ** 2, rel=1e-8)


def test_that_small_arguments_keep_all_their_digits():
    # (1 - 2 J1(x)/x) / (x/2)^2 = 1/2 - q/12 + q^2/144 with q = (x/2)^2, by hand from the power series.
    x = np.array([0.0, 1e-12, 1e-6, 1e-3])
    quarter = (x / 2) ** 2
    assert jinc_deficit(x) == pytest.approx(0.5 - quarter / 12 + quarter**2 / 144, rel=1e-14)
    assert jinc(0.0) == 1.0


def test_that_shapes_survive_and_scalars_stay_scalars():
    assert bessel_j1(np.full((2, 3), 15.0)).shape == (2, 3)
    assert bessel_j1([]).shape == (0,)
    for function in (bessel_j1, jinc, jinc_deficit):
        assert isinstance(function(1), float)


@pytest.mark.parametrize("function", [bessel_j1, jinc, jinc_deficit])
def test_that_what_is_no_number_is_refused(function):
    with pytest.raises(ValueError, match="argument must be finite, got inf"):
        function(np.inf)
