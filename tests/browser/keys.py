"""A person with nothing but a keyboard: goes from one thing to the next, and minds where the focus is."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

MOST = 150
HERE = "one => one === document.activeElement"
UNSEEN = """() => {
  const one = document.activeElement;
  if (one === document.body) return '';
  const named = one.outerHTML.slice(0, 110);
  const { left, right, top, bottom, width, height } = one.getBoundingClientRect();
  const style = getComputedStyle(one);
  if (style.outlineStyle === 'none' || parseFloat(style.outlineWidth) < 2) return `no frame around ${named}`;
  const within = width >= 2 && bottom > 1 && right > 1 && top < innerHeight - 1 && left < innerWidth - 1;
  if (!within) return `out of sight: ${named}`;
  const x = Math.min(Math.max((left + right) / 2, 1), innerWidth - 1);
  const y = Math.min(Math.max((top + Math.min(bottom, innerHeight)) / 2, 1), innerHeight - 1);
  const at = document.elementFromPoint(x, y);
  return at && (one.contains(at) || at.contains(one)) ? '' : `${named} lies under ${at?.outerHTML.slice(0, 80)}`;
}"""
"""What is wrong with the place of the focus, if anything (WCAG 2.4.7, 2.4.11)."""


class Keys:
    """Presses keys on one page. `wrong` keeps where the focus could not be seen."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.wrong: list[str] = []

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def to(self, target: Locator) -> None:
        """On with Tab until `target` has the focus."""
        target.wait_for()
        for _ in range(MOST):
            if target.evaluate(HERE):
                return
            self.press("Tab")
            self._look()
        raise AssertionError(f"no way by Tab to {target}")

    def use(self, target: Locator) -> None:
        """Go there and press Enter."""
        self.to(target)
        self.press("Enter")

    def type(self, target: Locator, text: str) -> None:
        """Go to a field and write over what is in it."""
        self.to(target)
        self.press("ControlOrMeta+a")
        self.page.keyboard.type(text)

    def pick(self, target: Locator, first: str) -> None:
        """Go to a list and choose by the first letters."""
        self.to(target)
        self.page.keyboard.type(first)

    def from_the_top(self) -> None:
        """As if the page had just been opened."""
        self.page.evaluate("document.body.tabIndex = -1, document.body.focus(), scrollTo(0, 0)")

    def _look(self) -> None:
        if said := self.page.evaluate(UNSEEN):
            self.wrong.append(said)

    def whole_round(self) -> list[str]:
        """From the top through all that can be reached; gives it in its order, the skip link first."""
        self.from_the_top()
        met: list[str] = []
        for _ in range(MOST):
            self.press("Tab")
            here = self.page.evaluate("document.activeElement.outerHTML.slice(0, 200)")
            if here.startswith("<body") or (met and here == met[0]):
                return met
            self._look()
            met.append(here)
        raise AssertionError("the way by Tab has no end")
