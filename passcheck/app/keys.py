"""Which keys work everywhere, and which binding does a user's own key belong to?

Every binding of passcheck has an id; `keys:` in bench.yaml maps ids to keys. No single printable key ends the program.
"""

from collections.abc import Iterable, Mapping

from textual.binding import Binding
from textual.dom import DOMNode

MAKE_SAFE = Binding(
    "f8",
    "make_safe",
    "Make safe",
    priority=True,
    id="make-safe",
    tooltip="Takes the unit to a safe state, from anywhere. It switches nothing: your hand does.",
)
EVERYWHERE = (
    MAKE_SAFE,
    Binding("f1", "all_keys", "Keys", priority=True, id="help", tooltip="Every key of this screen, in words."),
    Binding(
        "question_mark",
        "all_keys",
        "Keys",
        show=False,
        id="help.sign",
        tooltip="Every key of this screen, in words.",
    ),
    Binding("f9", "who", "Who", id="who", show=False, tooltip="Say who is at the bench now."),
    Binding(
        "f10",
        "practice_unit",
        "Unit",
        priority=True,
        id="practice-unit",
        tooltip="The practice unit, large, with its buttons; the same key goes back.",
    ),
    Binding(
        "ctrl+g",
        "practice_forward",
        "Time goes by",
        priority=True,
        show=False,
        id="practice-forward",
        tooltip="Practice: lets 10 minutes go by, on the rack up to the next look.",
    ),
    Binding(
        "ctrl+l",
        "practice_coach",
        "Coaching",
        priority=True,
        show=False,
        id="practice-coach",
        tooltip="Practice: shows or hides what to do next.",
    ),
    Binding("ctrl+q", "quit", "Quit", priority=True, show=False, id="quit", tooltip="Ends the program; all is kept."),
)


def bindings_under(node: type[DOMNode]) -> Iterable[Binding]:
    """The bindings that this kind of node and all kinds below it declare in passcheck, as Binding."""
    for kind in (node, *_below(node)):
        if kind.__module__.startswith("passcheck."):
            yield from (one for one in vars(kind).get("BINDINGS", ()) if isinstance(one, Binding))


def strange_ids(keys: Mapping[str, str], known: Iterable[Binding]) -> tuple[str, ...]:
    """Ids in bench.yaml that no binding has: a slip of the pen that would otherwise do nothing, silently."""
    ids = {binding.id for binding in known}
    return tuple(sorted(set(keys) - ids - {None}))


def _below(node: type[DOMNode]) -> Iterable[type[DOMNode]]:
    for kind in node.__subclasses__():
        yield kind
        yield from _below(kind)
