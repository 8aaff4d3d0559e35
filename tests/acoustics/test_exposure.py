"""Exposure times against the published tables."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.exposure import (
    EU_PEAK_LIMIT_DBC,
    EU_PEAK_LOWER_ACTION_DBC,
    EU_PEAK_UPPER_ACTION_DBC,
    niosh_hours,
    who_hours_per_week,
)

REFERENCE = Path(__file__).parents[1] / "reference"
IN_HOURS = {"h": 1.0, "min": 1 / 60}


def test_that_niosh_times_match_the_table():
    table = np.genfromtxt(REFERENCE / "niosh.csv", delimiter=",", names=True, dtype=None, encoding="utf-8")
    assert 60 * niosh_hours(table["level_dba"]) == pytest.approx(table["niosh_minutes"], rel=6e-5)
    printed = table[table["niosh_printed"] != ""]
    assert printed.size == 6
    for level_dba, text in zip(printed["level_dba"], printed["niosh_printed"], strict=True):
        number, unit = text.split()
        assert niosh_hours(level_dba) == pytest.approx(float(number) * IN_HOURS[unit], rel=1e-9)


def test_that_niosh_times_below_and_above_match_its_publication():
    # NIOSH 98-126 table 1-1, from memory: 80 dBA 25 h 24 min; 130 dBA less than 1 s.
    assert niosh_hours(80.0) == pytest.approx(25 + 24 / 60, abs=1 / 60)
    assert 3600 * niosh_hours(130.0) < 1.0


@pytest.mark.parametrize(
    ("level_dba", "hours"),
    # WHO / ITU-T H.870: 80 dBA for 40 hours a week; the others from its equal-energy rule, from memory.
    [(80.0, 40.0), (83.0, 20.0), (86.0, 10.0), (89.0, 5.0), (92.0, 2.5), (95.0, 1.25), (101.0, 0.3125)],
)
def test_that_weekly_allowance_halves_every_three_decibels(level_dba, hours):
    assert who_hours_per_week(level_dba) == pytest.approx(hours, rel=1e-12)


def test_that_the_weekly_allowance_is_the_published_dose():
    # H.870: 1.6 Pa2h a week: p^2 at 80 dBA is 0.2^2 = 0.04 Pa2, times 40 h.
    pressure_squared = (20e-6) ** 2 * 10 ** (80.0 / 10)
    assert pressure_squared * who_hours_per_week(80.0) == pytest.approx(1.6, rel=1e-9)


@given(st.floats(0.0, 140.0))
def test_that_three_decibels_more_halve_both_times(level_dba):
    assert niosh_hours(level_dba + 3) == pytest.approx(niosh_hours(level_dba) / 2, rel=1e-9)
    assert who_hours_per_week(level_dba + 3) == pytest.approx(who_hours_per_week(level_dba) / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("limit_dbc", "pascal"),
    # Directive 2003/10/EC, article 3.
    [(EU_PEAK_LIMIT_DBC, 200.0), (EU_PEAK_UPPER_ACTION_DBC, 140.0), (EU_PEAK_LOWER_ACTION_DBC, 112.0)],
)
def test_that_peak_limits_are_the_directives_pressures(limit_dbc, pascal):
    assert 20 * np.log10(pascal / 20e-6) == pytest.approx(limit_dbc, abs=0.11)


def test_that_a_level_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="level_dba must be finite, got nan"):
        niosh_hours([85.0, np.nan])


def test_that_scalars_give_floats_and_arrays_give_arrays():
    for formula in (niosh_hours, who_hours_per_week):
        assert isinstance(formula(85), float)
        assert formula(np.full((2, 3), 85.0)).shape == (2, 3)
