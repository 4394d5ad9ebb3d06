"""What is measured in a page: what sticks out at its side, and what is too small to be touched."""

SIZES = [(320, 1), (360, 1), (1280, 1), (360, 2), (1280, 2)]
"""Width of the screen, and how many times as large the text is as by default."""

TOO_WIDE = """() => {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const out = (e) => e.getBoundingClientRect().right > width + 0.5;
  const rolls = (e) => e && (getComputedStyle(e).overflowX !== 'visible' || rolls(e.parentElement));
  const last = [...document.body.querySelectorAll('*')].filter((e) => out(e) && ![...e.children].some(out));
  const named = (e) => `${e.parentElement.outerHTML.split('>')[0]}>${e.outerHTML.slice(0, 90)}`;
  return [document.documentElement.scrollWidth, ...last.filter((e) => !rolls(e)).slice(0, 4).map(named)];
}"""
"""What sticks out at the right, for who mends it."""

LEAST = 44
AT_THE_BENCH = 64
SMALL = """([least, bench]) => {
  const told = [];
  const touched = 'a[href], button, summary, select, textarea, input:not([type=hidden])';
  for (const one of document.querySelectorAll(touched)) {
    const put_by = one.closest('[aria-hidden=true], .skip') || getComputedStyle(one).visibility === 'hidden';
    if (put_by || !one.getClientRects().length) continue;
    const inline = getComputedStyle(one).display === 'inline';
    // A link within a sentence is as high as its line (WCAG 2.5.8).
    if (one.nodeName === 'A' && inline && one.parentElement.innerText.trim() !== one.innerText.trim()) continue;
    const ticked = ['checkbox', 'radio'].includes(one.type);
    const { width, height } = (ticked ? one.closest('label') : one).getBoundingClientRect();
    const needed = document.body.classList.contains('bench') && one.closest('main, .alarm') ? bench : least;
    const wide = ['INPUT', 'SELECT', 'TEXTAREA'].includes(one.nodeName) ? least : needed;
    if (width >= Math.min(wide, least) - 0.5 && height >= needed - 0.5) continue;
    told.push(`${Math.round(width)}x${Math.round(height)}: ${one.outerHTML.slice(0, 100)}`);
  }
  return told;
}"""
