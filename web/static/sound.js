// Alarms as sound: oscillators draw one round into memory, and the round repeats by itself until it is stopped. No
// timer plays, so a page that lies behind another one sounds on. The rhythm is that of the buzzer at the bench.

// Seconds on, seconds off.
export const ROUNDS = {
  FIRST: [[0.15, 0.1], [0.15, 0.1], [0.15, 4]],
  STRONG: [
    [0.15, 0.1], [0.15, 0.1], [0.15, 0.3], [0.15, 0.1], [0.15, 0.35],
    [0.15, 0.1], [0.15, 0.1], [0.15, 0.3], [0.15, 0.1], [0.15, 1.6],
  ],
  LOST: [[0.45, 0.18], [0.45, 9]],
};

// The pitch of each pulse in turn, in hertz: a limit that is over stays high, a part that is ready rises, a station
// that is not heard any more falls.
export const PITCHES = { limit: [1760], ready: [880, 1109, 1319], lost: [740, 523] };

const LOUD = 0.7;
const EDGE_S = 0.008;

export const lasts = (round) => round.reduce((sum, [on, off]) => sum + on + off, 0);

export const drawn = (round, pitches, rate) => {
  const paper = new OfflineAudioContext(1, Math.ceil(lasts(round) * rate), rate);
  let at = 0;
  round.forEach(([on, off], place) => {
    const tone = new OscillatorNode(paper, { type: "square", frequency: pitches[place % pitches.length] });
    const volume = new GainNode(paper, { gain: 0 });
    // Soft edges: a hard one clicks.
    volume.gain.setValueAtTime(0, at);
    volume.gain.linearRampToValueAtTime(LOUD, at + EDGE_S);
    volume.gain.setValueAtTime(LOUD, at + on - EDGE_S);
    volume.gain.linearRampToValueAtTime(0, at + on);
    tone.connect(volume).connect(paper.destination);
    tone.start(at);
    tone.stop(at + on);
    at += on + off;
  });
  return paper.startRendering();
};

export class Player {
  // Made by a tap: browsers let no page sound without one. `changed` is called when the phone cuts the sound off.
  constructor(changed) {
    this.context = new AudioContext();
    this.context.onstatechange = changed;
    this.source = null;
    this.wanted = "";
  }

  get running() {
    return this.context.state === "running";
  }

  // `what` names the sound; the same one again changes nothing. Once, or until another is asked for or stop().
  async play(what, kind, level, once = false) {
    if (what === this.wanted) return;
    this.stop();
    this.wanted = what;
    if (this.context.state !== "running") await this.context.resume();
    const buffer = await drawn(ROUNDS[level], PITCHES[kind], this.context.sampleRate);
    // Something else may have been asked for meanwhile.
    if (this.wanted !== what) return;
    this.source = new AudioBufferSourceNode(this.context, { buffer, loop: !once });
    this.source.connect(this.context.destination);
    this.source.start();
  }

  stop() {
    if (this.source) this.source.stop();
    this.source = null;
    this.wanted = "";
  }

  close() {
    this.stop();
    this.context.onstatechange = null;
    this.context.close();
  }
}
