"""One Hypothesis profile for all tests: no hidden time limits, and the same examples on every machine in CI."""

import os

from hypothesis import settings

settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")
