"""Many requests in one moment from one thread, so that asking takes little of the machine.

Threads of Python with a client library took a quarter of both cores while 200 people were served.
"""

from __future__ import annotations

import socket
from collections.abc import Sequence
from dataclasses import dataclass, field
from selectors import EVENT_READ, DefaultSelector
from time import perf_counter

from tests.trust.visitors import PATIENCE_S

CHUNK = 65_536


@dataclass
class _Asked:
    """A request on its way, and what has come back of it."""

    began: float
    answer: bytearray = field(default_factory=bytearray)
    took_ms: float = 0.0


@dataclass(frozen=True, slots=True)
class Answer:
    """Where an answer leads, and how long it took from connecting to its last byte."""

    status: int
    location: str
    took_ms: float

    @property
    def leads_to_form(self) -> bool:
        return self.status == 302 and self.location.startswith("/enroll/")


def rush(port: int, requests: Sequence[bytes]) -> list[Answer]:
    """Send every request on a connection of its own before reading any answer; answers in order.

    The server must close each connection after its answer. An answer is there with its last byte,
    as a browser counts, whenever the connection is closed.
    """
    asked: list[_Asked] = []
    with DefaultSelector() as selector:
        for request in requests:
            one = _Asked(perf_counter())
            connection = socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S)
            connection.sendall(request)
            selector.register(connection, EVENT_READ, one)
            asked.append(one)
        _read_all(selector)
    return [_answer(one) for one in asked]


def _read_all(selector: DefaultSelector) -> None:
    """Read until every connection is closed by the server."""
    while selector.get_map():
        ready = selector.select(PATIENCE_S)
        assert ready, "the server did not answer in time"
        for key, _ in ready:
            connection, one = key.fileobj, key.data
            if some := connection.recv(CHUNK):
                one.answer += some
                one.took_ms = (perf_counter() - one.began) * 1000
                continue
            selector.unregister(connection)
            connection.close()


def _answer(one: _Asked) -> Answer:
    head = bytes(one.answer).partition(b"\r\n\r\n")[0].decode("latin-1").split("\r\n")
    named = dict(line.split(": ", 1) for line in head[1:])
    return Answer(int(head[0].split()[1]), named.get("Location", ""), one.took_ms)
