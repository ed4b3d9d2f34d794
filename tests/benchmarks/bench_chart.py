"""Print what making charts of pictures costs: time of all cores, memory. Figures, no verdict.

python tests/benchmarks/bench_chart.py
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

CHILD = """
import re, sys, time
from pathlib import Path
from publisher import chart_picture
picture, into, columns, colours = sys.argv[1:]
known = time.process_time()
made = chart_picture(picture, into, columns=int(columns), colours=int(colours))
cost = time.process_time() - known
status = Path("/proc/self/status")
memory = int(re.search(r"VmHWM:\\s+(\\d+)", status.read_text())[1]) >> 10 if status.exists() else 0
print(f"{made.columns} x {made.rows}, {len(made.colours)} colours: {cost:.2f} s of processor, "
      f"{memory:.0f} MB; single knots {made.tidied.single_knots}, yarns {made.tidied.yarns}")
"""


def photo(width: int, height: int) -> Image.Image:
    """Soft clouds over water with grain, and a boat with hard edges."""
    rng = np.random.default_rng(3)
    soft = np.zeros((height, width, 3))
    for size, weight in ((4, 110), (12, 50), (40, 25)):
        blots = rng.integers(0, 256, (size * 3 // 4, size, 3)).astype(np.uint8)
        large = Image.fromarray(blots).resize((width, height), Image.Resampling.BICUBIC)
        soft += np.asarray(large, float) * weight / 255
    soft[height * 2 // 3 :] *= 0.6
    soft[height // 2 : height * 5 // 6, width // 3 : width // 2] = (150, 30, 25)
    grain = rng.normal(0, 10, (height, width, 1))
    return Image.fromarray(np.clip(soft + grain, 0, 255).astype(np.uint8))


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        large = photo(4000, 3000)
        large.save(Path(folder, "photo.jpg"), quality=90)
        large.save(Path(folder, "photo.png"), compress_level=1)
        large.resize((1000, 750)).quantize(6, dither=0).convert("RGB").save(
            Path(folder, "drawing.png")
        )
        for name, columns, colours in (
            ("photo.jpg", 120, 8),
            ("photo.png", 120, 8),
            ("drawing.png", 120, 8),
            ("photo.jpg", 400, 20),
        ):
            into = Path(folder, f"{name[:-4]}-{columns}.toml")
            words = [str(Path(folder, name)), str(into), str(columns), str(colours)]
            done = subprocess.run(
                [sys.executable, "-c", CHILD, *words], check=True, capture_output=True, text=True
            )
            print(f"{name}: {done.stdout.strip()}")


if __name__ == "__main__":
    main()
