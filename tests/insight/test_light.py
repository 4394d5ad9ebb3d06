"""A station that is asked nothing of its casts does not carry what the answers take."""

import subprocess
import sys

HEAVY = "import sys, station.learning_desk, {pages}; print([one for one in ('numpy', 'scipy') if one in sys.modules])"
PAGES = ("difference_pages", "advice_pages", "trial_pages", "learning_shapes")


def test_the_pages_of_learning_load_neither_numpy_nor_scipy():
    code = HEAVY.format(pages=", ".join(f"station.phone.{one}" for one in PAGES))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
