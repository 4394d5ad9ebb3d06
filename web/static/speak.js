// Tells those who listen to the page instead of looking at it: each step, cue, alarm and banner once. The number on the
// column is never read out by itself: it changes ten times a second.

const KEPT_MS = 10000;
const place = (id) => document.getElementById(id);
const sentence = (words) => (/[.?!]$/.test(words) ? words : `${words}.`);
let alarms = new Set();
let step = null;
let cue = null;
let banners = null;

const put = (region, words) => {
  region.textContent = words;
  clearTimeout(region.timer);
  // What was said is gone from the page again, where it would be met a second time.
  region.timer = setTimeout(() => { region.textContent = ""; }, KEPT_MS);
};

// At once, over whatever is being read.
export const tell = (words) => put(place("tell"), words);

export const speak = (state) => {
  const now = state.alarms.map((alarm) => `${alarm.number} ${alarm.clock.name} ${alarm.urgency.name}`);
  const fresh = state.alarms.filter((_, at) => !alarms.has(now[at]));
  alarms = new Set(now);
  if (fresh.length) tell(fresh.map((alarm) => alarm.words).join(" "));
  const { bench, last_cue: last } = state;
  const here = bench ? `${bench.number} ${bench.step.at} ${bench.title}` : "free";
  if (step !== null && step !== here && bench) put(place("tell-step"), `${sentence(bench.title)} ${bench.words}`);
  step = here;
  const count = last ? last.count : 0;
  const said = cue !== null && cue !== count && last ? [last.words] : [];
  cue = count;
  const lasting = state.banners.map((banner) => banner.words);
  if (banners !== null) said.push(...lasting.filter((words) => !banners.includes(words)));
  banners = lasting;
  if (said.length) put(place("tell-cue"), said.join(" "));
};
