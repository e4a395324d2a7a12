"""What a browser still holds of a farm."""

from __future__ import annotations

from typing import Any

from tests.browser.screen import Screen

LOOK = """async ([farm, words]) => {
  const bases = (await indexedDB.databases()).map(({ name }) => name).filter((name) => name.includes(farm));
  const found = [];
  for (const name of await caches.keys()) {
    for (const request of await (await caches.open(name)).keys()) {
      const told = new URL(request.url).pathname.startsWith("/api/") || request.url.includes(farm);
      if (told) found.push(`${name} ${request.url}`);
    }
  }
  const store = JSON.stringify([{ ...localStorage }, { ...sessionStorage }]);
  return [...bases, ...found, ...words.filter((word) => store.includes(word))];
}"""


def left_of(screen: Screen, farm: str, *words: str) -> list[Any]:
    """Databases and kept answers of the farm, and which of the words stand in what is kept beside them."""
    return list(screen.page.evaluate(LOOK, [farm, list(words)]))
