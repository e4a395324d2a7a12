from django.urls import URLPattern, URLResolver, path

from .farms import FarmsView
from .leaving import CloseFarmView, ErasePersonView, ExportView
from .session import SessionView
from .sync import pull, push, start

urlpatterns: list[URLPattern | URLResolver] = [
    path("session", SessionView.as_view()),
    path("farms", FarmsView.as_view()),
    path("farms/<str:farm_id>/events", push),
    path("farms/<str:farm_id>/changes", pull),
    path("farms/<str:farm_id>/bootstrap", start),
    path("farms/<str:farm_id>/export", ExportView.as_view()),
    path("farms/<str:farm_id>/close", CloseFarmView.as_view()),
    path("farms/<str:farm_id>/people/<str:person_id>/erase", ErasePersonView.as_view()),
]
