"""Words for what an amplifier clips of a recording: how much, how often and where."""

from __future__ import annotations

from planner.headroom.clipped import Clipped
from planner.plan.recording import Recording
from planner.report.language import tr

__all__ = ["clipped_text", "clock_text", "share_text"]

FIRST_TOLD = 4


def clock_text(seconds: float) -> str:
    """A place in a recording: 0:07, 12:30, 1:02:03.

    Examples
    --------
    >>> clock_text(7.4), clock_text(750.0), clock_text(3723.0)
    ('0:07', '12:30', '1:02:03')
    """
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"


def share_text(share: float) -> str:
    """A share in words of its size: in per cent, or one sample in so many where that is clearer.

    Examples
    --------
    >>> share_text(0.0), share_text(0.0123), share_text(0.00002)
    ('none', '1.2 %', '1 in 50000')
    """
    if share <= 0.0:
        return tr("none")
    if share >= 0.001:
        return f"{_short(100.0 * share)} %"
    return tr("1 in {count}", count=_short(1.0 / share))


def clipped_text(cut: Clipped, recording: Recording) -> str:
    """How much is clipped, how often and where, hard and soft told apart."""
    if cut.share <= 0.0 and not cut.starts_s and cut.bent_share <= 0.0:
        return tr(
            "{amplifier} passes the whole recording: its loudest sample stays {margin} dB below clipping.",
            amplifier=cut.amplifier,
            margin=f"{max(cut.clip_level_db - recording.crest_db, 0.0):.1f}",
        )
    told = [_cut_words(cut)] if cut.share > 0.0 or cut.starts_s else []
    if cut.overload == "soft":
        words = tr(
            "Being soft it bends from half its limit on: {share} of all samples are changed.",
            share=share_text(cut.bent_share),
        )
        told.append(words if told else f"{cut.amplifier}: {words}")
    if not cut.sees_all:
        told.append(
            tr("It stands behind a crossover; its part of the music is reckoned as peaky as the whole.")
        )
    return " ".join(told)


def _cut_words(cut: Clipped) -> str:
    verb = {
        "soft": tr("rounds off"),
        "hard": tr("cuts off hard"),
        None: tr("cuts off (soft or hard is not in the plan)"),
    }
    text = tr(
        "{amplifier} {verb} {share} of all samples, at {moments} moments a minute{places}.",
        amplifier=cut.amplifier,
        verb=verb[cut.overload],
        share=share_text(cut.share),
        moments=_short(cut.moments_per_minute),
        places=_places(cut),
    )
    return text


def _places(cut: Clipped) -> str:
    """Where it happens: the first seconds of it, and how many more."""
    seconds = sorted({int(start) for start in cut.starts_s})
    if not seconds:
        return ""
    named = ", ".join(map(clock_text, seconds[:FIRST_TOLD]))
    rest = len(seconds) - FIRST_TOLD
    more = tr(" and in {count} more seconds", count=rest) if rest > 0 else ""
    return tr(": at {places}{more}", places=named, more=more)


def _short(value: float) -> str:
    """Two digits that count, without an exponent."""
    return f"{float(f'{value:.1e}'):.10g}"
