"""The README's recipe, run as it is written on a Debian machine of its own: systemd, PostgreSQL, the proxy, TLS."""

from __future__ import annotations

import json
import re
import subprocess
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from herd.hosting.write_out import BadHost, write_out
from tests.support.machine import Machine, NoMachine, machine
from tests.support.paths import ROOT
from tests.support.sources import project_files

NAME, WORD = "goats.local", "a word for the house"
STEPS = re.search(r"```\n(apt-get install.+?)\n```", (ROOT / "README.md").read_text(), re.DOTALL)
INSIDE = ROOT / "tests/support/slow_phone.py"


def steps() -> list[str]:
    assert STEPS, "the README has no recipe"
    told = STEPS[1].splitlines()
    assert [line.split()[0] for line in told] == [
        "apt-get",
        "/usr/bin/python3",
        "/opt/mangerline/bin/mangerline",
        "sh",
        "herd",
    ]
    return told


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Machine]:
    """In a house: the same lines with --house, for no authority of the net can reach this machine."""
    apt, pip, host, _, _ = steps()
    host = f"{host.replace('herd.example.org', NAME)} --house"
    source = tmp_path_factory.mktemp("source")
    for path in project_files():
        (source / path.relative_to(ROOT)).parent.mkdir(parents=True, exist_ok=True)
        (source / path.relative_to(ROOT)).write_bytes(path.read_bytes())
    try:
        with machine(tmp_path_factory.mktemp("machine")) as made:
            made.install(f"export DEBIAN_FRONTEND=noninteractive\ncd /src\n{apt}\n{pip}\n{host}\n", source)
            with made.running():
                made.run(f"echo 127.0.0.1 {NAME} >> /etc/hosts")
                yield made
    except NoMachine as lacking:
        pytest.skip(str(lacking))


@pytest.fixture(scope="module")
def served(house: Machine) -> Machine:
    _, _, _, install, add_person = steps()
    said = house.run(install)
    assert "It runs." in said
    house.run(f"{add_person.replace('NAME', 'Ada')} --stdin", stdin=WORD + "\n")
    make = "from herd.models import Person; from herd.services.make_farm import make_farm;"
    house.run(f"""herd shell --no-imports -c "{make} make_farm('Hill', 'UTC', Person.objects.get())" """)
    house.run("cat > /root/phone.py", stdin=INSIDE.read_text() + PHONE)
    return house


PHONE = f'''

def house():
    context = ssl.create_default_context(cafile="/var/lib/mangerline/house-ca.crt")
    good = Good(443, "{NAME}", context)
    return good, good.sign_in("Ada", "{WORD}")


def ninth():
    good, farm = house()
    # What is read once, at the first answer, is no matter of slow phones.
    for _ in range(6):
        good.ask("GET", f"/api/farms/{{farm}}/changes")
    with slow_ones(good, 8, half_a_push(good, farm)):
        took = [good.ask("GET", f"/api/farms/{{farm}}/changes") for _ in range(5)]
    print(json.dumps([[status, seconds] for status, _, seconds in took]))


def outbox(count):
    """Entries go out one by one, as long as it takes."""
    import uuid
    good, farm = house()
    said = good.ask("GET", "/api/session")[1]
    person, epoch, device = said["person"]["id"], said["farms"][0]["epoch"], str(uuid.uuid4())
    waiting = []
    for n in range(count):
        now = int(time.time() * 1000)
        stamp = f"{{now:012x}}-{{n:04x}}-{{device[:8]}}"
        data = {{"f": {{"name": f"Doe {{n}}"}}, "base": {{"name": ""}}}}
        waiting.append({{"id": str(uuid.uuid4()), "kind": "doe", "v": 1, "subject": str(uuid.uuid4()), "slot": "",
            "on": time.strftime("%Y-%m-%d"), "happened": now, "entered": now, "hlc": stamp, "author": person,
            "device": device, "data": data}})
    seen, failures, until = [], 0, time.monotonic() + 120
    while waiting and time.monotonic() < until:
        body = {{"device": device, "epoch": epoch, "now": int(time.time() * 1000), "events": waiting[:1]}}
        try:
            status, answer, _ = good.ask("POST", f"/api/farms/{{farm}}/events", body)
        except OSError:
            status, answer = 0, {{}}
        if status == 200:
            seen.append(answer["answers"][0]["st"])
            waiting.pop(0)
        else:
            failures += 1
        time.sleep(0.25)
    print(json.dumps({{"left": len(waiting), "states": sorted(set(seen)), "count": len(seen), "failures": failures}}))


import sys
globals()[sys.argv[1]](*map(int, sys.argv[2:]))
'''


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_the_services_run_as_a_plain_user_and_nothing_else_listens(served: Machine) -> None:
    assert (
        served.run("systemctl is-active mangerline caddy postgresql mangerline-backup.timer").split() == ["active"] * 4
    )
    running = served.run("ps -ww -e -o user:20= -o args=").splitlines()
    ours = [line.split()[0] for line in running if "/opt/mangerline/bin" in line]
    assert len(ours) >= 3, running
    assert set(ours) == {"mangerline"}
    said = served.run("systemd-analyze verify /etc/systemd/system/mangerline* 2>&1", check=False)
    assert "mangerline" not in said, said
    doors = served.run("ss -Hltn 2>/dev/null || cat /proc/net/tcp", check=False)
    assert "127.0.0.1:8000" in doors
    assert "0.0.0.0:8000" not in doors
    assert served.run("stat -c %a:%U /var/lib/mangerline /var/backups/mangerline").split() == ["700:mangerline"] * 2


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_eight_slow_phones_and_the_ninth_is_answered_within_a_second(served: Machine) -> None:
    took = json.loads(served.run("python3 /root/phone.py ninth"))
    print("behind the recipe's proxy, with eight slow ones:", took)
    assert [status for status, _ in took] == [200] * 5
    assert max(seconds for _, seconds in took) < 1


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_phones_fetch_the_root_and_are_led_to_tls(served: Machine) -> None:
    cert = served.run(f"curl -s http://{NAME}/house-ca.crt || wget -qO- http://{NAME}/house-ca.crt")
    assert "BEGIN CERTIFICATE" in cert
    said = served.run("openssl x509 -in /etc/caddy/house/ca.crt -noout -text")
    assert f"DNS:{NAME}" in said
    assert "PRIVATE" not in cert
    chain = f"openssl s_client -connect {NAME}:443 -CAfile /etc/caddy/house/ca.crt -verify_return_error </dev/null 2>&1"
    assert "Verify return code: 0 (ok)" in served.run(chain)


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_the_nightly_backup_is_made_and_tried_and_the_doctor_is_content(served: Machine) -> None:
    served.run("systemctl start mangerline-backup.service")
    assert served.run("ls /var/backups/mangerline").count("mangerline-") == 1
    said = json.loads(served.run("herd doctor --json", check=False))
    told = {(one["about"], one["level"]) for one in said["found"]}
    assert [one for one in said["found"] if one["level"] == "bad"] == []
    assert (f"certificate of {NAME}", "fine") in told
    assert ("backup", "fine") in told
    assert any("tried by restoring" in one["says"] for one in said["found"])


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_an_upgrade_with_a_full_outbox_loses_nothing(served: Machine) -> None:
    """A build with one more migration takes the place of this one while a phone sends."""
    found: dict[str, Any] = {}

    def phone() -> None:
        found.update(json.loads(served.run("python3 /root/phone.py outbox 40")))

    sending = threading.Thread(target=phone)
    sending.start()
    time.sleep(3)
    last = sorted(path.stem for path in (ROOT / "herd/migrations").glob("0*.py"))[-1]
    migration = (
        "from django.db import migrations\n"
        f"class Migration(migrations.Migration):\n    dependencies = [('herd', '{last}')]\n    operations = []\n"
    )
    folder = "$(ls -d /opt/mangerline/lib/python3*/site-packages/herd/migrations)"
    served.run(f"cat > {folder}/0999_later.py", stdin=migration)
    served.run("systemctl restart mangerline")
    sending.join(180)
    print("an upgrade under way:", found)
    assert found["left"] == 0
    assert (found["count"], found["states"]) == (40, ["ok"])
    assert served.run("ls /var/lib/mangerline").count("before-") == 1
    assert "0999" in served.run("herd showmigrations herd")


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_a_server_that_dies_is_there_again(served: Machine) -> None:
    served.run("systemctl kill -s KILL mangerline")
    until = time.monotonic() + 40
    while "active" not in served.run("systemctl is-active mangerline", check=False).split():
        assert time.monotonic() < until
        time.sleep(0.5)
    assert json.loads(served.run("python3 /root/phone.py outbox 1"))["states"] == ["ok"]


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_installing_again_changes_nothing(served: Machine) -> None:
    before = served.run("sha256sum /etc/mangerline/env /etc/caddy/house/ca.crt /etc/caddy/Caddyfile")
    assert "It runs." in served.run(steps()[3])
    assert served.run("sha256sum /etc/mangerline/env /etc/caddy/house/ca.crt /etc/caddy/Caddyfile") == before


def test_a_machine_on_the_net_gets_files_that_hold(tmp_path: Path) -> None:
    made = write_out(tmp_path, "herd.example.org", house=False)
    whole = "\n".join(path.read_text() for path in made)
    assert "herd.example.org {" in whole
    assert not re.search(r"\b(NAME|BIN|KIND|SPAN)\b", whole.replace("add_person NAME", ""))
    try:
        command = ["caddy", "validate", "--adapter", "caddyfile", "--config", str(tmp_path / "Caddyfile")]
        done = subprocess.run(command, capture_output=True, text=True)
    except FileNotFoundError:
        pytest.skip("no proxy: Debian's caddy is not installed")
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("name", ["a b", "https://x.org", "x.org; rm -rf", "x.org\n{", "", "-.org", "192.168.1.7"])
def test_only_a_machines_name_gets_into_a_file(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadHost):
        write_out(tmp_path, name, house=False)
    assert not list(tmp_path.iterdir())


def test_a_house_may_go_by_its_address(tmp_path: Path) -> None:
    write_out(tmp_path, "192.168.1.7", house=True)
    assert "permitted;IP:192.168.1.7/255.255.255.255" in (tmp_path / "house.cnf").read_text()
