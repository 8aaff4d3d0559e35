"""Plans worked by hand: the arithmetic stands in each test's own comment."""

import numpy as np
import pytest

from planner.headroom import compute
from tests.plans import amplifier, candidate, changed, in_room, open_air, plan_of, section

BOX = "candidates.0.loudspeaker"
TAP = "candidates.0.amplifiers.0.taps.0"
ABOVE_MODES = {"low_hz": 300.0, "high_hz": 600.0, "slopes_db_per_octave": [96.0, 96.0]}


def seat_of(data):
    return compute(plan_of(data)).worst


def step(seat, key):
    return next(one.change_db for one in seat.ladder if one.key == key)


def test_that_peak_at_full_power_is_sensitivity_watts_sine_and_distance():
    # 100 dB for 1 W at 1 m, 2.5 W = 3.979 dBW, a sine's peak 3.010 dB, 4 m = 12.041 dB:
    # 100 + 3.979 + 3.010 - 12.041 = 94.949 dB, before air.
    seat = seat_of(open_air())
    assert seat.loudest_peak_db - step(seat, "air") == pytest.approx(94.949, abs=0.001)


def test_that_headroom_is_what_is_left_of_the_target():
    # 100 dB are wanted and 94.949 dB less air are to be had: 5.05 dB and a little short.
    seat = seat_of(open_air())
    assert seat.verdict == "short"
    assert seat.headroom_db == pytest.approx(-5.051 + step(seat, "air"), abs=0.001)


def test_that_watts_needed_are_the_rating_times_the_lack():
    # 5.236 dB too little (air takes 0.185 dB): 2.5 W x 10^0.5236 = 8.35 W.
    assert seat_of(open_air()).watts_needed == pytest.approx(8.35, abs=0.01)


def test_that_doubling_the_watts_moves_the_loudest_peak_by_a_power_of_two():
    base, double = (seat_of(changed(in_room(), f"{TAP}.watts", watts)) for watts in (2.5, 5.0))
    assert double.loudest_peak_db - base.loudest_peak_db == pytest.approx(10 * np.log10(2.0), abs=1e-9)


def test_that_the_level_for_2_83_volts_is_a_watt_only_into_eight_ohm():
    # 8 ohm: 2.83 V is 1 W, so 100 dB stay 100 dB. 4 ohm: 2.83 V is 2 W, so 1 W makes 3.01 dB less.
    data = changed(open_air(), f"{BOX}.sections.0.sensitivity.drive", "2.83 V")
    four = changed(changed(data, f"{BOX}.impedance.nominal_ohm", 4.0), f"{TAP}.ohm", 4.0)
    assert seat_of(data).ladder[0].level_db == pytest.approx(100.0, abs=1e-9)
    assert seat_of(four).ladder[0].level_db == pytest.approx(96.99, abs=0.001)


def test_that_half_the_load_on_a_tap_runs_out_of_current_and_costs_what_ohms_law_says():
    # 2.5 W into 8 ohm clips at sqrt(2 x 2.5 / 8) = 0.7906 A. Into 4 ohm that is 3.162 V peak, where
    # the tap could swing 6.325 V: half, so 6.02 dB of swing are lost. A 4 ohm loudspeaker of the
    # same 100 dB for 1 W (now 2 V, not 2.83 V) makes 3.01 dB more of each volt: 3.01 dB lost in all.
    data = changed(open_air(), f"{BOX}.impedance.nominal_ohm", 4.0)
    seat, whole = seat_of(data), seat_of(open_air())
    assert seat.first_limit.quantity == "current"
    assert seat.amplifiers[0].peak_amps * 10 ** (seat.headroom_db / 20) == pytest.approx(0.7906, abs=1e-4)
    assert whole.loudest_peak_db - seat.loudest_peak_db == pytest.approx(3.0103, abs=1e-3)


def test_that_twice_the_load_runs_out_of_volts_and_makes_half_the_power():
    # 16 ohm on the 8 ohm tap: the same 6.325 V peak, half the power, 3.01 dB less.
    data = changed(open_air(), f"{BOX}.impedance.nominal_ohm", 16.0)
    seat, whole = seat_of(data), seat_of(open_air())
    assert seat.first_limit.quantity == "voltage"
    assert whole.loudest_peak_db - seat.loudest_peak_db == pytest.approx(3.0103, abs=1e-3)


def test_that_output_impedance_costs_nothing_into_the_rated_load():
    # The rating is at the terminals: 2.5 W into 8 ohm is 2.5 W whatever EMF it takes.
    assert seat_of(changed(open_air(), f"{TAP}.output_ohm", 4.0)).loudest_peak_db == pytest.approx(
        seat_of(open_air()).loudest_peak_db, abs=1e-9
    )


def test_that_output_impedance_lets_a_higher_load_swing_further():
    # EMF 6.325 V x (1 + 4/8) = 9.487 V. Into 16 ohm behind 4 ohm: 9.487 x 16/20 = 7.589 V peak, that is
    # 1.584 dB above the 6.325 V of an amplifier without output impedance.
    data = changed(open_air(), f"{BOX}.impedance.nominal_ohm", 16.0)
    soft = seat_of(changed(data, f"{TAP}.output_ohm", 4.0))
    assert soft.loudest_peak_db - seat_of(data).loudest_peak_db == pytest.approx(1.584, abs=1e-3)


def test_that_a_cable_divides_the_volts_and_stays_out_of_the_loudspeaker():
    # 0.8 ohm of loop before 8 ohm: 20 log(8/8.8) = -0.828 dB at the loudspeaker.
    seat = seat_of(changed(open_air(), "candidates.0.cable", {"loop_ohm": 0.8}))
    assert step(seat, "cable") == pytest.approx(-0.828, abs=1e-3)


def test_that_copper_of_one_square_millimetre_has_17_milliohm_a_metre():
    # 2 x 10 m x 0.017241 ohm/m = 0.3448 ohm: 20 log(8/8.3448) = -0.3666 dB.
    seat = seat_of(changed(open_air(), "candidates.0.cable", {"area_mm2": 1.0, "length_m": 10.0}))
    assert step(seat, "cable") == pytest.approx(-0.3666, abs=1e-3)


def test_that_two_coherent_stands_at_one_distance_add_six_decibels():
    # Pressure doubles: 6.02 dB; incoherent stands add 3.01 dB; the default adds by 0.5 above 150 Hz.
    data = open_air()
    data["stands"].append({**data["stands"][0], "name": "Right"})
    for rho, gain in ((1.0, 6.0206), (0.0, 3.0103), (0.5, 10 * np.log10(3.0))):
        seat = seat_of(changed(data, "programme.coherence", [[1000.0, rho]]))
        assert step(seat, "stands") == pytest.approx(gain, abs=1e-3)
    # Nine of the 31 bands lie below 150 Hz: 10 log((9 x 4 + 22 x 3) / 31) = 5.172 dB for pink noise,
    # as all bands arrive alike but for the air.
    data = changed(data, "seats.0.x_m", 1.0)
    assert step(seat_of(data), "stands") == pytest.approx(5.172, abs=0.01)


def test_that_a_wide_room_of_known_absorption_adds_the_classical_field():
    # S = 158 m2, a = 0.2: x = -ln 0.8 = 0.22314 (air adds little below 1 kHz). Q = 2 at a wall:
    # 16 pi / (2 x 158 x 0.22314) = 0.71286; at 4 m exp(-0.22314 x 4 x 158 / (4 x 120)) = 0.74541, so
    # 0.53137 re the level at 1 m against 1/16 = 0.0625 direct: together 0.59387, 9.778 dB more.
    # Only 300 to 600 Hz play here: above the modes (135 Hz), below where air takes a real part.
    low = changed(in_room(), f"{BOX}.sections", [section(**ABOVE_MODES)])
    assert step(seat_of(low), "room") == pytest.approx(9.778, abs=0.04)


def test_that_build_up_of_twenty_milliseconds_takes_what_the_exponential_says():
    # T60 = 24 ln10 x 120 / (343.2 x 158 x 0.22314) = 0.5481 s; 1 - exp(-13.816 x 0.02 / 0.5481) = 0.3960.
    # (0.0625 + 0.3960 x 0.53137) / 0.59387 = 0.4595: -3.377 dB.
    low = changed(in_room(), f"{BOX}.sections", [section(**ABOVE_MODES)])
    assert step(seat_of(low), "build_up") == pytest.approx(-3.377, abs=0.04)


def test_that_a_held_average_lets_a_livelier_record_cost_watts():
    data = changed(open_air(), "target", {"average_db": 80.0})
    calm, lively = (seat_of(changed(data, "programme.crest_db", crest)) for crest in (10.0, 16.0))
    assert (calm.average_db, lively.average_db) == (pytest.approx(80.0), pytest.approx(80.0))
    assert lively.peak_target_db - calm.peak_target_db == pytest.approx(6.0)
    # 6 dB of crest more are a factor of 10^0.6 = 3.981 in watts.
    assert lively.watts_needed / calm.watts_needed == pytest.approx(3.981, abs=1e-3)


def test_that_a_held_peak_lowers_the_average_and_not_the_watts():
    calm, lively = (seat_of(changed(open_air(), "programme.crest_db", crest)) for crest in (10.0, 16.0))
    assert calm.average_db - lively.average_db == pytest.approx(6.0)
    assert lively.watts_needed == pytest.approx(calm.watts_needed)


def test_that_the_tap_nearest_the_nominal_load_is_used_and_the_lower_if_two_are_as_near():
    taps = [{"ohm": ohm, "watts": 2.0, "distortion_pct": 1.0, "output_ohm": 0.0} for ohm in (16.0, 4.0)]
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(taps=taps)])
    # 8 ohm lies an octave from both; 9 ohm is nearer 16 ohm, for log2(16/9) = 0.83 and log2(9/4) = 1.17.
    assert seat_of(data).amplifiers[0].tap_ohm == 4.0
    nine = changed(data, f"{BOX}.impedance.nominal_ohm", 9.0)
    assert seat_of(nine).amplifiers[0].tap_ohm == 16.0
    assert seat_of(changed(nine, "candidates.0.amplifiers.0.tap_ohm", 4.0)).amplifiers[0].tap_ohm == 4.0


def test_that_ratings_above_the_distortion_asked_for_do_not_count_unless_there_are_no_others():
    taps = [
        {"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 0.0},
        {"ohm": 8.0, "watts": 3.5, "distortion_pct": 10.0, "output_ohm": 0.0},
    ]
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(taps=taps)])
    assert seat_of(data).watts_rated == 2.5
    assert seat_of(changed(data, "at_distortion_pct", 10.0)).watts_rated == 3.5
    assert seat_of(changed(data, "at_distortion_pct", 1.0)).watts_rated == 3.5


def test_that_a_direct_output_takes_its_volts_and_amps_from_the_best_of_its_ratings():
    # 10 W into 8 ohm: 12.65 V; 20 W into 4 ohm: 3.162 A. Into 8 ohm it is the 12.65 V that end it.
    taps = [
        {"ohm": 8.0, "watts": 10.0, "distortion_pct": 0.1, "output_ohm": 0.0},
        {"ohm": 4.0, "watts": 20.0, "distortion_pct": 0.1, "output_ohm": 0.0},
    ]
    data = changed(open_air(), "candidates.0.amplifiers", [amplifier(output="direct", taps=taps)])
    five = changed(data, f"{BOX}.impedance.nominal_ohm", 5.0)
    seat = seat_of(five)
    # 5 ohm: 12.65 V would be 2.53 A, less than the 3.162 A there are, so volts end it: 16 W.
    assert seat.first_limit.quantity == "voltage"
    # As a transformer tap of 4 ohm (nearest to 5 ohm) it swings sqrt(2 x 20 x 4) = 12.65 V too.
    assert seat.amplifiers[0].tap_ohm == 4.0


def test_that_trim_moves_one_section_against_the_other_and_not_the_whole():
    low = section("low", high_hz=1000.0, impedance={"nominal_ohm": 8.0})
    high = section("high", low_hz=1000.0, impedance={"nominal_ohm": 8.0})
    both = [amplifier(name="Low", drives="low"), amplifier(name="High", drives="high", trim_db=-6.0)]
    data = changed(changed(open_air(), f"{BOX}.sections", [low, high]), "candidates.0.amplifiers", both)
    seat = seat_of(data)
    level = dict(zip(np.round(seat.bands.centre_hz), seat.bands.level_db, strict=True))
    assert level[100.0] - level[10000.0] == pytest.approx(6.0 + 0.4, abs=0.25)  # 0.4 dB of air at 10 kHz
    # The amplifier without trim carries the same power share of pink noise 6 dB louder: it ends first.
    assert seat.first_limit.part == "Low"
    assert seat.headroom_db == pytest.approx(min(one.headroom_db for one in seat.amplifiers))


def test_that_a_peak_on_one_side_asks_more_of_that_amplifier():
    data = open_air()
    data["stands"].append({**data["stands"][0], "name": "Right"})
    seat = seat_of(changed(data, "programme.coherence", [[1000.0, 1.0]]))
    assert seat.one_side_db == pytest.approx(6.0206, abs=1e-3)
    assert seat_of(open_air()).one_side_db is None


def test_that_the_band_that_contributes_most_is_named_and_the_lowest_of_equals():
    assert seat_of(open_air()).first_limit.band_hz == pytest.approx(10**1.3)
    simulated = seat_of(changed(open_air(), "programme.kind", "simulated"))
    # IEC 60268-1 table II is 0.0 dB from 250 Hz to 800 Hz; the lowest of these is 251.19 Hz.
    assert simulated.first_limit.band_hz == pytest.approx(10**2.4)


def test_that_a_dip_in_the_load_is_named_as_the_band_that_ends_it():
    table = [[20, 8, 0], [100, 8, 0], [158.5, 2.8, 0], [250, 8, 0], [20000, 8, 0]]
    data = changed(open_air(), f"{BOX}.impedance", {"nominal_ohm": 8.0, "table": table})
    limit = seat_of(data).first_limit
    assert limit.quantity == "current"
    assert limit.band_hz == pytest.approx(10**2.2)


def test_that_one_band_alone_has_the_headroom_of_its_share():
    # Pink noise: each of 31 bands carries 1/31 of the power, so alone it has 10 log 31 = 14.91 dB more.
    seat = seat_of(open_air())
    assert seat.bands.headroom_db - seat.headroom_db == pytest.approx(np.full(31, 14.914), abs=1e-3)


def test_that_absorption_beyond_what_a_face_can_hold_is_held_and_said():
    data = changed(in_room(), "room.furnishings", [{"item": {"name": "wool", "area_m2": 50.0}, "count": 4}])
    outcome = compute(plan_of(data))
    assert ("absorption_held", 0.99) in [(caution.key, caution.value) for caution in outcome.cautions]
    assert np.all(np.isfinite(outcome.worst.bands.level_db))


def test_that_the_verdict_of_a_candidate_is_that_of_its_worst_seat():
    data = in_room()
    data["seats"].append({"name": "Far", "x_m": 7.5, "y_m": 4.5, "z_m": 1.0})
    outcome = compute(plan_of(changed(data, "target", {"peak_db": 60.0})))
    assert outcome.verdict == outcome.worst.verdict
    assert outcome.worst.headroom_db == min(seat.headroom_db for seat in outcome.seats)


def test_that_a_loudspeaker_heard_in_no_band_is_refused_in_words():
    from planner.plan import PlanError

    silent = section(low_hz=1e-300, high_hz=1e-290, slopes_db_per_octave=[24.0, 200.0])
    with pytest.raises(PlanError, match="20 Hz to 20 kHz"):
        compute(
            plan_of(
                open_air(
                    candidates=[candidate(loudspeaker={**candidate()["loudspeaker"], "sections": [silent]})]
                )
            )
        )


def test_that_warm_copper_resists_more():
    # 40 K above 20 °C at 0.393 % a kelvin: 15.72 % more than the 0.3448 ohm of 1 mm2 and 10 m, 0.3990 ohm:
    # 20 log(8 / 8.3990) = -0.4228 dB.
    cable = {"area_mm2": 1.0, "length_m": 10.0, "copper_c": 60.0}
    assert step(seat_of(changed(open_air(), "candidates.0.cable", cable)), "cable") == pytest.approx(
        -0.4228, abs=1e-3
    )
