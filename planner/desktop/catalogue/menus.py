"""The menus below the list: which part of the plan to keep, and which entries to export."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QWidget

from planner.desktop.catalogue.files import CatalogueFiles
from planner.desktop.catalogue.keep import KeepDialog, kept_of
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.catalogue.view import CatalogueView
from planner.desktop.catalogue.words import kind_title, kind_word
from planner.desktop.document import PlanDocument
from planner.plan.model import Candidate

__all__ = ["ExportMenu", "KeepMenu"]


class KeepMenu(QMenu):
    """Offers every part of the candidate looked at; ``kept`` brings the id of the entry made of one."""

    kept = Signal(str)

    def __init__(self, document: PlanDocument, parent: QWidget) -> None:
        super().__init__(parent)
        self._document, self._window = document, parent
        self.aboutToShow.connect(self.refresh)

    def refresh(self) -> None:
        """Offer what the candidate has now."""
        self.clear()
        for part in kept_of(self._candidate):
            name, word = part.name.replace("&", "&&"), kind_word(part.kind)
            action = self.addAction(f"{word[:1].upper()}{word[1:]}: {name}…", self._ask)
            action.setData(part)

    @property
    def _candidate(self) -> Candidate:
        return self._document.plan.candidates[self._document.candidate]

    def _ask(self) -> None:
        dialog = KeepDialog(self._candidate, self.sender().data(), self._window)
        dialog.kept.connect(self.kept)
        dialog.open()


class ExportMenu(QMenu):
    """Offers the entry chosen, all that are listed, and all of the user's own."""

    def __init__(self, view: CatalogueView, files: CatalogueFiles, parent: QWidget) -> None:
        super().__init__(parent)
        self._view, self._files = view, files
        self.one = self.addAction(self.tr("&This Entry…"), self._export_one)
        self.listed = self.addAction(self.tr("What Is &Listed…"), self._export_listed)
        self.own = self.addAction(self.tr("All of My &Own…"), self._export_own)
        self.aboutToShow.connect(self._refresh)

    def _refresh(self) -> None:
        self.one.setEnabled(self._view.entry is not None)
        self.listed.setEnabled(bool(self._view.listed))
        self.own.setEnabled(bool(catalogue_store().catalogue.own))

    def _export_one(self) -> None:
        if self._view.entry is not None:
            self._files.ask_export([self._view.entry], self._view.entry.id)

    def _export_listed(self) -> None:
        self._files.ask_export(self._view.listed, kind_title(self._view.kind).replace("&", "").lower())

    def _export_own(self) -> None:
        self._files.ask_export(catalogue_store().catalogue.own, self.tr("my catalogue"))
