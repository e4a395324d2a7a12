from django.apps import AppConfig


class HerdConfig(AppConfig):
    name = "herd"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from api.account import signals

        signals.listen()
