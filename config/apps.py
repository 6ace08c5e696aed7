from django.apps import AppConfig


class SiteConfig(AppConfig):
    """Contains what belongs to no single app: health, robots, and `prepare`."""

    name = "config"
    verbose_name = "Site"
