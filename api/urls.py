from django.urls import URLPattern, URLResolver, path

from .farms import FarmsView
from .media import media, room
from .session import SessionView
from .sync import pull, push, start

urlpatterns: list[URLPattern | URLResolver] = [
    path("session", SessionView.as_view()),
    path("farms", FarmsView.as_view()),
    path("farms/<str:farm_id>/events", push),
    path("farms/<str:farm_id>/changes", pull),
    path("farms/<str:farm_id>/bootstrap", start),
    path("farms/<str:farm_id>/media", room),
    path("farms/<str:farm_id>/media/<str:sha256>", media),
]
