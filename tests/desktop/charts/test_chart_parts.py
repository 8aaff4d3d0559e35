"""What a chart is made of: lines, bars, zones and words in their places."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.desktop.charts import (
    Bars,
    Curve,
    Label,
    LinearScale,
    Rule,
    Scales,
    Zone,
    frequency_scale,
)
from planner.desktop.charts.keys import dash_of
from planner.desktop.theme import LIGHT


@pytest.mark.parametrize(
    ("make", "ask"),
    [(Curve, lambda part: part.opts["pen"]), (lambda *a: Rule(*a, level=True), lambda part: part.pen())],
)
def test_that_lines_are_at_most_2_wide_and_grow_with_the_density_of_the_screen(shown, make, ask):
    part = shown.add(make(shown.scales, "", "series 0"))
    shown.restyle(LIGHT, 1.0)
    assert ask(part).widthF() <= 2.0 and ask(part).isCosmetic()
    plain = ask(part).widthF()
    shown.restyle(LIGHT, 2.0)
    assert ask(part).widthF() == pytest.approx(2.0 * plain)


def test_that_neighbouring_series_differ_by_more_than_colour():
    assert all(dash_of(f"series {n}") != dash_of(f"series {n + 1}") for n in range(6))


def test_that_bars_stand_where_their_sides_are_even_when_upside_down(shown):
    bars = shown.add(Bars(Scales(frequency_scale("f"), LinearScale("y", "dB", -10, 10)), "", "series 0"))
    bars.show_bars([100.0, 1000.0], [1000.0, 10000.0], 0.0, [5.0, -5.0], ("clears", "short"))
    (up,), (down,) = bars._rects["clears"], bars._rects["short"]
    assert (up.left(), up.right(), up.top(), up.bottom()) == pytest.approx((2.0, 3.0, 0.0, 5.0))
    assert (down.left(), down.right(), down.top(), down.bottom()) == pytest.approx((3.0, 4.0, -5.0, 0.0))


def test_that_a_zone_stops_at_the_ends_of_its_side(shown):
    zone = shown.add(Zone(shown.scales, "", "tight", level=True))
    zone.show_between(90.0, 999.0)
    assert (zone.rect().top(), zone.rect().bottom()) == pytest.approx((90.0, 100.0))


def test_that_a_line_with_no_place_is_hidden(shown):
    rule = shown.add(Rule(shown.scales, "", "muted", level=False))
    rule.show_at(0.0)
    assert not rule.isVisible()
    rule.show_at(1000.0)
    assert rule.isVisible() and rule.line().x1() == pytest.approx(3.0)
    rule.show_at(None)
    assert not rule.isVisible()


@given(
    st.floats(20.0, 20000.0),
    st.floats(60.0, 100.0),
    st.sampled_from([-1.0, 0.0, 1.0]),
    st.sampled_from([-1.0, 0.0, 1.0]),
    st.floats(120.0, 900.0),
)
def test_that_words_never_leave_the_chart(x, y, beside, above, width_px):
    scales = Scales(frequency_scale("f"), LinearScale("Level", "dB", 60, 100), width_px, 200.0)
    label = Label(scales)
    label.show_text(x, y, "critical", align=(beside, above))
    box = label.boundingRect()
    left = scales.x.share(x) * width_px + box.left()
    top = (1.0 - scales.y.share(y)) * 200.0 + box.top()
    assert left >= -1e-6 and left + box.width() <= width_px + 1e-6
    assert top >= -1e-6 and top + box.height() <= 200.0 + 1e-6
