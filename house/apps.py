from django.apps import AppConfig


class HouseConfig(AppConfig):
    name = "house"
    verbose_name = "House"
