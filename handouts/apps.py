from django.apps import AppConfig


class HandoutsConfig(AppConfig):
    name = "handouts"
    verbose_name = "Handouts"
