"""What a loudspeaker stands, worked by hand, and what wiring makes of several drivers."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.plan import cross_checks
from tests.plans import amplifier, changed, open_air, plan_of, section

BOX = "candidates.0.loudspeaker"
SECTION = f"{BOX}.sections.0"
STRONG = [{"ohm": 8.0, "watts": 200.0, "distortion_pct": 1.0, "output_ohm": 0.0}]
CONE = {"kind": "diaphragm", "diameter_m": 0.2}


def seat_of(data):
    return compute(plan_of(data)).worst


def limited(**limits):
    """A strong amplifier on a section that stands 50 W for hours unless told otherwise."""
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(taps=STRONG)])
    return changed(data, f"{SECTION}.limits", {"long_term_w": 50.0, **limits})


def headrooms(data):
    return {limit.quantity: limit.headroom_db for limit in seat_of(data).limits}


def test_that_long_term_power_is_reckoned_on_the_average():
    # The 100 dB peak at 4 m needs 100 + 12.04 = 112.04 dB at 1 m (and 0.18 dB for air), its average with
    # 12 dB of crest 100.04 + 0.18 = 100.23 dB: 1.053 W. 50 W are 16.76 dB more.
    assert headrooms(limited())["long-term power"] == pytest.approx(16.76, abs=0.02)


def test_that_peak_power_is_four_times_long_term_unless_given():
    # Peaks of 12 dB crest above 1.053 W: 16.69 W against 4 x 50 = 200 W is 10.79 dB; against 100 W 7.78 dB.
    assert headrooms(limited())["peak power"] == pytest.approx(10.79, abs=0.02)
    assert headrooms(limited(peak_w=100.0))["peak power"] == pytest.approx(7.78, abs=0.02)


def test_that_the_part_with_the_least_headroom_is_the_first_limit():
    seat = seat_of(limited(long_term_w=2.0))
    assert (seat.first_limit.part, seat.first_limit.quantity) == ("full", "peak power")
    assert seat.headroom_db == min(limit.headroom_db for limit in seat.limits)
    assert [limit.headroom_db for limit in seat.limits] == sorted(limit.headroom_db for limit in seat.limits)


def test_that_watts_needed_stay_the_amplifiers_when_the_loudspeaker_ends_it():
    assert seat_of(limited(long_term_w=0.1)).watts_needed == pytest.approx(seat_of(limited()).watts_needed)


def cone(**limits):
    """A 20 cm diaphragm that plays the 40 Hz third alone, as free-field figures give it."""
    data = limited(**limits)
    narrow = section(
        low_hz=38.0, high_hz=42.0, slopes_db_per_octave=[200.0, 200.0], radiator=CONE,
        limits={"long_term_w": 50.0, **limits},
    )  # fmt: skip
    data = changed(changed(data, SECTION, narrow), f"{BOX}.radiates_into", "free_field")
    return changed(data, f"{BOX}.baffle_width_m", 0.3)


def test_that_excursion_follows_from_pressure_frequency_and_area():
    # At the seat the peak is 100 dB, so 112.04 dB at 1 m: 20 uPa x 10^(112.04/20) = 8.000 Pa peak.
    # x = 4 pi x 8.000 / (1.204 x (2 pi x 39.811)^2 x pi x 0.01) = 42.47 mm. 6 mm are 17.0 dB less.
    assert headrooms(cone(xmax_mm=6.0))["excursion"] == pytest.approx(-17.0, abs=0.05)
    assert seat_of(cone(xmax_mm=6.0)).first_limit.band_hz == pytest.approx(10**1.6)


def test_that_twice_the_frequency_needs_a_quarter_of_the_travel():
    low, high = cone(xmax_mm=6.0), cone(xmax_mm=6.0)
    high = changed(changed(high, f"{SECTION}.low_hz", 76.0), f"{SECTION}.high_hz", 84.0)
    assert headrooms(high)["excursion"] - headrooms(low)["excursion"] == pytest.approx(12.04, abs=0.05)


def test_that_a_vent_tuned_to_the_band_spares_the_diaphragm():
    # At the tuning only the losses of Q 7 are left: 20 log 7 = 16.9 dB; the band lies 0.5 % beside it.
    vented = cone(xmax_mm=6.0, box="vented", tuning_hz=39.81)
    assert headrooms(vented)["excursion"] - headrooms(cone(xmax_mm=6.0))["excursion"] == pytest.approx(
        16.9, abs=0.1
    )


def test_that_in_a_wall_half_the_travel_makes_the_pressure():
    flush = changed(cone(xmax_mm=6.0), f"{BOX}.baffle_width_m", "wall")
    assert headrooms(flush)["excursion"] - headrooms(cone(xmax_mm=6.0))["excursion"] == pytest.approx(
        6.02, abs=0.01
    )


@pytest.mark.parametrize("box", ["horn"])
def test_that_a_horn_loaded_diaphragm_is_not_judged_by_excursion(box):
    assert "excursion" not in headrooms(cone(xmax_mm=6.0, box=box))


def test_that_an_86_db_bass_section_runs_out_of_travel_before_watts():
    # A 16 cm diaphragm of 86 dB and 5 mm asked for 100 dB at 4 m in open air: watts are there, travel is not.
    bass = section(
        low_hz=40.0, high_hz=20000.0, sensitivity={"level_db": 86.0, "drive": "2.83 V"},
        radiator={"kind": "diaphragm", "diameter_m": 0.13}, limits={"long_term_w": 500.0, "xmax_mm": 5.0},
    )  # fmt: skip
    data = changed(limited(), SECTION, bass)
    taps = [{"ohm": 8.0, "watts": 500.0, "distortion_pct": 0.1, "output_ohm": 0.05}]
    data = changed(data, "candidates.0.amplifiers", [amplifier(output="direct", taps=taps)])
    limit = seat_of(changed(data, f"{BOX}.baffle_width_m", 0.25)).first_limit
    assert (limit.part, limit.quantity) == ("full", "excursion")
    assert limit.band_hz < 60.0


def wired(wiring, count=2, drive="2.83 V"):
    cones = section(
        radiator={**CONE, "count": count}, wiring=wiring, impedance={"nominal_ohm": 8.0},
        sensitivity={"level_db": 90.0, "drive": drive},
    )  # fmt: skip
    data = changed(open_air(), SECTION, cones)
    return changed(data, "candidates.0.amplifiers", [amplifier(drives="full", taps=STRONG)])


def level(data):
    seat = seat_of(data)
    return seat.bands.level_db[17] - seat.peak_target_db, seat


@pytest.mark.parametrize(("wiring", "ohm"), [("series", 16.0), ("parallel", 4.0)])
def test_that_two_drivers_make_three_decibels_more_of_a_watt_however_they_are_wired(wiring, ohm):
    # One driver: 90 dB for 1 W into 8 ohm. Two in parallel: 2.83 V is 2 W into 4 ohm and 96.02 dB, so 1 W
    # makes 93.01 dB. Two in series: 2.83 V is 0.5 W into 16 ohm and 90 dB, so 1 W makes 93.01 dB.
    for drive in ("2.83 V", "1 W"):
        seat = seat_of(wired(wiring, drive=drive))
        assert seat.ladder[0].level_db == pytest.approx(93.01, abs=0.01)
        current = seat.amplifiers[0].peak_amps
        assert seat.amplifiers[0].peak_volts / current == pytest.approx(ohm)


def test_that_wiring_scales_a_drivers_whole_curve():
    driver = {
        "dc_ohm": 6.0, "resonance_hz": 40.0, "mechanical_q": 4.0, "electrical_q": 0.4, "inductance_h": 0.001,
    }  # fmt: skip
    one = changed(wired("parallel"), f"{SECTION}.impedance", {"nominal_ohm": 8.0, "driver": driver})
    from planner.headroom.drive import impedance_at, load_of

    plan = plan_of(one)
    hz = np.array([40.0, 400.0, 4000.0])
    alone = impedance_at(plan.candidates[0].loudspeaker.sections[0].impedance, hz)
    both = impedance_at(load_of(plan.candidates[0], plan.candidates[0].amplifiers[0]), hz)
    assert both == pytest.approx(alone / 2)


def test_that_wiring_without_a_count_of_drivers_is_found():
    data = changed(wired("series"), f"{SECTION}.radiator", {"kind": "omni"})
    assert [finding.path for finding in cross_checks(plan_of(data))] == [
        "candidates[0].loudspeaker.sections[0].wiring"
    ]


def test_that_a_vented_box_needs_its_tuning_and_no_other_box_has_one():
    from planner.plan import PlanError

    for limits in ({"long_term_w": 5, "box": "vented"}, {"long_term_w": 5, "box": "sealed", "tuning_hz": 40}):
        with pytest.raises(PlanError, match="tuning_hz"):
            plan_of(changed(open_air(), f"{SECTION}.limits", limits))
