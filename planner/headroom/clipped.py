"""How much of the recording an amplifier clips at the target, or at a level above or below it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.headroom.outcome import SeatOutcome
from planner.plan import Plan
from planner.plan.recording import Recording
from planner.programme.amplitudes import clipped_share
from planner.programme.clipping import clipping
from planner.programme.render import KNEE

__all__ = ["KNEE_DB", "Clipped", "clip_level_db", "clipped_at"]

KNEE_DB = float(20.0 * np.log10(KNEE))
"""Below its clip level a soft amplifier bends from here on [dB]."""


@dataclass(frozen=True, slots=True)
class Clipped:
    """What one amplifier cuts of the recording, played ``offset_db`` above the target."""

    amplifier: str
    overload: Literal["soft", "hard"] | None
    """How it gives out; None where the plan does not say."""
    sees_all: bool
    """Whether it gets the whole record; of one behind a crossover the share is that of the whole record."""
    offset_db: float
    headroom_db: float
    """Of the amplifier, at this level."""
    clip_level_db: float
    """Largest value that passes, re the RMS of the recording."""
    clip_dbfs: float
    """The same on the scale of the recording's samples."""
    share: float
    """Of all samples, above the clip level."""
    bent_share: float
    """Of all samples that are changed at all: a soft amplifier bends from half its limit on."""
    moments_per_minute: float
    window_s: float
    starts_s: tuple[float, ...]


def clip_level_db(plan: Plan, headroom_db: float) -> float:
    """The amplifier's clip level re the RMS of the recording [dB].

    The programme's average is that of the loud passages, crest_db − loud_crest_db above the RMS of the whole
    recording; the engine holds its peaks, the programme's crest factor above that, to be ``headroom_db``
    below the clip level. With the crest factor left as the recording has it the sum is crest_db +
    headroom_db: the highest sample of the recording is the peak that is asked for.
    """
    recording = plan.programme.recording
    assert recording is not None, "only a recording has an RMS"
    return recording.crest_db - recording.loud_crest_db + plan.programme.crest_db + headroom_db


def clipped_at(plan: Plan, candidate: int, seat: SeatOutcome, offset_db: float = 0.0) -> Clipped | None:
    """What is clipped of the recording at a seat; None for a programme that is no recording.

    Parameters
    ----------
    plan : Plan
        The plan that the outcome is of.
    candidate : int
        Which of its candidates.
    seat : SeatOutcome
        The answer at the seat, of this candidate.
    offset_db : float
        How far above the target it is played [dB].

    Returns
    -------
    Clipped or None
        Of the amplifier that gives out first. An amplifier behind a crossover gets a part of the record,
        whose peaks are taken to be spread as those of the whole.
    """
    recording = plan.programme.recording
    if recording is None:
        return None
    index = min(range(len(seat.amplifiers)), key=lambda one: seat.amplifiers[one].headroom_db)
    amplifier = plan.candidates[candidate].amplifiers[index]
    headroom_db = seat.amplifiers[index].headroom_db - offset_db
    level_db = clip_level_db(plan, headroom_db)
    cut = clipping(recording, level_db)
    bent = _share_above(recording, level_db + KNEE_DB) if amplifier.overload == "soft" else cut.share
    return Clipped(
        amplifier=amplifier.name,
        overload=amplifier.overload,
        sees_all=amplifier.drives == "all",
        offset_db=offset_db,
        headroom_db=headroom_db,
        clip_level_db=level_db,
        clip_dbfs=recording.rms_dbfs + level_db,
        share=cut.share,
        bent_share=bent,
        moments_per_minute=cut.moments_per_minute,
        window_s=cut.window_s,
        starts_s=cut.starts_s,
    )


def _share_above(recording: Recording, level_db: float) -> float:
    if level_db >= recording.crest_db:
        return 0.0
    return float(clipped_share(recording.distribution, level_db))
