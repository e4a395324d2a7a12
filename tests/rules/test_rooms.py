import sys
from pathlib import Path

import pytest

from tests.support.sources import code_files, imports, name

ROOMS = ["herd.science", "herd.state", "herd.outlook", "herd.models", "herd.services", "herd.demo", "api"]
PURE = ROOMS[:3]
HOUSE_FOR_EVERYONE = ("herd.log",)
LIBRARIES = {"numpy", "scipy", "msgspec", "py_mini_racer"}


def room_of(module: str) -> str | None:
    return next((room for room in ROOMS if module == room or module.startswith(f"{room}.")), None)


def files_in(*rooms: str) -> list[Path]:
    return code_files(*(f"{room.replace('.', '/')}/" for room in rooms), suffixes={".py"})


def test_a_room_imports_only_from_rooms_to_its_left() -> None:
    files = files_in(*ROOMS)
    assert files
    wrong = [
        f"{name(path)} imports {module}"
        for path in files
        for module in imports(path)
        if (there := room_of(module)) and ROOMS.index(there) > ROOMS.index(str(room_of(dotted(path))))
    ]
    assert not wrong, "\n".join(wrong)


def test_rooms_take_nothing_from_the_house_but_its_log() -> None:
    wrong = [
        f"{name(path)} imports {module}"
        for path in files_in(*ROOMS)
        for module in imports(path)
        if module.startswith("herd.") and not room_of(module) and not module.startswith(HOUSE_FOR_EVERYONE)
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("room", PURE)
def test_pure_rooms_know_no_framework(room: str) -> None:
    files = files_in(room)
    assert files
    allowed = sys.stdlib_module_names | {"herd"} | LIBRARIES
    wrong = [
        f"{name(path)} imports {module}"
        for path in files
        for module in imports(path)
        if module.split(".")[0] not in allowed
    ]
    assert not wrong, "\n".join(wrong)


def test_the_project_never_imports_its_tests_or_its_client() -> None:
    wrong = [
        f"{name(path)} imports {module}"
        for path in code_files("herd/", "api/", suffixes={".py"})
        for module in imports(path)
        if module.split(".")[0] in {"tests", "frontend"}
    ]
    assert not wrong, "\n".join(wrong)


def dotted(path: Path) -> str:
    return name(path).removesuffix(".py").replace("/", ".")
