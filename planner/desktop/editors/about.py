"""What the plan is called, and what is to be remembered of it."""

from __future__ import annotations

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Form, Place, RemarkField, TextField

__all__ = ["AboutEditor"]

LINES = 5


class AboutEditor(Editor):
    """Title and notes."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        form = Form()
        tip = self.tr("Title of the plan: it stands at the head of the window, of charts and of reports")
        form.add(self.keep(TextField(document, Place("title"), self.tr("Title"), tip=tip)))
        form.add(self.keep(RemarkField(document, Place("notes"), self.tr("Notes"), LINES)))
        self.box.addWidget(form)
