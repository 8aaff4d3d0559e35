"""The strip that says that what is seen is a preview, and lets a person keep it or go back."""

from __future__ import annotations

from PySide6.QtWidgets import QStyle, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.window.notices import Notice

__all__ = ["PreviewStrip"]


class PreviewStrip(Notice):
    """Stands by the verdict while another plan is previewed; hidden else."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(QStyle.StandardPixmap.SP_MessageBoxInformation, parent)
        self._document = document
        self.setAccessibleName(self.tr("Preview"))
        self.keep_button = self.offer(
            self.tr("&Keep It"),
            self.tr("Put the change into the plan; Undo takes it back"),
            self._keep,
        )
        self.back_button = self.offer(self.tr("&Go Back"), self.tr("Show the plan as it is"), self._go_back)
        document.solved.connect(self._refresh)
        document.edited.connect(self._refresh)
        self._refresh()

    def _refresh(self) -> None:
        if self._document.previewed is None:
            self.hide()
        else:
            text = self.tr("Preview. {change}. The plan itself is unchanged.")
            self.say(text.format(change=self._document.preview_text))

    def _keep(self) -> None:
        self._document.keep_preview()

    def _go_back(self) -> None:
        self._document.preview(None)
