"""What a browser gets that is not JSON: its headers decide whether a phone keeps a stale app or runs foreign script."""

import gzip
import http.client
import re

import pytest

from frontend import client_build
from tests.support.live import Server

ASKS_EACH_TIME = "no-cache"


def get(server: Server, path: str, **headers: str) -> tuple[int, dict[str, str], bytes]:
    line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=10)
    line.request("GET", path, headers=headers)
    reply = line.getresponse()
    body = reply.read()
    line.close()
    return reply.status, {key.lower(): value for key, value in reply.getheaders()}, body


@pytest.fixture(scope="module")
def site(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> object:
    server = Server(tmp_path_factory.mktemp("site"))
    server.manage("migrate", "--verbosity", "0")
    with server:
        yield server


@pytest.mark.parametrize(
    "path", ["/", "/index.html", "/doe/some-id", "/farm/pens/new", "/sw.js", "/manifest.webmanifest"]
)
def test_pages_and_worker_carry_the_policy_and_are_never_stale(site: Server, path: str) -> None:
    status, headers, _ = get(site, path)
    assert status == 200
    assert headers["cache-control"] == ASKS_EACH_TIME
    assert "script-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"


def test_a_deep_link_is_the_same_page(site: Server) -> None:
    assert get(site, "/")[2] == get(site, "/doe/some-id")[2] == get(site, "/index.html")[2]


def test_bundled_files_are_kept_for_ever_and_sent_as_brotli(site: Server) -> None:
    assets = re.findall(rb'(?:src|href)="(/assets/[^"]+)"', get(site, "/")[2])
    assert assets, "the page names no bundle"
    for asset in assets:
        status, headers, body = get(site, asset.decode(), **{"Accept-Encoding": "br, gzip"})
        assert status == 200
        assert "immutable" in headers["cache-control"]
        assert headers["content-encoding"] == "br"
        assert len(body) < (client_build.OUT / asset.decode().lstrip("/")).stat().st_size


def test_the_manifest_has_its_type_and_nothing_is_open_to_other_sites(site: Server) -> None:
    _, headers, _ = get(site, "/manifest.webmanifest")
    assert headers["content-type"] == "application/manifest+json"
    for path in ("/", "/sw.js", "/manifest.webmanifest"):
        assert "access-control-allow-origin" not in get(site, path)[1]


def test_the_workers_tag_follows_its_content(site: Server) -> None:
    tag = get(site, "/sw.js")[1]["etag"]
    assert get(site, "/sw.js", **{"If-None-Match": tag})[0] == 304
    assert get(site, "/sw.js", **{"If-None-Match": '"another"'})[0] == 200


@pytest.mark.parametrize("path", ["/api/no-such-thing", "/assets/gone-12345678.js"])
def test_the_page_never_answers_for_the_api_or_a_lost_file(site: Server, path: str) -> None:
    status, _, body = get(site, path)
    assert status == 404
    assert b'id="app"' not in body


def test_a_page_cannot_be_posted_to(site: Server) -> None:
    line = http.client.HTTPConnection("127.0.0.1", site.port, timeout=10)
    line.request("POST", "/doe/some-id", body=gzip.compress(b"x"))
    assert line.getresponse().status in (403, 405)


def test_health(site: Server) -> None:
    status, _, body = get(site, "/healthz")
    assert (status, b"true" in body) == (200, True)
