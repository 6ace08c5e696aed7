"""Django settings, read from the environment only (see `config.environment`)."""

import os
from datetime import timedelta
from pathlib import Path

import dj_email_url
import django_stubs_ext
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.utils.crypto import salted_hmac

from config.environment import BASE_DIR, DATA_DIR, SECRET_KEY_FILE, env

django_stubs_ext.monkeypatch()  # so that code can say `ModelForm[Kitchen]`

# The secret key and the allowed hosts


def _secret_key() -> str:
    if key := env.str("SECRET_KEY", default=""):
        return key
    if SECRET_KEY_FILE.is_file() and (key := SECRET_KEY_FILE.read_text().strip()):
        return key
    raise ImproperlyConfigured(
        "No secret key. Run `make setup` to make one, or set SECRET_KEY in the environment."
    )


SECRET_KEY = _secret_key()
DEBUG = env.bool("DEBUG", default=False)
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])
CSRF_TRUSTED_ORIGINS: list[str] = env.list("CSRF_TRUSTED_ORIGINS", default=[])

# The house

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "template_partials.apps.SimpleAppConfig",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "axes",
    "csp",
    "config.apps.SiteConfig",
    "recipes.apps.RecipesConfig",
    "classes.apps.ClassesConfig",
    "classes.enrollment.apps.EnrollmentConfig",
    "handouts.apps.HandoutsConfig",
    "house.apps.HouseConfig",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "config.requests.PrivateByDefaultMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "config.urls"
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"
WSGI_APPLICATION = "config.wsgi.application"

_LOADERS = [
    "django.template.loaders.filesystem.Loader",
    "django.template.loaders.app_directories.Loader",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "recipes.access.reader",
            ],
            "builtins": ["template_partials.templatetags.partials"],
            "loaders": [
                (
                    "template_partials.loader.Loader",
                    _LOADERS if DEBUG else [("django.template.loaders.cached.Loader", _LOADERS)],
                )
            ],
        },
    }
]

# Data

SQLITE_PATIENCE_S = 20
SQLITE_OPTIONS = {
    # Writers queue at BEGIN: with the default, of two that read first one must fail.
    "transaction_mode": "IMMEDIATE",
    "timeout": SQLITE_PATIENCE_S,
    # FULL: a confirmed write must survive a power cut, not only a crash.
    "init_command": (
        "PRAGMA journal_mode=WAL;"
        "PRAGMA synchronous=FULL;"
        f"PRAGMA busy_timeout={SQLITE_PATIENCE_S * 1000};"
        "PRAGMA foreign_keys=ON;"
        "PRAGMA secure_delete=ON;"
    ),
}

DATABASES = {
    "default": env.dj_db_url("DATABASE_URL", default=f"sqlite:///{DATA_DIR / 'bakebench.sqlite3'}")
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    DATABASES["default"] |= {"OPTIONS": SQLITE_OPTIONS, "CONN_MAX_AGE": 60}
else:
    # Checking whether the connection is alive takes 0.05 ms per request. A pool would not save
    # that, and a process that answers one request at a time needs no second connection.
    DATABASES["default"] |= {"CONN_MAX_AGE": 60, "CONN_HEALTH_CHECKS": True}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# Where posts by an address are counted: in files that the processes of this machine share, or on
# the Redis server of CACHE_URL, and in the files while that does not answer.

# They are in memory if there is such a folder: on the database's disk, a rush of 200 claims on
# SQLite took 2.2 s at the 99th percentile, in memory 1.2 s. Nobody else can guess its name.
_MEMORY = Path("/dev/shm")  # noqa: S108
_own_name = salted_hmac("bakebench cache", str(DATA_DIR), secret=SECRET_KEY).hexdigest()
_IN_FILES = {
    "BACKEND": "config.cache.FileCache",
    "LOCATION": _MEMORY / f"bakebench-{_own_name}" if _MEMORY.is_dir() else DATA_DIR / "cache",
    "TIMEOUT": 120,  # seconds after which a file is removed: longer than any count lasts
}
CACHES = {"default": _IN_FILES}
if env.str("CACHE_URL", default=""):
    _shared = env.dj_cache_url("CACHE_URL")
    if _shared["BACKEND"] != "django.core.cache.backends.redis.RedisCache":
        raise ImproperlyConfigured("CACHE_URL takes redis:// or rediss:// and what follows it.")
    _patience_s = {"socket_connect_timeout": 1, "socket_timeout": 1, "retry": None}
    CACHES = {"default": _shared | {"OPTIONS": _patience_s}, "in_files": _IN_FILES}

DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000

# How many days after the class a student's signed link still opens the handout.
LINK_DAYS = env.int("LINK_DAYS", default=60)

# How many days after a class what people must not eat is blanked.
ALLERGY_WORDS_DAYS = env.int("ALLERGY_WORDS_DAYS", default=14)

# How many public forms one address may send in a minute.
PUBLIC_POSTS_A_MINUTE = env.int("PUBLIC_POSTS_A_MINUTE", default=30)

# How many forms with held seats of a class one address may have at once.
HOLDS_AN_ADDRESS = env.int("HOLDS_AN_ADDRESS", default=2)

# Where people reach this server; letters and calendars contain it.
SITE_URL = env.str("SITE_URL", default=f"http://127.0.0.1:{env.int('PORT', default=8000)}")

# How many processes lay out papers; 0 lays them out in the process that works through the queue.
PRESS_PROCESSES = env.int("PRESS_PROCESSES", default=min(8, os.cpu_count() or 1))

# How many days finished papers are kept, so that they need not be made again.
PAPERS_DAYS = env.int("PAPERS_DAYS", default=7)

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}

# Words, numbers and times

LANGUAGE_CODE = "en-us"
USE_I18N = True
USE_THOUSAND_SEPARATOR = False
TIME_ZONE = env.str("TIME_ZONE", default="UTC")
USE_TZ = True

# Static files

STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "config.setup.static_files.StaticStorage"},
}
WHITENOISE_ALLOW_ALL_ORIGINS = False

# Photos: no address of their own, a view serves them
MEDIA_ROOT = DATA_DIR / "media"

# Sign-in: every view needs it unless marked `login_not_required`

LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
_VALIDATION = "django.contrib.auth.password_validation"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"{_VALIDATION}.UserAttributeSimilarityValidator"},
    {"NAME": f"{_VALIDATION}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": f"{_VALIDATION}.CommonPasswordValidator"},
    {"NAME": f"{_VALIDATION}.NumericPasswordValidator"},
]

AXES_HANDLER = "config.sign_in.Handler"
AXES_FAILURE_LIMIT = "config.sign_in.failures_allowed"
AXES_COOLOFF_TIME = timedelta(minutes=15)
# A stranger who keeps guessing must not prolong the owner's wait.
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_CLIENT_IP_CALLABLE = "config.sign_in.client_address"
AXES_LOCKOUT_CALLABLE = "config.sign_in.locked_out"
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False
# Fields hidden in its records of failed tries.
_NEW_PASSWORD = ["old_password", "new_password1", "new_password2"]
AXES_SENSITIVE_PARAMETERS = ["username", "ip_address", *_NEW_PASSWORD]

# What a browser may do

HTTPS = env.bool("HTTPS", default=False)
TRUST_PROXY = env.bool("TRUST_PROXY", default=False)

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"

SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^health/$"]
if HTTPS:
    SECURE_HSTS_SECONDS = int(timedelta(days=365).total_seconds())
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
if TRUST_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# Mail and logs

_mail = dj_email_url.parse(env.str("EMAIL_URL", default="") or "console:")
_SMTP = "django.core.mail.backends.smtp.EmailBackend"
# Never on a console: letters contain what opens people's pages, and consoles end up in logs.
EMAIL_BACKEND = _SMTP if _mail["EMAIL_BACKEND"] == _SMTP else "config.letter_files.EmailBackend"
EMAIL_HOST = _mail["EMAIL_HOST"]
EMAIL_PORT = _mail["EMAIL_PORT"]
EMAIL_HOST_USER = _mail["EMAIL_HOST_USER"]
EMAIL_HOST_PASSWORD = _mail["EMAIL_HOST_PASSWORD"]
EMAIL_USE_TLS = _mail["EMAIL_USE_TLS"]
EMAIL_USE_SSL = _mail["EMAIL_USE_SSL"]
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = env.str("DEFAULT_FROM_EMAIL", default="bakebench@localhost")

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "filters": {"private_words": {"()": "config.logs.PrivateWordsFilter"}},
    "handlers": {
        "console": {
            "class": "logging.StreamHandler",
            "formatter": "line",
            "filters": ["private_words"],
        }
    },
    "root": {"handlers": ["console"], "level": env.str("LOG_LEVEL", default="INFO")},
    "loggers": {
        "django": {"handlers": ["console"], "level": "INFO", "propagate": False},
        "django.server": {"handlers": ["console"], "level": "INFO", "propagate": False},
        "axes": {"level": "WARNING"},
        "django_tasks": {"level": "WARNING"},
        "django_tasks_db": {"level": "WARNING"},
        "weasyprint": {"level": "WARNING"},
        "fontTools": {"level": "ERROR"},
        "pikepdf": {"level": "WARNING"},
    },
}
