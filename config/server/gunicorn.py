"""The web server: `gunicorn -c config/server/gunicorn.py`, or `make serve`.

HOST, PORT, WEB_WORKERS, WEB_HEAD_S and WEB_REQUEST_S change the defaults here and in
`config.server.patient`.
"""

import gc
import logging
import os
import socket
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from time import sleep

from gunicorn.arbiter import Arbiter
from gunicorn.workers.base import Worker

from config.environment import BASE_DIR, env
from config.logs import PrivateWordsFilter

wsgi_app = "config.wsgi"
bind = f"{env.str('HOST', default='127.0.0.1')}:{env.int('PORT', default=8000)}"

# Browsers open connections in advance. The kernel holds one back until a request comes on it, so
# that none takes up room in a process.
_UNASKED_S = 120
_DEFER_ACCEPT = getattr(socket, "TCP_DEFER_ACCEPT", None)

workers = env.int("WEB_WORKERS", default=max(4, 2 * (os.cpu_count() or 1)))
worker_class = "config.server.patient.PatientWorker"
preload_app = True
# A page or paper that takes longer has gone wrong.
timeout = 180
graceful_timeout = 20
max_requests = 5000
max_requests_jitter = 500

# No access log: it would keep the addresses of signed links.
accesslog = None
loglevel = "warning"
control_socket_disable = True

# A heartbeat file on a slow disk can stall a worker.
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108

# No header about the scheme is trusted here; Django's TRUST_PROXY decides.
forwarded_allow_ips = ""

_BACKGROUND = [sys.executable, "manage.py", "work"]
_RESTART_AFTER_S = 5


@dataclass
class _Work:
    """The background work beside the server."""

    is_wanted: bool = False
    process: subprocess.Popen[bytes] | None = None


_work = _Work()


def _keep_working() -> None:
    """Run the background work beside the server, and restart it if it fails."""
    while _work.is_wanted:
        _work.process = subprocess.Popen(_BACKGROUND, cwd=BASE_DIR)  # noqa: S603
        _work.process.wait()
        if _work.is_wanted:
            sleep(_RESTART_AFTER_S)


def on_starting(server: Arbiter) -> None:
    """What gunicorn logs about a broken request must not contain what opens somebody's page."""
    logging.getLogger("gunicorn.error").addFilter(PrivateWordsFilter())


def pre_fork(server: Arbiter, worker: Worker) -> None:
    """Exempt what is loaded now from garbage collection, since it stays.

    A handout then takes 122 ms instead of 184 ms; pages without a paper, 13.1 instead of 13.4 ms.
    """
    gc.freeze()


def when_ready(server: Arbiter) -> None:
    """Set up connections as described above; start letters and other background work."""
    for listener in server.LISTENERS:
        if _DEFER_ACCEPT is not None:
            listener.sock.setsockopt(socket.IPPROTO_TCP, _DEFER_ACCEPT, _UNASKED_S)
    if env.bool("BACKGROUND_WORK", default=True):
        _work.is_wanted = True
        Thread(target=_keep_working, daemon=True).start()


def on_exit(server: Arbiter) -> None:
    """Stop it together with the server."""
    _work.is_wanted = False
    if _work.process is not None:
        _work.process.terminate()
