from django.apps import AppConfig


class EnrollmentConfig(AppConfig):
    name = "classes.enrollment"
    label = "enrollment"
    verbose_name = "Enrollment"
