"""How do the screens open?"""

import gc
import os

from passcheck.cli.folders import Folders
from passcheck.cli.wire import bench_files, open_shop

BENCH_FILE = "bench.yaml"


def open_shelf(folders: Folders) -> int:
    """Open the shelf and give the exit status; the first start writes bench.yaml.

    Raises:
        FileFault: bench.yaml or bench.json can't be used; the screens were closed again.
        BenchFailed: the records' folder can't be written.
    """
    gc.disable()  # nothing that is made on the way to the first screen is garbage; the app turns it on again
    from passcheck.app.start import run_app

    if not os.path.exists(folders.logs / BENCH_FILE):
        bench_files(folders).make()
    return run_app(open_shop(folders))
