"""Speech: the cue's words by the espeak-ng program, where it is installed. Only the newest words are worth saying."""

from __future__ import annotations

import logging
import re
import shutil
import subprocess
import threading
from collections.abc import Callable
from types import TracebackType

from station.texts import N_, language, t

log = logging.getLogger("tarebell.speech")

PROGRAM = "espeak-ng"
WITHIN_S = 12.0


SAID = (
    (r"(\d) mg\b", N_("{1} milligrams")),
    (r"(\d) g\b", N_("{1} grams")),
    (r"(\d) kg\b", N_("{1} kilograms")),
    (r"(\d) s\b", N_("{1} seconds")),
    (r"(\d) min\b", N_("{1} minutes")),
    (r"(\d) h\b", N_("{1} hours")),
    (r"(\d) %", N_("{1} per cent")),
    (r"(\d) °C", N_("{1} degrees")),
    (r"(\d):(\d)", N_("{1} to {2}")),
)
"""What the eye reads and how the ear expects it. Numerals are left to the program; {1} and {2} are what was found."""


def spoken(words: str) -> str:
    """Words as they are said: units written out, a ratio as "10 to 1"."""
    for seen, said in SAID:
        words = re.sub(seen, re.sub(r"\{(\d)\}", r"\\\1", t(said)), words)
    return words.replace(":", ",").strip()


def code_words(code: str) -> str:
    """A pairing code as it is said, digit by digit with a pause in the middle."""
    half = (len(code) + 1) // 2
    return t("The pairing code is {first}. {second}.", first=", ".join(code[:half]), second=", ".join(code[half:]))


class Voice:
    """A thread that speaks. `fitted` is false where the program is missing; then nothing is said.

    Little is said while `quiet()`, which must not wait, is true: words are of no use hours later.
    """

    def __init__(self, program: str = PROGRAM, quiet: Callable[[], bool] = lambda: False) -> None:
        self._program, self._quiet = shutil.which(program), quiet
        self._changed = threading.Condition()
        self._words = ""
        self._ending = False
        self._speaking: subprocess.Popen[bytes] | None = None
        self._thread = threading.Thread(target=self._run, name="voice")

    @property
    def fitted(self) -> bool:
        """Whether there is a program to speak with."""
        return self._program is not None

    def say(self, words: str, *, asked_for: bool = False) -> None:
        """Say this next; what was waiting is forgotten. Returns at once.

        While it is quiet only what somebody has just `asked_for` is said.
        """
        if self._quiet() and not asked_for:
            return
        with self._changed:
            self._words = spoken(words)
            self._changed.notify_all()

    def __enter__(self) -> Voice:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._changed:
            self._ending = True
            if self._speaking is not None:
                self._speaking.kill()
            self._changed.notify_all()
        self._thread.join()

    def _run(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._ending or self._words)
                if self._ending:
                    return
                words, self._words = self._words, ""
            if self._program is not None:
                self._speak(self._program, words)

    def _speak(self, program: str, words: str) -> None:
        try:
            # Words go in by standing input: they are data, never options.
            process = subprocess.Popen(
                [program, "-v", language(), "--stdin"],
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError as why:
            log.warning("speech failed why=%s", why)
            return
        with self._changed:
            self._speaking = process
            if self._ending:
                process.kill()
        try:
            process.communicate(words.encode(), timeout=WITHIN_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        with self._changed:
            self._speaking = None
            failed = process.returncode != 0 and not self._ending
        if failed:
            log.warning("speech failed code=%s", process.returncode)
