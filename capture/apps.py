from django.apps import AppConfig


class CaptureConfig(AppConfig):
    name = "capture"
    default_auto_field = "django.db.models.BigAutoField"
