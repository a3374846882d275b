from django.apps import AppConfig


class ProjectConfig(AppConfig):
    name = "project"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from allauth.account.signals import password_changed, password_reset
        from django.contrib.auth.signals import user_logged_in, user_logged_out
        from django.utils.formats import get_format
        from django.utils.translation import gettext

        from orders.reckoning.language import look_up_with
        from project import send_keys, session_age, system_checks, texts  # noqa: F401  registers itself once the apps are there

        texts.compile_texts()
        look_up_with(gettext, mark=lambda: get_format("DECIMAL_SEPARATOR"))

        user_logged_in.connect(session_age.begin)
        user_logged_out.connect(send_keys.end_with_session)
        password_changed.connect(send_keys.end_with_password)
        password_reset.connect(send_keys.end_with_password)
