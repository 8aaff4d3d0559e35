"""Excursion for a level, against the acceleration law and the vented box's published behaviour."""

import numpy as np
import pytest

from planner.acoustics.excursion import diaphragm_excursion, vented_share


def test_that_the_simple_source_is_met_in_the_volume_acceleration():
    # p = rho a S / (4 pi r) with a = omega^2 x (Beranek and Mellow, simple source): 1 m/s^2 from 0.1 m2 makes
    # 1.204 x 0.1 / 12.566 = 9.581 mPa at 1 m.
    omega = 2 * np.pi * 50.0
    assert diaphragm_excursion(9.5812e-3, 50.0, 0.1) * omega**2 == pytest.approx(1.0, rel=1e-4)


def test_that_four_times_the_area_or_twice_the_frequency_needs_a_quarter():
    base = diaphragm_excursion(1.0, 50.0, 0.02)
    assert diaphragm_excursion(1.0, 50.0, 0.08) == pytest.approx(base / 4)
    assert diaphragm_excursion(1.0, 100.0, 0.02) == pytest.approx(base / 4)


def test_that_it_broadcasts():
    assert diaphragm_excursion(np.ones((3, 1)), np.array([20.0, 40.0]), 0.05).shape == (3, 2)


def test_that_a_vent_takes_over_at_its_tuning_and_works_against_the_diaphragm_below():
    share = vented_share(np.array([15.0, 30.0, 300.0]), 30.0)
    # h = 2: |1 - 4| = 3 (with 2/7 beside it 3.014); h = 1: 1/7; h = 0.1: 0.99.
    assert share == pytest.approx([3.0136, 1 / 7, 0.9901], abs=1e-3)


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan])
def test_that_a_frequency_without_meaning_is_refused(bad):
    with pytest.raises(ValueError, match="frequency_hz"):
        diaphragm_excursion(1.0, bad, 0.05)
    with pytest.raises(ValueError, match="frequency_hz"):
        vented_share(bad, 30.0)
