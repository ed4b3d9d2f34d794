"""Print what other ways to a PDF cost for a booklet as large, where they are installed.

python tests/benchmarks/bench_peers.py
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

PEERS = Path(__file__).parents[3] / "shared" / "peers"
BOOKLETS = 5
PATIENCE_S = 120
WAYS = {
    "Typst, tagged": ("typst", "rect"),
    "ReportLab, untagged": ("reportlab", "symfont"),
    "WeasyPrint": ("weasyprint", "sympath"),
    "CairoSVG and pypdf as they come": ("cairosvg", "stock"),
}
"""By name: the package that it needs, which names its script too, and how the script is told."""


def beside_peers() -> None:
    """A line a peer, the best of its warm booklets, in CPU seconds."""
    if not PEERS.is_dir():
        print("peers: left out, as their scripts are not here")
        return
    with tempfile.TemporaryDirectory() as folder:
        data = [sys.executable, str(PEERS / "make_data.py"), folder, str(BOOKLETS)]
        subprocess.run(data, check=True, capture_output=True)
        for name, (package, mode) in WAYS.items():
            print(f"{name}: {_told(package, mode, Path(folder))}")


def _told(package: str, mode: str, folder: Path) -> str:
    if find_spec(package) is None:
        return "left out, as it is not installed"
    script = PEERS / f"bench_booklet_{package}.py"
    data = sorted(map(str, folder.glob("*.json")))
    command = [sys.executable, "-c", _ON_CPU_TIME, str(script), mode, str(folder / package), *data]
    try:
        run = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE_S)
    except subprocess.TimeoutExpired:
        return "left out, as it took too long"
    lines = [json.loads(line) for line in run.stdout.splitlines() if line.startswith("{")]
    if run.returncode or len(lines) < 2:
        return "left out, as it failed"
    best = min(lines[1:], key=lambda line: float(line["s"]))
    pages, size, seconds = best["pages"], best["bytes"], best["s"]
    return (
        f"{pages} pages, {size / 1000:.0f} kB, {seconds:.3f} s CPU: {pages / seconds:.0f} pages/s"
    )


_ON_CPU_TIME = """
import runpy, sys, time
time.perf_counter = time.process_time  # what the scripts time with; others use the machine too
sys.argv = sys.argv[1:]
runpy.run_path(sys.argv[0], run_name="__main__")
"""

if __name__ == "__main__":
    beside_peers()
