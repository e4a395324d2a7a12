"""What holds for every answer and every file, looked at once."""

from __future__ import annotations

import ast
from typing import Any

from django.conf import settings

from tests.security.world import World
from tests.support.sources import code_files, imports, name, tree

SERVED = ("api/", "herd/services/", "herd/models/")
# They name no value of a request: the health probe, the database's own switches, a backup's copy.
BUILT = {"execute", "executescript", "raw", "RawSQL", "extra"}


def test_cookies_are_lax_and_the_session_is_out_of_reach_of_scripts() -> None:
    assert (settings.SESSION_COOKIE_SAMESITE, settings.CSRF_COOKIE_SAMESITE) == ("Lax", "Lax")
    assert settings.SESSION_COOKIE_HTTPONLY is True


def test_every_answer_forbids_guessing_its_type(world: World) -> None:
    phone, farm = world.phones["owner"], world.hill.farm.id
    for path in ("/api/session", "/api/farms", f"/api/farms/{farm}/changes", f"/api/farms/{farm}/members", "/api/none"):
        answer = phone.client.get(path)
        assert answer["X-Content-Type-Options"] == "nosniff", path
        assert answer["Referrer-Policy"] == "same-origin", path
        assert answer["Cache-Control"] == "no-store", path


def calls(node: ast.AST) -> list[tuple[str, ast.Call]]:
    found: list[tuple[str, ast.Call]] = []
    for one in ast.walk(node):
        if isinstance(one, ast.Call):
            called: Any = one.func
            found.append((getattr(called, "attr", getattr(called, "id", "")), one))
    return found


def test_no_sql_is_put_together_from_text() -> None:
    """A question is a text as it stands in the code, its values beside it; names of tables come from the models."""
    wrong = [
        f"{name(path)}:{call.lineno} {ast.unparse(call)[:120]}"
        for path in code_files("api/", suffixes={".py"})
        for called, call in calls(tree(path))
        if called in BUILT
    ]
    assert wrong == []
    inside = [
        f"{name(path)}:{call.lineno} {ast.unparse(call)[:120]}"
        for path in code_files("herd/services/", "herd/models/", suffixes={".py"})
        for called, call in calls(tree(path))
        if called in BUILT and call.args and isinstance(call.args[0], ast.BinOp)
    ]
    assert inside == []


def test_nothing_of_a_request_reaches_a_shell() -> None:
    files = code_files(*SERVED, suffixes={".py"})
    assert files
    wrong = [
        f"{name(path)}: {what}"
        for path in files
        for what in (*(called for called, _ in calls(tree(path)) if called in ("eval", "exec", "system", "popen")),
                     *(module for module in imports(path) if module in ("subprocess", "pickle", "marshal")))
    ]  # fmt: skip
    assert wrong == []
