from tests.rules.test_rooms import ROOMS as ROOMS_OF_CODE
from tests.support.changed import ALWAYS, EVERYTHING, FOLDERS, ROOMS, reached
from tests.support.paths import ROOT

NOT_TESTS = {"tests/support/", "tests/vectors/", "tests/__pycache__/"}


def test_every_folder_of_tests_has_its_room() -> None:
    folders = {f"tests/{path.name}/" for path in (ROOT / "tests").iterdir() if path.is_dir()}
    assert folders - NOT_TESTS == {*FOLDERS, *ALWAYS}


def test_the_rooms_stand_in_the_order_in_which_they_import() -> None:
    told = [code for codes, _ in ROOMS for code in codes]
    assert [code for code in told if code.strip("/").replace("/", ".") in ROOMS_OF_CODE] == [
        f"{room.replace('.', '/')}/" for room in ROOMS_OF_CODE
    ]


def test_a_change_reaches_its_room_and_those_to_the_right() -> None:
    assert "tests/api/" in reached("herd/services/refold.py")
    assert "tests/outlook/" not in reached("herd/services/refold.py")
    assert "tests/outlook/" in reached("frontend/src/core/outlook/whole/evaluate.ts")
    assert {"tests/science/", "tests/browser/"} <= set(reached("herd/science/feeds/feeds.csv"))
    assert "tests/frontend/" in reached("api/sync.py")
    assert reached("README.md") == []


def test_of_tests_a_file_reaches_itself_and_what_it_leans_on_its_folder() -> None:
    assert reached("tests/api/test_push.py") == ["tests/api/test_push.py"]
    assert reached("tests/browser/barn.py") == ["tests/browser/"]
    assert reached("tests/vectors/fold/one.json") == [*EVERYTHING]
