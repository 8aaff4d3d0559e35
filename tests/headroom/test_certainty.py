"""How sure the headroom is: one input at a time against the full computation, then all at once."""

import numpy as np
import pytest

from planner.headroom import certainty as module
from planner.headroom import compute
from planner.headroom.certainty import DRAWS, INPUTS, certainty, standard_draws
from planner.headroom.system import stage_of, system_of
from planner.plan.model import Tolerances
from tests.headroom.test_against_plain_loops import CASES
from tests.plans import changed, in_room, plan_of, section

SECURE = dict.fromkeys(INPUTS, 0.0) | {"transient_ratio": 1.0}
TAP = "candidates.0.amplifiers.0.taps.0"
BOX = "candidates.0.loudspeaker"


def above_modes(data):
    return changed(data, f"{BOX}.sections.0", section(low_hz=400.0, slopes_db_per_octave=[96.0, 24.0]))


def drawn(data, deviations, seat=0):
    """Headroom with the inputs at so many standard deviations, by the draws' own road."""
    plan = plan_of(data)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    normal = np.array([[deviations.get(key, 0.0)] for key in INPUTS])
    draws = module._Draws(plan.tolerances or Tolerances(), normal)
    return float(module._headrooms(plan, system, draws, seat, module._by_impedance(plan, system, draws))[0])


def computed(data, seat=0):
    return compute(plan_of(data)).seats[seat].headroom_db


@pytest.mark.parametrize("name", CASES)
def test_that_a_draw_without_deviation_is_the_plan_itself(name):
    assert drawn(CASES[name], {}) == pytest.approx(computed(CASES[name]), abs=1e-3)


def test_that_a_deviation_of_sensitivity_is_so_many_decibels():
    base = in_room()
    expected = computed(changed(base, f"{BOX}.sections.0.sensitivity.level_db", 100.75))
    assert drawn(base, {"sensitivity_db": 1.0}) == pytest.approx(expected, abs=1e-4)


def test_that_a_deviation_of_the_rating_is_five_per_cent_of_its_watts():
    expected = computed(changed(in_room(), f"{TAP}.watts", 2.5 * 1.05**2))
    assert drawn(in_room(), {"rating_pct": 2.0}) == pytest.approx(expected, abs=1e-4)


def test_that_a_deviation_of_impedance_scales_the_load_and_not_its_nominal_value():
    data = changed(in_room(), f"{TAP}.output_ohm", 3.0)
    heavier = changed(data, f"{BOX}.impedance", {"nominal_ohm": 8.0, "table": [[1000, 8 / 1.05, 0]]})
    assert drawn(data, {"impedance_pct": -1.0}) == pytest.approx(computed(heavier), abs=0.01)


def test_that_a_deviation_of_the_transient_is_a_factor_of_one_point_six():
    expected = computed(changed(in_room(), "programme.transient_ms", 32.0))
    assert drawn(in_room(), {"transient_ratio": 1.0}) == pytest.approx(expected, abs=1e-4)


def test_that_a_deviation_of_t60_is_fifteen_per_cent():
    data = above_modes(changed(in_room(), "room.measured_t60_s", {"500": 0.5}))
    longer = changed(data, "room.measured_t60_s", {"500": 0.5 * 1.15})
    assert drawn(data, {"t60_pct": 1.0}) == pytest.approx(computed(longer), abs=1e-3)


def test_that_a_deviation_of_distance_moves_the_seat_away_from_every_stand():
    farther = changed(above_modes(in_room()), "seats.0.x_m", 4.1)
    assert drawn(above_modes(in_room()), {"distance_m": 2.0}) == pytest.approx(computed(farther), abs=2e-3)


def test_that_crest_counts_where_the_average_is_held_and_not_where_the_peak_is():
    held = changed(in_room(), "target", {"average_db": 80.0})
    livelier = changed(held, "programme.crest_db", 13.0)
    assert drawn(held, {"crest_db": 1.0}) == pytest.approx(computed(livelier), abs=1e-4)
    assert drawn(in_room(), {"crest_db": 1.0}) == pytest.approx(computed(in_room()), abs=1e-4)


def test_that_low_room_gain_moves_the_modal_bands_alone():
    assert drawn(above_modes(in_room()), {"low_room_gain_db": 1.0}) == pytest.approx(
        computed(above_modes(in_room())), abs=0.01
    )
    bass = changed(in_room(), f"{BOX}.sections.0", section(high_hz=60.0, slopes_db_per_octave=[24.0, 96.0]))
    assert drawn(bass, {"low_room_gain_db": 1.0}) == pytest.approx(computed(bass) + 2.0, abs=0.05)


def test_that_without_tolerances_there_is_no_doubt():
    (sure,) = certainty(plan_of(in_room(tolerances=SECURE)))
    expected = computed(in_room())
    assert sure.range_db == pytest.approx((expected, expected), abs=1e-3)
    assert sure.chance_unclipped in (0.0, 1.0)


def test_that_one_normal_input_alone_gives_its_own_percentiles():
    # 10 % and 90 % of a normal distribution lie 1.28155 standard deviations from its middle (any table).
    (one,) = certainty(plan_of(in_room(tolerances=SECURE | {"sensitivity_db": 2.0})))
    middle = computed(in_room())
    assert one.range_db == pytest.approx((middle - 2.5631, middle + 2.5631), abs=0.005)
    assert one.doubt[0] == ("sensitivity_db", pytest.approx(1.0, abs=1e-3))


def test_that_the_same_plan_gets_the_same_answer():
    plan = plan_of(in_room())
    assert certainty(plan) == certainty(plan)


def test_that_the_draws_are_standard_normal_and_independent():
    normal = standard_draws()
    assert normal.shape == (len(INPUTS), DRAWS)
    assert normal.mean(axis=1) == pytest.approx(0.0, abs=1e-9)
    assert normal.std(axis=1) == pytest.approx(1.0, abs=1e-3)
    assert np.abs(np.corrcoef(normal) - np.eye(len(INPUTS))).max() < 0.03


def test_that_the_chance_is_that_of_two_hundred_thousand_plain_draws():
    # The plan stands at the edge, where the chance is most in doubt. The plain draws go the same road
    # through the physics (checked one by one above) but are neither stratified nor of the same seed.
    plan = plan_of(changed(in_room(), "target", {"peak_db": 100.0 + computed(in_room())}))
    (told,) = certainty(plan)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    random = np.random.default_rng(7)
    hits = []
    for _ in range(10):
        draws = module._Draws(Tolerances(), random.standard_normal((len(INPUTS), 20_000)))
        headroom = module._headrooms(plan, system, draws, 0, module._by_impedance(plan, system, draws))
        hits.append(np.mean(headroom >= 0.0))
    assert told.chance_unclipped == pytest.approx(np.mean(hits), abs=0.01)


def test_that_the_shares_of_doubt_add_up_and_stand_in_order():
    (one,) = certainty(plan_of(in_room()))
    shares = [share for _, share in one.doubt]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)
    assert {key for key, _ in one.doubt} == set(INPUTS)


def test_that_twenty_cases_are_the_middles_of_twenty_slices():
    # The middles of the lowest and the highest twentieth of a normal distribution, at 2.5 % and 97.5 %, lie
    # 1.95996 standard deviations from its middle, those beside its middle, at 47.5 % and 52.5 %, 0.06271.
    (one,) = certainty(plan_of(in_room(tolerances=SECURE | {"sensitivity_db": 2.0})))
    middle = computed(in_room())
    assert len(one.cases_db) == module.CASES == 20
    assert list(one.cases_db) == sorted(one.cases_db)
    assert one.cases_db[0] == pytest.approx(middle - 3.9199, abs=0.005)
    assert one.cases_db[10] == pytest.approx(middle + 0.1254, abs=0.005)
    assert one.cases_db[-1] == pytest.approx(middle + 3.9199, abs=0.005)
