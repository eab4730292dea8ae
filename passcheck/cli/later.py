"""How does a part stand in its place before it is loaded?"""

from collections.abc import Callable
from threading import Lock
from typing import Any, TypeVar, cast

T = TypeVar("T")


class _Later:
    """Makes the part when something of it is first asked for, and hands everything on to it."""

    def __init__(self, make: Callable[[], object]) -> None:
        self._make = make
        self._made: object = None
        self._making = Lock()  # the screens ask from threads too, and a part is made once

    def __getattr__(self, name: str) -> Any:
        with self._making:
            if self._made is None:
                self._made = self._make()
        return getattr(self._made, name)


def later(make: Callable[[], T]) -> T:
    """What `make` gives, made when its first method or attribute is asked for; an error of `make` is raised there."""
    return cast(T, _Later(make))
