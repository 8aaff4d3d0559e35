"""Plain words for an outcome: verdicts, limits and the level ladder, the same on every face."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.headroom.outcome import Caution, FirstLimit, Outcome, PartLimit, SeatOutcome, Step
from planner.plan import Plan
from planner.plan.model import Programme
from planner.report.language import tr

if TYPE_CHECKING:
    from planner.headroom.certainty import Certainty

__all__ = [
    "asked_text",
    "band_text",
    "caution_text",
    "certainty_line",
    "chance_text",
    "ladder_text",
    "likely_word",
    "limit_text",
    "step_name",
    "verdict_sentence",
    "verdict_word",
    "watts_text",
]


def verdict_word(verdict: str) -> str:
    """``clears``, ``tight`` or ``short`` in the language in use."""
    return {"clears": tr("clears"), "tight": tr("tight"), "short": tr("short")}[verdict]


def watts_text(watts: float) -> str:
    """Watts to two significant figures or better, always in W: ``0.85 W``, ``2.5 W``, ``130 W``."""
    if watts < 1.0:
        return f"{watts:.2g} W" if watts >= 0.0001 else "0.0001 W"
    return f"{watts:.1f} W" if watts < 100.0 else f"{watts:,.0f} W".replace(",", " ")


def asked_text(plan: Plan) -> str:
    """What the plan asks for, with the length of a peak on which the answer leans."""
    held, programme = plan.target, plan.programme
    level = held.peak_db if held.peak_db is not None else held.average_db
    words = {
        "level": f"{level:g}",
        "crest": f"{programme.crest_db:.4g}",
        "last": f"{programme.transient_ms:g}",
        "kind": _programme_words(programme),
    }
    if held.peak_db is not None:
        return tr(
            "Asked: peaks of {level} dB from {kind} of {crest} dB crest; a peak lasts {last} ms.", **words
        )
    return tr(
        "Asked: {level} dB on average from {kind} of {crest} dB crest; a peak lasts {last} ms.", **words
    )


def _programme_words(programme: Programme) -> str:
    if programme.recording is not None:
        return tr("the recording {file}", file=programme.recording.file)
    return {"pink": tr("pink noise"), "simulated": tr("a simulated programme")}[programme.kind]


def range_text(range_db: tuple[float, float]) -> str:
    """Where headroom lies in eight cases of ten: ``+2.1 … +5.0``."""
    low, high = range_db
    return f"{low:+.1f} … {high:+.1f}"


def chance_text(chance: float) -> str:
    """The chance of playing the peak unclipped; never a certainty that the draws cannot know."""
    if chance > 0.995:
        return "> 99 %"
    return "< 1 %" if chance < 0.005 else f"{100.0 * chance:.0f} %"


def likely_word(chance: float) -> str:
    """How likely a chance is, with "to …" behind it; the steps are those of climate reports (IPCC, 2010)."""
    words = (
        (0.99, tr("almost certain")),
        (0.90, tr("very likely")),
        (0.66, tr("likely")),
        (0.33, tr("about as likely as not")),
        (0.10, tr("unlikely")),
        (0.01, tr("very unlikely")),
    )
    return next((word for least, word in words if chance >= least), tr("almost certain not"))


def certainty_line(sure: Certainty, transient_ms: float | None = None) -> str:
    """How sure the answer is in one line, with the length of a peak on which it leans where that is given."""
    figures = {
        "range": range_text(sure.range_db).replace("-", "−"),
        "chance": chance_text(sure.chance_unclipped),
    }
    if transient_ms is None:
        return tr("{range} dB in eight cases of ten; chance to play the peaks unclipped {chance}", **figures)
    return tr(
        "{range} dB in eight cases of ten; chance to play the peaks unclipped {chance}; "
        "a peak is taken to last {last} ms",
        last=f"{transient_ms:g}",
        **figures,
    )


def band_text(hertz: float) -> str:
    """A third-octave band by its nominal frequency: ``63 Hz``, ``1.25 kHz``."""
    nominal = _nominal(hertz)
    return f"{nominal:g} Hz" if nominal < 1000.0 else f"{nominal / 1000.0:g} kHz"


def limit_text(limit: FirstLimit | PartLimit) -> str:
    """The first limit in words: part, quantity and band."""
    words = {
        "voltage": tr("voltage at {band} ({part})"),
        "current": tr("current at {band} ({part})"),
        "long-term power": tr("long-term power at {band} ({part})"),
        "peak power": tr("peak power at {band} ({part})"),
        "excursion": tr("excursion at {band} ({part})"),
    }
    return words[limit.quantity].format(part=limit.part, band=band_text(limit.band_hz))


def verdict_sentence(outcome: Outcome, seat: SeatOutcome) -> str:
    """The answer at a seat in one plain sentence with figures."""
    if seat.verdict == "short":
        return _short_sentence(outcome, seat)
    if seat.verdict == "clears":
        text = tr(
            "{candidate} clears: peaks of {peak} dB at {seat} ask {need} of its {have}, "
            "with {room} dB to spare."
        )
    else:
        text = tr(
            "{candidate} is tight: peaks of {peak} dB at {seat} ask {need} of its {have}, "
            "with only {room} dB to spare."
        )
    return text.format(**_figures(outcome, seat))


def _short_sentence(outcome: Outcome, seat: SeatOutcome) -> str:
    """What falls short: the amplifier's watts, or a part of the loudspeaker before them."""
    if seat.first_limit.quantity in ("voltage", "current"):
        text = tr(
            "{candidate} falls short: peaks of {peak} dB at {seat} ask {need} and it has {have}; "
            "it gives out {room} dB below, at {loudest} dB."
        )
    else:
        text = tr(
            "{candidate} falls short: peaks of {peak} dB at {seat} are more than its loudspeaker stands "
            "({limit}); it gives out {room} dB below, at {loudest} dB."
        )
    return text.format(**_figures(outcome, seat))


def _figures(outcome: Outcome, seat: SeatOutcome) -> dict[str, str]:
    return {
        "candidate": outcome.candidate,
        "seat": seat.name,
        "peak": f"{seat.peak_target_db:.1f}",
        "need": watts_text(seat.watts_needed),
        "have": watts_text(seat.watts_rated),
        "room": f"{abs(seat.headroom_db):.1f}",
        "loudest": f"{seat.loudest_peak_db:.1f}",
        "limit": limit_text(seat.first_limit),
    }


def step_name(key: str) -> str:
    """A step of the level ladder in words."""
    return {
        "one_watt": tr("1 W at 1 m"),
        "watts": tr("watts"),
        "peak_over_sine": tr("peak over sine"),
        "load": tr("load and output impedance"),
        "cable": tr("cable"),
        "response": tr("band edges and response"),
        "baffle_step": tr("baffle step"),
        "angle": tr("angle"),
        "distance": tr("distance"),
        "air": tr("air"),
        "stands": tr("all stands"),
        "room": tr("room, steady"),
        "build_up": tr("build-up of a short peak"),
        "other_limits": tr("other limits"),
    }[key]


def caution_text(caution: Caution) -> str:
    """A caution in a sentence."""
    words = {
        "absorption_held": tr(
            "Surfaces and furnishings absorb nearly everything in some bands; "
            "the mean absorption is held at {value} there.",
            value=f"{caution.value:g}",
        ),
        "absorption_flat": tr(
            "No absorption is given below {value} Hz, so it is held flat there; "
            "light walls would damp the bass more.",
            value=f"{caution.value:g}",
        ),
        "modes_held": tr(
            "So hard a room has modes far up; they are summed up to about {value} Hz.",
            value=f"{caution.value:.0f}",
        ),
    }
    return words[caution.key]


def ladder_text(steps: tuple[Step, ...]) -> str:
    """The level ladder as a sentence; steps that change nothing are left out."""
    first, *rest = steps
    parts = [f"{first.level_db:.1f} dB {step_name(first.key)}"]
    parts += [
        f"{_signed(step.change_db)} {step_name(step.key)}" for step in rest if abs(step.change_db) >= 0.05
    ]
    return ", ".join(parts) + f" = {steps[-1].level_db:.1f} dB"


def _signed(change_db: float) -> str:
    return f"{'+' if change_db >= 0.0 else '−'}{abs(change_db):.1f}"


def _nominal(hertz: float) -> float:
    """The nominal frequency of a base-ten third octave (IEC 61260-1 annex)."""
    from math import log10

    within_decade = (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0)
    decade, step = divmod(round(10.0 * log10(hertz)), 10)
    return float(f"{within_decade[step] * 10.0**decade:.6g}")
