"""What can give out: each limit of a candidate as the level it allows above a programme of 1 V EMF."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import Drive

__all__ = ["Capability", "amplifier_capabilities", "capability", "first_to_give_out"]

FloatArray = NDArray[np.float64]
_SAME_DB = 0.01
_NOTHING = 1e-30


@dataclass(frozen=True, slots=True, eq=False)
class Capability:
    """One limit: how far the programme may rise above 1 V EMF before it is met.

    ``total_db`` is for the whole programme, ``band_db`` (B,) for each band's energy alone, and
    ``share`` (B,) what each band contributes to the quantity that runs out.
    """

    part: str
    quantity: str
    total_db: float
    band_db: FloatArray
    share: FloatArray

    def hardest_band(self) -> int:
        """The band that contributes most, the lowest of those within 0.01 dB."""
        most = float(self.share.max())
        return int(np.argmax(self.share >= most * 10.0 ** (-_SAME_DB / 10.0)))


def amplifier_capabilities(drive: Drive, crest_db: float) -> tuple[Capability, Capability]:
    """Voltage and current of one amplifier."""
    crest = 10.0 ** (crest_db / 20.0)
    name = drive.amplifier.name
    return (
        capability(name, "voltage", drive.clip_emf_v / crest, drive.emf_v**2),
        capability(name, "current", drive.clip_a / crest, drive.current_a**2),
    )


def first_to_give_out(capabilities: tuple[Capability, ...]) -> Capability:
    """The limit that is met first as the programme rises."""
    return min(capabilities, key=lambda one: one.total_db)


def capability(part: str, quantity: str, most_rms: float, share: FloatArray) -> Capability:
    """A limit on the rms of a quantity whose mean squares by band are *share*, (B,)."""
    # A part may see next to nothing of some bands: hold them at -300 dB, so that all stays finite.
    share = np.maximum(share, max(_NOTHING * float(share.sum()), float(np.finfo(float).tiny)))
    most_db = 20.0 * np.log10(most_rms)
    total_db = most_db - 10.0 * np.log10(share.sum())
    return Capability(part, quantity, float(total_db), most_db - 10.0 * np.log10(share), share)
