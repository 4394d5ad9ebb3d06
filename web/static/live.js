// Keeps the page as true as the bench: the whole state on every connection, and anew whenever somebody looks again.
import { bell } from "./bell.js";
import { bind } from "./bind.js";
import { keeping } from "./focus.js";
import * as fresh from "./fresh.js";
import { speak } from "./speak.js";
import { touch } from "./touch.js";

const ANSWER_MS = 1500;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 10000;
let stream = null;
let streamed = null;
let shown = null;
let asking = false;
let tried = 0;
let wait = FIRST_WAIT_MS;

const looked = () => !document.hidden || bell.listening();

const hear = (age_s) => {
  wait = FIRST_WAIT_MS;
  fresh.hear(age_s);
};

const paint = (state, age_s) => {
  keeping(() => bind(document.body, state));
  bell.hear(state, age_s);
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
    // The watch tries it; the state is asked for meanwhile.
    if (mine.readyState !== EventSource.CLOSED || stream !== mine) return;
    stream = null;
    refresh();
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
    // This device may not look any more: the page says so.
    if (answer.status === 403 && streamed) location.reload();
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

// Nothing that is held is trusted: ask, and open the stream anew.
const wake = () => {
  close();
  if (!looked()) return;
  tried = performance.now();
  refresh();
  connect();
};

const leave = () => {
  fresh.leave();
  // A hidden page needs no stream, unless it is to sound; a browser has few connections to one station.
  if (!looked()) close();
};

const comeBack = () => {
  wait = FIRST_WAIT_MS;
  fresh.comeBack();
  wake();
};

const watch = () => {
  fresh.look();
  const now = performance.now();
  if (!looked() || fresh.silence() <= fresh.OLD_MS || now - tried <= wait) return;
  wait = Math.min(2 * wait, LONGEST_WAIT_MS);
  wake();
};

document.addEventListener("visibilitychange", () => (document.hidden ? leave() : comeBack()));
document.addEventListener("freeze", close);
document.addEventListener("resume", comeBack);
window.addEventListener("online", wake);
window.addEventListener("focus", () => { if (fresh.silence() > 1000) wake(); });
window.addEventListener("pagehide", () => { leave(); close(); });
window.addEventListener("pageshow", (event) => { if (event.persisted) comeBack(); });
setInterval(watch, 500);
touch(refresh);
reveal();
connect();
