"""A session, or a seat on a shared browser, ended from another phone."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import import_module
from typing import Any

from allauth.usersessions.adapter import DefaultUserSessionsAdapter
from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY

from herd.models import Person, Seat
from herd.services.audit import audit

from .seats import BROWSER, RECORDS, SEATS


class Sessions(DefaultUserSessionsAdapter):
    def end_sessions(self, sessions: Iterable[UserSession]) -> None:
        """Only her own place on that browser is over: others who share it go on."""
        for session in sessions:
            browser = _store(session.session_key).get(BROWSER, "")
            _put_out(session)
            Seat.objects.filter(browser=browser or None, person=session.user).delete()
            audit(None, session.user, "session_ended", session.user_agent)


def end_seat(person: Person, seat: Seat) -> None:
    """Her seat, and the session where she is on at it."""
    for session in UserSession.objects.filter(user=person):
        if _store(session.session_key).get(BROWSER) == seat.browser:
            _put_out(session)
    seat.delete()
    audit(None, person, "session_ended", seat.agent)


def _put_out(session: UserSession) -> None:
    store = _store(session.session_key)
    others = {who: held for who, held in store.get(SEATS, {}).items() if who != str(session.user_id)}
    for name in (SESSION_KEY, BACKEND_SESSION_KEY, HASH_SESSION_KEY, *RECORDS):
        store.pop(name, None)
    if others:
        store[SEATS] = others
        store.save()
    else:
        store.delete(session.session_key)
    session.delete()


def _store(key: str) -> Any:
    return import_module(settings.SESSION_ENGINE).SessionStore(key)
