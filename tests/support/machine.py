"""A Debian machine of its own for one test: this one's files with a layer over them, and systemd as its first process.

What is done in it is gone with it. It has its own processes, users, network and mounts; `install` runs before it is
switched on, with this machine's network, since a new machine has one.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

SYSTEMD = Path("/lib/systemd/systemd")
PREPARE = """
set -e
mount --make-rprivate /
mount -t overlay overlay -o lowerdir=/,upperdir={top}/upper,workdir={top}/work {top}/root
cd {top}/root
mount -t proc proc proc
mount -t tmpfs -o mode=0755 tmpfs run
mount -t tmpfs -o mode=1777 tmpfs tmp
mount -t tmpfs -o mode=0755 tmpfs dev
for node in null zero full random urandom tty; do touch dev/$node; mount --bind /dev/$node dev/$node; done
mkdir -p dev/pts dev/shm
mount -t devpts -o newinstance,ptmxmode=0666 devpts dev/pts
ln -s pts/ptmx dev/ptmx
mount -t tmpfs -o mode=1777 tmpfs dev/shm
ln -s /proc/self/fd dev/fd
"""
SWITCH_ON = """
mount -t sysfs -o ro sysfs sys
mount -t tmpfs -o mode=0755 tmpfs sys/fs/cgroup
mkdir -p sys/fs/cgroup/systemd
mount -t cgroup -o none,name=systemd,xattr cgroup sys/fs/cgroup/systemd
ip link set lo up
exec env -i container=other PATH=/usr/sbin:/usr/bin:/sbin:/bin chroot . {systemd} --unit=multi-user.target
"""


class NoMachine(Exception):
    pass


class Machine:
    def __init__(self, top: Path) -> None:
        self.top, self.inside = top, 0
        for name in ("upper", "work", "root"):
            (top / name).mkdir(parents=True, exist_ok=True)

    def install(self, script: str, source: Path) -> str:
        """Before it runs: apt and pip, from this machine's network. `source` is there as /src."""
        prepare = PREPARE.format(top=self.top) + "mkdir -p src\n" + f"mount --bind {source} src\n"
        prepare += "mount --bind /etc/resolv.conf etc/resolv.conf 2>/dev/null || true\n"
        words = ["unshare", "--mount", "--pid", "--fork", "--kill-child", "sh", "-c"]
        done = subprocess.run(
            [*words, prepare + 'exec chroot . /bin/sh -ec "$0"', script],
            capture_output=True,
            text=True,
            env={**clean(), **network()},
        )
        if done.returncode:
            raise RuntimeError(f"installing failed:\n{done.stdout[-3000:]}{done.stderr[-3000:]}")
        return done.stdout

    @contextmanager
    def running(self) -> Iterator[Machine]:
        start = PREPARE.format(top=self.top) + SWITCH_ON.format(systemd=SYSTEMD)
        words = ["unshare", "--mount", "--pid", "--fork", "--kill-child", "--net", "--uts", "--ipc", "sh", "-c", start]
        with (self.top / "console.log").open("wb") as log:
            running = subprocess.Popen(words, stdout=log, stderr=subprocess.STDOUT, env=clean())
        try:
            self.inside = self._first(running)
            self._until_up()
            yield self
        finally:
            running.send_signal(signal.SIGKILL)
            running.wait(20)

    def _first(self, running: subprocess.Popen[bytes]) -> int:
        until = time.monotonic() + 20
        while time.monotonic() < until and running.poll() is None:
            children = Path(f"/proc/{running.pid}/task/{running.pid}/children").read_text().split()
            if children and os.readlink(f"/proc/{children[0]}/exe").endswith("systemd"):
                return int(children[0])
            time.sleep(0.1)
        raise NoMachine(f"systemd cannot be the first process here: {self.console()}")

    def _until_up(self) -> None:
        until = time.monotonic() + 90
        while time.monotonic() < until:
            said = self.run("systemctl is-system-running", check=False).strip()
            if said in ("running", "degraded"):
                return
            time.sleep(0.5)
        raise NoMachine(f"systemd did not come up here: {said} {self.console()}")

    def console(self) -> str:
        return (self.top / "console.log").read_text(errors="replace")[-2000:]

    def run(self, script: str, *, check: bool = True, timeout_s: int = 300, stdin: str = "") -> str:
        words = ["nsenter", "-t", str(self.inside), "-m", "-p", "-n", "-u", "-i", "-r", "-w", "sh", "-ec", script]
        done = subprocess.run(words, capture_output=True, text=True, timeout=timeout_s, env=clean(), input=stdin)
        if check and done.returncode:
            raise RuntimeError(f"{script}\nfailed:\n{done.stdout[-3000:]}{done.stderr[-3000:]}")
        return done.stdout


def clean() -> dict[str, str]:
    return {"PATH": "/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin", "LANG": "C.UTF-8", "HOME": "/root"}


def network() -> dict[str, str]:
    """How this machine reaches the net: without its authorities npm tries for minutes before it gives up."""
    told = ("NODE_EXTRA_CA_CERTS", "HTTP_PROXY", "HTTPS_PROXY", "NO_PROXY")
    return {name: value for name, value in os.environ.items() if name.upper() in told or name.startswith("PIP_")}


@contextmanager
def machine(folder: Path) -> Iterator[Machine]:
    """Root, overlays and namespaces are what it takes; without them there is none."""
    if os.geteuid() != 0:
        raise NoMachine("a machine of its own takes root")
    lacking = [program for program in ("unshare", "nsenter", "ip") if not shutil.which(program)]
    if lacking or not SYSTEMD.exists():
        raise NoMachine(f"a machine of its own takes systemd and {', '.join(lacking) or 'nothing else'}")
    folder.mkdir(parents=True, exist_ok=True)
    # An overlay cannot lie on an overlay: its upper layer is in memory.
    mount = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4g", "tmpfs", str(folder)], capture_output=True)
    if mount.returncode:
        raise NoMachine(f"nothing can be mounted here: {mount.stderr.decode().strip()}")
    try:
        yield Machine(folder)
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=False)
