#!/usr/bin/env python3
"""Run one of the project's commands: `python manage.py help` lists them."""

import os
import sys

from django.core.management import execute_from_command_line


def make_secret_key() -> None:
    """Make the secret key for the settings, unless the environment has one."""
    from config.environment import SECRET_KEY_FILE, env
    from config.setup.secret_key import ensure_secret_key

    if not env.str("SECRET_KEY", default=""):
        ensure_secret_key(SECRET_KEY_FILE)


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    if sys.argv[1:2] == ["prepare"]:
        make_secret_key()
    execute_from_command_line(sys.argv)
