import re

from herd.science import VERSION
from tests.support.paths import ROOT
from tests.support.sources import code_files

README = ROOT / "README.md"
GUIDE = ROOT / "DEVELOPERS.md"
PATHS = re.compile(r"`((?:herd|api|frontend|tests|\.ci)/[\w./-]+)`")


def test_every_management_command_is_in_the_guide() -> None:
    commands = [path.stem for path in code_files("herd/management/commands/", suffixes={".py"})]
    told = README.read_text() + GUIDE.read_text()
    assert [command for command in commands if command != "__init__" and f"`{command}" not in told] == []


def test_every_file_the_docs_name_exists() -> None:
    named = {path for text in (README, GUIDE) for path in PATHS.findall(text.read_text())}
    assert named
    assert sorted(path for path in named if not (ROOT / path).exists()) == []


def test_readme_opens_with_one_paragraph_then_the_two_commands() -> None:
    title, job, *rest = README.read_text().split("\n\n")
    assert title.startswith("# ")
    assert not job.startswith(("#", "-", "`", ">"))
    commands = re.findall(r"^python3 -m venv .+$", "\n\n".join(rest), re.MULTILINE)
    assert commands == [
        "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/mangerline up",
        "python3 -m venv .venv && .venv/bin/pip install -e '.[dev]' && .venv/bin/pytest -n 2",
    ]


def test_what_changed_in_the_advice_is_told_of_this_science() -> None:
    told = re.findall(r'\["([\d.]+)", "([\d-]+)"\]', (ROOT / "frontend/src/ui/farm/advice_changes.ts").read_text())
    assert told[0][0] == VERSION
    assert [on for _, on in told] == sorted((on for _, on in told), reverse=True)
