"""Docstrings of the formulas: arguments named as in the signature, units that exist, examples that run."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pint
import pytest

from planner import acoustics, electrics, programme, resources

UNITS = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def modules_of(*packages):
    for package in packages:
        for module in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
            yield importlib.import_module(module.name)


FORMULA_MODULES = list(modules_of(acoustics, electrics))
FORMULAS = [
    pytest.param(getattr(module, name), id=f"{module.__name__}.{name}")
    for module in FORMULA_MODULES
    for name in module.__all__
    if inspect.isfunction(getattr(module, name))
]


def section(docstring, title):
    """Entries under a heading: the name line and all of its description."""
    found = re.search(rf"^{title}\n-+\n(.*?)(?=^\w[^\n]*\n-+\n|\Z)", docstring, flags=re.M | re.S)
    lines = found.group(1).rstrip() if found else ""
    return [entry.strip() for entry in re.split(r"\n(?=\S)", lines) if entry.strip()]


def unit_of(entry):
    """The last bracket, without its reference."""
    brackets = re.findall(r"\[([^\[\]]+)\]", entry)
    assert brackets, f"no unit in brackets: {entry}"
    return re.split(r"\s+re\s+", " ".join(brackets[-1].split()))[0]


def test_that_there_are_formulas_to_check():
    assert len(FORMULAS) >= 40


@pytest.mark.parametrize("formula", FORMULAS)
def test_that_documented_arguments_are_those_of_the_signature(formula):
    documented = [
        entry.split("\n")[0].partition(" : ")[0] for entry in section(inspect.getdoc(formula), "Parameters")
    ]
    assert documented == list(inspect.signature(formula).parameters)


@pytest.mark.parametrize("formula", FORMULAS)
def test_that_every_entry_ends_in_a_unit_that_exists(formula):
    docstring = inspect.getdoc(formula)
    returned = section(docstring, "Returns")
    assert returned, "nothing said about what is returned"
    for entry in section(docstring, "Parameters") + returned:
        UNITS.parse_units(unit_of(entry))


@pytest.mark.parametrize("formula", FORMULAS)
def test_that_every_formula_has_a_worked_example(formula):
    assert ">>>" in inspect.getdoc(formula)


@pytest.mark.parametrize("formula", FORMULAS)
def test_that_every_formula_names_its_source(formula):
    assert section(inspect.getdoc(formula), "References")


@pytest.mark.parametrize(
    "module", [*modules_of(acoustics, electrics, programme), resources], ids=lambda module: module.__name__
)
def test_that_worked_examples_come_out(module):
    outcome = doctest.testmod(module, optionflags=doctest.NORMALIZE_WHITESPACE)
    functions = [name for name in module.__all__ if inspect.isfunction(getattr(module, name))]
    assert outcome.failed == 0
    assert outcome.attempted >= len(functions) or module is resources
