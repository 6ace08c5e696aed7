"""A PostgreSQL server of its own for a test, thrown away afterwards."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from tests.trust.servers import migrate

PLACES = ("/usr/lib/postgresql/15/bin", "/usr/lib/postgresql/16/bin", "/usr/lib/postgresql/17/bin")


def binaries() -> Path | None:
    """Where initdb and pg_ctl are, version 15 first; None where PostgreSQL is not installed."""
    on_path = shutil.which("initdb")
    places = [*map(Path, PLACES), *([Path(on_path).parent] if on_path else [])]
    return next((place for place in places if (place / "pg_ctl").exists()), None)


def _as_postgres() -> list[str]:
    """PostgreSQL refuses to run as root."""
    return ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []


def kept_cluster(folder: Path) -> Path:
    """The files of a server that has migrated, made by the first process that asks for them."""
    with folder.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not folder.exists():
            with postgres_url(keep=folder) as url:
                migrate(url)
    return folder


@contextmanager
def postgres_url(
    cluster: Path | None = None, *, keep: Path | None = None, connections: int = 100
) -> Iterator[str]:
    """The address of a database that answers on a socket alone; commits are synced.

    It is empty, or one with the files of a `cluster`; its own files are kept where `keep` says.
    """
    place = binaries()
    assert place is not None
    folder = Path(tempfile.mkdtemp(prefix="pg-"))
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres")
    data = folder / "data"
    options = f"-k {folder} -c listen_addresses= -c log_checkpoints=off"
    options += f" -c max_connections={connections}"

    def run(name: str, *words: str) -> None:
        command = [*_as_postgres(), str(place / name), "-D", str(data), *words]
        subprocess.run(command, check=True, cwd=folder, stdout=subprocess.DEVNULL)

    try:
        if cluster is None:
            run("initdb", "-A", "trust", "-U", "postgres", "--encoding=UTF8", "--no-sync")
        else:
            subprocess.run(["cp", "-a", cluster, data], check=True)
        run("pg_ctl", "-w", "-l", str(folder / "log"), "-o", options, "start")
        try:
            yield f"postgres://postgres@{quote(str(folder), safe='')}/postgres"
        finally:
            run("pg_ctl", "-m", "fast" if keep else "immediate", "stop")
        if keep:
            subprocess.run(["cp", "-a", data, keep], check=True)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
