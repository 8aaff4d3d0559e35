"""What README promises: the worked example matches the program to the printed digit."""

import math
import re
from pathlib import Path

import pytest

from planner.headroom import compute
from planner.plan import load
from planner.resources import demo_rooms

README = Path(__file__).parent.parent / "README.md"

STEPS = {
    "one_watt": "1 W at 1 m",
    "watts": "2.5 W",
    "peak_over_sine": "peak over sine",
    "distance": "4 m",
    "air": "air",
}


def table():
    """The rows of README's worked example: what, and the figure as printed."""
    text = README.read_text(encoding="utf-8")
    section = text[text.index("## A worked example") :].split("\n## ", 1)[0]
    rows = re.findall(r"^\| (.+?) \| .+? \| (.+?) dB \|$", section, re.MULTILINE)
    return {name: float(figure.replace("−", "-")) for name, figure in rows}


def test_that_the_worked_example_is_what_the_program_prints():
    seat = compute(load(str(demo_rooms() / "courtyard.json"))).seats[0]
    changes = {step.key: step.change_db for step in seat.ladder}
    for key, row in STEPS.items():
        assert f"{changes[key]:.2f}" == f"{table()[row]:.2f}", row
    assert f"{seat.loudest_peak_db:.2f}" == f"{table()['loudest peak']:.2f}"
    assert f"{seat.headroom_db:.2f}" == f"{table()['headroom']:.2f}"


def test_that_the_worked_example_adds_up_by_hand():
    assert table()["2.5 W"] == pytest.approx(10 * math.log10(2.5), abs=0.005)
    assert table()["peak over sine"] == pytest.approx(10 * math.log10(2.0), abs=0.005)
    assert table()["4 m"] == pytest.approx(-20 * math.log10(4.0), abs=0.005)
    steps = sum(table()[row] for row in STEPS.values())
    assert steps == pytest.approx(table()["loudest peak"], abs=0.02)
