"""Walk a job without a screen: print each line's number once the records have acknowledged it.

python walker.py LOGS JOB|new COUNT
"""

import sys
from pathlib import Path

from passcheck.job.journal_line import Line
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import machine_stamp


def line(number: int, event: str, **data: object) -> Line:
    now = machine_stamp()
    return Line(number, now.at, "t7", now.clock, event, data)


def first(job: str, position: tuple[int, str]) -> Line:
    facts = {"job": job, "ledger_bytes": position[0], "ledger_digest": position[1], "sequence_text": "steps: []\n" * 90}
    return line(0, "job opened", **facts)


def walk(folder: Path, job: str, count: int) -> None:
    logs = LogFolder(folder, "A")
    journal = logs.new_job(first)[1] if job == "new" else logs.open_job(job)[0]
    print(journal.job_id, journal.next_number, flush=True)
    for _ in range(count):
        number = journal.next_number
        fails = number % 5 == 4
        if fails:
            facts = {"step": "ripple-5v", "judgement": {"verdict": "fail", "value": "0.142"}}
            journal.append([line(number, "attempt judged", **facts)], fail=True)
        else:
            # Every seventh line covers more than one page of memory, which is where a kill can cut it.
            words = f"note {number}" + " and more" * (1000 if number % 7 == 3 else 0)
            journal.append([line(number, "note added", text=words)])
        print(number, flush=True)
    journal.close()


if __name__ == "__main__":
    walk(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
