"""Which screens, keys and looks does the program have, and what does it do with a key that no screen took?

Only the shelf is loaded at the start: it stands first, then bench.yaml is read and the other screens are loaded.
"""

from __future__ import annotations

import asyncio
import gc
from collections.abc import Iterable
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.screen import Screen

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.every_screen import load_every_screen
from passcheck.app.held_keys import HeldKeys
from passcheck.app.keys import EVERYWHERE, bindings_under, strange_ids
from passcheck.app.plain import tell
from passcheck.app.reader_lost import ReaderLost
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.signals import end_on_signals
from passcheck.app.theme import DESK, THEMES
from passcheck.errors import BenchFailed, FileFault

if TYPE_CHECKING:  # loaded when the shelf stands; there is no cycle
    from passcheck.app.practice_desk import PracticeDesk
    from passcheck.bench.shop import Shop
    from passcheck.job.due_words import DueWords
    from passcheck.job.settings import BenchSettings

WATCH_S = 15.0
"""How often the program asks which soaking units fell due."""
SHELF_WAIT_S = 1.0
"""A shelf that has to be made anew takes longer; then the bench is read beside it."""


class PasscheckApp(HeldKeys):
    """Modes, keys and themes; everything else belongs to a screen."""

    TITLE = "passcheck"
    CSS_PATH = "app.tcss"
    MODES: ClassVar = {"shelf": ShelfScreen}
    DEFAULT_MODE = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = list(EVERYWHERE)
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny-wide"), (60, "-narrow"), (96, "-wide")]  # noqa: RUF012 - as Textual has it
    VERTICAL_BREAKPOINTS = [(0, "-tiny-high"), (18, "-short"), (23, "-low"), (28, "-high")]  # noqa: RUF012 - as Textual has it

    def __init__(self, shop: Shop, settings: BenchSettings | None = None, practice: PracticeDesk | None = None) -> None:
        """Take the shop, and the settings where they were read before; else they are read when the shelf stands.

        `practice` comes with a shop whose units are simulated.
        """
        super().__init__(shop)
        self.practice = practice
        if settings is not None:
            self.take_settings(settings)
        self.fault: FileFault | BenchFailed | None = None  # why bench.yaml can't be used, which ends the program
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DESK.name
        self._warned: set[str] = set()
        self._due: DueWords | None = None  # until all is loaded

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Card and ink for a theme that doesn't bring its own."""
        return DESK.variables

    def on_mount(self) -> None:
        """Looks, keys, and an orderly end for every signal that would end the program."""
        self.animation_level = "none"
        end_on_signals(self._end)
        self._begin()

    @work(group="shelf")
    async def _begin(self) -> None:
        if not self.bench_known.is_set():
            with suppress(TimeoutError):
                await asyncio.wait_for(self.shelf_stands.wait(), SHELF_WAIT_S)
            gc.enable()  # the way to the first screen was run without it
            try:
                self.take_settings(await asyncio.to_thread(self.shop.settings))
            except (FileFault, BenchFailed) as fault:
                self.fault = fault
                self.exit()
                return
        self.set_keymap(dict(self.started_with().keys))
        if self.person:
            self._now_at_the_bench(self.person)
        else:
            self.action_who()
        await asyncio.to_thread(load_every_screen)
        self._warn_of_strange_keys()
        self._watch_soaks()

    def _watch_soaks(self) -> None:
        from passcheck.job.due_words import DueWords

        self._due = DueWords()
        self.set_interval(WATCH_S, self.call_for_looks)

    def call_for_looks(self) -> None:
        """Say which soaking units fell due while another screen is open; never while taps are taken."""
        from passcheck.app.screens.rack import RackScreen  # it rings by itself

        screen = self.screen
        if self._due is None or not self.soaking or isinstance(screen, RackScreen):
            return
        if isinstance(screen, DeskScreen) and screen.takes_taps:
            return
        news = self._due.news(self.soaking, self.shop.clock())
        for sentence in news:
            tell(self, sentence, "warning")
        if news and self.started_with().tones:
            self.bell()

    async def on_unmount(self) -> None:
        """Let the journals go, so that another program may write them."""
        await self.shop.close()

    def _end(self, code: int) -> None:
        """End for a signal, once what is being drawn is drawn: what is just being mounted would miss its parents."""
        self._turn.forget()
        self.run_worker(self._end_when_calm(code), group="end", exclusive=True, exit_on_error=False)

    async def _end_when_calm(self, code: int) -> None:
        await self._turn.all_done()
        self.exit(return_code=code)

    def _warn_of_strange_keys(self) -> None:
        wanted = self.started_with().keys
        known = (*EVERYWHERE, *bindings_under(DOMNode))
        for name in strange_ids(wanted, known):
            tell(self, f"bench.yaml, keys: no key is called '{name}'. F1 lists them.", "warning")

    def handle_bindings_clash(self, clashed_bindings: set[Binding], node: DOMNode) -> None:
        """Say once that two acts want the same key."""
        del node
        names = ", ".join(sorted(binding.id or binding.action for binding in clashed_bindings))
        if names not in self._warned:
            self._warned.add(names)
            tell(self, f"bench.yaml, keys: another act took the key of {names}.", "warning")

    def scanned(self, code: str) -> None:
        """The screen takes it, or the shelf does; an open sheet is finished first."""
        if isinstance(self.screen, DeskScreen) and self.screen.take_scan(code):
            return
        if self.screen.is_modal:
            tell(self, f"Scanned {code}: nothing was done with it. Finish what is open first.", "warning")
            return
        while not isinstance(self.screen, ShelfScreen) and len(self.screen_stack) > 1:
            self.pop_screen()
        if isinstance(self.screen, ShelfScreen):
            self.screen.take_scan(code)

    def on_reader_lost(self, event: ReaderLost) -> None:
        """Keys go on, stamped less exactly; whoever times a hand has to know."""
        event.stop()
        self.is_reader_lost = True
        if isinstance(self.screen, DeskScreen):
            self.screen.reader_lost()

    @work(exclusive=True, group="practice")
    async def action_practice_forward(self) -> None:
        """Let time go by on the practice bench."""
        from passcheck.app.practice_forward import let_time_go_by
        from passcheck.app.widgets.practice_line import say

        if self.practice is not None:
            say(self, await let_time_go_by(self, self.practice))

    def action_practice_coach(self) -> None:
        """Show what to do next, or hide it."""
        from passcheck.app.widgets.practice_line import say

        if self.practice is not None:
            self.practice.coach = not self.practice.coach
            say(self, "")

    def action_make_safe(self) -> None:
        """Record the call, stamped now, and show the sheet at once, whatever the disk does."""
        from passcheck.app.screens.make_safe import MakeSafeScreen
        from passcheck.app.screens.no_unit import NoUnit
        from passcheck.job.commands import CallMakeSafe

        bench = self.bench
        if bench is None or bench.job.ended is not None:
            self.push_screen(NoUnit())
        elif not isinstance(self.screen, MakeSafeScreen):
            screen = MakeSafeScreen(bench)
            self.run_worker(screen.act(CallMakeSafe(self.person or bench.job.holder)), exit_on_error=False)
            self.push_screen(screen)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What only practice has isn't there at work; where taps are taken the unit is drawn already."""
        if action == "practice_unit":
            return self.practice is not None and not getattr(self.screen, "takes_taps", False)
        if action.startswith("practice_"):
            return self.practice is not None
        return super().check_action(action, parameters)

    def action_practice_unit(self) -> None:
        """Show the practice unit large, or go back."""
        from passcheck.app.screens.unit_sheet import turn_unit_sheet

        turn_unit_sheet(self)

    def action_all_keys(self) -> None:
        """Every key that works here, in words; once more puts the list away."""
        from passcheck.app.screens.keys_help import KeysHelp

        if isinstance(self.screen, KeysHelp):
            self.screen.action_leave()
        else:
            self.push_screen(KeysHelp(self.screen))

    @work
    async def action_who(self) -> None:
        """Change who is at the bench."""
        from passcheck.app.screens.who import Who

        await self.bench_known.wait()
        self._now_at_the_bench(await self.push_screen_wait(Who()))

    def _now_at_the_bench(self, person: str | None) -> None:
        if person:
            self.person = person
        for screen in self.screen_stack:
            if isinstance(screen, DeskScreen):
                screen.person_changed()

    async def action_quit(self) -> None:
        """End at once when nothing is powered or half typed; otherwise ask."""
        self._quit()

    @work(exclusive=True, group="quit")
    async def _quit(self) -> None:
        begun = [one.unfinished() for one in self.screen_stack if isinstance(one, DeskScreen)]
        why = tuple(filter(None, (self.powered_words(), *begun)))
        from passcheck.app.screens.ask_quit import AskQuit

        if not why or await self.push_screen_wait(AskQuit(why)):
            self.exit(return_code=0)

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every key's act, for the palette."""
        for node, binding, enabled, tooltip in screen.active_bindings.values():
            if enabled and binding.description and binding.id:
                act = partial(self.run_action, binding.action, node)
                yield SystemCommand(binding.description, tooltip or binding.tooltip, act)
