"""What Spanish still lacks, or says of an English sentence that has changed since.

`python -m tests.support.missing_texts` prints {key: English} of those. Put the Spanish in the place of the English in
that list, save it, and `--take FILE` puts it beside the others and notes which English each was made from.

Words for Spanish: a button in the infinitive ("Guardar"), what to do in the imperative of usted ("Revise ya"), no
exclamation marks. Doe cabra, young doe cabrita, first freshener primeriza, kids crías, buck macho, bred servida, open
vacía, pen corral, feeder comedero, bowl plato, manger line línea del pesebre, herd hato, feed alimento, a feeding
comida, hay heno, a stack of it pila, bale paca, scoop cucharón, a fill of it medida, bag bolsa, bin bote, dung
estiércol, short falta, level a nivel, over sobra, off feed sin comer, a doe down caída, to score calificar su
condición, to look at revisar, kidding signs signos de parto, a hold retiro, to take back deshacer. A farm chooses its
word for a flake: [flake], [flakes], [Flake] at the start, [un|una] by its gender.
"""

from __future__ import annotations

import csv
import hashlib
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.support.paths import ROOT

TEXTS = ROOT / "frontend/src/texts"
FEEDS = ROOT / "herd/science/feeds/feeds.csv"
WORDS, NAMES, CARDS, MADE_FROM = "es.json", "names.es.json", "cards.es.json", "es.made_from.json"
# What a herd rule stands on, where that is no work of others.
SOURCES = ("judgement", "judgement, fitted on simulated farms", "common practice, no source")
# Of the sources behind a card these are ours to say; the others are titles of works.
OURS = ("practice", "judgement", "keepers")


def read(path: Path) -> dict[str, Any]:
    return dict(json.loads(path.read_text()))


def english() -> dict[str, dict[str, str]]:
    """{Spanish file: {key: English}}. A feed's key is its English name, a card's sentence has its place as key."""
    with FEEDS.open(newline="") as rows:
        names = {name: name for name in (*(row["name"] for row in csv.DictReader(rows)), *SOURCES)}
    return {WORDS: read(TEXTS / "en.json"), NAMES: names, CARDS: dict(places(read(TEXTS / "cards.en.json")))}


def places(part: Any, at: str = "cards.en") -> Iterator[tuple[str, str]]:
    """Every string for a person and its place."""
    if isinstance(part, str):
        if any(map(str.isalpha, part)):
            yield at, part
    else:
        for key, one in part.items() if isinstance(part, dict) else enumerate(part):
            if is_said(at, str(key)):
                yield from places(one, f"{at}.{key}")


def is_said(at: str, key: str) -> bool:
    if at.startswith("cards.en.sources."):
        return key == "year" or at.removeprefix("cards.en.sources.") in OURS
    return key != "source"


def known() -> dict[str, dict[str, str]]:
    """What is said of the English that stands there now. A sentence of a card may have moved since."""
    made_from, texts = read(TEXTS / MADE_FROM), english()
    words, names = read(TEXTS / WORDS), read(TEXTS / NAMES)
    of_cards = {made_from.get(at, ""): said for at, said in places(read(TEXTS / CARDS))}
    return {
        WORDS: {key: words[key] for key, text in texts[WORDS].items() if made_from.get(key) == mark(text)},
        NAMES: {name: names[name] for name in texts[NAMES] if name in names},
        CARDS: {at: of_cards[mark(text)] for at, text in texts[CARDS].items() if mark(text) in of_cards},
    }


def mark(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def missing() -> dict[str, str]:
    """{key: English} of what is not said, or was said of another English sentence."""
    said = known()
    return {key: text for name, texts in english().items() for key, text in texts.items() if key not in said[name]}


def files(fresh: dict[str, str]) -> dict[str, Any]:
    """The Spanish files as they should stand with FRESH put in; what is out of date stays until it is said anew."""
    texts, old = english(), read(TEXTS / WORDS)
    said = {name: {**of, **{key: fresh[key] for key in texts[name] if key in fresh}} for name, of in known().items()}
    marked = {key: text for name in (WORDS, CARDS) for key, text in texts[name].items() if key in said[name]}
    return {
        WORDS: {key: {**old, **said[WORDS]}[key] for key in texts[WORDS] if key in {**old, **said[WORDS]}},
        NAMES: {name: said[NAMES][name] for name in texts[NAMES] if name in said[NAMES]},
        CARDS: replaced(read(TEXTS / "cards.en.json"), said[CARDS]),
        MADE_FROM: {key: mark(text) for key, text in marked.items()},
    }


def replaced(part: Any, said: dict[str, str], at: str = "cards.en") -> Any:
    if isinstance(part, dict):
        return {key: replaced(one, said, f"{at}.{key}") for key, one in part.items()}
    if isinstance(part, list):
        return [replaced(one, said, f"{at}.{key}") for key, one in enumerate(part)]
    return said.get(at, part)


def take(fresh: dict[str, str]) -> None:
    for name, content in files(fresh).items():
        (TEXTS / name).write_text(json.dumps(content, ensure_ascii=False, indent=1) + "\n")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--take"]:
        take(read(Path(sys.argv[2])))
    print(json.dumps(missing(), ensure_ascii=False, indent=1))
