"""What this program is, on what it stands, and under which licences."""

from __future__ import annotations

import platform
from importlib.metadata import PackageNotFoundError, version

from PySide6.QtCore import QCoreApplication, qVersion

from planner import __version__

__all__ = ["STANDS_ON", "about_heading", "about_text"]

STANDS_ON = {
    "PySide6-Essentials": "LGPL-3.0",
    "pyqtgraph": "MIT",
    "numpy": "BSD-3-Clause",
    "pint": "BSD-3-Clause",
    "pydantic": "MIT",
    "platformdirs": "MIT",
}
"""The libraries that the program loads, each with its licence."""


def about_heading() -> str:
    """Name and version."""
    return f"Few Watts {__version__}"


def about_text() -> str:
    """Versions and licences of everything that takes part, for reading and for reports of faults."""
    said = QCoreApplication.translate(
        "About",
        "Will this amplifier of a few watts drive this loudspeaker to the peaks this music needs, "
        "in this room, at this seat?\n\n"
        "Few Watts is under the MIT licence. It stands on these libraries; Qt and its Python binding are "
        "used as separate shared libraries that you may replace.",
    )
    rows = [f"{name} {_version(name)} ({licence})" for name, licence in STANDS_ON.items()]
    machine = [
        f"Qt {qVersion()} (LGPL-3.0)",
        f"Python {platform.python_version()} (PSF-2.0)",
        platform.platform(),
    ]
    return "\n".join([said, "", *rows, *machine])


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "?"
