"""What an erasure leaves in SQLite's files, taken away.

`secure_delete` overwrites in the database what is deleted. The log beside it (`-wal`) still holds
pages as they were, until it is written into the database and emptied.
"""

from __future__ import annotations

from django.conf import settings
from django.db import OperationalError, connection, transaction

PATIENCE_MS = 500


def wipe_when_saved() -> None:
    """Empty the log once the running transaction is saved."""
    transaction.on_commit(wipe)


def wipe() -> bool:
    """Empty SQLite's log; False while others read from it. The chores try again every minute."""
    if connection.vendor != "sqlite":
        return True
    if connection.in_atomic_block:
        return False
    patience_ms = settings.SQLITE_PATIENCE_S * 1000
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA busy_timeout={PATIENCE_MS}")
        try:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            (is_busy, *_) = cursor.fetchone()
        except OperationalError:
            return False
        finally:
            cursor.execute(f"PRAGMA busy_timeout={patience_ms}")
    return not is_busy
