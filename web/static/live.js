// Keeps the page as true as the bench: the whole state on every connection, grey as soon as it is three seconds old.
// Ages come from the station's clock and this page's own running time, never from the phone's time of day.
import { bell } from "./bell.js";
import { bind } from "./bind.js";
import { speak, tell } from "./speak.js";
import { touch } from "./touch.js";

const OLD_MS = 3000;
const ANSWER_MS = 1500;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 10000;
const note = document.getElementById("age");
let stream = null;
let streamed = null;
let shown = null;
let away = null;
let asking = false;
let tried = 0;
let wait = FIRST_WAIT_MS;
// When the bench was as the page shows it (served after the page was asked for), and when the station was last heard.
let made = 0;
let heard = 0;

const looked = () => !document.hidden || bell.listening();

const hear = (age_s) => {
  heard = performance.now();
  made = heard - age_s * 1000;
  wait = FIRST_WAIT_MS;
  grey();
};

const paint = (state, age_s) => {
  bind(document.body, state);
  bell.hear(state);
  speak(state);
  reveal();
  hear(age_s);
};

// The strip is wider than a phone: keep the present step in sight.
const reveal = () => {
  const now = document.querySelector(".strip [data-state=NOW]");
  if (!now || now === shown) return;
  shown = now;
  const strip = now.parentElement;
  strip.scrollTo({ left: now.offsetLeft - strip.offsetLeft - (strip.clientWidth - now.clientWidth) / 3 });
};

// A server that lives proves nothing about the bench: the two are told apart.
const grey = () => {
  const now = performance.now();
  const old = now - made > OLD_MS;
  const silent = now - heard > OLD_MS;
  document.body.classList.toggle("old", old);
  note.hidden = !old;
  bell.silent(old ? now - made : 0);
  if (!old) {
    delete note.dataset.said;
    return;
  }
  const which = silent ? "silent" : "stands";
  const words = note.dataset[which].replace("{}", Math.floor((now - made) / 1000));
  if (note.textContent !== words) note.textContent = words;
  if (note.dataset.said === which) return;
  note.dataset.said = which;
  tell(words);
};

const close = () => {
  if (stream) stream.close();
  stream = null;
};

const connect = () => {
  if (stream || !looked()) return;
  const mine = new EventSource("/api/stream");
  stream = mine;
  mine.onmessage = (event) => {
    streamed = JSON.parse(event.data);
    paint(streamed, 0);
  };
  mine.addEventListener("beat", (event) => hear(Number(event.data)));
  mine.onerror = () => {
    // A refused stream is not tried again by the browser.
    if (mine.readyState !== EventSource.CLOSED || stream !== mine) return;
    stream = null;
    setTimeout(connect, 1000);
  };
};

const refresh = async () => {
  if (asking) return;
  asking = true;
  const before = streamed;
  // A connection may look open and be dead: an answer that does not come is not waited for.
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), ANSWER_MS);
  try {
    const answer = await fetch("/api/state", { cache: "no-store", signal: stop.signal });
    if (!answer.ok) return;
    const state = await answer.json();
    // What the stream told meanwhile may be newer. (After a restart numbers begin anew, so only meanwhile counts.)
    if (streamed === before || state.seq >= streamed.seq) paint(state, state.age_s);
  } catch {
    // It is asked again; meanwhile the page goes grey.
  } finally {
    clearTimeout(timer);
    asking = false;
  }
};

// One that comes back trusts nothing that it holds: ask, and open the stream anew.
const wake = () => {
  close();
  if (!looked()) return;
  tried = performance.now();
  refresh();
  connect();
};

const leave = () => {
  away = { running: performance.now(), day: Date.now() };
  // A hidden page needs no stream, unless it is to sound; a browser has few connections to one station.
  if (!looked()) close();
};

const comeBack = () => {
  if (away) {
    // A page's running time may stand still while the phone sleeps: what it missed makes what is shown older.
    const slept = Math.max(0, Date.now() - away.day - (performance.now() - away.running));
    made -= slept;
    heard -= slept;
  }
  away = null;
  wait = FIRST_WAIT_MS;
  grey();
  wake();
};

document.addEventListener("visibilitychange", () => (document.hidden ? leave() : comeBack()));
document.addEventListener("freeze", close);
document.addEventListener("resume", comeBack);
window.addEventListener("online", wake);
window.addEventListener("focus", () => { if (performance.now() - heard > 1000) wake(); });
window.addEventListener("pageshow", (event) => { if (event.persisted) comeBack(); });
window.addEventListener("pagehide", () => { leave(); close(); });
setInterval(() => {
  grey();
  const now = performance.now();
  if (!looked() || now - heard <= OLD_MS || now - tried <= wait) return;
  wait = Math.min(2 * wait, LONGEST_WAIT_MS);
  wake();
}, 500);
touch(refresh);
reveal();
connect();
