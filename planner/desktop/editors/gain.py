"""Gain of an amplifier, how it overloads, and the noise that it makes with nothing playing."""

from __future__ import annotations

from math import sqrt
from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import Choice, ChoiceField, Form, Hint, NumberField, Place
from planner.desktop.settings import settings
from planner.headroom.drive import clip_of, load_of, rating_in_use
from planner.plan import Plan, get
from planner.plan.amplifier import Amplifier
from planner.plan.edit import Path
from planner.plan.reshape import residual_stated
from planner.plan.units import Preference, show
from planner.report.language import tr

__all__ = ["GainEditor", "gain_words"]

START_DB = 20.0
MAINS_HZ = (50.0, 60.0)


class GainEditor(Editor):
    """Gain and overload above, residual noise below."""

    def __init__(self, document: PlanDocument, amplifier: Place, *, inset_px: int = 0) -> None:
        super().__init__(document)
        self._place, self._inset_px = amplifier, inset_px
        form = Form(inset_px=inset_px)
        gain = self.keep(NumberField(document, amplifier.to("gain_db"), optional=True))
        gain.start, gain.placeholder = START_DB, self.tr("not known")
        form.add(gain)
        self.hint = Hint()
        form.add_wide(self.hint)
        self._add_overload(form)
        self._add_residual(form)
        self.box.addWidget(form)
        self._keys = form.keys
        self.box.addWidget(self.keep(Variant(document, self._noisy, self._make)))
        self._tell()

    def _add_overload(self, form: Form) -> None:
        kinds: list[Choice] = [
            (None, self.tr("Not known")),
            ("soft", self.tr("Soft")),
            ("hard", self.tr("Hard")),
        ]
        tip = self.tr("Soft: peaks are rounded before they are cut. Hard: they are cut at once")
        place = self._place.to("overload")
        form.add(self.keep(ChoiceField(self._document, place, self.tr("Overload"), kinds, tip=tip)))

    def _add_residual(self, form: Form) -> None:
        kinds = [(False, self.tr("Not known")), (True, self.tr("Hum and hiss"))]
        tip = self.tr("What it puts out with nothing playing; an efficient loudspeaker makes it heard")
        self.residual = self.keep(
            ChoiceField(
                self._document,
                self._place.to("residual"),
                self.tr("Residual noise"),
                kinds,
                tip=tip,
                read=_stated,
                write=_with_residual,
            )
        )
        form.add(self.residual)

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _noisy(self) -> bool:
        return _stated(self._document.plan, self._place.to("residual").path)

    def _make(self, noisy: Any) -> Editor | None:
        if not noisy:
            return None
        form = Form(keys=self._keys.beside(), inset_px=self._inset_px)
        return ResidualEditor(self._document, self._place.to("residual"), form)

    def _tell(self) -> None:
        plan, path = self._document.plan, self._place.path
        volts = _input_volts(plan, int(path[1]), get(plan, path))
        self.hint.say("" if volts is None else self.tr("Full output for {0} at the input.").format(volts))


class ResidualEditor(Editor):
    """Hum at the harmonics of the mains, hiss, and how the two were weighted."""

    def __init__(self, document: PlanDocument, place: Place, form: Form) -> None:
        super().__init__(document)
        self._place = place
        self.mains = self.keep(
            ChoiceField(
                document,
                place.to("mains_hz"),
                self.tr("Mains"),
                self._frequencies(),
                tip=self.tr("Hum is its first three harmonics"),
            )
        )
        weightings = [("Z", self.tr("Unweighted")), ("A", self.tr("A-weighted"))]
        tip = self.tr("How hum and hiss were measured")
        for field in (
            self.keep(NumberField(document, place.to("hum_mv"))),
            self.mains,
            self.keep(NumberField(document, place.to("hiss_mv"))),
            self.keep(
                ChoiceField(document, place.to("weighting"), self.tr("Weighting"), weightings, tip=tip)
            ),
        ):
            form.add(field)
        self.box.addWidget(form)

    def pull(self) -> None:
        self.mains.offer(self._frequencies())
        super().pull()

    def _frequencies(self) -> list[Choice]:
        residual = get(self._document.plan, self._place.path)
        known = set(MAINS_HZ) if residual is None else {*MAINS_HZ, residual.mains_hz}
        return [(hertz, show(hertz, "Hz")) for hertz in sorted(known)]


def gain_words(amplifier: Amplifier) -> str:
    """What is known, in short."""
    told = [] if amplifier.gain_db is None else [show(amplifier.gain_db, "dB")]
    if amplifier.residual is not None:
        told.append(tr("hum and hiss known"))
    return ", ".join(told) or tr("not known")


def _input_volts(plan: Plan, candidate: int, amplifier: Amplifier) -> str | None:
    """The rms at the input that makes full output, in words; None while that is not known."""
    if amplifier.gain_db is None:
        return None
    try:
        nominal_ohm = load_of(plan.candidates[candidate], amplifier).nominal_ohm
        rating = rating_in_use(amplifier, nominal_ohm, plan.at_distortion_pct)
    except (AssertionError, StopIteration, ValueError):
        return None
    peak_v, _ = clip_of(amplifier, rating, plan.at_distortion_pct)
    return show(peak_v / sqrt(2.0) * 10.0 ** (-amplifier.gain_db / 20.0), "V")


def _stated(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None


def _with_residual(plan: Plan, path: Path, wanted: bool) -> Plan:
    us = settings().units is Preference.US
    return residual_stated(plan, path, wanted, MAINS_HZ[us])
