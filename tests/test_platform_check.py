"""What is found missing before Qt starts; package names are those of Debian 12 and its kin."""

import ctypes
import os
import socket
import sys

import pytest

from planner import platform_check

X11_PACKAGES = [package for _, package in platform_check.X11_LIBRARIES]
ANYTHING = ctypes.CDLL(None) if os.name == "posix" else None


class FakeXcb:
    """Stands in for libxcb: answers every connection with the same error code (0 is none)."""

    class _Function:
        def __init__(self, result):
            self.result = result

        def __call__(self, *args):
            return self.result

    def __init__(self, error_code):
        self.xcb_connect = self._Function(0x1000)
        self.xcb_connection_has_error = self._Function(error_code)
        self.xcb_disconnect = self._Function(None)


@pytest.fixture(autouse=True)
def linux_without_a_display(monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM", "XDG_RUNTIME_DIR"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def libraries(monkeypatch):
    """Lets a test say which files the loader does not find and what libxcb answers."""

    def arrange(absent=(), xcb=ANYTHING):
        def load(soname):
            if soname in absent:
                return None
            return xcb if soname == "libxcb.so.1" else ANYTHING

        monkeypatch.setattr(platform_check, "_library", load)

    arrange()
    return arrange


def names(pairs):
    return [package for _, package in pairs]


def test_that_nothing_is_missing_where_every_library_loads(libraries, monkeypatch):
    monkeypatch.setenv("DISPLAY", ":0")
    assert platform_check.missing(need_window=True) == []


def test_that_all_missing_base_libraries_are_named_at_once(libraries):
    libraries(absent=("libEGL.so.1", "libGL.so.1"))
    assert platform_check.missing(need_window=False) == [
        ("libEGL.so.1", "libegl1"),
        ("libGL.so.1", "libgl1"),
    ]


def test_that_window_libraries_count_only_when_a_window_is_wanted(libraries, monkeypatch):
    monkeypatch.setenv("DISPLAY", ":0")
    libraries(absent=[soname for soname, _ in platform_check.X11_LIBRARIES])
    assert platform_check.missing(need_window=False) == []
    assert names(platform_check.missing(need_window=True)) == X11_PACKAGES


def test_that_offscreen_needs_no_window_libraries(libraries, monkeypatch):
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    libraries(absent=[soname for soname, _ in platform_check.X11_LIBRARIES])
    assert platform_check.missing(need_window=True) == []


def test_that_a_wayland_session_falls_back_on_x11_before_it_asks_for_packages(libraries, monkeypatch):
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    monkeypatch.setenv("DISPLAY", ":0")
    libraries(absent=("libwayland-cursor.so.0",))
    assert platform_check.missing(need_window=True) == []
    libraries(absent=("libwayland-cursor.so.0", "libxcb-cursor.so.0"))
    assert names(platform_check.missing(need_window=True)) == ["libxcb-cursor0"]


def test_that_wayland_alone_asks_for_its_own_library(libraries, monkeypatch):
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    libraries(absent=("libwayland-cursor.so.0", "libxcb-cursor.so.0"))
    assert names(platform_check.missing(need_window=True)) == ["libwayland-cursor0"]


def test_that_a_file_no_loader_can_find_is_reported_by_the_real_loader(monkeypatch):
    absent = (("libno-such-thing-of-ours.so.7", "libno-such-thing7"),)
    monkeypatch.setattr(platform_check, "BASE_LIBRARIES", absent)
    assert platform_check.missing(need_window=False) == list(absent)


@pytest.mark.parametrize("system", ["darwin", "win32"])
def test_that_other_systems_lack_nothing_and_have_a_screen(libraries, monkeypatch, system):
    monkeypatch.setattr(sys, "platform", system)
    libraries(absent=("libEGL.so.1", "libxcb-cursor.so.0"))
    assert platform_check.missing(need_window=True) == []
    assert platform_check.display_state() == "ok"


def test_that_no_display_variable_means_no_screen(libraries):
    assert platform_check.display_state() == "none"


@pytest.mark.parametrize("platform", ["offscreen", "minimal", "vnc:port=5901", "xcb;offscreen"])
def test_that_a_platform_without_a_server_needs_no_display(libraries, monkeypatch, platform):
    monkeypatch.setenv("QT_QPA_PLATFORM", platform)
    assert platform_check.display_state() == "ok"


@pytest.mark.parametrize(
    ("error_code", "state"),
    [
        pytest.param(0, "ok", id="the server takes the connection"),
        pytest.param(1, "unreachable", id="XCB_CONN_ERROR of xcb.h: nobody listens there"),
    ],
)
def test_that_the_x_server_is_asked_before_qt_is(libraries, monkeypatch, error_code, state):
    monkeypatch.setenv("DISPLAY", ":7")
    libraries(xcb=FakeXcb(error_code))
    assert platform_check.display_state() == state


def test_that_a_missing_libxcb_is_left_to_the_list_of_packages(libraries, monkeypatch):
    monkeypatch.setenv("DISPLAY", ":7")
    libraries(absent=("libxcb.so.1", "libxcb-cursor.so.0"))
    assert platform_check.display_state() == "ok"
    assert names(platform_check.missing(need_window=True)) == ["libxcb-cursor0"]


def test_that_asking_for_x11_by_name_ignores_a_wayland_display(libraries, monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert platform_check.display_state() == "none"


@pytest.mark.skipif(not hasattr(socket, "AF_UNIX"), reason="Wayland needs Unix sockets")
def test_that_a_wayland_socket_counts_only_while_somebody_listens(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_RUNTIME_DIR", ".")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert platform_check.display_state() == "unreachable"
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as compositor:
        compositor.bind("wayland-0")
        compositor.listen(1)
        assert platform_check.display_state() == "ok"
    assert platform_check.display_state() == "unreachable"


@pytest.mark.parametrize(("user", "start"), [(0, "apt-get"), (1000, "sudo apt-get")])
@pytest.mark.skipif(os.name != "posix", reason="apt is met on Linux only")
def test_that_the_line_to_run_names_each_package_once(monkeypatch, user, start):
    monkeypatch.setattr(os, "geteuid", lambda: user)
    lacking = [("libEGL.so.1", "libegl1"), ("libGL.so.1", "libgl1"), ("libEGL.so.1", "libegl1")]
    assert platform_check.apt_line(lacking) == f"{start} update && {start} install -y libegl1 libgl1"
