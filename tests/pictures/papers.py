"""What do the papers look like that leave with a unit?

    .venv/bin/python tests/pictures/papers.py FOLDER [--size letter] [--pictures] [--readme]

Tells OV-24P's story to real records in FOLDER three times: released, returned unrepaired, returned in part; and has
`passcheck paper` make every paper at its moment. With `--pictures` their pages become PNG files beside them, by stock
pdftoppm, to be looked at one by one. With `--readme` the first page of each, and of the test record its first page of
results and the one with the burn-in's plot, become small pictures in tests/pictures.
"""

import argparse
import asyncio
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
PICTURES = ROOT / "tests" / "pictures"
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "fakes"), str(ROOT / "tests" / "bench")]

import test_story_ov24p as story  # noqa: E402 - the paths come first
from sample_rig import FiledRig  # noqa: E402
from telling import Telling  # noqa: E402

from passcheck.job.commands import AgreeOwner, MapComplaint, Propose, ReturnInPart, ReturnUnrepaired  # noqa: E402

Print = Callable[..., None]
MOST_BYTES = 60_000
BENCH = """\
letter: A
shop: Ferry Lane Bench
place: Ferry Lane 4, Harrowmouth
warranty_months: 12
people:
  t1: {name: First technician}
  t2: {name: Second technician}
  k9: {name: The lead, role: lead, hazardous_live: true}
instruments:
  M1: {title: Hand multimeter, serial: HM-3301, due: 2031-12-01, fills: {voltmeter: 0.5 % + 3 digits}}
known_source: {title: 9 V battery in the drawer, limits: 8.5 V .. 9.8 V}
"""
PROPOSED = (
    "Renew C1, C2, C7 and C11 together (supply)",
    "Find and mend what lets the fuel needle drop when it is warm (gauge drivers)",
)
LEFT = "Renew the capacitors; leave the needle as it is"


async def told(folder: Path, make: Print) -> None:
    """Three units of the board, each with its own end; `make` is asked for the papers of each moment."""
    rig = FiledRig(folder, story.FILE.read_text(encoding="utf-8"))
    released = await _found(rig, "7Q22051")
    await released.do(Propose("t1", PROPOSED))
    make(released.job.id, "findings", "blank-sheet")
    await released.do(AgreeOwner("t1", "Both lines", "the owner, by telephone"))
    await story.capacitors_renewed(released)
    await story.joint_reflowed(released)
    await story.button_found_in_acceptance(released)
    await story.accepted(released)
    await story.soaked_through_a_dip(released)
    await released.out_of_the_door()
    make(released.job.id)
    unrepaired = await _found(rig, "7Q22052")
    await unrepaired.do(ReturnUnrepaired("t1", "The owner doesn't want the repair: a new panel costs less."))
    make(unrepaired.job.id, "returned-unrepaired")
    in_part = await _found(rig, "7Q22053")
    await story.capacitors_renewed(in_part)
    await in_part.do(AgreeOwner("t1", LEFT, "the owner, by telephone"))
    await in_part.do(ReturnInPart("t1", LEFT))
    make(in_part.job.id, "returned-in-part")
    await rig.leave()


async def _found(rig: FiledRig, serial: str) -> Telling:
    unit = Telling(rig, await rig.job(serial=serial, complaint=story.COMPLAINT), always=story.ALWAYS)
    await unit.do(MapComplaint("t1", ("needle-drops", "restarts"), (story.WARM, story.DIP)))
    await story.found_as_the_owner_says(unit)
    return unit


def main() -> None:
    """Tell, make, and picture."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("folder", type=Path)
    ask.add_argument("--size", choices=("a4", "letter"), default="a4")
    ask.add_argument("--pictures", action="store_true")
    ask.add_argument("--readme", action="store_true")
    asked = ask.parse_args()
    logs: Path = asked.folder / "logs"
    logs.mkdir(parents=True)
    (logs / "bench.yaml").write_text(BENCH, encoding="utf-8")

    def make(job: str, *kinds: str) -> None:
        command = [sys.executable, "-m", "passcheck", "--logs", str(logs), "paper", job, *kinds, "--size", asked.size]
        subprocess.run(command, check=True, cwd=ROOT)

    asyncio.run(told(logs, make))
    papers = sorted(logs.glob("papers/*/*.pdf"))
    for page in papers if asked.pictures else ():
        subprocess.run([stock("pdftoppm"), "-r", "80", "-png", str(page), str(asked.folder / page.stem)], check=True)
    for page in papers if asked.readme else ():
        readme_pictures(page)


def readme_pictures(page: Path) -> None:
    """Small grey pictures of what a reader of the README sees of a paper."""
    kind = page.stem.split("-", 2)[2].rsplit("-", 1)[0]
    shown = {"": 1}
    if kind == "test-record":
        shown |= {"-results": page_with(page, "Between its"), "-burn-in": page_with(page, "over the burn-in")}
    for name, number in shown.items():
        small_picture(page, number, PICTURES / f"paper-{kind}{name}.png")


def small_picture(page: Path, number: int, out: Path) -> None:
    """One page, as coarse as it has to be to stay small."""
    for dots in (50, 46, 42, 38):
        call = [
            stock("pdftoppm"),
            "-r",
            str(dots),
            "-gray",
            "-png",
            "-f",
            str(number),
            "-l",
            str(number),
            "-singlefile",
        ]
        subprocess.run([*call, str(page), str(out.with_suffix(""))], check=True)
        if out.stat().st_size < MOST_BYTES:
            return


def page_with(page: Path, words: str) -> int:
    """The number of the first page on which these words stand."""
    said = subprocess.run([stock("pdftotext"), "-layout", str(page), "-"], check=True, capture_output=True).stdout
    return next(at for at, text in enumerate(said.decode("utf-8").split("\f"), start=1) if words in text)


def stock(program: str) -> str:
    """A program of poppler."""
    return shutil.which(program) or program


if __name__ == "__main__":
    main()
