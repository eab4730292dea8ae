"""Which screens, keys and looks does the program have, and what does it do with a key that no screen took?"""

from collections.abc import Iterable
from functools import partial
from typing import ClassVar

from textual import work
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.screen import Screen

from passcheck.app.held_keys import HeldKeys
from passcheck.app.job_screen import DeskScreen
from passcheck.app.keys import EVERYWHERE, bindings_under, strange_ids
from passcheck.app.plain import tell
from passcheck.app.screens.ask_quit import AskQuit
from passcheck.app.screens.keys_help import KeysHelp
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.no_unit import NoUnit
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.who import Who
from passcheck.app.signals import end_on_signals
from passcheck.app.theme import DESK, THEMES
from passcheck.bench.shop import Shop
from passcheck.job.commands import CallMakeSafe
from passcheck.job.settings import BenchSettings


class PasscheckApp(HeldKeys):
    """Modes, keys and themes; everything else belongs to a screen."""

    TITLE = "passcheck"
    CSS_PATH = "app.tcss"
    MODES: ClassVar = {"shelf": ShelfScreen}
    DEFAULT_MODE = "shelf"
    BINDINGS: ClassVar[list[BindingType]] = list(EVERYWHERE)
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny-wide"), (60, "-narrow"), (96, "-wide")]  # noqa: RUF012 - as Textual has it
    VERTICAL_BREAKPOINTS = [(0, "-tiny-high"), (18, "-low"), (28, "-high")]  # noqa: RUF012 - as Textual has it

    def __init__(self, shop: Shop, settings: BenchSettings) -> None:
        """Take the shop, and the settings as they were when the program started."""
        super().__init__(shop, settings)
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DESK.name
        self._warned: set[str] = set()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Card and ink for a theme that doesn't bring its own."""
        return DESK.variables

    def on_mount(self) -> None:
        """Looks, keys, and an orderly end for every signal that would end the program."""
        self.animation_level = "none"
        self._take_keys()
        end_on_signals(self._end)
        if not self.person:
            self.push_screen(Who(), self._now_at_the_bench)

    async def on_unmount(self) -> None:
        """Let the journals go, so that another program may write them."""
        await self.shop.close()

    def _end(self, code: int) -> None:
        self.exit(return_code=code)

    def _take_keys(self) -> None:
        wanted = dict(self.started_with.keys)
        self.set_keymap(wanted)
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

    def action_make_safe(self) -> None:
        """Record the call, stamped now, and show the sheet at once, whatever the disk does."""
        bench = self.bench
        if bench is None or bench.job.ended is not None:
            self.push_screen(NoUnit())
        elif not isinstance(self.screen, MakeSafeScreen):
            screen = MakeSafeScreen(bench)
            self.run_worker(screen.act(CallMakeSafe(self.person or bench.job.holder)), exit_on_error=False)
            self.push_screen(screen)

    def action_all_keys(self) -> None:
        """Every key that works here, in words."""
        self.push_screen(KeysHelp(self.screen))

    @work
    async def action_who(self) -> None:
        """Change who is at the bench."""
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
        if not why or await self.push_screen_wait(AskQuit(why)):
            self.exit(return_code=0)

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every key's act, for the palette."""
        for node, binding, enabled, tooltip in screen.active_bindings.values():
            if enabled and binding.description and binding.id:
                act = partial(self.run_action, binding.action, node)
                yield SystemCommand(binding.description, tooltip or binding.tooltip, act)
