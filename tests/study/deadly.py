"""Work that kills its process: for tests of crews. Importable by name in worker processes."""

import os
import signal
from pathlib import Path

from hearthold.study.onehome import Done, study_homes


def dies_once(jobs):
    """Kills its process the first time it is asked to run the marked home; a file beside it remembers."""
    for job in jobs:
        mark = Path(f"{job.file}.died")
        if job.file.endswith("00002.toml") and not mark.exists():
            mark.write_text(str(os.getpid()))
            os.kill(os.getpid(), signal.SIGKILL)
    return study_homes(jobs)


def always_dies(jobs):
    """Kills its process whenever the marked home is among the jobs."""
    if any(job.file.endswith("00002.toml") for job in jobs):
        os.kill(os.getpid(), signal.SIGKILL)
    return [Done(job.file, {"x": 1.0}) for job in jobs]
