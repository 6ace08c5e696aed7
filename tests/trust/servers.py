"""Real server processes with a database of their own, to be asked over HTTP and to be killed."""

from __future__ import annotations

import json
import os
import signal
import socket
import sqlite3
import subprocess
import sys
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from time import monotonic, sleep
from typing import Any

ROOT = Path(__file__).parent.parent.parent
START_WITHIN_S = 60
READY_AFTER_S = 0.05


def migrate(database_url: str) -> None:
    """Bring a database up to date."""
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "config.testing",
        "TEST_DATABASE_URL": database_url,
    }
    command = [sys.executable, "manage.py", "migrate", "-v0"]
    subprocess.run(command, cwd=ROOT, env=environment, check=True)


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


@dataclass
class Server:
    """A server as `make serve` starts it, without background work; `folder` holds its log.

    `database_url` is of the two kinds that the project runs on. It believes the addresses that its
    visitors give, as it would believe a proxy.
    """

    folder: Path
    database_url: str
    port: int = field(default_factory=free_port)
    process: subprocess.Popen[bytes] | None = None

    @property
    def log(self) -> Path:
        return self.folder / "server.log"

    @property
    def environment(self) -> dict[str, str]:
        return os.environ | {
            "DJANGO_SETTINGS_MODULE": "config.testing",
            "TEST_DATABASE_URL": self.database_url,
            "TEST_DATA_DIR": str(self.folder),
            "DATA_DIR": str(self.folder),  # read before the settings of the tests are
            "BACKGROUND_WORK": "False",
            "PUBLIC_POSTS_A_MINUTE": "100000",
            "TEST_TRUST_PROXY": "True",
            "HOST": "127.0.0.1",
            "PORT": str(self.port),
        }

    def make_classes(self, *seats: int) -> list[str]:
        """Open a class for each number of seats: their codes."""
        done = subprocess.run(
            [sys.executable, "-m", "tests.trust.to_claim", *map(str, seats)],
            cwd=ROOT,
            env=self.environment,
            check=True,
            stdout=subprocess.PIPE,
        )
        return json.loads(done.stdout)

    def start(self) -> None:
        """Start it and wait until it answers."""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "gunicorn", "-c", "config/server/gunicorn.py"],
                cwd=ROOT,
                env=self.environment,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        until = monotonic() + START_WITHIN_S
        while not self._answers():
            assert self.process.poll() is None, self.log.read_text()
            assert monotonic() < until, "the server did not start in time"
            sleep(READY_AFTER_S)

    def _answers(self) -> bool:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=5)
        try:
            connection.request("GET", "/health/")
            return connection.getresponse().status == 200
        except (OSError, HTTPException):
            return False
        finally:
            connection.close()

    def kill(self) -> None:
        """End master and workers at once, as a power cut of the process would: SIGKILL."""
        if self.process is not None and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()

    def rows(self, query: str) -> list[tuple[Any, ...]]:
        """What the database itself answers, past the server."""
        if self.database_url.startswith("sqlite:///"):
            connection = sqlite3.connect(self.database_url.removeprefix("sqlite:///"))
        else:
            import psycopg  # not for those who only start a server

            connection = psycopg.connect(self.database_url.replace("postgres://", "postgresql://"))
        try:
            return connection.execute(query).fetchall()
        finally:
            connection.close()
