"""Which fault codes does the unit show: as found, when provoked, after clearing?"""

import re

from passcheck.app.widgets.fields import Ask, NotUnderstood, Understood
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import CodesAnswer
from passcheck.sequence.model import CodesStep

_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.+-]{0,39}")
NONE = "none"


class CodesEntry(FieldsEntry):
    """A set of codes a field. No code is said with the word `none`: an empty field is no finding."""

    def __init__(self, step: CodesStep) -> None:
        """Args: step: the sets to read."""
        self._provokes, self._clears = bool(step.provoke), step.clear is not None
        asks = [Ask("Codes shown", read_codes)]
        if step.provoke:
            asks.append(Ask("Came when provoked", read_codes))
        if step.clear is not None:
            asks.append(Ask("After clear and power cycle", read_codes))
        super().__init__(tuple(asks), self._made, _lead(step))

    def _made(self, texts: tuple[str, ...]) -> CodesAnswer:
        left = [tuple(text.split()) for text in texts]
        present = left.pop(0)
        provoked = left.pop(0) if self._provokes else ()
        return CodesAnswer(present, provoked, left.pop(0) if self._clears else None)


def read_codes(text: str) -> Understood:
    """Codes with blanks or commas between; the same code twice is one code."""
    if text.lower() == NONE:
        return Understood("", "no codes")
    codes = tuple(dict.fromkeys(text.upper().replace(",", " ").split()))
    strange = [code for code in codes if not _CODE.fullmatch(code)]
    if strange or not codes:
        raise NotUnderstood("type the codes with blanks between, or the word none")
    return Understood(" ".join(codes), f"{len(codes)} code{'s' if len(codes) > 1 else ''}: {' '.join(codes)}")


def _lead(step: CodesStep) -> str:
    acts = [f"{one.do} raises a code" for one in step.provoke]
    acts += [f"then {step.clear}, off and on"] if step.clear is not None else []
    return "Read and write down before you clear anything. " + "; ".join(acts) + ("." if acts else "")
