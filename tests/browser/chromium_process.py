"""A Chromium with a profile of its own, that can be killed as a phone's battery would do it."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, BrowserType, Page

from tests.browser.barn import until


class Handset:
    def __init__(self, browser_type: BrowserType, profile: Path, options: dict[str, Any]) -> None:
        self.browser_type, self.profile, self.options = browser_type, profile, options
        self.context: BrowserContext | None = None

    def switch_on(self) -> Page:
        self.context = self.browser_type.launch_persistent_context(str(self.profile), **self.options)
        return self.context.pages[0] if self.context.pages else self.context.new_page()

    def battery_out(self) -> None:
        """Every process of this browser, at once."""
        pids = self.processes()
        assert pids, "no browser to kill"
        for pid in pids:
            os.kill(pid, signal.SIGKILL)
        until(lambda: not self.processes(), "the browser's processes to be gone")

    def switch_off(self) -> None:
        if self.context and self.processes():
            self.context.close()

    def processes(self) -> list[int]:
        """Those started on this profile; a killed one that nobody has waited for yet has no command line any more."""
        mark = f"--user-data-dir={self.profile}".encode()
        found = []
        for folder in Path("/proc").glob("[0-9]*"):
            try:
                if mark in (folder / "cmdline").read_bytes():
                    found.append(int(folder.name))
            except OSError:
                continue
        return found
