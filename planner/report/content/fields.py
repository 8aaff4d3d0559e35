"""Inputs as names and texts: every value of a part of the plan, with its unit, in the order of the model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.plan.fields import Octaves, Part, spec_of
from planner.plan.units import Preference, display_unit
from planner.report.content.blocks import Column, Table
from planner.report.content.measures import in_both, plain
from planner.report.language import tr

__all__ = ["curve_text", "curves_of", "fields_of", "octaves_text", "side_by_side", "value_text"]

MOST_POINTS = 48
MOST_BESIDE = 4
LEFT_OUT = {"name", "catalogue_id", "note", "digest", "distribution", "timeline"}
SEVERAL = {"slopes_db_per_octave": "dB/octave", "footprint_m": "m"}
"""Fields of a few numbers that are written one after the other, with their unit."""
LABELS = {
    "horizontal_deg": "Coverage, horizontal",
    "vertical_deg": "Coverage, vertical",
    "mouth_width_m": "Mouth, width",
    "mouth_height_m": "Mouth, height",
    "Programme.kind": "Kind",
    "LineSource.kind": "Source",
    "PhonoSource.kind": "Source",
    "kind": "Radiator",
    "nc": "Room noise, NC",
    "drive": "Sensitivity is for",
    "radiates_into": "Sensitivity is stated into",
    "baffle_width_m": "Baffle width",
    "wiring": "Wiring",
    "box": "Box",
    "drives": "Drives",
    "output": "Output stage",
    "overload": "Overload",
    "weighting": "Weighting of hum and hiss",
    "slopes_db_per_octave": "Slopes, low and high edge",
    "footprint_m": "Footprint",
    "file": "Recording",
}
WORDS = {
    "half_space": "half space",
    "free_field": "free field",
    "wall": "flush in a wall",
    "diaphragm": "diaphragm",
    "all": "the whole loudspeaker",
    "simulated": "simulated programme (IEC 60268-1)",
    "pink": "pink noise",
    "recording": "a recording",
}


def fields_of(part: Part, preference: Preference) -> Iterator[tuple[str, str]]:
    """Name and text of every single value, parts within parts included; lists of parts and curves are not."""
    for key in type(part).model_fields:
        value = getattr(part, key)
        if value is None or key in LEFT_OUT:
            continue
        if isinstance(value, Part):
            yield from fields_of(value, preference)
        elif isinstance(value, Octaves):
            yield _label(part, key), octaves_text(value)
        elif isinstance(value, tuple):
            if key in SEVERAL:
                yield _label(part, key), _several(value, SEVERAL[key], preference)
        else:
            yield _label(part, key), value_text(part, key, preference)


def _label(part: Part, key: str) -> str:
    for name in (f"{type(part).__name__}.{key}", key):
        if name in LABELS:
            return tr(LABELS[name])
    try:
        return tr(spec_of(part, key).label)
    except KeyError:
        return key.replace("_", " ").capitalize()


def value_text(part: Part, key: str, preference: Preference) -> str:
    """One value with its unit, in US units too where they are asked for."""
    value = getattr(part, key)
    if isinstance(value, str):
        return tr(WORDS[value]) if value in WORDS else value
    unit = spec_of(part, key).unit
    return in_both(_with_unit(plain(float(value)), unit), float(value), unit, preference)


def _several(values: Sequence[float], unit: str, preference: Preference) -> str:
    if unit != "m":
        return _with_unit(", ".join(map(plain, values)), unit)
    texts = [in_both(_with_unit(plain(value), unit), value, unit, preference) for value in values]
    return " × ".join(texts)


def _with_unit(number: str, unit: str) -> str:
    label = display_unit(unit)
    return f"{number}{label}" if label == "°" else f"{number} {label}".rstrip()


def octaves_text(values: Octaves) -> str:
    """Values by octave in a line."""
    return "; ".join(f"{hertz} Hz: {plain(value)}" for hertz, value in values.items())


def curves_of(part: Part) -> Iterator[tuple[tuple[tuple[float, ...], ...], str]]:
    """Rows and key of every curve of a part, those of parts within it included."""
    for key in type(part).model_fields:
        value = getattr(part, key)
        if isinstance(value, Part):
            yield from curves_of(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], tuple):
            yield value, key


def curve_text(rows: Sequence[tuple[float, ...]], kind: str) -> str:
    """A curve point by point; a long one by its ends alone, and said so."""
    if len(rows) > MOST_POINTS:
        first, last = plain(rows[0][0]), plain(rows[-1][0])
        text = tr("{count} points from {first} to {last} Hz, as in the plan file")
        return text.format(count=len(rows), first=first, last=last)
    return "; ".join(f"{plain(row[0])} Hz: {_point(row[1:], kind)}" for row in rows)


def _point(values: Sequence[float], kind: str) -> str:
    if kind == "table":
        return f"{plain(values[0])} Ω {plain(values[1])}°"
    return f"{plain(values[0])} dB" if kind in ("response", "bands") else plain(values[0])


def side_by_side(
    parts: Sequence[tuple[str, Sequence[tuple[str, str]]]], most: int = MOST_BESIDE
) -> Iterator[Table]:
    """Parts as columns, all their values as rows; a dash where a part has none of a kind."""
    for start in range(0, len(parts), most):
        some = parts[start : start + most]
        labels = list(dict.fromkeys(label for _, values in some for label, _ in values))
        found = [dict(values) for _, values in some]
        columns = (Column("", side="left"), *(Column(name, side="left") for name, _ in some))
        yield Table(columns, tuple((label, *(one.get(label, "–") for one in found)) for label in labels))
