// The ticks and the stop of a led pour, as the buzzer at the bench sounds them. No timer plays: a tick and the silence
// after it repeat by the clock of the sound itself, and end by themselves where no news comes.

const TICK_S = 0.04;
const SLOWEST_S = 0.8;
const QUICKEST_S = 0.14;
const SILENT_PACE = 0.05;
const STOP_S = 0.45;
const STOP_HZ = 880;
// Semitones above the stop: ticks rise from a fourth to an octave, so that none is taken for it.
const LOWEST = 5;
const HIGHEST = 12;
// So long after the last news the ticks go on: what is older tells nobody how to pour.
const FRESH_S = 1.2;
const BREATH_S = 0.06;
const EDGE_S = 0.004;
const LOUD = 0.7;

export const period = (pace) => Math.round(100 * SLOWEST_S * (QUICKEST_S / SLOWEST_S) ** Math.min(1, pace)) / 100;
export const pitch = (pace) => STOP_HZ * 2 ** ((LOWEST + Math.round((HIGHEST - LOWEST) * Math.min(1, pace))) / 12);

// One pulse of a square wave with soft edges, and silence up to `lasts`.
const pulse = (context, on, hertz, lasts) => {
  const rate = context.sampleRate;
  const buffer = new AudioBuffer({ length: Math.round(lasts * rate), numberOfChannels: 1, sampleRate: rate });
  const wave = buffer.getChannelData(0);
  for (let i = 0; i < on * rate; i += 1) {
    const edge = Math.min(1, i / rate / EDGE_S, (on - i / rate) / EDGE_S);
    wave[i] = LOUD * edge * ((i / rate * hertz) % 1 < 0.5 ? 1 : -1);
  }
  return buffer;
};

export class Ticks {
  constructor(context) {
    this.context = context;
    this.source = null;
    this.asked = "";
    this.began = 0;
    this.every = 0;
    this.quiet = 0;
  }

  // Told with each piece of news: tick like this for a while; null: do not.
  pace(pace) {
    if (pace === null || pace === undefined || pace < SILENT_PACE) {
      this.end();
      return;
    }
    const now = this.context.currentTime;
    const every = period(pace);
    const asked = `${every} ${pitch(pace)}`;
    if (this.source && this.asked === asked) {
      this.source.stop(now + FRESH_S);
      return;
    }
    const last = this.last(now);
    this.end();
    this.asked = asked;
    this.every = every;
    this.began = Math.max(now, this.quiet, last + every);
    this.source = this.playing(pulse(this.context, TICK_S, pitch(pace), every), this.began, true);
    this.source.stop(this.began + FRESH_S);
  }

  // The stop: alone, after a breath.
  stop() {
    this.end();
    const at = Math.max(this.context.currentTime, this.quiet);
    this.playing(pulse(this.context, STOP_S, STOP_HZ, STOP_S), at, false);
    this.quiet = at + STOP_S + BREATH_S;
  }

  // A tick that sounds is played to its end.
  end() {
    if (!this.source) return;
    const now = this.context.currentTime;
    const sounded = this.last(now) + TICK_S;
    this.source.stop(Math.max(now, sounded));
    this.source = null;
    this.asked = "";
    this.quiet = Math.max(this.quiet, sounded + BREATH_S);
  }

  // When the newest tick began, also that of the rhythm before; long ago where there is none.
  last(now) {
    if (!this.source) return 0;
    if (now < this.began) return this.began - this.every;
    return this.began + Math.floor((now - this.began) / this.every) * this.every;
  }

  playing(buffer, at, loop) {
    const source = new AudioBufferSourceNode(this.context, { buffer, loop });
    source.connect(this.context.destination);
    source.onended = () => { if (this.source === source) this.source = null; };
    source.start(at);
    return source;
  }
}
