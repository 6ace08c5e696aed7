"""What the database alone takes when many clients want the same row in the same moment."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from time import perf_counter

from psycopg import AsyncConnection

MAKE = "CREATE TABLE IF NOT EXISTS bare_row (id int PRIMARY KEY, taken int NOT NULL)"
FILL = "INSERT INTO bare_row VALUES (1, 0) ON CONFLICT DO NOTHING"
TAKE = "UPDATE bare_row SET taken = taken + 1 WHERE id = 1"


def row_lock_ms(url: str, clients: int) -> list[float]:
    """How long each waited for the row, changed it and had that on disk.

    All are connected before the first begins, as the workers of our server are.
    """
    return asyncio.run(_all_at_once(url, clients))


async def _all_at_once(url: str, clients: int) -> list[float]:
    async with await AsyncConnection.connect(url, autocommit=True) as first:
        await first.execute(MAKE)
        await first.execute(FILL)
    opened = [await AsyncConnection.connect(url) for _ in range(clients)]
    try:
        return list(await asyncio.gather(*map(_take, opened)))
    finally:
        await _close(opened)


async def _take(connection: AsyncConnection) -> float:
    began = perf_counter()
    await connection.execute(TAKE)
    await connection.commit()
    return (perf_counter() - began) * 1000


async def _close(opened: Sequence[AsyncConnection]) -> None:
    for connection in opened:
        await connection.close()
