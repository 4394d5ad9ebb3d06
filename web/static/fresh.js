// How old what the page shows is, and its grey. By the station's clock, and this page's own running time; the phone's
// time of day is asked for one thing only: how long the phone slept.
import { bell } from "./bell.js";
import { tell } from "./speak.js";

export const OLD_MS = 3000;
const note = document.getElementById("age");
let away = null;
// When the bench was as the page shows it, and when the station was last heard: at the earliest when it was asked for.
let made = 0;
let heard = 0;

export const silence = () => performance.now() - heard;

// A server that lives proves nothing about the bench: the two are told apart.
export const look = () => {
  const age = performance.now() - made;
  const old = age > OLD_MS;
  document.body.classList.toggle("old", old);
  note.hidden = !old;
  bell.silent(old ? age : 0);
  if (!old) {
    delete note.dataset.said;
    return;
  }
  const which = silence() > OLD_MS ? "silent" : "stands";
  const words = note.dataset[which].replace("{}", Math.floor(age / 1000));
  if (note.textContent !== words) note.textContent = words;
  if (note.dataset.said === which) return;
  note.dataset.said = which;
  tell(words);
};

export const hear = (age_s) => {
  heard = performance.now();
  made = heard - age_s * 1000;
  look();
};

export const leave = () => {
  away = { running: performance.now(), day: Date.now() };
};

// A page's running time may stand still while the phone sleeps: what it missed makes what is shown older.
export const comeBack = () => {
  if (away) {
    const slept = Math.max(0, Date.now() - away.day - (performance.now() - away.running));
    made -= slept;
    heard -= slept;
  }
  away = null;
  look();
};
