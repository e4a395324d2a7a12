"""A page with nothing on it, kept by a service worker of its own: how fast this machine opens any page at all."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

PAGE = "<!doctype html><meta charset=utf-8><title>blank</title><script src=/blank.js></script><p>blank"
SCRIPT = "navigator.serviceWorker.register('/sw.js');"
WORKER = """
const keep = async () => (await caches.open("blank")).addAll(["/", "/blank.js"]);
addEventListener("install", (event) => event.waitUntil(keep()));
addEventListener("activate", (event) => event.waitUntil(clients.claim()));
addEventListener("fetch", (event) =>
  event.respondWith(caches.match(event.request).then((kept) => kept ?? fetch(event.request))));
"""
BARE = """<!doctype html><meta charset=utf-8><meta name=viewport content="width=device-width"><title>bare</title>
<script>
addEventListener("DOMContentLoaded", () => { for (let i = 0; i < 60; i++) {
  const b = document.body.appendChild(document.createElement("button")); b.className = "left"; b.textContent = i;
  b.style = "height: 72px; width: 90%"; b.onclick = () => { b.textContent = "done"; b.classList.add("told"); }; } });
</script>"""
FILES = {
    "/bare": ("text/html", BARE),
    "/": ("text/html", PAGE),
    "/blank.js": ("text/javascript", SCRIPT),
    "/sw.js": ("text/javascript", WORKER),
}


class Blank(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        kind, text = FILES.get(self.path, ("text/plain", ""))
        self.send_response(200 if text else 404)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(text)))
        self.end_headers()
        self.wfile.write(text.encode())

    def log_message(self, *_: object) -> None:
        """Silent."""


class Quiet(ThreadingHTTPServer):
    def handle_error(self, *_: object) -> None:
        """A browser that is closed hangs up in the middle."""


@contextmanager
def blank_server() -> Iterator[str]:
    with Quiet(("127.0.0.1", 0), Blank) as http:
        threading.Thread(target=http.serve_forever, daemon=True).start()
        yield f"http://localhost:{http.server_address[1]}/"
        http.shutdown()
