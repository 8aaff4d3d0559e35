"""The catalogue in the window: to search, to put into the plan, to keep from it, to exchange."""

from planner.desktop.catalogue.chooser import CatalogueChooser
from planner.desktop.catalogue.dialog import CatalogueDialog

__all__ = ["CatalogueChooser", "CatalogueDialog"]
