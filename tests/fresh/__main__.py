"""python -m tests.fresh readme|bench|offline bookworm|trixie"""

from __future__ import annotations

import argparse
import sys

from tests.fresh import bench, offline, readme
from tests.fresh.roots import SUITES, WentWrong

TRIALS = {"readme": readme.tried, "bench": bench.tried, "offline": offline.tried}


def main() -> int:
    """Try it; 1 when something did not hold."""
    parser = argparse.ArgumentParser(prog="python -m tests.fresh")
    parser.add_argument("trial", choices=sorted(TRIALS))
    parser.add_argument("suite", choices=SUITES)
    asked = parser.parse_args()
    try:
        TRIALS[asked.trial](asked.suite)
    except WentWrong as why:
        print(why, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
