"""Exposure at a seat: published hours, caps, and the directive's peaks."""

from pathlib import Path

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.hearing import hearing_at
from planner.headroom.system import stage_of, system_of
from tests.headroom.oracle import attenuation
from tests.plans import changed, open_air, plan_of, section

REFERENCE = Path(__file__).parents[1] / "reference"
SECTIONS = "candidates.0.loudspeaker.sections"


def hearing(data, average_dba=None):
    plan = plan_of(data)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    average_dba = compute(plan).seats[0].average_dba if average_dba is None else average_dba
    return hearing_at(system, plan, 0, average_dba)


@pytest.mark.parametrize(
    ("average_dba", "hours_per_day", "hours_per_week", "cautions"),
    # NIOSH 98-126 table 1-1; WHO / ITU-T H.870, 80 dBA for 40 hours, halved for each 3 dB; caps by hand.
    [
        (60.0, 24.0, 168.0, ()),
        (80.0, 24.0, 40.0, ()),
        (83.0, 12.699, 20.0, ("who_week",)),
        (85.0, 8.0, 12.599, ("who_week",)),
        (88.0, 4.0, 6.2996, ("who_week", "niosh_day")),
        (100.0, 0.25, 0.39373, ("who_week", "niosh_day")),
    ],
)
def test_that_hours_are_those_of_the_guides_and_no_longer_than_a_day_or_a_week(
    average_dba, hours_per_day, hours_per_week, cautions
):
    answer = hearing(open_air(), average_dba)
    assert answer.hours_per_day == pytest.approx(hours_per_day, rel=1e-4)
    assert answer.hours_per_week == pytest.approx(hours_per_week, rel=1e-4)
    assert answer.cautions == cautions


@pytest.mark.parametrize(
    ("peak_db", "reached"),
    # Directive 2003/10/EC, article 3: 135, 137 and 140 dB(C). Pink noise loses 1.11 dB to C at 4 m, see
    # below.
    [
        (135.9, None),
        (136.2, "eu_peak_lower_action"),
        (138.2, "eu_peak_upper_action"),
        (141.2, "eu_peak_limit"),
    ],
)
def test_that_the_highest_value_of_the_directive_that_is_reached_is_named(peak_db, reached):
    answer = hearing(changed(open_air(), "target", {"peak_db": peak_db}), 80.0)
    assert answer.cautions == (() if reached is None else (reached,))


def test_that_the_peak_is_c_weighted():
    # IEC 61672-1 table 3 on the 31 equal bands of pink noise, each less what air takes on 4 m (ISO 9613-1).
    table = np.genfromtxt(REFERENCE / "c_weighting.csv", delimiter=",", names=True)
    table = table[table["nominal_hz"] >= 20.0]
    arriving = [
        10.0 ** (-4.0 * attenuation(hertz, 20.0, 50.0, 101.325) / 10.0) for hertz in table["exact_hz"]
    ]
    share = np.average(10.0 ** (table["table_db"] / 10.0), weights=arriving)
    assert table.size == 31
    assert hearing(open_air()).peak_dbc == pytest.approx(100.0 + 10.0 * np.log10(share), abs=0.02)


def test_that_a_bass_that_the_weighting_does_not_touch_keeps_its_peak():
    # Between 80 Hz and 3 kHz the C weighting takes at most 0.5 dB.
    data = changed(
        open_air(), SECTIONS, [section(low_hz=200.0, high_hz=1000.0, slopes_db_per_octave=[96, 96])]
    )
    assert hearing(data).peak_dbc == pytest.approx(100.0, abs=0.05)


def test_that_a_louder_target_is_heard_for_a_shorter_time():
    quiet, loud = (hearing(changed(open_air(), "target", {"peak_db": peak})) for peak in (105.0, 108.0))
    assert loud.average_dba == pytest.approx(quiet.average_dba + 3.0, abs=1e-9)
    assert loud.hours_per_day == pytest.approx(quiet.hours_per_day / 2.0, rel=1e-9)
