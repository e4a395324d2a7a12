"""What is not JSON: the client's page, and the security headers of every answer."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from wsgiref.headers import Headers

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

CSP = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "media-src 'self' blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
# What the app asks a phone for, by itself alone; nothing else, and nothing inside another page.
MAY_USE = ("camera", "microphone", "screen-wake-lock", "publickey-credentials-get", "publickey-credentials-create")
MAY_NOT = (
    "accelerometer", "bluetooth", "browsing-topics", "display-capture", "geolocation", "gyroscope", "hid",
    "idle-detection", "magnetometer", "midi", "payment", "serial", "usb", "xr-spatial-tracking",
)  # fmt: skip
SAFETY = {
    "Permissions-Policy": ", ".join([*(f"{name}=(self)" for name in MAY_USE), *(f"{name}=()" for name in MAY_NOT)]),
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
NAMED_BY_CONTENT = "/assets/"
NOT_BUILT = "The client is not built. Run: python manage.py build_client\n"


def static_headers(headers: Headers, path: str, url: str) -> None:
    """Headers for the built client's files, called by WhiteNoise once per file."""
    if not url.startswith(NAMED_BY_CONTENT):
        headers["Content-Security-Policy"] = CSP
        headers["Cache-Control"] = "no-cache"
        # WhiteNoise's own tag is time and length: two builds can agree in both, and a phone would keep the old worker.
        headers["ETag"] = f'"{hashlib.sha256(Path(path).read_bytes()).hexdigest()[:32]}"'


class SafetyHeaders:
    """On every answer, files and errors among them."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        bundled = request.path.startswith(NAMED_BY_CONTENT) and response.status_code < 400
        for name, value in (SAFETY if bundled else {**SAFETY, "Content-Security-Policy": CSP}).items():
            response.headers.setdefault(name, value)
        return response


@require_safe
def client_page(request: HttpRequest) -> HttpResponse:
    """The app's one page, for every address the client routes by itself."""
    page = Path(settings.CLIENT_DIST) / "index.html"
    if not page.exists():
        return HttpResponse(NOT_BUILT, status=503, content_type="text/plain")
    response = HttpResponse(page.read_bytes())
    response["Cache-Control"] = "no-cache"
    return response
