"""Whether a widget that was closed is gone, with what it held."""

import gc
import weakref
from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QWidget

__all__ = ["is_freed"]


def is_freed(make: Callable[[], QWidget]) -> bool:
    """Make and show a widget, close it, and say whether nothing keeps it or what is inside it alive."""
    widget = make()
    widget.show()
    for _ in range(3):
        QCoreApplication.processEvents()
    inside = widget.findChildren(QWidget)
    gone = [weakref.ref(widget), *(weakref.ref(one) for one in inside)]
    widget.close()
    widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del inside, widget
    gc.collect()
    return all(reference() is None for reference in gone)
