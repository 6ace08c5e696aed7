import os

from django.core.wsgi import get_wsgi_application
from django.urls import resolve, reverse

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")

application = get_wsgi_application()

# All pages are loaded before the workers fork, so that no first visitor waits for them.
resolve(reverse("health"))
