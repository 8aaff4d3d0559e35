"""What is drawn of a gain chain: its columns, from the source to full output, and their levels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.desktop.gain.chain import Chain, Missing, Station
from planner.desktop.gain.words import dbv_text, gain_text, in_dbv, station_word, volts_text
from planner.headroom.outcome import verdict_of
from planner.plan.amplifier import PhonoSource
from planner.plan.model import Candidate
from planner.report.language import tr

__all__ = ["Drawn", "Spot", "bare_chain", "drawn_chain", "link_keys", "wanted_words"]

LEAST_DB = 0.05
UNKNOWN = "?"


@dataclass(frozen=True, slots=True)
class Spot:
    """One column: its link, the words in its box, and the level behind it [dB] with its words below it.

    ``ceiling`` [dB] is what the level may reach at most, with the words above it. Without a place the
    link is drawn alone, with ``known`` false as one that the plan does not tell of.
    """

    key: str
    name: str
    gain: str = ""
    place: float | None = None
    figure: str = ""
    below: str = ""
    ceiling: float | None = None
    above: str = ""
    turned_db: float = 0.0
    known: bool = True

    @property
    def over(self) -> bool:
        """Whether the level lies above its ceiling."""
        return self.place is not None and self.ceiling is not None and self.place > self.ceiling


@dataclass(frozen=True, slots=True)
class Drawn:
    """All that is drawn: the columns, and the level with the volume control fully up.

    ``up`` are its two ends [dB], at the column ``up_from`` and at the amplifier; ``token`` colours what
    is to spare, and a ``note`` stands in place of the levels.
    """

    spots: tuple[Spot, ...] = ()
    up_from: int = 0
    up: tuple[float, float] | None = None
    up_words: str = ""
    token: str = "clears"
    note: str = ""


def drawn_chain(chain: Chain, candidate: Candidate) -> Drawn:
    """A chain that is known, with its levels."""
    volume_db = chain.whole.volume_db
    up_v = chain.amplifier.available_v
    ends = in_dbv(chain.whole.source_v), in_dbv(up_v)
    return Drawn(
        spots=(*(_spot(row, candidate) for row in chain.stations), _full_spot(chain)),
        up_from=[row.key for row in chain.stations].index("volume"),
        up=ends if volume_db < -LEAST_DB else None,
        up_words=tr("fully up {volts}", volts=volts_text(up_v)),
        token=verdict_of(chain.voltage_db),
    )


def bare_chain(candidate: Candidate, amplifier: int, missing: Missing) -> Drawn:
    """A chain of which the plan does not tell enough: its links alone, and what is wanted."""
    return Drawn(tuple(_bare_spots(candidate, amplifier, missing)), note=wanted_words(missing))


def link_keys(candidate: Candidate) -> tuple[str, ...]:
    """The links that a candidate has in any case."""
    source = candidate.source
    kinds = {None: ("source",), "line": ("line",), "phono": ("cartridge", "phono")}
    return (*kinds[None if source is None else source.kind], "volume", "amplifier", "full")


def wanted_words(missing: Missing) -> str:
    """What the plan must still give."""
    wanted = [tr("the source, by its volts or its cartridge")] if missing.source else []
    wanted += [tr("the gain of {name}", name=name) for name in missing.amplifiers]
    return tr("To draw the levels, give {wanted}.", wanted=tr(" and ").join(wanted))


def _spot(row: Station, candidate: Candidate) -> Spot:
    source = candidate.source
    most = source.phono_overload_v if row.key == "phono" and isinstance(source, PhonoSource) else None
    return Spot(
        key=row.key,
        name=station_word(row.key),
        gain="" if row.gain_db is None else gain_text(row.gain_db),
        place=row.level_dbv,
        figure=volts_text(row.level_v),
        below=dbv_text(row.level_dbv),
        ceiling=None if most is None else in_dbv(most),
        above="" if most is None else tr("overloads at {volts}", volts=volts_text(most)),
        turned_db=row.gain_db or 0.0,
    )


def _full_spot(chain: Chain) -> Spot:
    spare, full_v = chain.voltage_db, chain.amplifier.full_v
    return Spot(
        key="full",
        name=station_word("full"),
        place=in_dbv(full_v) - spare,
        figure=gain_text(spare),
        below=tr("to spare") if spare >= 0.0 else "",
        ceiling=in_dbv(full_v),
        above=volts_text(full_v),
    )


def _bare_spots(candidate: Candidate, amplifier: int, missing: Missing) -> Iterator[Spot]:
    gain_db = candidate.amplifiers[amplifier].gain_db
    for key in link_keys(candidate):
        known = {"source": not missing.source, "amplifier": gain_db is not None}.get(key, True)
        gain = "" if known else UNKNOWN
        if key == "amplifier" and gain_db is not None:
            gain = gain_text(gain_db)
        yield Spot(key, station_word(key), gain, known=known)
