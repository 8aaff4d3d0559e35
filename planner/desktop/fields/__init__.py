"""Input fields: each a window on one value of the plan, with its unit in the box and its fault beside it."""

from planner.desktop.fields.choice import Choice, ChoiceField
from planner.desktop.fields.form import AccessKeys, Form, Hint, label_for
from planner.desktop.fields.marks import MarkButton
from planner.desktop.fields.note import Note
from planner.desktop.fields.number import NumberField
from planner.desktop.fields.place import Place
from planner.desktop.fields.reading import Reading
from planner.desktop.fields.scrub import ScrubLabel
from planner.desktop.fields.sketch import CurveSketch, Scale, Trace
from planner.desktop.fields.text import RemarkField, TextField

__all__ = [
    "AccessKeys",
    "Choice",
    "ChoiceField",
    "CurveSketch",
    "Form",
    "Hint",
    "MarkButton",
    "Note",
    "NumberField",
    "Place",
    "Reading",
    "RemarkField",
    "Scale",
    "ScrubLabel",
    "TextField",
    "Trace",
    "label_for",
]
