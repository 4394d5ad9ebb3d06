// Keeps the page as true as the bench: full state on every (re)connection, grey when no news has come for 3 s.
import { bind } from "./bind.js";
import { touch } from "./touch.js";

const OLD_MS = 3000;
let stream = null;
let last = performance.now();

const paint = (state) => {
  last = performance.now();
  document.body.classList.remove("old");
  document.getElementById("age").hidden = true;
  bind(document.body, state);
  document.title = state.alarms.length ? `(${state.alarms.length}) ${state.alarms[0].words}` : home;
  const now = document.querySelector(".strip li[data-state=now]");
  if (now && now !== scrolled) {
    scrolled = now;
    now.parentElement.scrollTo({ left: now.offsetLeft - now.parentElement.offsetLeft - 60, behavior: "smooth" });
  }
};
const home = document.title;
let scrolled = null;

const connect = () => {
  if (stream || document.hidden) return;
  stream = new EventSource("/api/stream");
  stream.onmessage = (event) => paint(JSON.parse(event.data));
  stream.onerror = () => {
    if (stream && stream.readyState === EventSource.CLOSED) {
      stream = null;
      setTimeout(connect, 1000);
    }
  };
};

const refresh = async () => {
  try {
    const answer = await fetch("/api/state", { cache: "no-store" });
    if (answer.ok) paint(await answer.json());
  } catch {
    // The stream tries again by itself; meanwhile the page goes grey.
  }
};

const wake = () => {
  if (document.hidden) {
    if (stream) stream.close();
    stream = null;
    return;
  }
  refresh();
  connect();
};

setInterval(() => {
  const age = performance.now() - last;
  if (age <= OLD_MS) return;
  document.body.classList.add("old");
  const note = document.getElementById("age");
  note.hidden = false;
  note.textContent = `No news from the station for ${Math.floor(age / 1000)} s: what you see is old.`;
}, 500);

for (const event of ["visibilitychange", "pageshow", "online"]) {
  (event === "visibilitychange" ? document : window).addEventListener(event, wake);
}
touch(refresh);
connect();
