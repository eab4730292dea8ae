"""Which key may be the tap key of this bench?

A pedal is a keyboard with one key. It never says pass and never answers a hazard, so a key that does anything else here
can't be it.
"""

from collections.abc import Mapping

from textual.dom import DOMNode

from passcheck.app.keys import EVERYWHERE, bindings_under
from passcheck.app.taps import no_tap_key_because

ALLOWED = frozenset({"space"})
"""Fills a box on some sheets, which Enter does too; the tap key is kept from every sheet that takes no taps."""
STORES = frozenset({"enter", "ctrl+j", "tab", "shift+tab", "backspace", "delete", "up", "down", "left", "right"})

PRACTICE_ONLY = "practice-unit"
"""Keys of the practice unit begin their names so; at work they do nothing, so a pedal may well have them."""


def not_the_tap_key_because(key: str, character: str | None, own_keys: Mapping[str, str]) -> str:
    """Why this key can't be learned, as the rest of a sentence, or ""; `own_keys` are those of bench.yaml."""
    if why := no_tap_key_because(key, character):
        return why
    if key in STORES:
        return "it stores and moves entries; a pedal must never do that. Set it to space, a letter or F10"
    everywhere = (
        one for one in (*EVERYWHERE, *bindings_under(DOMNode)) if not (one.id or "").startswith(PRACTICE_ONLY)
    )
    bound = {one for binding in everywhere for one in binding.key.split(",")}
    own = {one for keys in own_keys.values() for one in keys.split(",")}
    if key in (bound | own) - ALLOWED or key in own:
        return "it does something else on some screen here. Set it to space, another letter or F10"
    return ""


def key_words(key: str) -> str:
    """The key as it is named to a person."""
    return key.replace("_", " ").upper() if len(key) > 1 else key.upper()
