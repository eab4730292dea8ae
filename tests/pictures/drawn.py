"""How does the program's window become a picture beside this file?"""

import asyncio
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Coroutine
from pathlib import Path

HERE = Path(__file__).parent
REPOSITORY = HERE.parents[1]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes"), str(REPOSITORY / "tests" / "bench")]

from at_desk import press, settle, type_in  # noqa: E402 - the paths come first
from small_png import make_small  # noqa: E402
from textual.pilot import Pilot  # noqa: E402

_VIEW = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
Drawing = Callable[[Path], Coroutine[object, object, None]]
"""Draws some windows into a folder as SVG."""


async def open_unit(pilot: Pilot[None], serial: str) -> None:
    """From the shelf to a unit's traveller, as a scanner does it."""
    await press(pilot, "escape")
    await type_in(pilot, serial)
    await press(pilot, "enter")
    await settle(pilot)


def draw(pilot: Pilot[None], path: Path) -> None:
    """Keep the window as it stands."""
    path.write_text(pilot.app.export_screenshot(), encoding="utf-8")


def browser() -> str:
    """The browser that draws.

    Raises:
        SystemExit: there is none.
    """
    found = shutil.which("chromium")
    if found is None:
        raise SystemExit("chromium is missing: install it, and the font Fira Code")
    return found


def as_png(drawing: Path, picture: Path, drawn_by: str) -> None:
    """Let a browser draw the SVG: nothing else places Textual's pieces of text exactly."""
    width, height = (round(float(side)) for side in _VIEW.findall(drawing.read_text(encoding="utf-8"))[0])
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-device-scale-factor=0.8"]
    asked = [drawn_by, *flags, f"--screenshot={picture}", f"--window-size={width},{height}", drawing.as_uri()]
    subprocess.run(asked, check=True, capture_output=True)
    make_small(picture)


def make(*drawings: Drawing) -> None:
    """Draw, and turn the drawings into PNG beside this file: those that are named on the command line, or all."""
    drawn_by, wanted = browser(), sys.argv[1:]
    with tempfile.TemporaryDirectory() as name:
        for one in drawings:
            asyncio.run(one(Path(name)))
        for drawing in sorted(Path(name).glob("*.svg")):
            if not wanted or drawing.stem in wanted:
                picture = HERE / f"{drawing.stem}.png"
                as_png(drawing, picture, drawn_by)
                print(picture.relative_to(REPOSITORY))
