"""Firefox as a second engine: $FIREFOX, or Debian's firefox-esr. Playwright drives it as it comes."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, BrowserType, Page

PROGRAM = "firefox-esr"
PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 740}, "locale": "en-GB", "timezone_id": "UTC"}


class NoFirefox(Exception):
    pass


def find() -> Path:
    found = os.environ.get("FIREFOX") or shutil.which(PROGRAM)
    if not found:
        raise NoFirefox(f"no Firefox on this machine: apt-get install {PROGRAM}, or set FIREFOX to one")
    return Path(found)


class Firefox:
    """One phone: what it keeps lies in PROFILE and outlives its browser."""

    def __init__(self, browser_type: BrowserType, program: Path, profile: Path) -> None:
        self.browser_type, self.program, self.profile = browser_type, program, profile
        self.context: BrowserContext | None = None

    def open(self) -> Page:
        """A new page; the browser is started first where it does not run."""
        if self.context is None:
            self.context = self.browser_type.launch_persistent_context(
                str(self.profile), channel="moz-firefox", executable_path=str(self.program), **PHONE
            )
        return self.context.new_page()

    def quit(self) -> None:
        if self.context:
            self.context.close()
        self.context = None
