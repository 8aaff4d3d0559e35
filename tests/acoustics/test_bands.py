"""Bands, weightings and table reading against the standards' tables."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.acoustics.bands import OCTAVE_KEYS, exact_third, interpolate, third_octaves, weighting
from planner.acoustics.levels import level_sum

REFERENCE = Path(__file__).parents[1] / "reference"


def read(name):
    return np.genfromtxt(REFERENCE / name, delimiter=",", names=True, dtype=None, encoding="utf-8")


def test_that_thirds_are_the_base_ten_mids_of_the_standard():
    # IEC 61260-1:2014, computed from its definition to 1e-4 Hz.
    table = read("bands_iec61260.csv")
    thirds = table[(table["bandwidth"] == "1/3") & (table["nominal_hz"] >= 20.0)]
    assert third_octaves() == pytest.approx(thirds["exact_mid_hz"], abs=6e-5)
    assert third_octaves().size == 31


@pytest.mark.parametrize(
    ("low_hz", "high_hz", "count"),
    [
        pytest.param(100.0, 100.0, 1, id="one band"),
        pytest.param(25.0, 10000.0, 27, id="nominal ends"),
        pytest.param(31.5, 125.0, 7, id="nominal ends whose exact mids lie above them"),
        pytest.param(10.0, 20000.0, 34, id="from 10 Hz"),
    ],
)
def test_that_both_ends_are_among_the_bands(low_hz, high_hz, count):
    mids = third_octaves(low_hz, high_hz)
    assert mids.size == count
    assert mids[[0, -1]] == pytest.approx([exact_third(low_hz), exact_third(high_hz)], rel=1e-12)


def test_that_octave_labels_mean_exact_octaves():
    table = read("bands_iec61260.csv")
    octaves = table[(table["bandwidth"] == "1/1") & (table["nominal_hz"] > 16.0)]
    assert [float(label) for label in OCTAVE_KEYS] == list(octaves["nominal_hz"])
    assert list(OCTAVE_KEYS.values()) == pytest.approx(octaves["exact_mid_hz"], abs=6e-5)


def test_that_octaves_are_among_the_thirds_to_the_last_digit_that_matters():
    thirds = third_octaves()
    for exact_hz in OCTAVE_KEYS.values():
        assert np.min(np.abs(thirds / exact_hz - 1.0)) < 1e-14


@given(st.integers(-20, 13), st.floats(0.892, 1.121))
def test_that_any_frequency_in_a_band_finds_its_mid(step, offset):
    mid = 1000.0 * 10 ** (step / 10)
    assert exact_third(mid * offset) == pytest.approx(mid, rel=1e-12)


@pytest.mark.parametrize("curve", ["A", "C"])
def test_that_weightings_match_the_table_of_the_standard(curve):
    # IEC 61672-1:2013 table 3 (transcription) and annex E (computed), at exact mids.
    table = read(f"{curve.lower()}_weighting.csv")
    exact_hz = exact_third(table["nominal_hz"])
    assert weighting(exact_hz, curve) == pytest.approx(table["table_db"], abs=0.0505)
    assert weighting(exact_hz, curve) == pytest.approx(table["formula_db"], abs=6e-4)


def test_that_weightings_are_zero_at_one_kilohertz_and_z_everywhere():
    assert weighting(1000.0, "A") == pytest.approx(0.0, abs=1e-12)
    assert weighting(1000.0, "C") == pytest.approx(0.0, abs=1e-12)
    assert np.all(weighting(third_octaves(), "Z") == 0.0)


def test_that_weightings_normalise_as_the_standard_prints():
    # IEC 61672-1 annex E prints A1000 = -2.000 dB and C1000 = -0.062 dB: what the bare poles make at 1 kHz.
    square = 1000.0**2
    c_bare = 20 * np.log10(12194.217**2 * square / ((square + 20.598997**2) * (square + 12194.217**2)))
    a_bare = c_bare + 20 * np.log10(square / np.sqrt((square + 107.65265**2) * (square + 737.86223**2)))
    assert c_bare == pytest.approx(-0.062, abs=5e-4)
    assert a_bare == pytest.approx(-2.000, abs=5e-4)
    # Far below its poles A falls by 24 dB an octave; at 10 Hz the table prints -70.4 and at 20 Hz -50.5.
    assert weighting(10.0, "A") == pytest.approx(-70.43, abs=0.005)


def test_that_a_worked_sum_of_weighted_octaves_comes_out():
    # ISO 4869-2:2018 annex B (transcription): 63 to 8000 Hz make 104 dB(A) and 103 dB(C), rounded.
    levels = np.array([75.0, 84.0, 86.0, 88.0, 97.0, 99.0, 97.0, 96.0])
    mids = np.array([OCTAVE_KEYS[key] for key in list(OCTAVE_KEYS)[1:9]])
    assert level_sum(levels + weighting(mids, "A")) == pytest.approx(104.0, abs=0.5)
    assert level_sum(levels + weighting(mids, "C")) == pytest.approx(103.0, abs=0.5)


TABLE_HZ = [100.0, 200.0, 800.0]
TABLE = [0.0, 1.0, 5.0]


@pytest.mark.parametrize(
    ("frequency_hz", "value"),
    [
        pytest.param(100.0, 0.0, id="on a point"),
        pytest.param(141.42136, 0.5, id="half an octave up an octave, by hand"),
        pytest.param(400.0, 3.0, id="one octave of two, by hand"),
        pytest.param(20.0, 0.0, id="held flat below"),
        pytest.param(20000.0, 5.0, id="held flat above"),
    ],
)
def test_that_tables_are_linear_over_log_frequency(frequency_hz, value):
    assert interpolate(frequency_hz, TABLE_HZ, TABLE) == pytest.approx(value, abs=1e-7)


def test_that_a_table_of_one_point_is_flat():
    assert interpolate([20.0, 500.0, 9000.0], [500.0], [0.3]) == pytest.approx([0.3, 0.3, 0.3])


def test_that_leading_axes_of_a_table_and_any_shape_of_frequency_survive():
    tables = np.arange(24.0).reshape(2, 4, 3)
    read_at = np.full((5, 6), 400.0)
    values = interpolate(read_at, TABLE_HZ, tables)
    assert values.shape == (2, 4, 5, 6)
    assert values[:, :, 0, 0] == pytest.approx(tables[..., 1] + 0.5)
    assert isinstance(interpolate(150, TABLE_HZ, TABLE), float)


@given(st.lists(st.floats(-100.0, 100.0), min_size=3, max_size=3), st.floats(1.0, 30000.0))
def test_that_tables_read_as_numpy_reads_them_over_log_frequency(values, frequency):
    expected = np.interp(np.log(frequency), np.log(TABLE_HZ), values)
    assert interpolate(frequency, TABLE_HZ, values) == pytest.approx(expected, abs=1e-10)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: third_octaves(0.0), "low_hz must be above 0, got 0"),
        (lambda: third_octaves(100.0, 50.0), "high_hz must be at least 100, got 50"),
        (lambda: exact_third(-1.0), "nominal_hz must be above 0, got -1"),
        (lambda: weighting(0.0, "A"), "frequency_hz must be above 0, got 0"),
        (lambda: weighting(100.0, "B"), 'curve must be "A", "C" or "Z", got \'B\''),
        (lambda: interpolate(0.0, TABLE_HZ, TABLE), "frequency_hz must be above 0, got 0"),
        (lambda: interpolate(100.0, [200.0, 100.0], [1.0, 2.0]), "table_hz must rise"),
        (lambda: interpolate(100.0, [100.0, 100.0], [1.0, 2.0]), "table_hz must rise"),
        (lambda: interpolate(100.0, [100.0, 200.0], [1.0]), "table_values must hold one value"),
        (lambda: interpolate(100.0, [], []), "table_values must hold one value"),
        (lambda: interpolate(100.0, [100.0], [np.nan]), "table_values must be finite, got nan"),
    ],
)
def test_that_senseless_bands_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()
