"""Where are the sample journals, and what was written down of them when they were made?

A set is a shop's folder of logs with `states.json` beside the ledger: of each file its bytes and their SHA-256, of each
job what it is about and the digest of the state it folds to.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from damage import Damaged
from kept_state import digest_of, members_of, state_of
from sample_rig import FiledRig

from passcheck.records.shop import LogFolder

JOURNALS = Path(__file__).parents[1] / "samples" / "journals"
STATES = "states.json"


@dataclass(frozen=True, slots=True)
class SampleSet:
    """One set of sample journals."""

    folder: Path
    files: Mapping[str, tuple[int, str]]
    """Bytes and SHA-256 of each file, by its place in the folder."""
    about: Mapping[str, str]
    digests: Mapping[str, str]
    members: frozenset[str]
    """The members of a state that the digests were made of."""

    def journal(self, job_id: str) -> Path:
        """A job's file."""
        return logs_of(self.folder, job_id).journal_path(job_id)


def logs_of(folder: Path, job_id: str) -> LogFolder:
    """The folder of logs that a job of a set, or of a copy of one, lies in."""
    return rig_of(folder, job_id).logs()


def rig_of(folder: Path, job_id: str) -> FiledRig:
    """A bench over a set, or over a copy of one."""
    return FiledRig(folder, practice=job_id.startswith("P"))


def sets() -> tuple[str, ...]:
    """The names of the sets, the oldest first."""
    return tuple(sorted(path.parent.name for path in JOURNALS.glob(f"*/{STATES}")))


def all_samples() -> tuple[tuple[str, str], ...]:
    """Set and place of every journal and ledger there is."""
    return tuple((name, place) for name in sets() for place in sample_set(name).files if place.endswith(".jsonl"))


@cache
def damaged(name: str, place: str) -> Damaged:
    """A journal or a ledger of a set, to be damaged; a journal with what its ledger says of it."""
    kept = sample_set(name)
    path = kept.folder / place
    said = () if path.name == "ledger.jsonl" else logs_of(kept.folder, path.stem).ledger.entries(path.stem)
    return Damaged.of(path.stem, path.read_bytes(), said)


@cache
def sample_set(name: str) -> SampleSet:
    """What was written down of a set."""
    kept = json.loads((JOURNALS / name / STATES).read_text(encoding="utf-8"))
    return SampleSet(
        folder=JOURNALS / name,
        files={place: (size, digest) for place, (size, digest) in kept["files"].items()},
        about={job: one["about"] for job, one in kept["jobs"].items()},
        digests={job: one["state"] for job, one in kept["jobs"].items()},
        members=frozenset(kept["members"]),
    )


def files_in(folder: Path) -> dict[str, tuple[int, str]]:
    """Bytes and SHA-256 of every file of a shop's folder, lock files left out."""
    files = {}
    for path in sorted(folder.rglob("*")):
        if path.is_file() and path.suffix != ".lock" and path.name != STATES:
            data = path.read_bytes()
            files[path.relative_to(folder).as_posix()] = len(data), hashlib.sha256(data).hexdigest()
    return files


def write_down(folder: Path, about: Mapping[str, str]) -> None:
    """Put `states.json` into a folder that was just made."""
    states = {job: state_of(rig_of(folder, job).shop, job) for job in about}
    members = frozenset(member for state in states.values() for member in members_of(state))
    kept = {
        "files": {place: list(facts) for place, facts in files_in(folder).items()},
        "jobs": {job: {"about": about[job], "state": digest_of(states[job], members)} for job in about},
        "members": sorted(members),
    }
    (folder / STATES).write_text(json.dumps(kept, ensure_ascii=True, indent=1) + "\n", encoding="utf-8")
