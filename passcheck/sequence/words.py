"""How are the complaints of the YAML parser and of pydantic said in words that an author can act on?"""

import difflib
from collections.abc import Iterable, Mapping
from typing import Any

from passcheck.sequence.shape import Shape, entries_of

_YAML = (
    ("mapping values are not allowed", "a second colon on this line; put a text that holds ': ' in quotes"),
    ("could not find expected ':'", "a colon is missing after this entry, or its text has lost its quotes"),
    ("cannot start any token", "this character can't begin an entry; indent with spaces, put other text in quotes"),
    ("unexpected end of stream", "a quote or a bracket that was opened is not closed by here"),
    ("expected <block end>", "this line's indentation fits none of the lines above; line it up with its neighbours"),
    ("did not find expected key", "this line's indentation fits none of the lines above, or its name is missing"),
    (
        "did not find expected '-'",
        "this line's indentation fits none of the lines above; line it up with its neighbours",
    ),
    ("expected ',' or", "a comma or the closing bracket is missing before this"),
    ("expected the node content", "an entry is missing before this"),
    ("escape", "this is not an escape that quoted text may hold; write the character itself, or use single quotes"),
    ("but found another document", "a second document begins here; one file holds one board"),
    ("block entries are not allowed", "a list's dash can't stand here; begin the list on a line of its own"),
    ("too deep", "the entries are nested too deeply to be read"),
    ("depth", "the entries are nested too deeply to be read"),
    ("recursion", "the entries are nested too deeply to be read"),
    ("undefined tag handle", "tags (!name) are not read; write plain text"),
    ("undefined alias", "aliases (*name) are not read; write the entry out"),
)


def yaml_problem(problem: str) -> str:
    """Our sentence for a parser's complaint; an unknown one is quoted."""
    for part, sentence in _YAML:
        if part in problem:
            return sentence
    return f"this can't be read as YAML ({problem}); look at the quotes, colons and indentation here and just above"


def did_you_mean(written: object, known: Iterable[str]) -> str:
    """`; did you mean 'needs'?` where one known word is near, else nothing."""
    words = list(known)
    near = difflib.get_close_matches(str(written)[:80], words, n=1, cutoff=0.6)
    if not near:
        lower = {word.lower(): word for word in words}
        near = [lower[str(written).lower()]] if str(written).lower() in lower else []
    return f"; did you mean '{near[0]}'?" if near else ""


def listed(words: Iterable[str], most: int = 16) -> str:
    """`a, b or c`; a long list is cut."""
    every = list(words)
    if len(every) > most:
        return ", ".join(every[:most]) + ", …"
    return " or ".join(filter(None, [", ".join(every[:-1]), every[-1]])) if every else "none"


def complaint(error: Mapping[str, Any], shape: Shape | None) -> str:
    """Our sentence for one of pydantic's errors; `shape` is what the place of the error may hold."""
    kind, ctx, written = str(error["type"]), error.get("ctx", {}), error.get("input")
    entry = str(error["loc"][-1]) if error["loc"] else "this"
    match kind:
        case "missing":
            return f"'{entry}' is missing here{_owner(shape, 'must have it')}"
        case "extra_forbidden":
            known = entries_of(shape)
            return f"'{entry}' is not an entry here{_owner(shape, 'has none of that name')}{did_you_mean(entry, known)}"
        case "quantity":
            return str(ctx.get("why", error["msg"]))
        case "literal_error":
            choices = _choices(str(ctx.get("expected", "")))
            return f"{_shown(written)} is not one of {listed(choices)}{did_you_mean(written, choices)}"
        case "union_tag_invalid":
            choices = _choices(str(ctx.get("expected_tags", "")))
            tag = ctx.get("tag", "")
            return f"'{tag}' is not a kind of step{did_you_mean(tag, choices) or '; the kinds are ' + listed(choices)}"
        case "union_tag_not_found":
            return "'kind' is missing here; it says what sort of step this is"
        case _:
            return _of_a_value(kind, ctx, written)


def _of_a_value(kind: str, ctx: Mapping[str, Any], written: object) -> str:
    """The sentence for a single value of the wrong sort or size."""
    match kind:
        case "string_type":
            quoted = f'; put it in quotes: "{_plain(written)}"' if isinstance(written, int | float) else ""
            return f"text is wanted here, not {_sort(written)}{quoted}"
        case "string_too_short":
            return "nothing is written here; write it or leave the entry out"
        case "string_too_long":
            return f"this text is longer than the {ctx.get('max_length')} characters that fit here"
        case "string_pattern_mismatch":
            return f"{_shown(written)} can't be used here: {_pattern(str(ctx.get('pattern', '')))}"
        case "int_type" | "int_from_float":
            return f"a whole number is wanted here, not {_sort(written)}"
        case "bool_type":
            return f"true or false is wanted here, not {_sort(written)}"
        case "decimal_type" | "decimal_parsing" | "is_instance_of":
            return f"a number is wanted here, not {_sort(written)}"
        case "tuple_type" | "list_type":
            return f"a list is wanted here, not {_sort(written)}; begin each line with a dash, or write [a, b]"
        case "model_type" | "dict_type" | "mapping_type" | "model_attributes_type":
            return f"entries (name: value) are wanted here, not {_sort(written)}"
        case "greater_than" | "greater_than_equal" | "less_than" | "less_than_equal":
            bound = ctx.get("gt", ctx.get("ge", ctx.get("lt", ctx.get("le"))))
            word = {"greater_than": "more than", "greater_than_equal": "at least", "less_than": "less than"}
            return f"{_shown(written)} won't do here: it must be {word.get(kind, 'at most')} {bound}"
        case "too_short" | "too_long":
            return "this list has too few or too many entries"
        case _:
            return f"{_shown(written)} doesn't fit here"


def _owner(shape: Shape | None, verb: str) -> str:
    return f": {shape.called} {verb}" if shape else ""


def _choices(expected: str) -> list[str]:
    """The words between single quotes in pydantic's list."""
    return expected.split("'")[1::2]


def _pattern(pattern: str) -> str:
    if pattern.startswith("^[a-z0-9]"):
        return "an id is small letters, digits and hyphens, begins with a letter or digit, at most 40 of them"
    if "?" in pattern:
        return "a serial's mask is A for a letter, 9 for a digit and the signs . _ / + -"
    return "a name is letters, digits and the signs _ . + -, begins with a letter or digit, at most 40 of them"


def _shown(written: object) -> str:
    return f"'{str(written)[:60]}'" if isinstance(written, str | int | float) else _sort(written)


def _plain(written: object) -> str:
    return str(written)[:40]


def _sort(written: object) -> str:
    match written:
        case "":
            return "nothing"
        case bool():
            return f"{str(written).lower()}"
        case int() | float():
            return f"the number {_plain(written)}"
        case str():
            return "text"
        case list() | tuple():
            return "a list"
        case dict():
            return "entries"
        case _:
            return "this"
