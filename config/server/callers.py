"""One connection to the server, while its request arrives and its response leaves.

Nothing blocks on it: what is there is read, what fits is sent, and the rest waits its turn.
"""

from __future__ import annotations

import re
import socket
from dataclasses import dataclass
from enum import Enum
from io import BytesIO
from tempfile import TemporaryFile
from typing import IO

from gunicorn.sock import BaseSocket

CHUNK = 65_536
CHUNKS_A_TURN = 64
# A longer body is kept in a file until it is complete.
KEPT_IN_MEMORY = 65_536
LINGER_S = 2.0

_HEAD_ENDS = b"\r\n\r\n"
_LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*(\d{1,18})[ \t]*\r\n", re.IGNORECASE)
_IN_CHUNKS = re.compile(rb"\r\ntransfer-encoding[ \t]*:", re.IGNORECASE)
_ASKS_FIRST = re.compile(rb"\r\nexpect:[ \t]*100-continue[ \t]*\r\n", re.IGNORECASE)
_GO_ON = b"HTTP/1.1 100 Continue\r\n\r\n"


@dataclass(frozen=True, slots=True)
class Limits:
    """How long and how large a request may be, and how long fetching its response may take."""

    head_s: float = 15
    request_s: float = 180
    answer_s: float = 180
    head_bytes: int = 65_536
    body_bytes: int = 20_000_000


class ConnectionStage(Enum):
    """How far a connection is."""

    HEAD = "its head is coming"
    BODY = "its body is coming"
    WHOLE = "it can be answered"
    ANSWER = "its answer is going out"
    LINGER = "what it still sends is thrown away"
    OVER = "it is closed"


@dataclass
class Refused(Exception):
    """A request that the application does not answer, and what its sender reads."""

    status: int
    reason: str
    words: str


class Caller:
    """A connection. For gunicorn it is the socket: it has the whole request and takes the response.

    `listener` is where it came in and `address` the client's. `began` is when it was accepted.
    """

    def __init__(
        self,
        connection: socket.socket,
        listener: BaseSocket,
        address: object,
        limits: Limits,
        *,
        at: float,
    ) -> None:
        connection.setblocking(False)
        self._connection, self._limits = connection, limits
        self.listener, self.address = listener, address
        self.stage, self.began, self._moved = ConnectionStage.HEAD, at, at
        self._head = bytearray()
        self._kept: IO[bytes] = BytesIO()
        self._size = self._missing = 0
        self._was_whole = False
        self._answer: list[bytes] = []
        self._left = memoryview(b"")

    def fileno(self) -> int:
        return self._connection.fileno()

    @property
    def weight(self) -> int:
        """How many bytes it takes up here, including those that were announced."""
        return len(self._head) + self._size

    @property
    def ends_at(self) -> float:
        """When its time is over."""
        if self.stage is ConnectionStage.HEAD:
            return self.began + self._limits.head_s
        if self.stage is ConnectionStage.BODY:
            return self.began + self._limits.request_s
        return self._moved + (
            LINGER_S if self.stage is ConnectionStage.LINGER else self._limits.answer_s
        )

    # The request

    def take_in(self, *, at: float) -> None:
        """Read what has come. Raises Refused."""
        for _ in range(CHUNKS_A_TURN):
            try:
                data = self._connection.recv(CHUNK)
            except BlockingIOError:
                return
            except OSError:
                data = b""
            if not data:
                self.hang_up()
                return
            if self.stage is ConnectionStage.HEAD:
                self._take_head(data, at)
            elif self.stage is ConnectionStage.BODY:
                self._take_body(data, at)
            if self.stage is ConnectionStage.WHOLE:
                return

    def _take_head(self, data: bytes, at: float) -> None:
        searched = max(0, len(self._head) - len(_HEAD_ENDS) + 1)
        self._head += data
        end = self._head.find(_HEAD_ENDS, searched)
        if end < 0:
            if len(self._head) > self._limits.head_bytes:
                raise Refused(431, "Request Header Fields Too Large", "The address is too long.")
            return
        head, body = self._head[: end + len(_HEAD_ENDS)], bytes(self._head[end + 4 :])
        self._missing = self._length_in(bytes(head))
        self._size = len(head) + self._missing
        if self._size > KEPT_IN_MEMORY:
            self._kept = TemporaryFile()  # noqa: SIM115  (closed with the connection)
        self._kept.write(head)
        self._head = bytearray()
        self.stage = ConnectionStage.BODY
        if self._missing and not body and _ASKS_FIRST.search(head):
            self._connection.send(_GO_ON)
        self._take_body(body, at)

    def _length_in(self, head: bytes) -> int:
        """The length of the body. An unclear length is refused when the head is read."""
        if _IN_CHUNKS.search(head):
            raise Refused(411, "Length Required", "The request must state its length.")
        found = _LENGTH.search(head)
        length = int(found[1]) if found else 0
        if length > self._limits.body_bytes:
            most = self._limits.body_bytes // 1_000_000
            raise Refused(413, "Content Too Large", f"At most {most} MB can be sent at once.")
        return length

    def _take_body(self, data: bytes, at: float) -> None:
        """Anything after the body is another request, and is not read."""
        self._kept.write(data[: self._missing])
        self._missing -= min(len(data), self._missing)
        if not self._missing:
            self._kept.seek(0)
            self.stage, self._moved = ConnectionStage.WHOLE, at

    # What gunicorn asks of a socket

    def recv(self, size: int) -> bytes:
        return self._kept.read(size)

    def sendall(self, data: bytes) -> None:
        self._answer.append(bytes(data))

    def send(self, data: bytes) -> int:
        self.sendall(data)
        return len(data)

    def sendfile(self, file: IO[bytes], offset: int, count: int) -> None:
        file.seek(offset)
        self.sendall(file.read(count))

    def gettimeout(self) -> float:
        return 0.0

    def settimeout(self, seconds: float | None) -> None:
        """It never blocks."""

    def shutdown(self, how: int) -> None:
        """It is closed when the answer is out."""

    def close(self) -> None:
        """It is closed when the answer is out."""

    # The answer

    def send_out(self, *, at: float) -> None:
        """Send what fits; close when all is out."""
        if self.stage is not ConnectionStage.ANSWER:
            self._begin_to_answer(at)
        try:
            while self._left:
                self._left = self._left[self._connection.send(self._left) :]
        except BlockingIOError:
            return
        except OSError:
            self.hang_up()
            return
        if self._was_whole:
            self.hang_up()
        else:
            self._linger(at)

    def _begin_to_answer(self, at: float) -> None:
        self._was_whole = self.stage is ConnectionStage.WHOLE
        self.stage, self._moved = ConnectionStage.ANSWER, at
        self._kept.close()
        self._left = memoryview(b"".join(self._answer))
        self._head, self._answer, self._size = bytearray(), [], len(self._left)

    def _linger(self, at: float) -> None:
        """Close only the sending side: closing both would let late input discard the response."""
        self.stage, self._moved = ConnectionStage.LINGER, at
        try:
            self._connection.shutdown(socket.SHUT_WR)
        except OSError:
            self.hang_up()

    def hang_up(self) -> None:
        self.stage = ConnectionStage.OVER
        self._kept.close()
        self._connection.close()
