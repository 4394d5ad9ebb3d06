// The bell of this page: whether it may sound, what it sounds now, and its signs in the title and on the tab.
import { Ticks } from "./pace.js";
import { lasts, Player, ROUNDS } from "./sound.js";

// So long without news, and a phone that is to sound says that it will hear no alarm.
const LOST_MS = 15000;
const LIMITS = ["POT_LIFE", "POUR_BY"];
const place = document.getElementById("bell");
const lapsed = document.getElementById("lapsed");
const icon = document.getElementById("icon");
const title = document.title;
let player = null;
let alarms = [];
let lost = false;
let shaking = null;
let shakes = "";
// Ticks and stop of a led pour are for whoever wants them: the switch, and which cue was the last one heard of.
const led = place.querySelector("[role=switch][data-bell=led]");
let ticks = null;
let cues = null;
// So old a state tells no hand what to do.
const NEWS_S = 1;

const show = (state) => {
  place.dataset.state = state;
  for (const part of place.querySelectorAll("[data-when]")) {
    part.hidden = !part.dataset.when.split(" ").includes(state);
  }
};

const on = () => place.dataset.state === "on";

const shake = (what, level) => {
  if (!navigator.vibrate || what === shakes) return;
  shakes = what;
  clearInterval(shaking);
  navigator.vibrate(0);
  if (!what) return;
  const round = ROUNDS[level];
  const times = round.flat().map((seconds) => Math.round(seconds * 1000));
  navigator.vibrate(times);
  shaking = setInterval(() => navigator.vibrate(times), lasts(round) * 1000);
};

const sound = () => {
  if (!on()) {
    shake("");
    return;
  }
  const kind = alarms.length ? (LIMITS.includes(alarms[0].clock.name) ? "limit" : "ready") : "lost";
  const level = alarms.length ? (alarms.some((alarm) => alarm.strong) ? "STRONG" : "FIRST") : "LOST";
  const what = alarms.length || lost ? `${kind} ${level}` : "";
  shake(what, level);
  if (what) player.play(what, kind, level);
  else player.stop();
};

const wanted = () => led.getAttribute("aria-checked") === "true";

const choose = (yes) => {
  led.setAttribute("aria-checked", String(yes));
  if (!yes) ticks?.end();
  try {
    localStorage.setItem("led", yes ? "on" : "off");
  } catch {
    // A browser that keeps nothing: it is asked for anew next time.
  }
};

// What the buzzer would do: an alarm goes before all ticks, and a stop is sounded once.
const follow = (state, age_s) => {
  const cue = state.last_cue;
  const stop = cue && cues !== null && cue.count !== cues && cue.cue.name === "STOP";
  cues = cue ? cue.count : 0;
  if (!on() || !wanted()) return;
  ticks ??= new Ticks(player.context);
  const lead = (state.bench?.column ?? state.practice?.column)?.lead;
  const silent = alarms.length > 0 || age_s > NEWS_S || state.scale.grey;
  if (stop && !silent) ticks.stop();
  ticks.pace(silent ? null : lead?.pace);
};

const remember = (was) => {
  lapsed.hidden = true;
  try {
    if (was) sessionStorage.setItem("sound", "on");
    else sessionStorage.removeItem("sound");
  } catch {
    // A browser that keeps nothing: then the page cannot say that the sound has lapsed.
  }
};

const remembered = () => {
  try {
    return sessionStorage.getItem("sound") === "on";
  } catch {
    return false;
  }
};

const off = (state) => {
  if (player) player.close();
  player = null;
  ticks = null;
  show(state);
  sound();
};

// A call or a locked screen takes the sound away: then the page must not go on saying that it is on.
const changed = () => {
  if (on() && !player.running) off("cut");
};

const steps = {
  async try() {
    player ??= new Player(changed);
    show("asked");
    player.stop();
    await player.play("trial", "limit", "FIRST", true);
  },
  yes() {
    player.stop();
    show("on");
    remember(true);
    sound();
  },
  no() {
    off("deaf");
    remember(false);
  },
  stop() {
    off("off");
    remember(false);
  },
  led() {
    choose(!wanted());
  },
};

place.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-bell]");
  if (!button) return;
  steps[button.dataset.bell]();
  // The button pressed may be gone: keep the place of those who use a keyboard.
  if (button.hidden) place.querySelector("button[data-bell]:not([hidden])")?.focus();
});

place.hidden = false;
show(window.AudioContext && window.OfflineAudioContext ? "off" : "none");
try {
  led.setAttribute("aria-checked", String(localStorage.getItem("led") === "on"));
} catch {
  // Then it begins switched off.
}
lapsed.hidden = !remembered();

export const bell = {
  // Whether the page is to hear the station though nobody looks at it.
  listening: on,
  hear(state, age_s) {
    alarms = state.alarms;
    document.title = alarms.length ? `(${alarms.length}) ${alarms[0].words} · ${title}` : title;
    const sign = alarms.length ? icon.dataset.alarm : icon.dataset.calm;
    if (icon.getAttribute("href") !== sign) icon.setAttribute("href", sign);
    sound();
    follow(state, age_s);
  },
  // For how long, in milliseconds, what the page shows has been old; an alarm that sounded sounds on meanwhile.
  silent(old_ms) {
    const now = old_ms > LOST_MS;
    if (now === lost) return;
    lost = now;
    sound();
  },
};
