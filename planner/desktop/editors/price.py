"""The price of a candidate, for the designer alone unless somebody asks to show it."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import Form, Hint, NumberField, Place, TextField
from planner.desktop.settings import settings
from planner.plan import Plan, get, put
from planner.plan.edit import Path
from planner.plan.fields import spec_of
from planner.plan.model import Price
from planner.plan.reshape import set_price
from planner.plan.units import Preference
from planner.report.language import tr

__all__ = ["PriceEditor", "price_words"]

START = 1000.0


class PriceEditor(Editor):
    """The amount, and with one its currency."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._place = candidate.to("price")
        form = Form()
        self.amount = self.keep(
            NumberField(
                document,
                self._place.to("amount"),
                spec=spec_of(Price, "amount"),
                name=self.tr("Price"),
                read=_amount,
                write=_with_amount,
                optional=True,
                exact=True,
            )
        )
        self.amount.start, self.amount.placeholder = START, self.tr("none")
        form.add(self.amount)
        self.box.addWidget(form)
        self._keys = form.keys
        self.box.addWidget(self.keep(Variant(document, self._priced, self._make)))
        self.box.addWidget(Hint(self.tr("Kept in the plan, and shown nowhere else unless asked for.")))

    def _priced(self) -> bool:
        return get(self._document.plan, self._place.path) is not None

    def _make(self, priced: Any) -> Editor | None:
        if not priced:
            return None
        editor, form = Editor(self._document), Form(keys=self._keys.beside())
        tip = self.tr("Currency by its three letters, such as EUR, USD or GBP")
        place = self._place.to("currency")
        form.add(
            editor.keep(TextField(self._document, place, self.tr("Currency"), tip=tip, write=_with_currency))
        )
        editor.box.addWidget(form)
        return editor


def price_words(price: Price | None) -> str:
    """Whether there is one; the heading tells no more, as anyone may look at it."""
    return tr("none") if price is None else tr("given")


def _amount(plan: Plan, path: Path) -> float | None:
    price = get(plan, path[:-1])
    return None if price is None else float(price.amount)


def _with_amount(plan: Plan, path: Path, amount: float | None) -> Plan:
    currency = "USD" if settings().units is Preference.US else "EUR"
    return set_price(plan, int(path[1]), amount, currency)


def _with_currency(plan: Plan, path: Path, letters: str) -> Plan:
    after = put(plan, path, letters.upper())
    assert isinstance(after, Plan)
    return after
