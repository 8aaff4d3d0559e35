"""The rules of the house: who may import whom, how long things may grow, what lies on top."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FILES = sorted((ROOT / "planner").rglob("*.py"))
FUNCTION = ast.FunctionDef | ast.AsyncFunctionDef
ROOMS = ("acoustics", "electrics", "programme", "measurements", "plan", "headroom", "report", "desktop")
TOOLKIT = {"PySide6", "shiboken6", "pyqtgraph"}
FLOOR = {"acoustics", "electrics"}
LEAVES = {"resources", "platform_check"}
GROUND = FLOOR | {"programme", "measurements"}
MAY_IMPORT = {
    "acoustics": set(),
    "electrics": set(),
    "programme": FLOOR,
    "measurements": FLOOR,
    "plan": GROUND,
    "headroom": GROUND | {"plan"},
    "report": GROUND | {"plan", "headroom"},
    "cli": GROUND | {"plan", "headroom", "report", "desktop", "launch"},
    "launch": GROUND | {"plan", "headroom", "report", "desktop"},
    "desktop": GROUND | {"plan", "headroom", "report"},
    "__main__": {"cli"},
    "planner": set(),
    "resources": set(),
    "platform_check": set(),
}
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "LICENSE",
    "planner",
    "tests",
    "resources",
    "demo_rooms",
}


def room_of(path: Path) -> str:
    """The part of the house a file belongs to: `acoustics`, `cli`, …; `planner` for the package itself."""
    first = path.relative_to(ROOT / "planner").parts[0].removesuffix(".py")
    return "planner" if first == "__init__" else first


def imported(tree: ast.AST, path: Path) -> Iterator[str]:
    """Every module that a piece of a file imports, at its head or inside a function, by full name."""
    package = path.relative_to(ROOT).parts[:-1]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*above, *([node.module] if node.module else [])])
            yield from (f"{module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            called = ast.unparse(node.func).rpartition(".")[2]
            if called in ("import_module", "__import__"):
                yield str(node.args[0].value)


def rooms_imported(tree: ast.AST, path: Path) -> set[str]:
    """The parts of the house that a piece of a file imports."""
    inside = (name.split(".") for name in imported(tree, path) if name.split(".")[0] == "planner")
    known = set(MAY_IMPORT)
    return {parts[1] if len(parts) > 1 and parts[1] in known else "planner" for parts in inside}


def libraries_imported(path: Path) -> set[str]:
    """What a file imports that is neither the standard library nor ours."""
    names = {name.split(".")[0] for name in imported(ast.parse(path.read_bytes()), path)}
    return names - sys.stdlib_module_names - {"planner"}


def runs_at_import(tree: ast.Module) -> ast.Module:
    """The tree without the bodies of its functions: what happens when the file is imported."""

    class Drop(ast.NodeTransformer):
        def visit_FunctionDef(self, node: FUNCTION) -> None:
            return None

        visit_AsyncFunctionDef = visit_FunctionDef

    return Drop().visit(tree)


def length(function: FUNCTION) -> int:
    """Lines of a function, its docstring not counted: a formula's says more than its code."""
    lines = (function.end_lineno or 0) - function.lineno + 1
    first = function.body[0]
    if ast.get_docstring(function) is not None:
        lines -= (first.end_lineno or 0) - first.lineno + 1
    return lines


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_that_every_file_stands_in_a_room_that_the_rules_know():
    assert {room_of(path) for path in FILES} <= set(MAY_IMPORT)
    assert {folder for folder in ROOMS if (ROOT / "planner" / folder).is_dir()} >= {"plan", "headroom"}


@pytest.mark.parametrize("path", FILES, ids=name)
def test_that_only_the_report_and_the_window_import_the_toolkit(path):
    if room_of(path) not in ("report", "desktop"):
        assert not libraries_imported(path) & TOOLKIT


@pytest.mark.parametrize("path", FILES, ids=name)
def test_that_imports_run_downward_only(path):
    room = room_of(path)
    leaves = set() if room in LEAVES | {"planner"} else LEAVES
    allowed = MAY_IMPORT[room] | leaves | {room, "planner"}
    assert rooms_imported(ast.parse(path.read_bytes()), path) <= allowed


@pytest.mark.parametrize("path", [path for path in FILES if room_of(path) in FLOOR], ids=name)
def test_that_formulas_need_numpy_and_nothing_else(path):
    assert libraries_imported(path) <= {"numpy"}


@pytest.mark.parametrize("file", ["cli.py", "launch.py"])
def test_that_the_command_line_fetches_window_and_report_only_inside_functions(file):
    path = ROOT / "planner" / file
    at_import = rooms_imported(runs_at_import(ast.parse(path.read_bytes())), path)
    assert not at_import & {"desktop", "report"}


def test_that_an_answer_is_computed_without_the_slow_libraries():
    code = "import planner.cli, planner.headroom, planner.plan, sys; print(*sys.modules)"
    command = [sys.executable, "-c", code]
    loaded = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert loaded.returncode == 0, loaded.stderr
    assert not {"PySide6", "shiboken6", "pyqtgraph", "pint", "scipy"} & set(loaded.stdout.split())


@pytest.mark.parametrize("path", FILES, ids=name)
def test_that_no_file_outgrows_400_lines_and_no_function_50(path):
    source = path.read_bytes()
    assert len(source.splitlines()) <= 400
    functions = [n for n in ast.walk(ast.parse(source)) if isinstance(n, FUNCTION)]
    assert [f"{f.name}: {length(f)} lines" for f in functions if length(f) > 50] == []


def git(*words: str) -> str | None:
    """What git answers about this checkout, or None where there is no git or no checkout."""
    try:
        return subprocess.run(["git", "-C", ROOT, *words], capture_output=True, text=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        return None


def test_that_the_top_of_the_checkout_shows_eight_things():
    top = git("rev-parse", "--show-toplevel")
    if top is None or Path(top.strip()).resolve() != ROOT.resolve():
        pytest.skip("not a git checkout")
    files = git("ls-files", "-z", "--cached", "--others", "--exclude-standard")
    assert files
    here = (path for path in files.split("\0") if path and (ROOT / path).exists())
    shown = {path.split("/")[0] for path in here}
    assert {entry for entry in shown if not entry.startswith(".")} == TOP
    assert "uv.lock" not in shown


@pytest.mark.parametrize(
    ("source", "found"),
    [
        pytest.param("import PySide6.QtCore", "PySide6.QtCore", id="at the head"),
        pytest.param("def f():\n    from PySide6 import QtGui", "PySide6.QtGui", id="inside a function"),
        pytest.param("import importlib\nimportlib.import_module('PySide6')", "PySide6", id="by its name"),
        pytest.param("from . import levels", "planner.acoustics.levels", id="from beside it"),
        pytest.param("from ..plan import load", "planner.plan.load", id="from the floor above"),
    ],
)
def test_that_no_way_of_importing_slips_past_these_rules(source, found):
    path = ROOT / "planner" / "acoustics" / "sample.py"
    assert found in imported(ast.parse(source), path)


def test_that_a_long_docstring_does_not_make_a_function_long():
    source = 'def f():\n    """One.\n\n    Two.\n    """\n    return 1\n'
    assert length(ast.parse(source).body[0]) == 2
