"""The answer as one JSON document: names and units are part of the program's outside face."""

from __future__ import annotations

from typing import Any

from planner.headroom.answer import Answer, SeatAnswer
from planner.headroom.outcome import AmplifierOutcome
from planner.headroom.ways import Way

__all__ = ["plan_document"]


def plan_document(file: str, title: str, answers: list[Answer]) -> dict[str, Any]:
    """One plan's part of ``check --json``."""
    return {"file": file, "title": title, "candidates": [_candidate(answer) for answer in answers]}


def _candidate(answer: Answer) -> dict[str, Any]:
    return {
        "name": answer.outcome.candidate,
        "verdict": answer.outcome.verdict,
        "seats": [_seat(seat) for seat in answer.seats],
    }


def _seat(answer: SeatAnswer) -> dict[str, Any]:
    seat = answer.outcome
    return {
        "name": seat.name,
        "distance_m": seat.distance_m,
        "peak_target_db": seat.peak_target_db,
        "average_db": seat.average_db,
        "average_dba": seat.average_dba,
        "watts_needed": seat.watts_needed,
        "watts_rated": seat.watts_rated,
        "headroom_db": seat.headroom_db,
        "loudest_peak_db": seat.loudest_peak_db,
        "first_limit": {
            "part": seat.first_limit.part,
            "quantity": seat.first_limit.quantity,
            "band_hz": seat.first_limit.band_hz,
        },
        "bands": {
            "centre_hz": seat.bands.centre_hz.tolist(),
            "level_db": seat.bands.level_db.tolist(),
            "room_gain_db": seat.bands.room_gain_db.tolist(),
            "headroom_db": seat.bands.headroom_db.tolist(),
        },
        "amplifiers": [_amplifier(amplifier) for amplifier in seat.amplifiers],
        "noise_dba": answer.noise.noise_dba,
        "room_noise_dba": answer.noise.room_noise_dba,
        "exposure_hours_per_day": answer.hearing.hours_per_day,
        "chance_unclipped": answer.certainty.chance_unclipped,
        "headroom_range_db": list(answer.certainty.range_db),
        "ways_to_clear": [_way(way) for way in answer.ways if way.to_value is not None],
    }


def _way(way: Way) -> dict[str, Any]:
    return {
        "change": way.change,
        "from": way.from_value,
        "to": way.to_value,
        "unit": way.unit,
        "headroom_db": way.headroom_db,
    }


def _amplifier(amplifier: AmplifierOutcome) -> dict[str, Any]:
    return {
        "name": amplifier.name,
        "watts_needed": amplifier.watts_needed,
        "watts_rated": amplifier.watts_rated,
        "peak_volts": amplifier.peak_volts,
        "peak_amps": amplifier.peak_amps,
        "average_watts": amplifier.average_watts,
        "headroom_db": amplifier.headroom_db,
    }
