"""One setting for all tests: no screen, no setting of the user's read or written, locale C."""

import atexit
import os
import shutil
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from planner.platform_check import apt_line, missing

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["PYQTGRAPH_QT_LIB"] = "PySide6"
os.environ["LC_ALL"] = "C.UTF-8"

HOME = Path(tempfile.mkdtemp(prefix="fewwatts-tests-"))
atexit.register(shutil.rmtree, HOME, ignore_errors=True)
for kind in ("CONFIG_HOME", "DATA_HOME", "CACHE_HOME", "STATE_HOME", "RUNTIME_DIR"):
    folder = HOME / kind.lower()
    folder.mkdir(mode=0o700)
    os.environ[f"XDG_{kind}"] = str(folder)
if sys.platform == "darwin":
    os.environ["HOME"] = str(HOME)

# What hypothesis keeps between runs lies outside the checkout, where the next run finds it.
EXAMPLES = Path(tempfile.gettempdir()) / "fewwatts-hypothesis"
os.environ.setdefault("HYPOTHESIS_STORAGE_DIRECTORY", str(EXAMPLES))
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True, max_examples=40)
settings.load_profile("ci" if os.environ.get("CI") else "here")


@pytest.hookimpl(tryfirst=True)
def pytest_configure() -> None:
    """Stop at once where Qt cannot load: a green run without the window would hide half the program."""
    if lacking := missing(need_window=False):
        libraries = ", ".join(soname for soname, _ in lacking)
        pytest.exit(f"Qt cannot load without {libraries}; install with: {apt_line(lacking)}", returncode=3)
