"""What this machine lacks for a window, found out before Qt is started.

Without a display, or with a library missing, Qt aborts the whole process, which no
Python code can catch; so ask here first. Only Linux needs these questions: the Qt wheels
for macOS and Windows bring all they load.
"""

import ctypes
import os
import socket
import sys
from pathlib import Path
from typing import Literal

__all__ = ["DisplayState", "apt_line", "display_state", "missing"]

DisplayState = Literal["ok", "none", "unreachable"]

BASE_LIBRARIES = (
    ("libglib-2.0.so.0", "libglib2.0-0"),
    ("libEGL.so.1", "libegl1"),
    ("libGL.so.1", "libgl1"),
    ("libxkbcommon.so.0", "libxkbcommon0"),
    ("libdbus-1.so.3", "libdbus-1-3"),
    ("libfontconfig.so.1", "libfontconfig1"),
)
X11_LIBRARIES = (
    ("libxcb-cursor.so.0", "libxcb-cursor0"),
    ("libxcb-icccm.so.4", "libxcb-icccm4"),
    ("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    ("libxcb-shape.so.0", "libxcb-shape0"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
)
WAYLAND_LIBRARIES = (("libwayland-cursor.so.0", "libwayland-cursor0"),)


def missing(need_window: bool) -> list[tuple[str, str]]:
    """The libraries Qt would not find here, as pairs of file name and Debian package.

    With `need_window` those that a window needs count too, on X11 or Wayland as this
    session has it.
    """
    if sys.platform != "linux":
        return []
    return _absent(BASE_LIBRARIES + (_window_libraries() if need_window else ()))


def apt_line(lacking: list[tuple[str, str]]) -> str:
    """The one line that installs what `missing` found, on Debian or Ubuntu.

    >>> apt_line([("libEGL.so.1", "libegl1"), ("libGL.so.1", "libgl1")]).replace("sudo ", "")
    'apt-get update && apt-get install -y libegl1 libgl1'
    """
    apt_get = "apt-get" if os.name == "posix" and os.geteuid() == 0 else "sudo apt-get"
    packages = " ".join(dict.fromkeys(package for _, package in lacking))
    return f"{apt_get} update && {apt_get} install -y {packages}"


def display_state() -> DisplayState:
    """Whether a window can be shown: "ok", "none" (no display named), or "unreachable".

    A Qt platform that needs no display server (offscreen, minimal, …) counts as "ok".
    """
    chosen = _chosen_platforms()
    if sys.platform != "linux" or any(not _needs_server(name) for name in chosen):
        return "ok"
    checks = []
    if os.environ.get("WAYLAND_DISPLAY") and _may_use("wayland", chosen):
        checks.append(_wayland_answers)
    if os.environ.get("DISPLAY") and _may_use("xcb", chosen):
        checks.append(_x11_answers)
    if not checks:
        return "none"
    return "ok" if any(check() for check in checks) else "unreachable"


def _chosen_platforms() -> list[str]:
    """The Qt platforms that the user asks for, in order; empty leaves the choice to Qt."""
    wish = os.environ.get("QT_QPA_PLATFORM", "")
    return [name for part in wish.split(";") if (name := part.partition(":")[0].strip())]


def _needs_server(platform: str) -> bool:
    return platform == "xcb" or platform.startswith("wayland")


def _may_use(kind: str, chosen: list[str]) -> bool:
    return not chosen or any(name.startswith(kind) for name in chosen)


def _window_libraries() -> tuple[tuple[str, str], ...]:
    """What a window needs in this session; X11 is what Wayland falls back on."""
    chosen = _chosen_platforms()
    wayland = bool(os.environ.get("WAYLAND_DISPLAY")) and _may_use("wayland", chosen)
    if wayland and not _absent(WAYLAND_LIBRARIES):
        return ()
    if os.environ.get("DISPLAY") and _may_use("xcb", chosen):
        return X11_LIBRARIES
    return WAYLAND_LIBRARIES if wayland else ()


def _absent(libraries: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    return [(soname, package) for soname, package in libraries if _library(soname) is None]


def _library(soname: str) -> ctypes.CDLL | None:
    try:
        return ctypes.CDLL(soname)
    except OSError:
        return None


def _x11_answers() -> bool:
    """Whether an X server takes a connection at DISPLAY, asked as Qt itself would."""
    xcb = _library("libxcb.so.1")
    if xcb is None:
        return True  # nothing to ask with: `missing` names the packages that bring it
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(None, None)
    try:
        return bool(xcb.xcb_connection_has_error(connection) == 0)
    finally:
        xcb.xcb_disconnect(connection)


def _wayland_answers() -> bool:
    """Whether a Wayland compositor listens at WAYLAND_DISPLAY."""
    address = Path(os.environ.get("XDG_RUNTIME_DIR", "")) / os.environ["WAYLAND_DISPLAY"]
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as probe:
        try:
            probe.connect(str(address))
        except OSError:
            return False
    return True
