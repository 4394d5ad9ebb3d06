// Keeps the page as true as the bench: full state on every connection, grey when no news has come for three seconds.
import { bind } from "./bind.js";
import { touch } from "./touch.js";

const OLD_MS = 3000;
const title = document.title;
let stream = null;
let heard = performance.now();
let shown = null;
let streamed = null;

const paint = (state) => {
  heard = performance.now();
  document.body.classList.remove("old");
  document.getElementById("age").hidden = true;
  bind(document.body, state);
  document.title = state.alarms.length ? `(${state.alarms.length}) ${state.alarms[0].words}` : title;
  reveal();
};

// The strip is wider than a phone: keep the present step in sight.
const reveal = () => {
  const now = document.querySelector(".strip [data-state=NOW]");
  if (!now || now === shown) return;
  shown = now;
  const strip = now.parentElement;
  strip.scrollTo({ left: now.offsetLeft - strip.offsetLeft - (strip.clientWidth - now.clientWidth) / 3 });
};

const grey = () => {
  const silent = performance.now() - heard;
  if (silent <= OLD_MS) return;
  const note = document.getElementById("age");
  const words = `No news from the station for ${Math.floor(silent / 1000)} s. What you see is old.`;
  document.body.classList.add("old");
  note.hidden = false;
  if (note.textContent !== words) note.textContent = words;
};

const close = () => {
  if (stream) stream.close();
  stream = null;
};

const connect = () => {
  if (stream || document.hidden) return;
  const mine = new EventSource("/api/stream");
  stream = mine;
  mine.onmessage = (event) => {
    streamed = JSON.parse(event.data);
    paint(streamed);
  };
  // Told to paired devices only: the code with which one more may be paired.
  mine.addEventListener("door", (event) => {
    const note = document.getElementById("door");
    if (!note) return;
    const { code } = JSON.parse(event.data);
    note.querySelector("b").textContent = code;
    note.hidden = !code;
  });
  mine.onerror = () => {
    // A refused stream is not tried again by the browser: there are too many, or this device may not look any more.
    if (mine.readyState !== EventSource.CLOSED || stream !== mine) return;
    stream = null;
    setTimeout(() => { refresh(); connect(); }, 1000);
  };
};

const refresh = async () => {
  const before = streamed;
  try {
    const answer = await fetch("/api/state", { cache: "no-store" });
    // This device may not look any more: the page says so.
    if (answer.status === 403 && streamed) location.reload();
    if (!answer.ok) return;
    const state = await answer.json();
    // What the stream told meanwhile may be newer. (After a restart numbers begin anew, so only meanwhile counts.)
    if (streamed === before || state.seq >= streamed.seq) paint(state);
  } catch {
    // The stream tries again by itself; meanwhile the page goes grey.
  }
};

// A hidden page needs no stream, and a browser has few connections to one station. One that comes back after a sleep
// trusts nothing that it shows until it has heard the station: a connection may look open and be dead.
const wake = () => {
  close();
  if (document.hidden) return;
  grey();
  refresh();
  connect();
};

document.addEventListener("visibilitychange", wake);
window.addEventListener("online", wake);
window.addEventListener("pageshow", (event) => { if (event.persisted) wake(); });
window.addEventListener("pagehide", close);
setInterval(grey, 500);
// A connection may be dead and look open: begin anew.
setInterval(() => { if (performance.now() - heard > OLD_MS) wake(); }, 5000);
touch(refresh);
reveal();
connect();
