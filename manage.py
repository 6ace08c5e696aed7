#!/usr/bin/env python3
"""Run one of the project's commands: `python manage.py help` lists them."""

import os
import sys

from django.core.management import execute_from_command_line

from config.environment import SECRET_KEY_FILE, env
from config.secret_key import ensure_secret_key

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    if sys.argv[1:2] == ["prepare"] and not env.str("SECRET_KEY", default=""):
        ensure_secret_key(SECRET_KEY_FILE)
    execute_from_command_line(sys.argv)
