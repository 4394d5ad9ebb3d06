"""What a page under test would sound, shake and keep awake: the browser's own doors, noted as they are used."""

from __future__ import annotations

from playwright.sync_api import Page

NOTES = """
window.noted = {playing: 0, rounds: [], shakes: [], held: 0};
const {start} = AudioBufferSourceNode.prototype, {stop} = AudioScheduledSourceNode.prototype;
AudioBufferSourceNode.prototype.start = function (...when) {
  noted.rounds.push({loop: this.loop, rate: this.buffer.sampleRate, data: this.buffer.getChannelData(0)});
  if (this.loop) noted.playing += 1;
  return start.apply(this, when);
};
AudioScheduledSourceNode.prototype.stop = function (...when) {
  if (this.loop) noted.playing -= 1;
  return stop.apply(this, when);
};
Navigator.prototype.vibrate = function (times) { noted.shakes.push(times); return true; };
"""

EDGES = """round => {
  // Where silence of more than 20 ms begins and ends, in hundredths of a second: [on, off] for each pulse.
  const {data, rate} = round, pulses = [];
  let at = 0;
  const quiet = (from) => { let i = from; while (i < data.length && Math.abs(data[i]) < 0.01) i += 1; return i; };
  while (at < data.length) {
    let end = at;
    for (let next = at; next < data.length; next = quiet(end)) {
      if (next - end > 0.02 * rate) break;
      end = next;
      while (end < data.length && Math.abs(data[end]) >= 0.01) end += 1;
    }
    const next = quiet(end);
    pulses.push([(end - at) / rate, (next - end) / rate].map((s) => Math.round(s * 100) / 100));
    at = next;
  }
  return pulses;
}"""


def rhythm(page: Page) -> list[list[float]]:
    """The pulses of the sound that was begun last, measured in its samples: seconds on, seconds off."""
    return page.evaluate(f"({EDGES})(noted.rounds.at(-1))")  # type: ignore[no-any-return]


def crossings(page: Page) -> list[int]:
    """The pitch of each pulse of the sound that was begun last, counted in its samples, in hertz."""
    return page.evaluate(
        f"""() => {{
        const round = noted.rounds.at(-1), pulses = ({EDGES})(round), found = [];
        let at = 0;
        for (const [on, off] of pulses) {{
          let ups = 0;
          const end = Math.floor((at + on) * round.rate);
          for (let i = Math.floor(at * round.rate) + 1; i < end; i += 1) {{
            if (round.data[i - 1] < 0 && round.data[i] >= 0) ups += 1;
          }}
          found.push(Math.round(ups / on));
          at += on + off;
        }}
        return found;
      }}"""
    )  # type: ignore[no-any-return]
