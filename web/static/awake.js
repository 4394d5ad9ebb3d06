// Keeps the screen on while the page is looked at, where the browser lets an encrypted page do so; else says why not.

const place = document.getElementById("awake");
const button = place.querySelector("button");
let lock = null;
let wanted = false;

const why = (reason) => {
  for (const words of place.querySelectorAll("[data-why]")) words.hidden = words.dataset.why !== reason;
};

const draw = () => button.setAttribute("aria-checked", String(wanted));

const hold = async () => {
  try {
    lock = await navigator.wakeLock.request("screen");
    if (!wanted) lock.release();
  } catch {
    wanted = false;
    why("refused");
    draw();
  }
};

button.addEventListener("click", () => {
  wanted = !wanted;
  why("");
  draw();
  if (wanted) hold();
  else lock?.release();
});

// The browser takes it back whenever the page is hidden.
document.addEventListener("visibilitychange", () => { if (!document.hidden && wanted) hold(); });

if (navigator.wakeLock) button.hidden = false;
else why(window.isSecureContext ? "unknown" : "plain");
