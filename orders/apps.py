from django.apps import AppConfig


class OrdersConfig(AppConfig):
    name = "orders"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from orders import intake, photos  # they need the models, which are there only now

        intake.register()
        photos.register()
