"""The amplifiers of a candidate: one for the whole or one per section, each with its taps."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen

from planner.desktop.document import PlanDocument
from planner.desktop.editors.bulk import BulkEditor, bulk_words
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.gain import GainEditor, gain_words
from planner.desktop.editors.part import Editor, Rows
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.editors.taps import TapsEditor
from planner.desktop.fields import ChoiceField, Form, Hint, Note, NumberField, Place, TextField
from planner.desktop.theme import colours_of
from planner.headroom.drive import load_of, rating_in_use
from planner.plan import Plan, get
from planner.plan.amplifier import Amplifier
from planner.plan.edit import Path
from planner.plan.reshape import amplifier_per_section, one_amplifier
from planner.plan.units import show

__all__ = ["AmplifiersEditor"]

CARD_PX = 10
NO_BREAK = "\u00a0"


class AmplifiersEditor(Editor):
    """The switch between one and several, and a card for each."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        place = candidate.to("amplifiers")
        form = Form()
        kinds = [(False, self.tr("One for the whole")), (True, self.tr("One per section"))]
        tip = self.tr(
            "One per section: the crossover lies ahead of the amplifiers, each drives its section alone"
        )
        self.kind = self.keep(
            ChoiceField(
                document, place, self.tr("Driven by"), kinds, tip=tip, read=_per_section, write=_with_kind
            )
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(Note(place))
        self._place = place
        self.rows = self.keep(Rows(document, place, self._make))
        self.box.addWidget(self.rows)

    def _make(self, index: int) -> Editor:
        return AmplifierCard(self._document, self._place.to(index))


class AmplifierCard(Editor):
    """One amplifier: output, trim, taps, which tap is in use and why; gain, noise, mass and footprint."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(document)
        self.place = place
        self.box.setContentsMargins(CARD_PX, 8, 8, 8)
        self.box.addWidget(self.keep(TakeEditor(document, "amplifier", place)))
        form = Form(inset_px=CARD_PX)
        self.name = self.keep(TextField(document, place.to("name"), self.tr("Name")))
        form.add(self.name)
        self.drives = Hint()
        form.add_wide(self.drives)
        outputs = [("transformer", self.tr("Output transformer")), ("direct", self.tr("Direct output"))]
        tip = self.tr(
            "A transformer clips by the rating of the tap in use, a direct output by its largest ratings"
        )
        form.add(self.keep(ChoiceField(document, place.to("output"), self.tr("Output"), outputs, tip=tip)))
        form.add(self.keep(NumberField(document, place.to("trim_db"))))
        self.tap = self.keep(
            ChoiceField(
                document,
                place.to("tap_ohm"),
                self.tr("Tap in use"),
                self._taps(),
                tip=self.tr("By itself: the tap nearest to the nominal impedance of what it drives"),
            )
        )
        form.add(self.tap)
        self.why = Hint()
        form.add_wide(self.why)
        self.box.addWidget(form)
        self.box.addWidget(Note(place))
        self.taps = self.keep(TapsEditor(document, place))
        self.box.addWidget(self.taps)
        self._add_folds()
        self._tell()

    def _add_folds(self) -> None:
        place = self.place
        for title, key, make, covers, summary in (
            (
                self.tr("Gain and noise"),
                "gain",
                self._gain,
                ("gain_db", "overload", "residual"),
                self._gain_words,
            ),
            (
                self.tr("Mass and footprint"),
                "bulk",
                self._bulk,
                ("mass_kg", "footprint_m"),
                self._bulk_words,
            ),
        ):
            fold = Fold(
                self._document,
                title,
                f"amplifier/{key}",
                make,
                [place.to(name) for name in covers],
                shut=True,
                level=2,
                summary=summary,
            )
            self.box.addWidget(self.keep(fold))

    def _gain(self) -> Editor:
        return GainEditor(self._document, self.place, inset_px=CARD_PX)

    def _bulk(self) -> Editor:
        return BulkEditor(self._document, self.place, inset_px=CARD_PX)

    def _gain_words(self) -> str:
        return gain_words(self._amplifier())

    def _bulk_words(self) -> str:
        return bulk_words(self._amplifier())

    def pull(self) -> None:
        self.tap.offer(self._taps())
        super().pull()
        self._tell()

    def _amplifier(self) -> Amplifier:
        amplifier = get(self._document.plan, self.place.path)
        assert isinstance(amplifier, Amplifier)
        return amplifier

    def _taps(self) -> list[tuple[float | None, str]]:
        amplifier = self._amplifier()
        ohms = {tap.ohm for tap in amplifier.taps}
        if amplifier.tap_ohm is not None:
            ohms.add(amplifier.tap_ohm)
        return [(None, self.tr("By itself")), *((ohm, show(ohm, "ohm")) for ohm in sorted(ohms))]

    def _tell(self) -> None:
        amplifier = self._amplifier()
        whole = amplifier.drives == "all"
        self.drives.say("" if whole else self.tr("Drives {0}").format(amplifier.drives))
        self.why.say(self._reason(amplifier))

    def _reason(self, amplifier: Amplifier) -> str:
        plan, candidate = self._document.plan, self._document.plan.candidates[int(self.place.path[1])]
        try:
            nominal = load_of(candidate, amplifier).nominal_ohm
            rating = rating_in_use(amplifier, nominal, plan.at_distortion_pct)
        except (AssertionError, StopIteration, ValueError):
            return ""
        figures = {
            "tap": show(rating.ohm, "ohm"),
            "watts": show(rating.watts, "W"),
            "distortion": show(rating.distortion_pct, "%"),
            "nominal": show(nominal, "ohm"),
        }
        figures = {key: text.replace(" ", NO_BREAK) for key, text in figures.items()}
        if amplifier.tap_ohm is not None:
            return self.tr("Chosen: {tap}, for a load of {nominal} nominal; {watts} at {distortion}.").format(
                **figures
            )
        return self.tr("In use: {tap}, nearest to {nominal} nominal; {watts} at {distortion}.").format(
            **figures
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("rule"), 1.0))
            painter.setBrush(colours.pick("raised"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 5.0, 5.0)


def _per_section(plan: Plan, path: Path) -> bool:
    return all(amplifier.drives != "all" for amplifier in get(plan, path))


def _with_kind(plan: Plan, path: Path, per_section: bool) -> Plan:
    candidate = int(path[1])
    return amplifier_per_section(plan, candidate) if per_section else one_amplifier(plan, candidate)
