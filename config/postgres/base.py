"""PostgreSQL, asked whether it is still there only after a pause.

Django asks before the first query of every request. In a rush that is a third of what a refused
seat costs, and it tells nothing that the request just before has not told.
"""

from __future__ import annotations

from time import monotonic

from django.db.backends.postgresql import base

SURE_FOR_S = 1.0


class DatabaseWrapper(base.DatabaseWrapper):
    """A connection that is taken to be alive for a second after it was last used.

    After an error Django closes it at the end of the request, so that one request fails at most.
    """

    _used = 0.0

    def close_if_health_check_failed(self) -> None:
        now = monotonic()
        if now - self._used < SURE_FOR_S:
            self.health_check_done = True
        super().close_if_health_check_failed()
        self._used = now
