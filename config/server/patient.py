"""A gunicorn worker that answers one request at a time, but waits for no client.

Requests are buffered, and each response goes out as fast as the client takes it. Meanwhile others
are answered. Without this, eight connections that send a byte a second, or that fetch a large paper
as slowly, block all processes.

Gunicorn's `gthread` with 64 threads a process also withstands 40 such connections, and a rush of
200 claims takes no longer (side by side on a busy machine: 0.8 s at the 99th percentile against our
1.6 s on PostgreSQL, 1.3 s against 1.5 s on SQLite). But it never ends a request that trickles in,
so as many connections as it has threads block it for good, and each thread opens a database
connection. With 16 threads it answered nobody for a minute.
"""

from __future__ import annotations

import os
from selectors import EVENT_READ, EVENT_WRITE, BaseSelector, DefaultSelector
from time import monotonic

from gunicorn import util
from gunicorn.sock import BaseSocket
from gunicorn.workers.sync import SyncWorker

from config.environment import env
from config.server.callers import Caller, ConnectionStage, Limits, Refused

MOST_WAITING = 256
MOST_BYTES = 256_000_000
LOOK_EVERY_S = 1.0

_TOO_SLOW = Refused(408, "Request Timeout", "The connection was too slow, so nothing was accepted.")
_NO_ROOM = Refused(503, "Service Unavailable", "Too much is being sent right now. Try again.")


class PatientWorker(SyncWorker):
    """One request at a time, from connections that may be slow."""

    limits = Limits(
        head_s=env.float("WEB_HEAD_S", default=15.0),
        request_s=env.float("WEB_REQUEST_S", default=180.0),
    )

    def run(self) -> None:
        """Accept connections until told to stop; then finish those in progress."""
        self._waiting: dict[int, Caller] = {}
        self._looked = monotonic()
        with DefaultSelector() as poller:
            self._poller: BaseSelector = poller
            poller.register(self.PIPE[0], EVENT_READ)
            for listener in self.sockets:
                listener.setblocking(False)
                poller.register(listener, EVENT_READ)
            while self.alive and self.is_parent_alive():
                self.notify()
                took = [self._take_call(listener) for listener in self.sockets]
                if self._waiting or not any(took):
                    self._look_round(wait=not any(took))
            self._see_off()

    def _see_off(self) -> None:
        for listener in self.sockets:
            self._poller.unregister(listener)
        until = monotonic() + self.cfg.graceful_timeout
        while self._waiting and monotonic() < until:
            self.notify()
            self._look_round(wait=True)

    def _take_call(self, listener: BaseSocket) -> bool:
        """Accept one connection, if there is one, and answer it if its request has already come."""
        try:
            connection, address = listener.accept()
        except (BlockingIOError, ConnectionAbortedError):
            return False
        util.close_on_exec(connection)
        self._go_on_with(Caller(connection, listener, address, self.limits, at=monotonic()))
        return True

    def _look_round(self, *, wait: bool) -> None:
        """Continue with those that have sent or fetched something; end those whose time is over."""
        patience = 0.0 if not wait else LOOK_EVERY_S if self._waiting else self.timeout or 0.5
        for key, _ in self._poller.select(patience):
            if key.fileobj == self.PIPE[0]:
                os.read(self.PIPE[0], 1)
            elif caller := self._waiting.get(key.fd):
                self._go_on_with(caller)
        now = monotonic()
        if now - self._looked >= LOOK_EVERY_S:
            self._looked = now
            for caller in [caller for caller in self._waiting.values() if caller.ends_at <= now]:
                self._end(caller)

    def _go_on_with(self, caller: Caller) -> None:
        place = caller.fileno()
        try:
            if caller.stage is not ConnectionStage.ANSWER:
                caller.take_in(at=monotonic())
            if caller.stage is ConnectionStage.WHOLE:
                self.handle(caller.listener, caller, caller.address)
                caller.send_out(at=monotonic())
            elif caller.stage is ConnectionStage.ANSWER:
                caller.send_out(at=monotonic())
        except Refused as refusal:
            self._refuse(caller, refusal)
        except OSError:
            self.log.exception("A request could not be kept while it came.")
            self._refuse(caller, _NO_ROOM)
        self._wait_for(place, caller)

    def _wait_for(self, place: int, caller: Caller) -> None:
        """Watch a connection until it can continue, or stop if it is over."""
        known = place in self._waiting
        if caller.stage is ConnectionStage.OVER:
            if known:
                self._forget(place)
            return
        wanted = EVENT_WRITE if caller.stage is ConnectionStage.ANSWER else EVENT_READ
        if not known:
            self._poller.register(place, wanted)
        elif self._poller.get_key(place).events != wanted:
            self._poller.modify(place, wanted)
        self._waiting[place] = caller
        self._make_room()

    def _make_room(self) -> None:
        """If there are too many, end the oldest."""
        while len(self._waiting) > MOST_WAITING or (
            len(self._waiting) > 1 and self._weight() > MOST_BYTES
        ):
            self._forget(next(iter(self._waiting)))

    def _weight(self) -> int:
        return sum(caller.weight for caller in self._waiting.values())

    def _forget(self, place: int) -> None:
        self._poller.unregister(place)
        self._waiting.pop(place).hang_up()

    def _end(self, caller: Caller) -> None:
        """Answer a client whose request is late; one that fetches nothing gets no answer."""
        place = caller.fileno()
        if caller.stage in (ConnectionStage.HEAD, ConnectionStage.BODY):
            self._refuse(caller, _TOO_SLOW)
            self._wait_for(place, caller)
        else:
            self._forget(place)

    def _refuse(self, caller: Caller, refusal: Refused) -> None:
        util.write_error(caller, refusal.status, refusal.reason, refusal.words)
        caller.send_out(at=monotonic())
