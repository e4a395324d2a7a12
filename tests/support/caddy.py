"""The proxy of the recipe, on ports of its own: the file is the one that is written out, but for its ports."""

from __future__ import annotations

import os
import shutil
import socket
import ssl
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from herd.hosting.write_out import write_out
from tests.support.house_ca import authority
from tests.support.ports import free_port

NAME = "localhost.house"


class NoCaddy(Exception):
    pass


@contextmanager
def caddy(folder: Path, app_port: int) -> Iterator[tuple[int, Path]]:
    """The port that speaks TLS as NAME, and the root to trust."""
    if not shutil.which("caddy"):
        raise NoCaddy("no proxy: Debian's caddy is not installed")
    folder.mkdir(exist_ok=True)
    write_out(folder / "out", NAME, house=True)
    cert, key = authority(folder)
    plain, safe = free_port(), free_port()
    text = (folder / "out/Caddyfile").read_text()
    for old, new in (
        ("127.0.0.1:8000", f"127.0.0.1:{app_port}"),
        (f"http://{NAME} {{", f"http://{NAME}:{plain} {{"),
        (f"https://{NAME} {{", f"https://{NAME}:{safe} {{"),
        ("skip_install_trust", f"skip_install_trust\n\tadmin off\n\thttp_port {plain}\n\thttps_port {safe}"),
        ("/etc/caddy/house/ca.crt", str(cert)),
        ("/etc/caddy/house/ca.key", str(key)),
    ):
        assert old in text, f"the recipe's file no longer says {old}"
        text = text.replace(old, new)
    (folder / "Caddyfile").write_text(text)
    env = {**os.environ, "XDG_DATA_HOME": str(folder / "xdg"), "XDG_CONFIG_HOME": str(folder / "xdg")}
    command = ["caddy", "run", "--config", str(folder / "Caddyfile"), "--adapter", "caddyfile"]
    with (folder / "caddy.log").open("wb") as log:
        running = subprocess.Popen(command, env=env, stdout=log, stderr=subprocess.STDOUT)
    try:
        wait_for(safe, cert, running, folder / "caddy.log")
        yield safe, cert
    finally:
        running.terminate()
        running.wait(10)


def wait_for(port: int, root: Path, running: subprocess.Popen[bytes], log: Path) -> None:
    """Its port is open before its certificate is made."""
    until, context = time.monotonic() + 20, ssl.create_default_context(cafile=str(root))
    while time.monotonic() < until and running.poll() is None:
        try:
            line = socket.create_connection(("127.0.0.1", port), timeout=5)
            with line, context.wrap_socket(line, server_hostname=NAME):
                return
        except OSError:
            time.sleep(0.1)
    raise RuntimeError(f"the proxy did not start:\n{log.read_text()[-2000:]}")
