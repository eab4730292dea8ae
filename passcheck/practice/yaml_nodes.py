"""How is one entry of a YAML text changed, and every other left as it was spelt?

Works on nodes as PyYAML composes them without a resolver: each scalar is its own text with its own quotes.
"""

from collections.abc import Collection
from typing import Any, Final

import yaml
from yaml import Node

from passcheck.errors import FileFault

_TEXT: Final = "tag:yaml.org,2002:str"
_LIST: Final = "tag:yaml.org,2002:seq"
_ENDLESS_LINE: Final = 1 << 20
"""No line is folded, so that every entry still stands on one that can be searched for."""


def nodes_of(text: str) -> Node:
    """The nodes of a text that `read_nodes` has taken: what it refuses (aliases, tags, depth) is not looked for again.

    Raises:
        FileFault: there is nothing in it.
    """
    root = yaml.compose(text, Loader=yaml.BaseLoader)
    if root is None:
        raise FileFault("the file is empty; it should begin with 'sequence:' and the board's name")
    return root


def spelt(root: Node) -> str:
    """The text of the nodes, without comments."""
    text: str = yaml.serialize(root, Dumper=yaml.BaseDumper, allow_unicode=True, width=_ENDLESS_LINE)
    return text


def value_of(mapping: Node, key: str) -> Node | None:
    """The node behind a key, or None."""
    return next((value for name, value in mapping.value if name.value == key), None)


def text_of(mapping: Node, key: str) -> str:
    """The text behind a key, or ""."""
    value = value_of(mapping, key)
    return str(value.value) if isinstance(value, yaml.ScalarNode) else ""


def items(mapping: Node, key: str) -> list[Node]:
    """The members of the list behind a key, to be changed in place."""
    value = value_of(mapping, key)
    members: list[Node] = value.value if isinstance(value, yaml.SequenceNode) else []
    return members


def put(mapping: Node, key: str, text: str) -> None:
    """Give an entry another text, in its own quotes, or add it."""
    value = value_of(mapping, key)
    if value is None:
        mapping.value.append((_plain(key), _plain(text)))
    else:
        value.value = text


def append_words(mapping: Node, key: str, words: str) -> None:
    """Add words to an entry's text."""
    put(mapping, key, f"{text_of(mapping, key)} {words}")


def put_first(mapping: Node, key: str, text: str) -> None:
    """Put a line before the others of an entry that is one line, a list of lines, or absent."""
    value = value_of(mapping, key)
    rest: list[Any] = [] if value is None else value.value if isinstance(value, yaml.SequenceNode) else [value]
    drop(mapping, key)
    mapping.value.append((_plain(key), yaml.SequenceNode(_LIST, [_plain(text), *rest])))


def drop(mapping: Node, key: str) -> None:
    """Take an entry out, where there is one."""
    mapping.value[:] = [pair for pair in mapping.value if pair[0].value != key]


def cut(mapping: Node, key: str, kept: Collection[str]) -> None:
    """Leave of an entry's names, one or a list, only those that are kept; an entry without any left goes."""
    value = value_of(mapping, key)
    if isinstance(value, yaml.SequenceNode):
        value.value[:] = [one for one in value.value if one.value in kept]
    if value is not None and (not value.value or (isinstance(value, yaml.ScalarNode) and value.value not in kept)):
        drop(mapping, key)


def _plain(text: str) -> yaml.ScalarNode:
    return yaml.ScalarNode(_TEXT, text)
