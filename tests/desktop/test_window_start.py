"""The program from its start to its end, each in a process of its own as a person starts it."""

import json
import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from planner.plan import dumps, save

ROOT = Path(__file__).parents[2]
BEFORE = """
    import sys
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication, QLabel
    from planner.desktop import application
    from planner.desktop.window import windows as shelf
    from planner.desktop.window.dialogs import TextDialog

    def stand_in(document, parent):
        return QLabel("panel", parent)

    def look():
        try:
            {look}
        finally:
            for window in shelf.windows().all:
                window.document.history.setClean()
            QApplication.closeAllWindows()

    application.windows = shelf.windows
    app = application.Application(["fewwatts"])
    shelf.windows().panels = dict.fromkeys(shelf.windows().panels, stand_in)
    QTimer.singleShot(200, look)
    sys.exit(application.run({plan!r}))
"""


def run(tmp_path, look, plan=None):
    """Start the program, look at it once it stands there, and end it."""
    lines = textwrap.indent(textwrap.dedent(look).strip(), " " * 12).strip()
    code = textwrap.dedent(BEFORE.format(look=lines, plan=plan))
    environment = {
        **os.environ,
        **{f"XDG_{kind}_HOME": str(tmp_path / kind.lower()) for kind in ("CONFIG", "STATE", "CACHE")},
        "PYTHONPATH": str(ROOT),
    }
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
    )


def test_that_the_program_opens_a_finished_sample_room_and_says_where_to_start(tmp_path):
    look = """
    (window,) = shelf.windows().all
    print(window.document.plan.title)
    print(window.document.outcome.verdict, window.files.path, window.start_here.isVisible())
    """
    done = run(tmp_path, look)
    assert done.returncode == 0, done.stderr
    title, answer = done.stdout.splitlines()
    assert title.startswith("Map room")
    assert answer == "clears None True"


def test_that_the_greeting_stays_away_once_it_was_hidden(tmp_path):
    hide = "shelf.windows().all[0].start_here.hide_button.click()"
    look = "print(shelf.windows().all[0].start_here.isVisible())"
    assert run(tmp_path, hide).returncode == 0
    assert run(tmp_path, look).stdout == "False\n"


def test_that_the_program_opens_the_plan_it_is_given(tmp_path, sample_plan):
    file = tmp_path / "plan.json"
    save(sample_plan, file)
    look = """
    (window,) = shelf.windows().all
    print(window.document.plan.title, window.files.path)
    print(window.windowTitle(), window.start_here.isVisible())
    """
    done = run(tmp_path, look, str(file))
    assert done.stdout == f"Sample room {file}\nplan.json[*] — Few Watts False\n", done.stderr


def test_that_a_broken_plan_opens_the_sample_room_and_lists_every_fault(tmp_path, sample_plan):
    data = json.loads(dumps(sample_plan))
    data["seats"][0]["x_m"] = "here"
    data["target"] = {"peak_db": 500}
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(data))
    look = """
    (window,) = shelf.windows().all
    (dialog,) = window.findChildren(TextDialog)
    print(window.document.plan.title)
    print(dialog.heading.text(), dialog.text.toPlainText(), dialog.isVisible())
    """
    done = run(tmp_path, look, str(file))
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("Map room")
    for word in ("plan.json", "seats[0].x_m", "target.peak_db", "500", "True"):
        assert word in done.stdout


def test_that_a_file_handed_over_by_the_system_is_opened(tmp_path, sample_plan):
    file = tmp_path / "plan.json"
    save(sample_plan, file)
    look = f"""
    from PySide6.QtGui import QFileOpenEvent
    QApplication.sendEvent(app, QFileOpenEvent({str(file)!r}))
    print([window.document.plan.title for window in shelf.windows().all])
    """
    done = run(tmp_path, look)
    assert done.stdout == "['Sample room']\n", done.stderr


def test_that_the_theme_is_worn_at_once_and_changes_with_the_preference(tmp_path):
    look = """
    from planner.desktop.settings import settings
    from planner.desktop.theme import DARK, LIGHT, colours_of
    before = colours_of(app.palette()) is LIGHT
    settings().scheme = "dark"
    print(before, colours_of(app.palette()) is DARK)
    """
    assert run(tmp_path, look).stdout == "True True\n"


def test_that_an_exception_neither_ends_the_program_nor_stays_unseen(tmp_path):
    look = """
    from PySide6.QtCore import QTimer
    class Clumsy:
        def stumble(self):
            raise ValueError("a box with no corners")
    clumsy = Clumsy()
    QTimer.singleShot(0, clumsy.stumble)
    app.processEvents()
    print(shelf.windows().all[0].trouble.message.text())
    """
    done = run(tmp_path, look)
    assert done.returncode == 0
    assert "a box with no corners" in done.stdout
    assert "a box with no corners" in done.stderr
    assert "in stumble" in (tmp_path / "state" / "fewwatts" / "fewwatts.log").read_text()


# The charts' library takes 0.36 s to load and pint 0.29 s (measured): both come after the first paint.
def test_that_nothing_slow_is_loaded_before_the_first_paint(tmp_path, sample_plan):
    code = """
        import sys
        from PySide6.QtWidgets import QLabel
        from planner.desktop.application import Application, Program
        from planner.desktop.window.windows import windows

        app = Application(["fewwatts"])
        editors = windows().panels["editors"]
        windows().panels = dict.fromkeys(windows().panels, lambda document, parent: QLabel("", parent))
        windows().panels["editors"] = editors
        Program(app).begin(None)
        print(*sys.modules)
    """
    environment = {**os.environ, "XDG_CONFIG_HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    loaded = set(done.stdout.split())
    assert {"planner.desktop.window.main", "planner.desktop.editors.room"} <= loaded
    assert not {"pyqtgraph", "pint", "scipy", "soundfile"} & loaded


@pytest.mark.parametrize("times", [2])
def test_that_opening_and_closing_windows_ends_cleanly(tmp_path, sample_plan, times):
    files = [tmp_path / f"plan{number}.json" for number in range(times)]
    for file in files:
        save(sample_plan, file)
    look = f"""
    window = shelf.windows().all[0]
    from pathlib import Path
    window.files.open_all([Path(name) for name in {[str(file) for file in files]!r}])
    print(len(shelf.windows().all))
    """
    done = run(tmp_path, look)
    assert (done.returncode, done.stdout) == (0, f"{times}\n"), done.stderr
