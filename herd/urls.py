from django.urls import include, path, re_path

from herd.pages import client_page, healthz

urlpatterns = [
    path("api/", include("api.urls")),
    path("healthz", healthz),
    re_path(r"^(?!api/|assets/).*$", client_page),
]
