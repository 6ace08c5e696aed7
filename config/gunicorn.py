"""The web server: `gunicorn -c config/gunicorn.py`, or `make serve`.

HOST, PORT, WEB_WORKERS and WEB_SILENCE_S change the defaults below.
"""

import gc
import os
import socket
import struct
import subprocess
import sys
from pathlib import Path
from threading import Thread
from time import sleep
from typing import Any

from config.environment import env

wsgi_app = "config.wsgi"
bind = f"{env.str('HOST', default='127.0.0.1')}:{env.int('PORT', default=8000)}"

# Browsers open connections ahead of need. The kernel keeps one back until something is asked on
# it, so that none holds up a process.
_UNASKED_S = 120
_DEFER_ACCEPT = getattr(socket, "TCP_DEFER_ACCEPT", None)

# Who falls silent in the middle of a request is not waited for.
_SILENCE = struct.pack("ll", env.int("WEB_SILENCE_S", default=10), 0)

# Processes alone: threads that take turns at one interpreter cost a rush a third of its time.
workers = env.int("WEB_WORKERS", default=max(4, 2 * (os.cpu_count() or 1)))
threads = 1 if _DEFER_ACCEPT is not None else 4
preload_app = True
# A photo over a poor line keeps its process this long at most.
timeout = 180
graceful_timeout = 20
max_requests = 5000
max_requests_jitter = 500

# No access log: addresses of signed links would stay in it.
accesslog = None
loglevel = "warning"
control_socket_disable = True

# A heartbeat file on a slow disk can stall a worker.
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108

# Nobody's word on the scheme is taken here; Django's TRUST_PROXY decides.
forwarded_allow_ips = ""

_BACKGROUND = [sys.executable, "manage.py", "work"]
_RESTART_AFTER_S = 5
_running: dict[str, Any] = {}


def _keep_working() -> None:
    """Run the background work beside the server, and start it again if it breaks off."""
    while _running["wanted"]:
        _running["process"] = subprocess.Popen(_BACKGROUND, cwd=Path(__file__).parent.parent)  # noqa: S603
        _running["process"].wait()
        if _running["wanted"]:
            sleep(_RESTART_AFTER_S)


def pre_fork(server: Any, worker: Any) -> None:
    """What is loaded now stays: let no worker look through it for garbage, nor copy its pages."""
    gc.freeze()


def when_ready(server: Any) -> None:
    """Take connections as said above; start letters and other background work."""
    for listener in server.LISTENERS:
        listener.sock.setsockopt(socket.SOL_SOCKET, socket.SO_RCVTIMEO, _SILENCE)
        if _DEFER_ACCEPT is not None:
            listener.sock.setsockopt(socket.IPPROTO_TCP, _DEFER_ACCEPT, _UNASKED_S)
    if env.bool("BACKGROUND_WORK", default=True):
        _running["wanted"] = True
        Thread(target=_keep_working, daemon=True).start()


def on_exit(server: Any) -> None:
    """Stop it together with the server."""
    _running["wanted"] = False
    if process := _running.get("process"):
        process.terminate()
