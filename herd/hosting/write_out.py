"""The files of a machine, with its name put in."""

from __future__ import annotations

import ipaddress
import re
import sys
from pathlib import Path

FILES = Path(__file__).parent / "files"
ALWAYS = ("mangerline.service", "mangerline-backup.service", "mangerline-backup.timer", "env", "herd.sh", "install.sh")
HOST = re.compile(r"(?=.{1,253}$)([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z][a-z0-9-]{0,61}[a-z0-9]", re.IGNORECASE)


class BadHost(ValueError):
    pass


def write_out(folder: Path, name: str, *, house: bool, program: Path | None = None) -> list[Path]:
    """`name`: what phones call the machine; for a house an address will do. `program`: the `mangerline` to run."""
    name = name.lower()
    number = address(name)
    if not (HOST.fullmatch(name) or (house and number)):
        raise BadHost(f"{name} is no name of a machine: take one such as herd.example.org, or goats.local in a house.")
    # What phones trust must be good for that machine alone.
    span = f"{number}/{'255.255.255.255' if '.' in number else 'ffff:' * 7 + 'ffff'}" if number else name
    put = {
        "NAME": name,
        "BIN": str(program or Path(sys.executable).with_name("mangerline")),
        "KIND": "IP" if number else "DNS",
    }
    put["SPAN"] = span
    wanted = {file: file for file in ALWAYS} | {"Caddyfile": "Caddyfile.house" if house else "Caddyfile"}
    if house:
        wanted |= {"house.cnf": "house.cnf", "PHONES.txt": "PHONES.txt"}
    folder.mkdir(parents=True, exist_ok=True)
    made = []
    for target, source in wanted.items():
        text = (FILES / source).read_text(encoding="utf-8")
        path = folder / target
        path.write_text(re.sub(r"\b(NAME|BIN|KIND|SPAN)\b", lambda found: put[found[0]], text), encoding="utf-8")
        path.chmod(0o755 if target.endswith(".sh") else 0o644)
        made.append(path)
    return made


def address(name: str) -> str:
    try:
        return str(ipaddress.ip_address(name))
    except ValueError:
        return ""
