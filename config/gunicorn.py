"""The web server: `gunicorn -c config/gunicorn.py`, or `make serve`.

HOST, PORT, WEB_WORKERS and WEB_THREADS change the defaults below.
"""

import gc
import subprocess
import sys
from pathlib import Path
from threading import Thread
from time import sleep
from typing import Any

from config.environment import env

wsgi_app = "config.wsgi"
bind = f"{env.str('HOST', default='127.0.0.1')}:{env.int('PORT', default=8000)}"

workers = env.int("WEB_WORKERS", default=2)
threads = env.int("WEB_THREADS", default=4)
preload_app = True
timeout = 60
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
    """Start letters and other background work once the server listens."""
    if env.bool("BACKGROUND_WORK", default=True):
        _running["wanted"] = True
        Thread(target=_keep_working, daemon=True).start()


def on_exit(server: Any) -> None:
    """Stop it together with the server."""
    _running["wanted"] = False
    if process := _running.get("process"):
        process.terminate()
