"""WebKit, the iPhone's engine, as Debian has it: WebKitGTK's small browser, driven by Selenium, on a hidden screen."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from selenium.webdriver import WebKitGTK

PACKAGES = "webkit2gtk-driver xvfb"
DRIVER, DISPLAY = "WebKitWebDriver", "Xvfb"
BROWSERS = "*/webkit2gtk-4.*/MiniBrowser"
# It draws no window narrower than 447 px.
SIZE = (447, 844)


class NoWebKit(Exception):
    pass


def find() -> tuple[str, str, str]:
    """The driver, the browser, and the screen it is shown on."""
    driver, display = shutil.which(DRIVER), shutil.which(DISPLAY)
    browsers = sorted(Path("/usr/lib").glob(BROWSERS))
    if not (driver and display and browsers):
        raise NoWebKit(f"no WebKit on this machine: apt-get install {PACKAGES}")
    return driver, str(browsers[-1]), display


class WebKit:
    """A phone with this engine. It forgets everything when it is quit: to start anew is to load the page anew."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.driver_program, self.program, self.display_program = find()
        self.display: subprocess.Popen[str] | None = None
        self.driver: WebKitGTK | None = None

    def open(self) -> WebKitGTK:
        from selenium.webdriver import WebKitGTK
        from selenium.webdriver.webkitgtk.options import Options
        from selenium.webdriver.webkitgtk.service import Service

        options = Options()
        options.binary_location = self.program
        options.add_argument("--automation")
        log = str(self.folder / "driver.log")
        service = Service(executable_path=self.driver_program, log_output=log, env=self.env(self.show()))
        self.driver = WebKitGTK(options=options, service=service)
        self.driver.set_window_size(*SIZE)
        self.driver.set_script_timeout(30)
        return self.driver

    def show(self) -> int:
        """A screen nobody sees, under a number that is free."""
        read, write = os.pipe()
        command = [self.display_program, "-displayfd", str(write), "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]
        with open(self.folder / "display.log", "w") as log:
            self.display = subprocess.Popen(command, pass_fds=[write], stdout=log, stderr=log, text=True)
        os.close(write)
        with os.fdopen(read) as number:
            return int(number.readline())

    def env(self, display: int) -> dict[str, Any]:
        home = {f"XDG_{kind}_HOME": str(self.folder / kind.lower()) for kind in ("DATA", "CACHE", "CONFIG")}
        return {
            **os.environ,
            **home,
            "DISPLAY": f":{display}",
            "LANG": "en_US.UTF-8",
            "TZ": "UTC",
            # its sandbox needs user namespaces, which a container has not
            "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1",
        }

    def quit(self) -> None:
        if self.driver:
            self.driver.quit()
        if self.display:
            self.display.terminate()
            self.display.wait(timeout=10)
        self.driver = self.display = None
