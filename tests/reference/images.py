"""The field in a shoebox by adding up image sources one by one: an oracle that knows nothing of modes."""

import numpy as np

SPEED = 343.2
FADED = 0.8  # share of the radius beyond which images fade out, so that no sharp edge rings


def axis_images(length, at, reach):
    """Places of the images of one axis within *reach* of the room, and how often each was reflected."""
    periods = np.arange(-int(reach / (2 * length)) - 1, int(reach / (2 * length)) + 2)
    places = np.concatenate([2 * length * periods + at, 2 * length * periods - at])
    return places, np.concatenate([np.abs(2 * periods), np.abs(2 * periods - 1)])


def enough(t60, down_db=65.0):
    """Radius at which sound has died by so many decibels since it left, and never a small one [m]."""
    return max(down_db / 60.0 * t60 * SPEED, 200.0)


def image_sum(size, source, receiver, frequency_hz, t60_s, speed=SPEED, radius=None):
    """Sum of exp(-jkr)/r over all images within the radius, k = (omega - j 3 ln10/T60)/speed: (F,)."""
    frequency, t60 = np.broadcast_arrays(np.atleast_1d(frequency_hz).astype(float), t60_s)
    radius = enough(t60.max()) if radius is None else radius
    away = [axis_images(size[a], source[a], radius + size[a])[0] - receiver[a] for a in range(3)]
    flat = np.add.outer(away[1] ** 2, away[2] ** 2).ravel()
    flat = flat[flat < radius**2]
    jk = (2j * np.pi * frequency + 3 * np.log(10) / t60) / speed
    total = np.zeros(frequency.shape, dtype=complex)
    for along in away[0]:
        r = np.sqrt(flat[flat < radius**2 - along**2] + along**2)
        fade = np.clip((radius - r) / (radius * (1 - FADED)), 0, 1)
        weight = np.sin(np.pi / 2 * fade) ** 2 / r
        for line, one in enumerate(jk):
            total[line] += weight @ np.exp(-one * r)
    return total
