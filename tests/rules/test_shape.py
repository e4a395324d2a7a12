import re

from tests.support.sources import CODE, code_files, name, project_files

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "manage.py", "herd", "api", "frontend", "tests"}
LONGEST_FILE = 300
# Written with brackets so that this file does not find itself.
ELSEWHERE = re.compile(r"\.\.[/]shared|[/]work/|[/]home/|[/]Users/")
UNFINISHED = re.compile(
    r"\b(TO[D]O|FIX[M]E|XX[X]|HAC[K])\b|assert Tru[e]\b|pragma: no cove[r]|@ts-ignor[e]|eslint-disabl[e]"
)


def text_files() -> list[tuple[str, str]]:
    wanted = CODE | {".md", ".toml", ".html", ".csv", ".sh"}
    return [(name(path), path.read_text()) for path in project_files() if path.suffix in wanted]


def test_top_level_is_exactly_as_agreed() -> None:
    found = {name(path).split("/")[0] for path in project_files()}
    assert {entry for entry in found if not entry.startswith(".")} == TOP_LEVEL


def test_no_file_is_longer_than_300_lines() -> None:
    files = code_files("herd/", "api/", "frontend/", "tests/")
    assert files
    counted = {name(path): len(path.read_text().splitlines()) for path in files}
    assert {path: lines for path, lines in counted.items() if lines > LONGEST_FILE} == {}


def test_no_file_points_outside_the_project() -> None:
    assert [path for path, text in text_files() if ELSEWHERE.search(text)] == []


def test_nothing_is_left_unfinished_or_silenced() -> None:
    assert [f"{path}: {found.group(0)}" for path, text in text_files() for found in UNFINISHED.finditer(text)] == []


def test_nothing_built_or_vendored_is_kept() -> None:
    built = re.compile(r"\.min\.(js|css)$|/vendor/|node_modules/|client_dist/")
    assert [name(path) for path in project_files() if built.search(name(path))] == []


def test_one_quantity_has_one_unit_suffix() -> None:
    """A weight in kilograms is _kg and nothing else: the other spellings are where mistakes breed."""
    loose = re.compile(r"\b\w+_(kgs|grams|kilograms|pounds|lbs|percent|kilojoules)\b")
    python = code_files("herd/", "api/", suffixes={".py"})
    assert [f"{name(p)}: {m.group(0)}" for p in python for m in loose.finditer(p.read_text())] == []
