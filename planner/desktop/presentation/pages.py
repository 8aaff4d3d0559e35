"""The questions of a presentation, in the order in which they are asked."""

from __future__ import annotations

from planner.desktop.presentation.loudness import Loudness
from planner.desktop.presentation.music import Music
from planner.desktop.presentation.page import Page
from planner.desktop.presentation.quiet import Quiet
from planner.desktop.presentation.safety import Safety
from planner.desktop.presentation.watts import Watts

__all__ = ["PAGES"]

PAGES: tuple[Page, ...] = (Loudness(), Music(), Watts(), Quiet(), Safety())
