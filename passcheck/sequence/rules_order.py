"""Do steps, blocks and symptoms hang together, in an order that a person can walk?"""

import re
from collections.abc import Iterable, Iterator, Mapping

from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.model import ALL_BLOCKS, Step
from passcheck.sequence.sheet import Sheet

LONGEST_GROUP = 7  # steps between two headings; more are not taken in at one look

_CHANGES = re.compile(
    r"\b(dummy plug|dummy|jumper|wire bridge|simulator|decade box|terminator|address)\b", re.IGNORECASE
)


def steps_prove_blocks(sheet: Sheet) -> Iterator[Finding]:
    """A rework makes stale what proves its block; a step that proves none is never asked for again."""
    for number, step in sheet.steps():
        if not step.proves:
            why = "this step proves no block, so no rework would ever ask for it again; write 'proves'"
            yield warning(why, "steps", number)


def blocks_are_proved(sheet: Sheet) -> Iterator[Finding]:
    """A block that no step proves could leave the shop untested."""
    named = {block for step in sheet.sequence.steps for block in step.proves}
    tested = {block for step in sheet.sequence.steps if _tests(step, sheet) for block in step.proves}
    if ALL_BLOCKS in tested or "steps" in sheet.lost:
        return
    for name in sheet.sequence.blocks:
        if name not in named | tested and ALL_BLOCKS not in named:
            why = f"no step proves {name}, so a fault in it would leave the shop; name it in a step's 'proves'"
            yield Finding(("blocks", name), why, "error", True)
        elif name not in tested:
            why = f"only first and last looks and soaks prove {name}, which show little of how it works; add a step"
            yield Finding(("blocks", name), why, "warning", True)


def _tests(step: Step, sheet: Sheet) -> bool:
    """Does the step show that something works, more than a look at arrival or at the end does?"""
    return step.id in sheet.stand_ins or not (step.kind == "soak" or step.role in {"arrival", "final"})


def blocks_say_what_they_feed(sheet: Sheet) -> Iterator[Finding]:
    """What a rework reaches is worked out from what its block feeds."""
    for name, block in sheet.sequence.blocks.items():
        if "feeds" not in block.model_fields_set:
            why = f"{name} doesn't say what it feeds, so a rework on it makes little stale; write feeds: [] if nothing"
            yield Finding(("blocks", name), why, "warning", True)


def groups_name_known_parts(sheet: Sheet) -> Iterator[Finding]:
    """A group that is renewed together is ticked part by part."""
    parts = {part for block in sheet.sequence.blocks.values() for part in block.parts}
    if "blocks" in sheet.lost:
        return
    for name, block in sheet.sequence.blocks.items():
        for place, group in enumerate(block.renew_together):
            for position, part in enumerate(group):
                if part not in parts:
                    why = f"{part} is renewed together with others but is no block's part; add it to 'parts'"
                    yield warning(why, "blocks", name, "renew_together", place, position)


def symptoms_have_steps(sheet: Sheet) -> Iterator[Finding]:
    """A complaint that no step can show can't be confirmed, nor can its repair."""
    for name, symptom in sheet.sequence.symptoms.items():
        if not symptom.steps:
            yield error("no step shows this symptom, so it could never be confirmed", "symptoms", name, "steps")
        if not symptom.conditions:
            why = "no condition to 'try' is listed; a fault that is only looked for cold and still is often missed"
            yield Finding(("symptoms", name), why, "warning", True)


def no_cycles(sheet: Sheet) -> Iterator[Finding]:
    """What needs itself can never begin."""
    numbers = {step.id: number for number, step in sheet.every_step()}
    for entry in ("needs", "depends_on"):
        links = {step.id: getattr(step, entry) for step in sheet.sequence.steps}
        for cycle in cycles(links):
            why = f"'{entry}' runs in a circle ({' > '.join((*cycle, cycle[0]))}), so none of them could begin"
            yield error(f"{why}; take one out", "steps", numbers[cycle[0]], entry)
    feeds = {name: block.feeds for name, block in sheet.sequence.blocks.items()}
    for cycle in cycles(feeds):
        why = f"these blocks feed one another ({' > '.join((*cycle, cycle[0]))}), so a rework on one makes all stale"
        yield warning(f"{why}; leave it if the circuit is so", "blocks", cycle[0], "feeds")


def cycles(links: Mapping[str, Iterable[str]]) -> list[tuple[str, ...]]:
    """Circles in a set of links, each once, beginning with the member that stands first."""
    found: list[tuple[str, ...]] = []
    done: set[str] = set()
    for start in links:
        path: list[str] = []
        waiting: list[tuple[str, int]] = [(start, 0)]
        while waiting:
            name, depth = waiting.pop()
            del path[depth:]
            if name in path:
                found.append(tuple(path[path.index(name) :]))
            elif name in links and name not in done:
                path.append(name)
                waiting.extend((after, depth + 1) for after in links[name])
                done.add(name)
    return found


def needs_come_first(sheet: Sheet) -> Iterator[Finding]:
    """The traveller is walked from the top."""
    numbers = {step.id: number for number, step in sheet.every_step()}
    for number, step in sheet.steps():
        later = [needed for needed in step.needs if numbers.get(needed, -1) > number]
        if later:
            yield warning(f"'{later[0]}' is needed here but stands further down; move it up", "steps", number, "needs")


def needs_are_always_walked(sheet: Sheet) -> Iterator[Finding]:
    """A step of every unit can't wait for one that only some units have."""
    steps = {step.id: step for step in sheet.sequence.steps}
    for number, step in sheet.steps():
        for needed in step.needs:
            of = steps[needed].variant if needed in steps else None
            if of is not None and of != step.variant:
                why = f"'{needed}' is walked only with the variant '{of}', so without it this step could never begin"
                yield error(why, "steps", number, "needs")


def photo_before_the_iron(sheet: Sheet) -> Iterator[Finding]:
    """A photo made after the repair shows our work, not what came in."""
    if any(step.photo and step.role == "arrival" for step in sheet.sequence.steps):
        return
    for number, step in sheet.steps():
        if step.photo:
            why = "a photo is asked for here but none on arrival; after the iron nobody can show how the unit came in"
            yield warning(f"{why}: add 'photo: true' to a look of role arrival", "steps", number, "photo")
            return


def short_groups(sheet: Sheet) -> Iterator[Finding]:
    """A long list without a break is where steps are left out."""
    since = 0
    for number, step in sheet.every_step():
        since = 1 if step.heading else since + 1
        if since == LONGEST_GROUP + 1:
            why = f"more than {LONGEST_GROUP} steps without a 'heading'; a group break helps to leave none out"
            yield warning(why, "steps", number)


def changes_are_restored(sheet: Sheet) -> Iterator[Finding]:
    """What is fitted for a step leaves with the unit unless it is on the list."""
    restored = " ".join(step.restore or "" for step in sheet.sequence.steps).lower()
    for number, step in sheet.steps():
        found = _CHANGES.search(" ".join(_asked(step)))
        if found and not step.restore and found.group().lower() not in restored:
            why = f"the '{found.group()}' has to come off again; write 'restore' so that it can't leave with the unit"
            yield warning(why, "steps", number)


def _asked(step: Step) -> Iterator[str]:
    yield from step.do
    if step.kind == "codes":
        yield from (provoke.do for provoke in step.provoke)
    if step.kind == "table":
        yield from (row.put for row in step.rows)
    if step.kind == "marks":
        yield from (mark.feed for mark in step.marks)


def codes_are_cleared(sheet: Sheet) -> Iterator[Finding]:
    """Four lists: expected here, absent, provoked, and cleared to stay clear."""
    for number, step in sheet.steps():
        if step.kind != "codes":
            continue
        if step.provoke and step.clear is None:
            why = "a provoked code has to go again and stay away; write 'clear' with how to clear, cycle and read again"
            yield error(why, "steps", number, "provoke")
        if not step.provoke and not step.expected:
            why = "no code is ever expected or provoked here, so a unit that reads no codes at all would pass"
            yield warning(why, "steps", number)
        for code in set(step.expected) & set(step.absent):
            yield error(f"'{code}' can't be expected and absent at once", "steps", number, "absent")


def arrival_and_final_look(sheet: Sheet) -> Iterator[Finding]:
    """Evidence begins and ends with a look."""
    roles = {step.role for step in sheet.sequence.steps}
    reasons = {
        "arrival": "no step has role 'arrival'; how the unit came in is what a dispute is about",
        "final": "no step has role 'final'; screws, plugs and labels are looked at last",
    }
    for role, why in reasons.items():
        if role not in roles and "steps" not in sheet.lost:
            yield Finding(("steps",), why, "warning", True)


RULES = (
    steps_prove_blocks,
    blocks_are_proved,
    blocks_say_what_they_feed,
    groups_name_known_parts,
    symptoms_have_steps,
    no_cycles,
    needs_come_first,
    needs_are_always_walked,
    photo_before_the_iron,
    short_groups,
    changes_are_restored,
    codes_are_cleared,
    arrival_and_final_look,
)
