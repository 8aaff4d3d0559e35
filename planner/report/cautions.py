"""Words for what the answer says beside headroom: noise, gain, hearing, wiring, weight."""

from __future__ import annotations

from planner.headroom.gain import GainChain
from planner.headroom.hearing import Hearing
from planner.headroom.noise import AmplifierNoise, SeatNoise
from planner.headroom.weight import FloorLoad
from planner.headroom.wiring import Wiring
from planner.report.language import tr
from planner.report.words import band_text

__all__ = [
    "FLOOR_CAUTION",
    "HEARING_CAUTION",
    "HIGH_VOLTAGE_CAUTION",
    "floor_text",
    "gain_text",
    "hearing_text",
    "hours_text",
    "noise_text",
    "part_word",
    "tolerated_text",
    "wiring_text",
]

HEARING_CAUTION = (
    "These are occupational and public-health guides (NIOSH, WHO/ITU H.870, directive 2003/10/EC), "
    "no promise of safety; local rules decide."
)
HIGH_VOLTAGE_CAUTION = (
    "Valve amplifiers hold lethal voltages, also for a while after they are switched off. "
    "Leave work inside them to qualified people and keep to the local electrical code."
)
FLOOR_CAUTION = (
    "A mean load beside a code's figure is no structural check: span, joists, point loads and other "
    "furniture count. Ask a qualified engineer where loads are heavy."
)


def noise_text(noise: SeatNoise) -> str:
    """Whether the amplifier's residual is heard at the seat."""
    amplifier = noise.amplifier
    if amplifier is None:
        return tr("The plan gives no residual noise of the amplifier, so nothing is said of hum and hiss.")
    figures = {
        "level": f"{amplifier.dba:.1f}",
        "margin": f"{abs(amplifier.margin_db):.1f}",
        "part": part_word(amplifier.part),
        "band": band_text(amplifier.band_hz),
    }
    if amplifier.audible:
        text = tr(
            "With nothing playing the amplifier is heard: {part} stands {margin} dB out at {band} "
            "({level} dB(A) at the seat)."
        )
    else:
        text = tr(
            "With nothing playing the amplifier is not heard: {part} stays {margin} dB under at {band}, "
            "where it comes closest ({level} dB(A) at the seat)."
        )
    return text.format(**figures)


def tolerated_text(amplifier: AmplifierNoise) -> str:
    """The largest residual that would stay unheard, one amplifier after the other; empty if unknown."""
    parts = []
    for one in amplifier.tolerated:
        words = {"amplifier": one.amplifier}
        if one.hum_mv is not None:
            parts.append(tr("{amplifier}: {value} mV of hum", value=f"{one.hum_mv:.2g}", **words))
        if one.hiss_mv is not None:
            parts.append(tr("{amplifier}: {value} mV of hiss", value=f"{one.hiss_mv:.2g}", **words))
    return tr("This loudspeaker tolerates, each alone, {parts}.", parts="; ".join(parts)) if parts else ""


def part_word(part: str) -> str:
    """``hum``, ``hiss`` or ``phono`` in the language in use."""
    return {"hum": tr("hum"), "hiss": tr("hiss"), "phono": tr("phono noise")}[part]


def hearing_text(hearing: Hearing) -> str:
    """How long a day and a week this level may last by public guides."""
    text = tr(
        "{level} dB(A) on average: {day} a day (NIOSH), {week} a week (WHO/ITU H.870).",
        level=f"{hearing.average_dba:.1f}",
        day=hours_text(hearing.hours_per_day),
        week=hours_text(hearing.hours_per_week),
    )
    peaks = {
        "eu_peak_limit": tr("Peaks pass the limit of directive 2003/10/EC."),
        "eu_peak_upper_action": tr("Peaks pass the upper action value of directive 2003/10/EC."),
        "eu_peak_lower_action": tr("Peaks pass the lower action value of directive 2003/10/EC."),
    }
    worst = next((words for key, words in peaks.items() if key in hearing.cautions), "")
    return f"{text} {worst}".rstrip()


def hours_text(hours: float) -> str:
    """Hours, or minutes below one hour: ``2.8 h``, ``45 min``."""
    return f"{hours:.1f} h" if hours >= 1.0 else f"{60.0 * hours:.0f} min"


def gain_text(chain: GainChain) -> str:
    """Whether the source drives the amplifier fully with no preamplifier."""
    spare = f"{abs(chain.spare_db):.1f}"
    if not chain.reaches_full_output:
        return tr(
            "The source lacks {spare} dB to drive the amplifier fully without a preamplifier.", spare=spare
        )
    return tr(
        "The source drives the amplifier fully without a preamplifier, with {spare} dB to spare; "
        "the volume control sits at {volume} dB.",
        spare=spare,
        volume=f"{chain.volume_db:.1f}".replace("-", "−"),
    )


def wiring_text(wiring: Wiring) -> str:
    """Cable loss, damping factor and bend of the response, of one amplifier."""
    return tr(
        "{name}: cable {loss} dB, damping factor {damping}, response bent by {bend} dB from peak to peak.",
        name=wiring.amplifier,
        loss=f"{wiring.cable_loss_db:.2f}",
        damping="∞" if wiring.damping_factor == float("inf") else f"{wiring.damping_factor:.1f}",
        bend=f"{wiring.together.peak_to_peak_db:.1f}",
    )


def floor_text(load: FloorLoad) -> str:
    """Load of one thing on the floor, beside common code values."""
    return tr(
        "{part}: {mass} kg on its footprint is {kn} kN/m² ({psf} psf) under it; codes ask common floors "
        "to carry 1.5 to 2.0 kN/m² or 40 psf.",
        part=load.name,
        mass=f"{load.mass_kg:g}",
        kn=f"{load.load_kn_m2:.2f}",
        psf=f"{load.load_psf:.0f}",
    )
