"""Programme spectra against the published table."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.bands import third_octaves, weighting
from planner.acoustics.levels import level_sum
from planner.programme.spectra import TYPICAL_CREST, relative_levels, shares
from planner.resources import simulated_programme

REFERENCE = Path(__file__).parents[1] / "reference"
THIRDS = third_octaves()


def test_that_pink_is_the_same_in_every_third():
    assert np.all(relative_levels("pink", THIRDS) == 0.0)
    assert shares("pink", THIRDS) == pytest.approx(np.full(31, 1 / 31))


@pytest.mark.parametrize(
    ("nominal_hz", "level_db"),
    # IEC 60268-1:1985 table II (transcription).
    [
        (20, -13.5),
        (31.5, -7.4),
        (63, -2.3),
        (100, -0.9),
        (250, 0.0),
        (800, 0.0),
        (1000, -0.1),
        (2000, -1.0),
        (4000, -3.7),
        (8000, -9.4),
        (12500, -14.8),
        (20000, -21.6),
    ],
)
def test_that_the_simulated_programme_is_the_published_table(nominal_hz, level_db):
    exact_hz = 10.0 ** (round(10 * np.log10(nominal_hz)) / 10)
    assert relative_levels("simulated", exact_hz) == pytest.approx(level_db, abs=1e-9)


def test_that_every_third_of_the_table_is_hit():
    _, table_db = simulated_programme()
    assert relative_levels("simulated", THIRDS) == pytest.approx(table_db, abs=1e-9)


def test_that_sums_of_the_table_match_what_the_standard_and_others_computed():
    # Clause 7: full range about 12.5 dB above zero level; the table sums to 12.558. Up to and with 500 Hz
    # -2.549 dB, from 2 kHz up -7.481 dB, A-weighted -2.604 dB with the printed weights: computed elsewhere.
    levels = relative_levels("simulated", THIRDS)
    total = level_sum(levels)
    assert total == pytest.approx(12.558, abs=1e-3)
    printed = np.genfromtxt(REFERENCE / "a_weighting.csv", delimiter=",", names=True)
    weights = printed["table_db"][printed["nominal_hz"] >= 20.0]
    assert level_sum(levels + weights) - total == pytest.approx(-2.604, abs=1e-3)
    # The formula's own weights instead of the table's rounding to 0.1 dB.
    assert level_sum(levels + weighting(THIRDS, "A")) - total == pytest.approx(-2.604, abs=0.02)
    assert level_sum(levels[THIRDS < 550.0]) - total == pytest.approx(-2.549, abs=1e-3)
    assert level_sum(levels[THIRDS > 1900.0]) - total == pytest.approx(-7.481, abs=1e-3)


def test_that_the_table_is_flat_beyond_its_ends_and_straight_between_bands():
    assert relative_levels("simulated", [5.0, 40000.0]) == pytest.approx([-13.5, -21.6])
    # By hand: half way on a log scale between 20 Hz (-13.5) and 25 Hz (-10.2).
    half_way = 10.0**1.35
    assert relative_levels("simulated", half_way) == pytest.approx(-11.85, abs=1e-9)


@given(st.sampled_from(["pink", "simulated"]), st.integers(0, 29), st.integers(1, 31))
def test_that_shares_sum_to_one_in_the_proportions_of_the_levels(kind, first, count):
    mids = THIRDS[first : first + count]
    parts = shares(kind, mids)
    assert parts.sum() == pytest.approx(1.0, rel=1e-12)
    levels = relative_levels(kind, mids)
    assert 10 * np.log10(parts / parts[0]) == pytest.approx(levels - levels[0], abs=1e-9)


def test_that_shares_sum_over_the_last_axis_alone():
    parts = shares("simulated", np.stack([THIRDS, THIRDS]))
    assert parts.shape == (2, 31)
    assert parts.sum(axis=-1) == pytest.approx([1.0, 1.0])
    assert shares("simulated", 1000.0) == pytest.approx([1.0])


@pytest.mark.parametrize("kind", ["white", "", "PINK"])
def test_that_an_unknown_programme_is_refused_by_name_and_value(kind):
    with pytest.raises(ValueError, match=f'kind must be "pink" or "simulated", got {kind!r}'):
        relative_levels(kind, THIRDS)


def test_that_a_frequency_of_zero_is_refused():
    with pytest.raises(ValueError, match="frequency_hz must be above 0, got 0"):
        shares("pink", [0.0, 100.0])


def test_that_typical_crest_factors_rise_and_say_where_they_come_from():
    crests = [crest.crest_db for crest in TYPICAL_CREST]
    assert crests == sorted(crests)
    assert all(0.0 <= crest <= 40.0 for crest in crests)
    assert all(crest.source and crest.programme for crest in TYPICAL_CREST)


def test_that_the_crest_factors_that_have_a_definition_follow_it():
    by_name = {crest.programme: crest.crest_db for crest in TYPICAL_CREST}
    # A sine peaks at sqrt(2) times its RMS value; the standard test noise is clipped at twice.
    assert by_name["sine"] == pytest.approx(20 * np.log10(np.sqrt(2)), abs=1e-3)
    assert by_name["test noise clipped to twice its RMS value"] == pytest.approx(20 * np.log10(2), abs=1e-3)
