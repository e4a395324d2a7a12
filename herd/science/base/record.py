"""What ran: the equations called and the numbers read while somebody listens, under the term they were for.

An equation goes by its place, `needs.maintenance.maintenance_luo2004`, a parameter by topic and name,
`maintenance.mature_dairy_kj`, a herd rule by its name alone. A citation is what was called: nothing is typed twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextvars import ContextVar, Token
from functools import lru_cache, wraps
from types import TracebackType
from typing import ParamSpec, TypeVar, cast

SCIENCE = f"{__name__.rsplit('.', 2)[0]}."
Args = ParamSpec("Args")
Answer = TypeVar("Answer")
Number = TypeVar("Number", int, float)
Ran = dict[str, set[str]]

_record: ContextVar[Ran | None] = ContextVar("record", default=None)
_heard: ContextVar[set[str] | None] = ContextVar("heard", default=None)


def name_of(function: Callable[..., object]) -> str:
    """Where an equation stands, from the room on."""
    return f"{function.__module__.removeprefix(SCIENCE)}.{function.__qualname__}"


def equation(function: Callable[Args, Answer]) -> Callable[Args, Answer]:
    """Marks a function with a source: whoever listens hears that it was called."""
    name = name_of(function)

    @wraps(function)
    def called(*args: Args.args, **kwargs: Args.kwargs) -> Answer:
        heard = _heard.get()
        if heard is not None:
            heard.add(name)
        return function(*args, **kwargs)

    called.__dict__["equation"] = name
    return called


def remembered(size: int) -> Callable[[Callable[Args, Answer]], Callable[Args, Answer]]:
    """Keeps answers, each with what ran for it: an answer from memory cites the same as a new one."""

    def keeping(function: Callable[Args, Answer]) -> Callable[Args, Answer]:
        def worked(*args: Args.args, **kwargs: Args.kwargs) -> tuple[Answer, set[str]]:
            seen: set[str] = set()
            token = _heard.set(seen)
            try:
                return function(*args, **kwargs), seen
            finally:
                _heard.reset(token)

        kept = lru_cache(size)(worked)
        # what is kept takes what the function takes: its own type only says that it can be hashed
        same = cast("Callable[Args, tuple[Answer, set[str]]]", kept)

        @wraps(function)
        def called(*args: Args.args, **kwargs: Args.kwargs) -> Answer:
            answer, seen = same(*args, **kwargs)
            heard = _heard.get()
            if heard is not None:
                heard |= seen
            return answer

        called.__dict__["forget"] = kept.cache_clear
        return called

    return keeping


class Heard(Mapping[str, Number]):
    """Numbers by name; who listens hears which are read, each with the prefix before it."""

    __slots__ = ("_names", "_numbers")

    def __init__(self, numbers: Mapping[str, Number], prefix: str = "") -> None:
        self._numbers: dict[str, Number] = dict(numbers)
        self._names: dict[str, str] = {name: prefix + name for name in self._numbers}

    def __getitem__(self, name: str) -> Number:
        heard = _heard.get()
        if heard is not None:
            heard.add(self._names[name])
        return self._numbers[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._numbers)

    def __len__(self) -> int:
        return len(self._numbers)


class recording:  # noqa: N801
    """`with recording() as ran`: what the terms opened inside it heard, by term. Nobody listens between terms."""

    def __enter__(self) -> Ran:
        ran: Ran = {}
        self.tokens: tuple[Token[Ran | None], Token[set[str] | None]] = (_record.set(ran), _heard.set(None))
        return ran

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        _record.reset(self.tokens[0])
        _heard.reset(self.tokens[1])


class term:  # noqa: N801
    """`with term("me.maintenance")`: what runs inside is for that term, and for no other that is open around it."""

    __slots__ = ("name", "token")

    def __init__(self, name: str) -> None:
        self.name = name

    def __enter__(self) -> None:
        ran = _record.get()
        self.token = _heard.set(None if ran is None else ran.setdefault(self.name, set()))

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        _heard.reset(self.token)
