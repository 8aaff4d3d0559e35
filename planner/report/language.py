"""The language that words are shown in: English unless the window installs a translator."""

from __future__ import annotations

from collections.abc import Callable

__all__ = ["install", "tr"]

_in_use: dict[str, Callable[[str], str]] = {"translate": str}


def install(translate: Callable[[str], str]) -> None:
    """Let *translate* turn English texts into those of another language from now on."""
    _in_use["translate"] = translate


def tr(text: str, **values: object) -> str:
    """The text in the language in use, with *values* put into its braces."""
    translated = _in_use["translate"](text)
    return translated.format(**values) if values else translated
