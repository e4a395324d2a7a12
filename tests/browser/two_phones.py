"""Phones without a signal, and with it again."""

from __future__ import annotations

from tests.browser.screen import Screen


def apart(*screens: Screen) -> None:
    for screen in screens:
        screen.page.context.set_offline(True)


def together(*screens: Screen) -> None:
    """Each sends what it has, and then each hears of the other's."""
    for screen in screens:
        screen.page.context.set_offline(False)
    for screen in (*screens, *screens):
        screen.send_now()
        screen.all_sent()
