"""Directivity over many places at once: what each section sends where, re its axis.

Bands in which a section sends alike share one row, and bands in which it hardly plays have none.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bessel import jinc
from planner.acoustics.directivity import (
    DIPOLE_FLOOR_DB,
    HALF_COVERAGE_LOSS_DB,
    HORN_FLOOR_DB,
    PISTON_FLOOR_DB,
)
from planner.headroom.scene import Scene
from planner.headroom.sources import coverage_of, ka_of
from planner.plan.loudspeaker import Diaphragm, Dipole, Horn, Loudspeaker

__all__ = ["patterns"]

FloatArray = NDArray[np.float64]
SingleArray = NDArray[np.float32]
INAUDIBLE = 1e-3
"""Amplitude of a section, re the whole loudspeaker's, below which it is left out."""
MOST_STEPS = 8192


def patterns(
    loudspeaker: Loudspeaker,
    share: FloatArray,
    carried: FloatArray,
    scene: Scene,
    azimuth_deg: FloatArray,
    elevation_deg: FloatArray,
    angle_deg: FloatArray,
) -> SingleArray:
    """Amplitude at 1 m toward the places that each stand sees at given angles (N, P): (B, N, P).

    *share* (S, B) is the on-axis amplitude of each section, *carried* (N, S) who carries it.
    """
    stands, places = azimuth_deg.shape
    rows: list[SingleArray] = []
    mixes: list[FloatArray] = []
    for index, section in enumerate(loudspeaker.sections):
        bands = np.flatnonzero(share[index] > INAUDIBLE)
        radiator = section.radiator
        if isinstance(radiator, Horn):
            row, which = _horn(coverage_of(radiator, scene.band_hz[bands]), azimuth_deg, elevation_deg)
        elif isinstance(radiator, Diaphragm):
            row, which = _piston(ka_of(radiator, scene)[bands], angle_deg)
        else:
            row, which = _alike(isinstance(radiator, Dipole), angle_deg, bands.size)
        mix = np.zeros((share.shape[1], len(row)))
        mix[bands, which] = share[index, bands]
        rows.append(row * carried[:, index, None].astype(np.float32))
        mixes.append(mix)
    mixed = np.concatenate(mixes, axis=1).astype(np.float32) @ np.concatenate(rows).reshape(
        -1, stands * places
    )
    return np.asarray(mixed.reshape(-1, stands, places))


def _horn(
    coverage: tuple[FloatArray, FloatArray], azimuth_deg: FloatArray, elevation_deg: FloatArray
) -> tuple[SingleArray, NDArray[np.int64]]:
    """A row for each pair of coverage angles, (U, N, P), and the row of each band."""
    pairs, which = np.unique(np.stack(coverage, axis=-1), axis=0, return_inverse=True)
    steepness = -HALF_COVERAGE_LOSS_DB * np.log(10.0) / 20.0 * (2.0 / pairs) ** 2
    squares = np.stack([azimuth_deg, elevation_deg]).reshape(2, -1) ** 2
    row = np.exp(steepness.astype(np.float32) @ squares.astype(np.float32))
    floored = np.maximum(row, np.float32(10.0 ** (HORN_FLOOR_DB / 20.0)))
    return floored.reshape(-1, *azimuth_deg.shape), which.reshape(-1)


def _piston(ka: FloatArray, angle_deg: FloatArray) -> tuple[SingleArray, NDArray[np.int64]]:
    """A row for each band, (U, N, P), read from a table over the sine of the angle."""
    table = _piston_table(tuple(ka.tolist()))
    sine = np.sin(np.radians(np.minimum(angle_deg, 90.0))).astype(np.float32)
    place = sine * np.float32(table.shape[1] - 2)
    below = place.astype(np.int32)
    share = place - below
    row = np.take(table, below, axis=1)
    row += share * (np.take(table, below + 1, axis=1) - row)
    return row, np.arange(ka.size)


@lru_cache(maxsize=32)
def _piston_table(ka: tuple[float, ...]) -> SingleArray:
    """Amplitude off axis over the sine of the angle, 0 to 1 and one step beyond, (B, T)."""
    steps = min(MOST_STEPS, 64 + int(8.0 * max(ka, default=0.0)))
    sine = np.minimum(np.arange(steps + 2) / steps, 1.0)
    amplitude = np.abs(jinc(np.multiply.outer(np.array(ka), sine)))
    return np.asarray(np.maximum(amplitude, 10.0 ** (PISTON_FLOOR_DB / 20.0)).astype(np.float32))


def _alike(dipole: bool, angle_deg: FloatArray, bands: int) -> tuple[SingleArray, NDArray[np.int64]]:
    """One row for all bands, (1, N, P): a dipole's figure of eight, or the same all around."""
    row = np.ones(angle_deg.shape)
    if dipole:
        row = np.maximum(np.abs(np.cos(np.radians(angle_deg))), 10.0 ** (DIPOLE_FLOOR_DB / 20.0))
    return row[None].astype(np.float32), np.zeros(bands, dtype=np.int64)
