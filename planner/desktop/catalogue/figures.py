"""The figures of an entry as names and texts, each with its unit, the ones to decide by first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planner.desktop.catalogue.words import size_text
from planner.desktop.charts.figures import frequency_text
from planner.headroom.catalogue_search import Found
from planner.headroom.drive import cable_ohm, impedance_at
from planner.headroom.scene import BAND_HZ
from planner.plan.amplifier import Amplifier, Cable, LineSource, PhonoSource, Rating, Residual
from planner.plan.catalogue import Entry
from planner.plan.fields import Octaves
from planner.plan.loudspeaker import (
    Diaphragm,
    Dipole,
    Horn,
    Impedance,
    Limits,
    Loudspeaker,
    Radiator,
    Section,
)
from planner.plan.room import OwnMaterial
from planner.plan.units import Preference, show
from planner.report.language import tr
from planner.report.words import watts_text

__all__ = ["absorption_at", "figures_of"]

Figure = tuple[str, str]
MOST_SHOWN_HZ = (10.0, 30_000.0)
"""Edges beyond these are beyond hearing, and so are none."""


def figures_of(found: Found, units: Preference) -> list[Figure]:
    """Names and texts of all that an entry says; what it does not say is left out."""
    entry: Entry = found.entry
    match entry.data:
        case Loudspeaker():
            figures = _loudspeaker(entry.data, found.sensitivity_db, units)
        case Amplifier():
            figures = _amplifier(entry.data, units)
        case Cable():
            figures = _cable(entry.data, units)
        case OwnMaterial():
            figures = _material(entry.data)
        case _:
            figures = _source(entry.data)
    made = entry.made.year
    return [*figures, *([(tr("Made"), f"{made}")] if made is not None else [])]


def absorption_at(material: OwnMaterial, hertz: Sequence[float]) -> list[float]:
    """Absorption at some frequencies [1]."""
    given = material.absorption
    values = given.at(np.array(hertz)) if isinstance(given, Octaves) else np.full(len(hertz), given)
    return [float(value) for value in values]


def _loudspeaker(
    loudspeaker: Loudspeaker, sensitivity_db: float | None, units: Preference
) -> Iterator[Figure]:
    if sensitivity_db is not None:
        yield tr("1 W at 1 m"), show(sensitivity_db, "dB")
    spaces = {"half_space": tr("half space"), "free_field": tr("free field")}
    yield tr("Stated into"), spaces[loudspeaker.radiates_into]
    yield tr("Driven by"), _driven_by(loudspeaker)
    if loudspeaker.impedance is not None:
        yield tr("Impedance"), _impedance_text(loudspeaker.impedance)
    width = loudspeaker.baffle_width_m
    yield tr("Baffle"), tr("flush in a wall") if width == "wall" else show(float(width), "m", units)
    yield from _body(loudspeaker.mass_kg, loudspeaker.footprint_m, units)
    for section in loudspeaker.sections:
        yield section.name, "\n".join(_section(section, units))


def _driven_by(loudspeaker: Loudspeaker) -> str:
    if loudspeaker.impedance is not None:
        return tr("one amplifier for the whole")
    return tr("an amplifier for each section")


def _impedance_text(impedance: Impedance) -> str:
    """The nominal value, and where a curve is known the lowest point of it."""
    nominal = show(impedance.nominal_ohm, "ohm")
    if impedance.table is None and impedance.driver is None:
        return nominal
    table_hz = [row[0] for row in impedance.table or ()]
    hertz = np.union1d(BAND_HZ, np.array(table_hz)) if table_hz else BAND_HZ
    ohm = np.abs(impedance_at(impedance, hertz))
    lowest = int(np.argmin(ohm))
    text = tr("{nominal} nominal, {lowest} at {hertz} the lowest")
    return text.format(
        nominal=nominal, lowest=show(float(ohm[lowest]), "ohm"), hertz=frequency_text(float(hertz[lowest]))
    )


def _section(section: Section, units: Preference) -> Iterator[str]:
    stated = section.sensitivity
    text = tr("{span}; {level} dB for {drive}")
    yield text.format(span=_span(section), level=f"{stated.level_db:g}", drive=stated.drive)
    yield _radiator(section, section.radiator, units)
    if section.impedance is not None:
        yield _impedance_text(section.impedance)
    if section.limits is not None:
        yield _limits(section.limits)


def _span(section: Section) -> str:
    low = section.low_hz if section.low_hz > MOST_SHOWN_HZ[0] else None
    high = section.high_hz if section.high_hz < MOST_SHOWN_HZ[1] else None
    if low is None and high is None:
        return tr("all audible frequencies")
    if low is None:
        return tr("up to {0}").format(frequency_text(high or 0.0))
    if high is None:
        return tr("from {0}").format(frequency_text(low))
    return tr("{0} to {1}").format(frequency_text(low), frequency_text(high))


def _radiator(section: Section, radiator: Radiator, units: Preference) -> str:
    match radiator:
        case Horn():
            mouth = size_text((radiator.mouth_width_m, radiator.mouth_height_m), units)
            text = tr("horn of {0}° × {1}°, mouth {2}")
            return text.format(f"{radiator.horizontal_deg:g}", f"{radiator.vertical_deg:g}", mouth)
        case Diaphragm():
            unit = "cm" if radiator.diameter_m >= 0.1 else "mm"
            across = show(radiator.diameter_m * (100.0 if unit == "cm" else 1000.0), unit, units)
            if radiator.count == 1:
                return tr("diaphragm of {0}").format(across)
            wired = {"series": tr("in series"), "parallel": tr("in parallel"), None: ""}[section.wiring]
            text = tr("{count} diaphragms of {across} {wired}")
            return text.format(count=radiator.count, across=across, wired=wired).rstrip()
        case Dipole():
            return tr("open baffle, a dipole")
        case _:
            return tr("sends alike in all directions")


def _limits(limits: Limits) -> str:
    said = [tr("{0} for hours").format(watts_text(limits.long_term_w))]
    if limits.peak_w is not None:
        said.append(tr("{0} in peaks").format(watts_text(limits.peak_w)))
    if limits.xmax_mm is not None:
        said.append(tr("±{0} of travel").format(show(limits.xmax_mm, "mm")))
    boxes = {
        "sealed": tr("sealed box"),
        "vented": tr("vented at {0} Hz").format(f"{limits.tuning_hz or 0.0:g}"),
        "horn": tr("horn-loaded"),
        "open": tr("open"),
    }
    if limits.box is not None:
        said.append(boxes[limits.box])
    return ", ".join(said)


def _amplifier(amplifier: Amplifier, units: Preference) -> Iterator[Figure]:
    for ohm in sorted({tap.ohm for tap in amplifier.taps}):
        ratings = [tap for tap in amplifier.taps if tap.ohm == ohm]
        yield tr("Into {0}").format(show(ohm, "ohm")), "\n".join(_ratings(ratings))
    outputs = {"transformer": tr("output transformer"), "direct": tr("direct output")}
    yield tr("Output stage"), outputs[amplifier.output]
    if amplifier.overload is not None:
        yield tr("Overload"), {"soft": tr("soft"), "hard": tr("hard")}[amplifier.overload]
    if amplifier.gain_db is not None:
        yield tr("Gain"), show(amplifier.gain_db, "dB")
    if amplifier.residual is not None:
        yield tr("Residual"), _residual(amplifier.residual)
    yield from _body(amplifier.mass_kg, amplifier.footprint_m, units)


def _ratings(ratings: Sequence[Rating]) -> Iterator[str]:
    """What one tap gives at each distortion, then its output impedance, or several where they differ."""
    for one in sorted(ratings, key=lambda tap: tap.distortion_pct):
        watts, distortion = watts_text(one.watts), show(one.distortion_pct, "%")
        yield tr("{0} at {1}").format(watts, distortion)
    output = " / ".join(dict.fromkeys(show(one.output_ohm, "ohm") for one in ratings))
    yield tr("output impedance {0}").format(output)


def _residual(residual: Residual) -> str:
    hum, hiss = show(residual.hum_mv, "mV"), show(residual.hiss_mv, "mV")
    weighted = tr("weighted A") if residual.weighting == "A" else tr("unweighted")
    text = tr("hum {hum} ({mains} Hz mains), hiss {hiss}, {weighted}")
    return text.format(hum=hum, mains=f"{residual.mains_hz:g}", hiss=hiss, weighted=weighted)


def _body(mass_kg: float | None, sides_m: tuple[float, float] | None, units: Preference) -> Iterator[Figure]:
    if mass_kg is not None:
        yield tr("Mass"), show(mass_kg, "kg", units)
    if sides_m is not None:
        yield tr("Width × depth"), size_text(sides_m, units)


def _cable(cable: Cable, units: Preference) -> Iterator[Figure]:
    if cable.gauge_awg is not None:
        yield tr("Gauge"), f"AWG {cable.gauge_awg}"
    if cable.area_mm2 is not None:
        yield tr("Conductor"), show(cable.area_mm2, "mm2")
    if cable.length_m is not None:
        yield tr("Length"), tr("{0} one way").format(show(cable.length_m, "m", units))
    yield tr("There and back"), show(cable_ohm(cable), "ohm")


def _source(source: LineSource | PhonoSource) -> Iterator[Figure]:
    if isinstance(source, LineSource):
        yield tr("Kind"), tr("line level")
        yield tr("Greatest output"), tr("{0} rms").format(show(source.volts, "V"))
        return
    yield tr("Kind"), tr("cartridge and phono stage")
    yield tr("Cartridge"), tr("{0} at 5 cm/s").format(show(source.cartridge_mv, "mV"))
    yield tr("Phono gain"), tr("{0} at 1 kHz").format(show(source.phono_gain_db, "dB"))
    if source.phono_noise_uv is not None:
        yield tr("Phono noise"), tr("{0} at its input").format(show(source.phono_noise_uv, "uV"))
    if source.phono_overload_v is not None:
        yield tr("Overload"), tr("{0} at its output").format(show(source.phono_overload_v, "V"))


def _material(material: OwnMaterial) -> Iterator[Figure]:
    given = material.absorption
    if not isinstance(given, Octaves):
        yield tr("Absorption"), tr("{0} at all frequencies").format(f"{given:g}")
        return
    for octave, value in given.items():
        yield f"{octave} Hz", f"{value:.2f}"
