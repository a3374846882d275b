from django.apps import AppConfig


class ProjectConfig(AppConfig):
    name = "project"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from project import system_checks  # noqa: F401  registers itself once the apps are there
