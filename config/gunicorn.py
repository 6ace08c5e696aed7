"""The web server: `gunicorn -c config/gunicorn.py`, or `make serve`.

HOST, PORT, WEB_WORKERS and WEB_THREADS change the defaults below.
"""

from pathlib import Path

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
