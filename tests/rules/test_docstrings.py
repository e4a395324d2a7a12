import ast

from tests.support.sources import code_files, name, tree

# Arithmetic on a number or a day's numbers; it says nothing about goats.
PLAIN_ARITHMETIC = "herd/science/base/arrays.py"


def test_public_functions_of_science_and_outlook_say_what_they_are() -> None:
    files = code_files("herd/science/", "herd/outlook/", suffixes={".py"})
    assert files
    silent = [
        f"{name(path)}: {node.name}"
        for path in files
        if name(path) != PLAIN_ARITHMETIC
        for node in tree(path).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and not ast.get_docstring(node)
    ]
    assert not silent, "\n".join(silent)
