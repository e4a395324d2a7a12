from django.urls import include, path, re_path

from herd.pages import client_page

urlpatterns = [
    path("api/", include("api.urls")),
    re_path(r"^(?!api/|assets/).*$", client_page),
]
