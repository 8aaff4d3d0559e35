"""What is said of ears, floors and amplifiers, in words that stand without a window."""

from __future__ import annotations

from planner.acoustics.exposure import EU_PEAK_LIMIT_DBC, EU_PEAK_LOWER_ACTION_DBC, EU_PEAK_UPPER_ACTION_DBC
from planner.headroom.hearing import HOURS_A_DAY, HOURS_A_WEEK, Hearing
from planner.headroom.weight import CODE_LOADS, FloorLoad
from planner.plan.amplifier import Amplifier
from planner.plan.model import Candidate
from planner.plan.units import Preference
from planner.report.cautions import hours_text
from planner.report.language import tr
from planner.report.words import watts_text

__all__ = [
    "care_headline",
    "code_words",
    "day_text",
    "directive_text",
    "load_text",
    "overload_text",
    "unweighed_text",
    "valve_like",
    "week_text",
]


def day_text(hearing: Hearing) -> str:
    """Hours a day by NIOSH."""
    return tr("all day") if hearing.hours_per_day >= HOURS_A_DAY else hours_text(hearing.hours_per_day)


def week_text(hearing: Hearing) -> str:
    """Hours a week by WHO / ITU H.870."""
    return tr("all week") if hearing.hours_per_week >= HOURS_A_WEEK else hours_text(hearing.hours_per_week)


def care_headline(hearing: Hearing, loads: tuple[FloorLoad, ...]) -> str:
    """The gravest of it in one sentence."""
    text = tr("At this loudness {day} a day or {week} a week", day=day_text(hearing), week=week_text(hearing))
    if hearing.hours_per_day >= HOURS_A_DAY and hearing.hours_per_week >= HOURS_A_WEEK:
        text = tr("At this loudness no limit of hours")
    heavy = [one.name for one in loads if "dwellings" in one.above]
    return tr("{hours}; {name} exceeds common floor loads", hours=text, name=heavy[0]) if heavy else text


def directive_text(hearing: Hearing) -> str:
    """The peak at the target beside the values of directive 2003/10/EC."""
    words = {
        "peak": f"{hearing.peak_dbc:.0f}",
        "lower": f"{EU_PEAK_LOWER_ACTION_DBC:.0f}",
        "upper": f"{EU_PEAK_UPPER_ACTION_DBC:.0f}",
        "limit": f"{EU_PEAK_LIMIT_DBC:.0f}",
    }
    reached = next((key for key in hearing.cautions if key.startswith("eu_peak")), "")
    said = {
        "": tr("Peaks of {peak} dB(C) stay below what directive 2003/10/EC acts on"),
        "eu_peak_lower_action": tr(
            "Peaks of {peak} dB(C) reach the lower action value of directive 2003/10/EC"
        ),
        "eu_peak_upper_action": tr(
            "Peaks of {peak} dB(C) reach the upper action value of directive 2003/10/EC"
        ),
        "eu_peak_limit": tr("Peaks of {peak} dB(C) reach the limit of directive 2003/10/EC"),
    }[reached]
    return tr("{said}: action from {lower} and {upper}, limit {limit} dB(C).").format(
        said=said.format(**words), **words
    )


def load_text(load: FloorLoad, units: Preference) -> str:
    """A mean load in both units, the preferred one first."""
    metric, us = f"{load.load_kn_m2:.2f} kN/m²", f"{load.load_psf:.0f} psf"
    first, second = (us, metric) if units is Preference.US else (metric, us)
    return f"{first} ({second})"


def code_words() -> str:
    """The code values that loads stand beside, each with its source."""
    return "; ".join(one.source for one in CODE_LOADS)


def unweighed_text(candidate: Candidate) -> str:
    """Which things the plan gives no mass or footprint for; empty if all have both."""
    things = [candidate.loudspeaker, *candidate.amplifiers]
    names = [one.name for one in things if one.mass_kg is None or one.footprint_m is None]
    return tr("No mass or footprint in the plan for {names}.", names=", ".join(names)) if names else ""


def valve_like(amplifier: Amplifier) -> bool:
    """Whether an amplifier may hold valves: it has an output transformer or overloads softly."""
    return amplifier.output == "transformer" or amplifier.overload == "soft"


def overload_text(amplifier: Amplifier) -> str:
    """How an amplifier overloads, with its ratings where it has several of one load."""
    if amplifier.overload is None:
        return tr("{name}: the plan does not say whether it overloads softly or hard.", name=amplifier.name)
    if amplifier.overload == "hard":
        return tr(
            "{name} overloads hard: clean up to its limit, beyond it the peaks are cut off.",
            name=amplifier.name,
        )
    said = tr(
        "{name} overloads softly: its distortion grows well before its peaks are cut off.",
        name=amplifier.name,
    )
    return f"{said} {_ratings_text(amplifier)}".rstrip()


def _ratings_text(amplifier: Amplifier) -> str:
    ohm = max((one.ohm for one in amplifier.taps), key=lambda load: (_count(amplifier, load), -load))
    ratings = sorted((one for one in amplifier.taps if one.ohm == ohm), key=lambda one: one.distortion_pct)
    if len(ratings) < 2:
        return ""
    told = ", ".join(
        tr("{watts} at {distortion} %", watts=watts_text(one.watts), distortion=f"{one.distortion_pct:g}")
        for one in ratings
    )
    return tr("Rated {ratings} into {ohm} Ω.", ratings=told, ohm=f"{ohm:g}")


def _count(amplifier: Amplifier, ohm: float) -> int:
    return sum(one.ohm == ohm for one in amplifier.taps)
