"""Whose key is it, and might that person sign a journal at that moment?

The shop's list is a file in OpenSSH's own form, `allowed_signers` (ssh-keygen(1), ALLOWED SIGNERS), so that an outsider
hands the same file to `ssh-keygen -Y verify`. A line with a slip gives nobody a permission; the other lines stand, as
they do for ssh-keygen. Keys that were lost or stolen stand in `revoked_keys` beside it, one public key a line; there
a slip counts against every key, because the line that can't be read may be the one that matters.
"""

import calendar
import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from passcheck.errors import BenchFailed
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk, if_there
from passcheck.records.ssh_key import NotInFormError, PublicKey, read_public_key

ALLOWED = "allowed_signers"
REVOKED = "revoked_keys"
LARGEST = 1024 * 1024

_KINDS = ("ssh-", "ecdsa-", "sk-")
"""How the kind of every key of OpenSSH begins, and no option."""
_OPTION = re.compile(r'(?P<name>[A-Za-z-]+)(?:="(?P<value>(?:\\"|[^"\\]|\\(?!"))*)"|=[^",]*)?(?P<more>,|\Z)')
_TIME = re.compile(r"(?P<digits>\d{8}|\d{12}|\d{14})(?P<utc>Z?)", re.ASCII)
_TIME_FORMS = {8: "%Y%m%d", 12: "%Y%m%d%H%M", 14: "%Y%m%d%H%M%S"}
Entry = TypeVar("Entry")


@dataclass(frozen=True, slots=True)
class Leave:
    """What the list says of a key."""

    person: str
    against: str
    """Why the person might not sign a journal then; empty when they might."""
    line: int


@dataclass(frozen=True, slots=True)
class Signer:
    """One line of the list: who signs with which key, for what, and between which seconds since 1970 (UTC)."""

    line: int
    principals: str
    key: PublicKey
    namespaces: str | None = None
    after_s: int | None = None
    before_s: int | None = None

    @property
    def person(self) -> str:
        """The first of its names that it lets through; a pattern where it has no plain name."""
        names = [name for name in self.principals.split(",") if matches(name, self.principals)]
        return next((name for name in names if not set(name) & set("*?")), names[0] if names else self.principals)

    def against(self, namespace: str, at_s: int) -> str:
        """Why this line doesn't let its key sign for that namespace at that moment; empty when it does."""
        if self.namespaces is not None and not matches(namespace, self.namespaces):
            return f"this key signs for {self.namespaces} and not for {namespace}"
        if self.after_s is not None and at_s < self.after_s:
            return f"this key signs from {_utc(self.after_s)} on"
        if self.before_s is not None and at_s > self.before_s:
            return f"this key signed until {_utc(self.before_s)}"
        return ""


@dataclass(frozen=True, slots=True)
class Signers:
    """The shop's list."""

    path: Path
    lines: tuple[Signer, ...] = ()
    slips: tuple[str, ...] = ()
    """Each with file and line."""

    def leave(self, key: PublicKey, namespace: str, at_s: int, person: str | None = None) -> Leave | None:
        """What the list says of a key, by the line that lets it sign if there is one; None when it has no such key.

        Args:
            key: the signature's.
            namespace: what it was made for.
            at_s: the moment of the seal, seconds since 1970 (UTC).
            person: only lines for this person count; None for anybody's.
        """
        found = [
            Leave(person or signer.person, signer.against(namespace, at_s), signer.line)
            for signer in self.lines
            if signer.key == key and (person is None or matches(person, signer.principals))
        ]
        return next((leave for leave in found if not leave.against), found[0] if found else None)


@dataclass(frozen=True, slots=True)
class Revoked:
    """The keys that count no more, each with the line that says so."""

    path: Path
    keys: tuple[tuple[int, PublicKey], ...] = ()
    slips: tuple[str, ...] = ()

    def line_of(self, key: PublicKey) -> int | None:
        """The line that revokes a key; None when none does."""
        return next((line for line, revoked in self.keys if revoked == key), None)


def read_signers(path: Path, disk: Disk | None = None) -> Signers:
    """The list; an empty one where there is no file. Raises BenchFailed when it can't be read."""
    lines, slips = _read(path, disk or Disk(), _signer)
    return Signers(path, tuple(lines), tuple(slips))


def read_revoked(path: Path, disk: Disk | None = None) -> Revoked:
    """The revoked keys; none where there is no file. Raises BenchFailed when it can't be read."""
    lines, slips = _read(path, disk or Disk(), lambda line, text: (line, read_public_key(text)))
    return Revoked(path, tuple(lines), tuple(slips))


def matches(text: str, patterns: str) -> bool:
    """Whether a text fits a list of patterns (ssh_config(5), PATTERNS): `*`, `?`, commas, `!` for "but not"."""
    fits = False
    for pattern in patterns.split(","):
        if pattern.startswith("!"):
            if _fits(text, pattern[1:]):
                return False
        else:
            fits = fits or _fits(text, pattern)
    return fits


def _fits(text: str, pattern: str) -> bool:
    """Two fingers, one step back at most to the last star: no pattern makes it slow."""
    at = here = 0
    star, held = -1, 0
    while at < len(text):
        if here < len(pattern) and pattern[here] == "*":
            star, held = here, at
            here += 1
        elif here < len(pattern) and pattern[here] in ("?", text[at]):
            at, here = at + 1, here + 1
        elif star >= 0:
            held += 1
            at, here = held, star + 1
        else:
            return False
    return not pattern[here:].strip("*")


def _read(path: Path, disk: Disk, entry: Callable[[int, str], Entry]) -> tuple[list[Entry], list[str]]:
    read: list[Entry] = []
    slips: list[str] = []
    for number, raw in enumerate(_bytes(path, disk).split(b"\n"), start=1):
        try:
            text = raw.decode("utf-8").strip(" \t\r")
            if any(character < " " and character != "\t" for character in text):
                raise NotInFormError("it holds a control character")
            if text and not text.startswith("#"):
                read.append(entry(number, text))
        except UnicodeDecodeError:
            slips.append(f"{path}, line {number}: it is not UTF-8 text. Write one key a line.")
        except NotInFormError as slip:
            slips.append(f"{path}, line {number}: {slip}.")
    return read, slips


def _bytes(path: Path, disk: Disk) -> bytes:
    facts = ask_disk(lambda: disk.facts_behind(path), path)
    if facts is None:
        return b""
    if facts.size > LARGEST:
        raise BenchFailed(f"{path}: it is larger than 1 MiB, so it is no list of keys. Put the right file there.")
    return if_there(lambda: disk.read_behind(path), path) or b""  # none where it was moved away a moment ago


def _signer(line: int, text: str) -> Signer:
    principals, rest = _first_word(text)
    if not rest:
        raise NotInFormError("a key is missing: write the person, then the key as its .pub file has it")
    words, key = ("", rest) if rest.startswith(_KINDS) else _options_apart(rest)
    options = _options(words) if words else ()
    return Signer(line, principals, read_public_key(key), *options)


def _first_word(text: str) -> tuple[str, str]:
    if text.startswith('"'):
        name, quote, rest = text[1:].partition('"')
        if not quote:
            raise NotInFormError("the quote before the person is never closed")
        return name, rest.strip()
    word, *rest_of_it = text.split(maxsplit=1)
    return word, "".join(rest_of_it)


def _options_apart(text: str) -> tuple[str, str]:
    """The options, up to the first blank that stands outside quotes, and what follows."""
    quoted, at = False, 0
    while at < len(text) and (quoted or not text[at].isspace()):
        if text.startswith('\\"', at):
            at += 1
        elif text[at] == '"':
            quoted = not quoted
        at += 1
    if quoted:
        raise NotInFormError("a quote in its options is never closed")
    return text[:at], text[at:].strip()


def _options(words: str) -> tuple[str | None, int | None, int | None]:
    """Namespaces and the two moments."""
    given: dict[str, str] = {}
    for name, value in _each_option(words):
        if name == "cert-authority":
            raise NotInFormError("passcheck takes no certificates; enter the person's own key, without cert-authority")
        if name not in ("namespaces", "valid-after", "valid-before"):
            raise NotInFormError(f"'{name[:40]}' is no option; there are namespaces, valid-after and valid-before")
        if value is None:
            raise NotInFormError(f'the value of {name} has to stand in quotes: {name}="…"')
        if name in given:
            raise NotInFormError(f"{name} stands there twice")
        given[name] = value
    after, before = (_seconds(name, given.get(name)) for name in ("valid-after", "valid-before"))
    if after is not None and before is not None and before <= after:
        raise NotInFormError("valid-before is not later than valid-after")
    return given.get("namespaces"), after, before


def _each_option(words: str) -> Iterator[tuple[str, str | None]]:
    at, more = 0, True
    while more:
        option = _OPTION.match(words, at)
        if option is None:
            raise NotInFormError(f"'{words[at : at + 40]}' is no key and no option: options are name=\"value\"")
        value = option["value"]
        yield option["name"].lower(), None if value is None else value.replace('\\"', '"')
        at, more = option.end(), bool(option["more"])


def _seconds(name: str, value: str | None) -> int | None:
    """A moment of the list: in UTC with a Z at its end, else by this machine's time zone, as ssh-keygen has it."""
    if value is None:
        return None
    written = _TIME.fullmatch(value)
    try:
        if written is None:
            raise ValueError
        moment = time.strptime(written["digits"], _TIME_FORMS[len(written["digits"])])
        return calendar.timegm(moment) if written["utc"] else int(time.mktime(moment))
    except (ValueError, OverflowError):
        raise NotInFormError(
            f"{name} is '{value[:40]}'; write YYYYMMDD or YYYYMMDDHHMMSS, with a Z at its end for UTC"
        ) from None


def _utc(seconds: int) -> str:
    return time.strftime("%Y-%m-%d %H:%M:%S UTC", time.gmtime(seconds))
