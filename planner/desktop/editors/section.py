"""One section of a loudspeaker: band, slopes, sensitivity, radiator, response, impedance of its own."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QCheckBox

from planner.desktop.document import PlanDocument
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.impedance import ImpedanceEditor, impedance_words
from planner.desktop.editors.limits import LimitsEditor, limits_words
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.response import ResponseEditor
from planner.desktop.editors.wires import WiresEditor
from planner.desktop.fields import ChoiceField, Form, NumberField, Place, TextField
from planner.desktop.fields.specs import inner_spec
from planner.plan import Plan, get, put
from planner.plan.edit import Path
from planner.plan.loudspeaker import Section
from planner.plan.reshape import move_edge, radiator_kind, rename_section, set_slope

__all__ = ["SectionEditor"]


class SectionEditor(Editor):
    """All about one section; which one, its place says."""

    def __init__(self, document: PlanDocument, candidate: Place, place: Place) -> None:
        super().__init__(document)
        self._place = place
        self.form = Form()
        self.name = self.keep(
            TextField(
                document,
                place.to("name"),
                self.tr("Name"),
                tip=self.tr(
                    "Name of the section; its amplifier and the stands that carry it follow when it changes"
                ),
                write=_rename,
            )
        )
        self.form.add(self.name)
        self._add_band()
        self._add_sensitivity()
        self._add_radiator()
        self.box.addWidget(self.form)
        self.box.addWidget(self.keep(Variant(document, self._kind, self._make_sizes)))
        self.box.addWidget(self.keep(WiresEditor(document, place, self.form.keys)))
        self._add_folds()

    def _add_band(self) -> None:
        document, place = self._document, self._place
        self.together = QCheckBox(self.form.keys.mark(self.tr("Shared edges move together")))
        self.together.setChecked(True)
        self.together.setToolTip(
            self.tr("An edge shared with a neighbour moves for both, so that no gap opens between them")
        )
        self.edges = {
            key: self.keep(NumberField(document, place.to(key), write=self._write_edge))
            for key in ("low_hz", "high_hz")
        }
        names = self.tr("Low slope"), self.tr("High slope")
        self.slopes = [
            self.keep(
                NumberField(
                    document,
                    place.to("slopes_db_per_octave", side),
                    spec=inner_spec(Section, "slopes_db_per_octave"),
                    unit="dB/octave",
                    name=name,
                    write=set_slope,
                )
            )
            for side, name in enumerate(names)
        ]
        for field in (self.edges["low_hz"], self.slopes[0], self.edges["high_hz"], self.slopes[1]):
            self.form.add(field)
        self.form.add_wide(self.together)

    def _write_edge(self, plan: Plan, path: Path, hertz: float) -> Plan:
        write = move_edge if self.together.isChecked() else put
        after = write(plan, path, hertz)
        assert isinstance(after, Plan)
        return after

    def _add_sensitivity(self) -> None:
        place = self._place.to("sensitivity")
        self.sensitivity = self.keep(NumberField(self._document, place.to("level_db")))
        self.form.add(self.sensitivity)
        drives = [("2.83 V", self.tr("2.83 V at 1 m")), ("1 W", self.tr("1 W at 1 m"))]
        tip = self.tr("What the level is stated for: 2.83 V, or 1 W in the nominal impedance")
        self.form.add(
            self.keep(ChoiceField(self._document, place.to("drive"), self.tr("Stated for"), drives, tip=tip))
        )

    def _add_radiator(self) -> None:
        kinds = [
            ("horn", self.tr("Horn")),
            ("diaphragm", self.tr("Diaphragm")),
            ("dipole", self.tr("Open baffle (dipole)")),
            ("omni", self.tr("All around")),
        ]
        field = ChoiceField(
            self._document,
            self._place.to("radiator"),
            self.tr("Radiator"),
            kinds,
            read=_radiator,
            write=radiator_kind,
        )
        self.form.add(self.keep(field))

    def _add_folds(self) -> None:
        response, impedance = self._place.to("response"), self._place.to("impedance")
        limits = self._place.to("limits")
        for fold in (
            Fold(
                self._document,
                self.tr("Response"),
                "section/response",
                self._response,
                [response],
                shut=True,
                level=2,
                summary=self._response_words,
            ),
            Fold(
                self._document,
                self.tr("Own impedance"),
                "section/impedance",
                self._impedance,
                [impedance],
                shut=True,
                level=2,
                summary=self._impedance_words,
            ),
            Fold(
                self._document,
                self.tr("Limits"),
                "section/limits",
                self._limits,
                [limits],
                shut=True,
                level=2,
                summary=self._limits_words,
            ),
        ):
            self.box.addWidget(self.keep(fold))

    def _response(self) -> Editor:
        return ResponseEditor(self._document, self._place.to("response"))

    def _impedance(self) -> Editor:
        return ImpedanceEditor(self._document, self._place.to("impedance"))

    def _limits(self) -> Editor:
        return LimitsEditor(self._document, self._place)

    def _limits_words(self) -> str:
        return limits_words(get(self._document.plan, self._place.path).limits)

    def _response_words(self) -> str:
        rows = get(self._document.plan, self._place.path).response
        return self.tr("flat") if rows is None else self.tr("{0} points").format(len(rows))

    def _impedance_words(self) -> str:
        impedance = get(self._document.plan, self._place.path).impedance
        return impedance_words(impedance) or self.tr("not given")

    def _kind(self) -> str:
        return _radiator(self._document.plan, self._place.to("radiator").path)

    def _make_sizes(self, kind: Any) -> Editor | None:
        sizes = {
            "horn": [
                ("horizontal_deg", None, self.tr("Horizontal")),
                ("vertical_deg", None, self.tr("Vertical")),
                ("mouth_width_m", "cm", self.tr("Mouth width")),
                ("mouth_height_m", "cm", self.tr("Mouth height")),
            ],
            "diaphragm": [("diameter_m", "cm", self.tr("Diameter")), ("count", None, self.tr("Drivers"))],
        }
        if kind not in sizes:
            return None
        editor, form = Editor(self._document), Form(keys=self.form.keys.beside())
        for key, unit, name in sizes[str(kind)]:
            place = self._place.to("radiator", key)
            form.add(editor.keep(NumberField(self._document, place, unit=unit, name=name)))
        editor.box.addWidget(form)
        return editor


def _rename(plan: Plan, path: Path, name: str) -> Plan:
    return rename_section(plan, int(path[1]), int(path[4]), name)


def _radiator(plan: Plan, path: Path) -> str:
    return str(get(plan, path).kind)
