"""What a science function raises instead of guessing."""

from __future__ import annotations


class ScienceError(ValueError):
    """No answer can be given from these inputs."""


class OutOfRange(ScienceError):
    """An input lies outside the range its source supports. Show name, value and range; never clamp it."""

    def __init__(self, name: str, value: float, low: float, high: float, source: str) -> None:
        super().__init__(f"{name} is {value:g}, outside {low:g} to {high:g} ({source})")
        self.name, self.value, self.low, self.high, self.source = name, value, low, high, source


class MissingInput(ScienceError):
    """A measurement this answer needs has not been recorded."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} is not known")
        self.name = name
