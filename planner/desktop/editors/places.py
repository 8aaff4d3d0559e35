"""Places of its own for a candidate, where it does not stand on the stands of the plan."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.stands import StandsEditor
from planner.desktop.fields import ChoiceField, Form, Place
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.model import Stand
from planner.plan.reshape import own_stands
from planner.report.language import tr

__all__ = ["PlacesEditor", "places_words"]


class PlacesEditor(Editor):
    """The switch, and a card for each stand of its own."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._place = candidate.to("stands")
        kinds = [(False, self.tr("On the plan's stands")), (True, self.tr("In places of its own"))]
        tip = self.tr("A tall horn does not stand where a small box does; its own places begin as the plan's")
        form = Form()
        self.kind = self.keep(
            ChoiceField(document, self._place, self.tr("Stands"), kinds, tip=tip, read=_own, write=_with_own)
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._now, self._make)))

    def _now(self) -> bool:
        return _own(self._document.plan, self._place.path)

    def _make(self, own: Any) -> Editor | None:
        return StandsEditor(self._document, self._place) if own else None


def places_words(stands: tuple[Stand, ...] | None) -> str:
    """Where it stands, in short."""
    return tr("the plan's") if stands is None else ", ".join(stand.name for stand in stands)


def _own(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None


def _with_own(plan: Plan, path: Path, own: bool) -> Plan:
    return own_stands(plan, int(path[1]), own)
