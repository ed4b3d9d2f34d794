"""Print what the figures of all demo patterns cost as files of their own. Figures, no verdict.

python tests/benchmarks/bench_figures.py [PIXELS]

The command is run as a person runs it, in a new folder: first everything is drawn, then again with
the plans and parts of the first time at hand. With PIXELS also as PNG so wide, where the cairo
library is installed.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]


def run(name: str, out: Path, *more: str) -> None:
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    words = [sys.executable, "-m", "publisher", "figures", "--out", str(out), *more]
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(words, cwd=ROOT, env=environment, check=True, stdout=subprocess.DEVNULL)
    wall, after = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    files = [path for path in out.glob("*/figures/*") if path.suffix in (".svg", ".png")]
    size = sum(path.stat().st_size for path in files) / 1e6
    print(f"{name:12} {wall:6.2f} s wall {cpu:6.2f} s CPU  {len(files)} files, {size:.1f} MB")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        run("first run", Path(folder))
        run("second run", Path(folder))
        if len(sys.argv) > 1:
            run(f"PNG, {sys.argv[1]} px", Path(folder), "--png", sys.argv[1])


if __name__ == "__main__":
    main()
