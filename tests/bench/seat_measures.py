"""How long a claim of a seat takes when many people want one of twelve in the same moment.

Measured at the people's end, from connecting to the last byte, against real server processes with
every commit on disk before it is answered. All have asked before the first answer is read.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from math import inf
from pathlib import Path
from statistics import median

from tests.bench.result import Result
from tests.trust.postgres import binaries, postgres_url
from tests.trust.rush import rush
from tests.trust.servers import Server
from tests.trust.visitors import Visitor, a_few_at_a_time

RUSH = 200
SMALL_RUSH = 50
SEATS = 12
ROUNDS = 3


def _claim_p99_ms(folder: Path, database: AbstractContextManager[str], people: int) -> float:
    """The median, over a few classes, of the 99th percentile; endless if one was sold wrongly."""
    with database as url:
        server = Server(folder, url)
        codes = server.make_classes(*[SEATS] * ROUNDS)
        try:
            server.start()
            return median(_rush_p99_ms(server, code, people) for code in codes)
        finally:
            server.kill()


def _rush_p99_ms(server: Server, code: str, count: int) -> float:
    people = [Visitor(server.port, code, f"Guest {n}") for n in range(count)]
    a_few_at_a_time(Visitor.open_class, people)
    answers = rush(server.port, [one.hold_as_sent() for one in people])
    if sum(one.leads_to_form for one in answers) != SEATS:
        return inf
    return sorted(one.took_ms for one in answers)[-(-count * 99 // 100) - 1]


def _on_sqlite(people: int) -> float:
    """A claim on SQLite, synced in full at every commit."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        return _claim_p99_ms(folder, nullcontext(f"sqlite:///{folder / 'house.sqlite3'}"), people)


def _on_postgres(people: int) -> float:
    """A claim on PostgreSQL; endless where its server programs are not installed."""
    if binaries() is None:
        return inf
    with tempfile.TemporaryDirectory() as name:
        return _claim_p99_ms(Path(name), postgres_url(), people)


def _measure(
    name: str, took_ms: Callable[[int], float], people: int, goal_ms: float
) -> Callable[[], Result]:
    return lambda: Result(name, took_ms(people), "ms", "goal", goal_ms)


# The goals were set for 200 people with the figures of 50 in hand; both are told.
SEAT_MEASURES = (
    _measure("seat_claim_p99_ms_sqlite", _on_sqlite, RUSH, 750),
    _measure("seat_claim_p99_ms_postgres", _on_postgres, RUSH, 250),
    _measure("seat_claim_of_50_p99_ms_postgres", _on_postgres, SMALL_RUSH, 250),
)
