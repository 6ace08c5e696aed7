"""How long a claim of a seat takes when 200 people want one of twelve in the same moment.

Measured at the people's end, from connecting to the last byte, against real server processes with
every commit on disk before it is answered.
"""

from __future__ import annotations

import tempfile
from contextlib import AbstractContextManager, nullcontext
from math import inf
from pathlib import Path
from statistics import median

from tests.bench.result import Result
from tests.trust.postgres import binaries, postgres_url
from tests.trust.servers import Server
from tests.trust.visitors import Visitor, a_few_at_a_time, all_at_once

RUSH = 200
SEATS = 12
ROUNDS = 3
P99 = RUSH * 99 // 100 - 1


def _claim_p99_ms(folder: Path, database: AbstractContextManager[str]) -> float:
    """The median, over a few classes, of the 99th percentile; endless if one was sold wrongly."""
    with database as url:
        server = Server(folder, url)
        codes = server.make_classes(*[SEATS] * ROUNDS)
        try:
            server.start()
            return median(_rush_p99_ms(server, code) for code in codes)
        finally:
            server.kill()


def _rush_p99_ms(server: Server, code: str) -> float:
    people = [Visitor(server.port, code, f"Guest {n}") for n in range(RUSH)]
    a_few_at_a_time(Visitor.open_class, people)
    answers = all_at_once(Visitor.hold, people)
    if sum(page.leads_to_form for page in answers) != SEATS:
        return inf
    return sorted(page.took_ms for page in answers)[P99]


def seat_claim_p99_ms_sqlite() -> Result:
    """A claim on SQLite, synced in full at every commit."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        took_ms = _claim_p99_ms(folder, nullcontext(f"sqlite:///{folder / 'house.sqlite3'}"))
    return Result("seat_claim_p99_ms_sqlite", took_ms, "ms", "goal", 750)


def seat_claim_p99_ms_postgres() -> Result:
    """A claim on PostgreSQL; endless where its server programs are not installed."""
    took_ms = inf
    if binaries() is not None:
        with tempfile.TemporaryDirectory() as name:
            took_ms = _claim_p99_ms(Path(name), postgres_url())
    return Result("seat_claim_p99_ms_postgres", took_ms, "ms", "goal", 250)


SEAT_MEASURES = (seat_claim_p99_ms_sqlite, seat_claim_p99_ms_postgres)
