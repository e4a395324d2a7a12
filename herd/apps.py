from django.apps import AppConfig


class HerdConfig(AppConfig):
    name = "herd"
    default_auto_field = "django.db.models.BigAutoField"
