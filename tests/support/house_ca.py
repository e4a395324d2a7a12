"""A certificate authority of a house and certificates by it, made with openssl for one test."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path


class NoOpenssl(Exception):
    pass


def openssl(*arguments: str) -> None:
    if not shutil.which("openssl"):
        raise NoOpenssl("no openssl")
    subprocess.run(["openssl", *arguments], check=True, capture_output=True)


def authority(folder: Path) -> tuple[Path, Path]:
    cert, key = folder / "ca.crt", folder / "ca.key"
    new = ["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "30"]
    usage = ["-addext", "keyUsage=critical,keyCertSign,cRLSign"]
    openssl(*new, "-subj", "/CN=A house", *usage, "-keyout", str(key), "-out", str(cert))
    return cert, key


def certificate(folder: Path, ca: tuple[Path, Path], host: str, days: int) -> tuple[Path, Path]:
    cert, key, request, more = (folder / f"{host}.{end}" for end in ("crt", "key", "csr", "ext"))
    more.write_text(f"subjectAltName=DNS:{host}\nauthorityKeyIdentifier=keyid\n")
    new = ["req", "-new", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
    openssl(*new, "-subj", f"/CN={host}", "-keyout", str(key), "-out", str(request))
    sign = ["x509", "-req", "-in", str(request), "-CA", str(ca[0]), "-CAkey", str(ca[1]), "-CAcreateserial"]
    openssl(*sign, "-days", str(days), "-extfile", str(more), "-out", str(cert))
    return cert, key
