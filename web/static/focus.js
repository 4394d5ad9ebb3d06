// Keeps the place of those who use a keyboard: what they stood on may be gone once the page is painted anew.

const seen = (element) => element.isConnected && element.getClientRects().length > 0;

// The heading says what is the case now, and nothing on it can be pressed by mistake.
export const keeping = (paint) => {
  const held = document.activeElement;
  paint();
  if (!held || held === document.body || seen(held)) return;
  const heading = [...document.querySelectorAll("main h1")].find(seen);
  if (!heading) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
};
