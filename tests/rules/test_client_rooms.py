import re
from pathlib import Path

from tests.support.sources import code_files, name, without_comments

CORE = "frontend/src/core/"
ENV = f"{CORE}base/env.ts"
DATABASE = re.compile(r"\bindexedDB\b|from [\"']idb[\"']|\bIDB[A-Z]\w+")
NETWORK = re.compile(r"\bfetch\s*\(|XMLHttpRequest|sendBeacon|WebSocket")
PAGE = re.compile(r"\b(document|window|localStorage|sessionStorage)\s*[.\[]|\bHTML\w*Element\b")
VIEWS = re.compile(r"from [\"'](svelte[\"'/]|\.\./(\.\./)*ui/|[^\"']+\.svelte)")


def offenders(pattern: re.Pattern[str], files: list[Path], allowed: tuple[str, ...] = ()) -> list[str]:
    assert files
    return [
        f"{name(path)}: {found.group(0)}"
        for path in files
        if not (allowed and name(path).startswith(allowed))
        for found in pattern.finditer(without_comments(path))
    ]


def client(*suffixes: str) -> list[Path]:
    return code_files("frontend/src/", suffixes=set(suffixes))


def core() -> list[Path]:
    return code_files(CORE, suffixes={".ts"})


def test_core_knows_no_page() -> None:
    assert offenders(PAGE, core()) == []


def test_core_knows_no_view() -> None:
    assert offenders(VIEWS, core()) == []


def test_only_the_store_touches_the_database() -> None:
    assert offenders(DATABASE, client(".ts", ".svelte"), (f"{CORE}phone/store/", ENV)) == []


def test_only_sync_touches_the_network() -> None:
    assert offenders(NETWORK, client(".ts", ".svelte"), (f"{CORE}phone/sync/", ENV, "frontend/src/sw.ts")) == []


def test_no_style_attribute_that_the_content_security_policy_would_drop() -> None:
    assert offenders(re.compile(r"\sstyle=\"[^\"{]*\""), client(".svelte")) == []
