"""Does an archive that was caught up now and then hold what one has that is made anew, after any history?

A state machine: jobs begin and go on, journals are altered, taken away and put back, somebody catches up in between.
"""

import tempfile
from pathlib import Path

from archive_shop import STORIES, ArchiveShop, contents
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule


class ArchiveFollows(RuleBasedStateMachine):
    """One bench's folder and its archive."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        self.shop = ArchiveShop(Path(self._folder.name) / "logs")

    @initialize()
    def a_unit_comes(self) -> None:
        self.shop.begins()

    def _whole(self) -> st.SearchStrategy[str]:
        return st.sampled_from([job for job in self.shop.told if job not in self.shop.whole])

    @rule(tells=st.sampled_from(STORIES))
    def another_unit_comes(self, tells: str) -> None:
        self.shop.begins(tells)

    @precondition(lambda self: len(self.shop.told) > len(self.shop.whole))
    @rule(data=st.data(), count=st.sampled_from((1, 7, 1000)))
    def a_job_goes_on(self, data: st.DataObject, count: int) -> None:
        self.shop.goes_on(data.draw(self._whole()), count)

    @precondition(lambda self: len(self.shop.told) > len(self.shop.whole))
    @rule(data=st.data(), gone=st.booleans())
    def a_journal_is_altered_or_gone(self, data: st.DataObject, gone: bool) -> None:
        job = data.draw(self._whole())
        (self.shop.take_away if gone else self.shop.alter)(job)

    @precondition(lambda self: self.shop.whole)
    @rule(data=st.data())
    def a_backup_brings_it_back(self, data: st.DataObject) -> None:
        self.shop.put_back(data.draw(st.sampled_from(sorted(self.shop.whole))))

    @rule()
    def somebody_catches_up(self) -> None:
        done = self.shop.archive().catch_up()
        assert set(done.unread) == {job for job in self.shop.whole if self.shop.path(job).exists()}

    def teardown(self) -> None:
        with self._folder:
            archive = self.shop.archive()
            archive.catch_up()
            followed = contents(archive.path)
            assert archive.check().differences == ()
            archive.rebuild()
            assert contents(archive.path) == followed


TestArchiveFollows = ArchiveFollows.TestCase
TestArchiveFollows.settings = run_with(
    max_examples=15, stateful_step_count=12, deadline=None, suppress_health_check=list(HealthCheck)
)
