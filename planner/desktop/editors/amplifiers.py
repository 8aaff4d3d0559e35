"""The amplifiers of a candidate: one for the whole or one per section, each with its taps."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Rows, row_of
from planner.desktop.fields import ChoiceField, Form, Hint, MarkButton, Note, NumberField, Place, TextField
from planner.desktop.theme import colours_of
from planner.headroom.drive import load_of, rating_in_use
from planner.plan import Plan, get
from planner.plan.amplifier import Amplifier
from planner.plan.edit import Path
from planner.plan.reshape import add_tap, amplifier_per_section, one_amplifier, remove_tap
from planner.plan.units import show

__all__ = ["AmplifiersEditor"]

CARD_PX = 10
NO_BREAK = "\u00a0"
COLUMNS = ("ohm", "watts", "distortion_pct", "output_ohm")


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
    """One amplifier: output, trim, taps, and which tap is in use and why."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(document)
        self.place = place
        self.box.setContentsMargins(CARD_PX, 8, 8, 8)
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
        self._tell()

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


class TapsEditor(Editor):
    """Ratings as rows: load, watts, distortion, output impedance."""

    def __init__(self, document: PlanDocument, amplifier: Place) -> None:
        super().__init__(document)
        self._amplifier = amplifier
        heads = self.tr("Load"), self.tr("Power"), self.tr("Distortion"), self.tr("Output")
        self.box.setSpacing(3)
        line = row_of(*(Hint(head) for head in heads))
        for number in range(len(heads)):
            line.setStretch(number, 1)
        line.addSpacing(MarkButton("remove", "").sizeHint().width())
        self.box.addLayout(line)
        self.rows = self.keep(Rows(document, amplifier.to("taps"), self._make))
        self.rows.box.setSpacing(3)
        self.box.addWidget(self.rows)
        self.add = QPushButton(self.tr("Add ra&ting"))
        self.add.setToolTip(self.tr("The same load again is the same tap at another distortion"))
        self.add.clicked.connect(self._add)
        self.box.addWidget(self.add)

    def _make(self, index: int) -> Editor:
        return TapRow(self._document, self._amplifier, index)

    def _add(self) -> None:
        self.change(add_tap(self._document.plan, self._amplifier.path), self.tr("Add rating"))


class TapRow(Editor):
    """One rating."""

    def __init__(self, document: PlanDocument, amplifier: Place, index: int) -> None:
        super().__init__(document)
        self._amplifier, self._index = amplifier, index
        self.box.setSpacing(2)
        place = amplifier.to("taps", index)
        self.fields = [self.keep(NumberField(document, place.to(key), plain=True)) for key in COLUMNS]
        self.remove = MarkButton("remove", self.tr("Take this rating away"))
        self.remove.clicked.connect(self._remove)
        line = row_of(*self.fields, self.remove)
        line.setSpacing(4)
        for number in range(len(self.fields)):
            line.setStretch(number, 1)
        self.box.addLayout(line)
        note = Note(place)
        note.watch(*self.fields)
        self.box.addWidget(note)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.remove.setEnabled(len(get(self._document.plan, self._amplifier.path).taps) > 1)

    def _remove(self) -> None:
        after = remove_tap(self._document.plan, self._amplifier.path, self._index)
        self.change(after, self.tr("Take a rating away"))


def _per_section(plan: Plan, path: Path) -> bool:
    return all(amplifier.drives != "all" for amplifier in get(plan, path))


def _with_kind(plan: Plan, path: Path, per_section: bool) -> Plan:
    candidate = int(path[1])
    return amplifier_per_section(plan, candidate) if per_section else one_amplifier(plan, candidate)
