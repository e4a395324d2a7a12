"""What a phone meets first: names, certificates, the settings around them, and the way out for mail."""

from __future__ import annotations

import os
import smtplib
import socket
import ssl
import time
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from django.core import checks

from .finding import BAD, FINE, LOOK, NOT_SEEN, Finding

SOON_D, NOW_D = 14, 3
LONG_KEY, MANY_LETTERS = 50, 10
HOUSE_CA = "house-ca.crt"
TLS_PORT = 443


def names() -> Iterator[Finding]:
    hosts = settings.ALLOWED_HOSTS
    if not settings.ON_THE_NET:
        said = "The app answers on this machine alone: MANGERLINE_HOSTS names no other host."
        yield Finding(LOOK, "names", said, "To let phones in, follow `mangerline host` in the README.")
        return
    odd = [host for host in hosts if "/" in host or ":" in host.strip("[]").lstrip("[") or host != host.strip()]
    if "*" in hosts:
        yield Finding(BAD, "names", "MANGERLINE_HOSTS allows every name.", "Name the one the phones use.")
    elif odd:
        said = f"MANGERLINE_HOSTS has {odd[0]!r}: a host is a name alone."
        yield Finding(BAD, "names", said, "Leave out https://, the port and blanks.")
    else:
        yield Finding(FINE, "names", f"The app answers as {', '.join(hosts)}.")
    if not settings.SECURE_PROXY_SSL_HEADER:
        said = "Nothing says that a proxy speaks TLS in front of the app, so each page leads back to itself."
        yield Finding(BAD, "proxy", said, "Set MANGERLINE_BEHIND_PROXY=1, and let the proxy set X-Forwarded-Proto.")
    if settings.DEBUG:
        yield Finding(BAD, "settings", "MANGERLINE_DEBUG is on.", "Unset it: it shows what should stay inside.")
    for one in checks.run_checks(include_deployment_checks=True):
        if one.level >= checks.WARNING and not one.is_silenced():
            yield Finding(LOOK, "settings", f"{one.id}: {one.msg}", one.hint or "")


def key() -> Iterator[Finding]:
    held = settings.SECRET_KEY
    if len(held) < LONG_KEY or len(set(held)) < MANY_LETTERS:
        do = "Set MANGERLINE_SECRET_KEY to 64 random letters, and the old one as MANGERLINE_OLD_SECRET_KEYS."
        yield Finding(BAD, "key", "The secret key is easy to guess.", do)
    else:
        yield Finding(FINE, "key", "The secret key is long enough.")
    if len(settings.SECRET_KEY_FALLBACKS) > 1:
        said = f"{len(settings.SECRET_KEY_FALLBACKS)} old keys still open doors."
        yield Finding(LOOK, "key", said, "Drop those older than 90 days from MANGERLINE_OLD_SECRET_KEYS.")


def certificates() -> Iterator[Finding]:
    for host in settings.ALLOWED_HOSTS:
        if settings.ON_THE_NET and host not in (*settings.LOCAL_HOSTS, "*"):
            yield certificate(host.lstrip("."), int(os.environ.get("MANGERLINE_TLS_PORT", TLS_PORT)))


def certificate(host: str, port: int = TLS_PORT, ca: Path | None = None) -> Finding:
    about = f"certificate of {host}"
    ca = ca or Path(settings.DATA_DIR) / HOUSE_CA
    context = ssl.create_default_context()
    if ca.exists():
        context.load_verify_locations(ca)
    try:
        line = socket.create_connection((host, port), timeout=4)
        with line, context.wrap_socket(line, server_hostname=host) as safe:
            ends = str((safe.getpeercert() or {})["notAfter"])
    except ssl.SSLCertVerificationError as error:
        do = "Phones refuse to go on. See the proxy's log; for a house of your own, see how phones trust it."
        return Finding(BAD, about, f"It does not hold: {error.verify_message}.", do)
    except ssl.SSLError as error:
        return Finding(BAD, about, f"No TLS there: {error.reason}.", "See that the proxy runs, and its log.")
    except OSError as error:
        said = f"{host} cannot be reached from here: {error.strerror or error}."
        return Finding(NOT_SEEN, about, said, "See that the name leads here and that the proxy runs.")
    left_d = (ssl.cert_time_to_seconds(ends) - time.time()) / 86_400
    # A house's proxy renews every few hours, so a day left says nothing there.
    house = ca.exists()
    if not house and left_d < SOON_D:
        do = "It should have been renewed by itself: see the proxy's log."
        return Finding(BAD if left_d < NOW_D else LOOK, about, f"It ends in {left_d:.0f} days.", do)
    return Finding(FINE, about, f"It holds for {left_d:.1f} more days.")


def mail() -> Iterator[Finding]:
    """Without a mail server codes go on paper; one that was named must answer."""
    named = "smtp" in settings.EMAIL_BACKEND and settings.EMAIL_HOST not in ("", "localhost")
    if not named:
        yield Finding(FINE, "mail", "No mail server is named: who forgets a password uses the printed code.")
        return
    where = f"{settings.EMAIL_HOST}:{settings.EMAIL_PORT}"
    kind = smtplib.SMTP_SSL if settings.EMAIL_USE_SSL else smtplib.SMTP
    try:
        with kind(settings.EMAIL_HOST, settings.EMAIL_PORT, timeout=5) as server:
            server.noop()
    except (OSError, smtplib.SMTPException) as error:
        yield Finding(BAD, "mail", f"{where} does not answer: {error}.", "Codes for passwords do not go out.")
    else:
        yield Finding(FINE, "mail", f"{where} answers.")
