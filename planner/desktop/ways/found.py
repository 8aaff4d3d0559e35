"""The ways to clear one seat, and the words for them."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from planner.desktop.background import Progress
from planner.headroom.compute import compute
from planner.headroom.outcome import SeatOutcome
from planner.headroom.ways import Way, ways_to_clear
from planner.plan import Plan
from planner.plan.units import Preference, show
from planner.report.words import watts_text

__all__ = ["Found", "amount_text", "detail_text", "find", "headroom_text", "title"]

translate = QCoreApplication.translate


@dataclass(frozen=True, eq=False)
class Found:
    """The ways to clear a seat for a candidate, and the answer as it is without any of them."""

    plan: Plan
    candidate: int
    now: SeatOutcome
    ways: tuple[Way, ...]

    @property
    def name(self) -> str:
        """The candidate's name."""
        return str(self.plan.candidates[self.candidate].name)

    def headline(self) -> str:
        """The whole in one sentence."""
        words = {"candidate": self.name, "seat": self.now.name, "now": f"{abs(self.now.headroom_db):.1f}"}
        if self.now.verdict == "clears":
            text = translate(
                "Ways", "{candidate} clears {seat} with {now} dB to spare: nothing needs to change"
            )
        elif not any(way.plan is not None for way in self.ways):
            text = translate("Ways", "No single change leaves 3 dB to spare at {seat} for {candidate}")
        elif self.now.verdict == "tight":
            text = translate(
                "Ways", "Single changes that leave 3 dB to spare at {seat}; {candidate} has {now} dB"
            )
        else:
            text = translate(
                "Ways", "Single changes that leave 3 dB to spare at {seat}; {candidate} is {now} dB short"
            )
        return text.format(**words)


def find(plan: Plan, candidate: int, seat: int, progress: Progress) -> Found:
    """Seek the ways to clear a seat; raises PlanError if the plan has findings."""
    now = compute(plan, candidate).seats[seat]
    return Found(plan, candidate, now, tuple(ways_to_clear(plan, candidate, seat, progress=progress)))


def title(way: Way) -> str:
    """What a way changes, in two words or three, since its amounts want the room."""
    return {
        "watts": translate("Ways", "More watts"),
        "sensitivity": translate("Ways", "Higher sensitivity"),
        "distance": translate("Ways", "Nearer seat"),
        "target": translate("Ways", "Lower target"),
        "crest": translate("Ways", "Lower crest factor"),
        "baffle_width": translate("Ways", "Wider baffle"),
        "stands": translate("Ways", "More loudspeakers"),
        "absorption": translate("Ways", "Less absorption"),
    }[way.change]


def amount_text(way: Way, units: Preference) -> str:
    """From how much to how much: ``2.5 W → 53.3 W``, or that it is not possible."""
    if way.to_value is None:
        return translate("Ways", "not possible")
    return f"{_quantity(way.from_value, way.unit, units)} → {_quantity(way.to_value, way.unit, units)}"


def headroom_text(way: Way) -> str:
    """The headroom that a way gives, or the best that it could."""
    level = f"{way.headroom_db:+.1f} dB".replace("-", "−")
    return level if way.plan is not None else translate("Ways", "at best {0}").format(level)


def detail_text(found: Found, way: Way, units: Preference) -> str:
    """What exactly a way moves."""
    now = _quantity(way.from_value, way.unit, units)
    if way.plan is None:
        text = translate("Ways", "Now {now}. However far it goes, this alone leaves less than 3 dB to spare.")
        return text.format(now=now)
    return {
        "watts": _amplifier(found, way.plan),
        "sensitivity": translate("Ways", "All sections are raised alike; the figure is that of {0}.").format(
            found.plan.candidates[found.candidate].loudspeaker.sections[0].name
        ),
        "distance": translate("Ways", "The seat moves, at its height, toward the nearest loudspeaker."),
        "target": _target(found.plan),
        "crest": translate("Ways", "The average is held, so that peaks fall with the crest factor."),
        "baffle_width": translate("Ways", "The loudspeaker stands in a baffle as wide as that."),
        "stands": translate(
            "Ways",
            "Of the same kind, each beside one that is there and with an amplifier channel of its own.",
        ),
        "absorption": translate(
            "Ways", "Surfaces and furnishings absorb less, all in proportion; the areas are those at 500 Hz."
        ),
    }[way.change]


def _quantity(value: float, unit: str, units: Preference) -> str:
    if unit == "W":
        return watts_text(value)
    if not unit:
        return f"{value:.0f}"
    # Whole inches say enough of a change, and leave room for its name.
    return show(value, unit, units, 0 if unit == "m" and units is Preference.US else None)


def _amplifier(found: Found, after: Plan) -> str:
    """Which amplifier it is that grows, found by what has changed."""
    pairs = zip(
        found.plan.candidates[found.candidate].amplifiers,
        after.candidates[found.candidate].amplifiers,
        strict=True,
    )
    name = next((before.name for before, now in pairs if before != now), "")
    return translate("Ways", "All ratings of {0} grow in proportion.").format(name)


def _target(plan: Plan) -> str:
    if plan.target.peak_db is not None:
        return translate("Ways", "Peaks at the seat are held to less.")
    return translate("Ways", "The average at the seat is held to less, and peaks follow.")
