// Plays what a timed action looked like, moment by moment; and lets hear it, where that is switched on.

/** Remembers a switch of the page in this browser; a browser that keeps nothing has it as it was at first. */
const kept = {
  get(name, fallback) {
    try { return (localStorage.getItem(`fuel-bench-${name}`) ?? fallback) === "yes"; } catch { return fallback === "yes"; }
  },
  set(name, on) {
    try { localStorage.setItem(`fuel-bench-${name}`, on ? "yes" : "no"); } catch { /* it is forgotten with the page */ }
  },
};

const stillness = () => window.matchMedia("(prefers-reduced-motion: reduce)").matches;

/** One film: frames are [ms, what changes, clock]; `paint` writes a change, `tell` shows the clock, `done` ends it. */
class Film {
  constructor(frames, paint, tell, done) {
    Object.assign(this, { frames, paint, tell, done, next: 0, began: performance.now() });
    this.step = () => this.play();
    this.handle = requestAnimationFrame(this.step);
  }

  play() {
    const now = performance.now() - this.began;
    while (this.next < this.frames.length && this.frames[this.next][0] <= now) {
      const [, changes, clock] = this.frames[this.next++];
      this.paint(changes);
      this.tell(clock);
    }
    if (this.next < this.frames.length) this.handle = requestAnimationFrame(this.step);
    else this.end();
  }

  /** Stop where it is; whatever is drawn next is how things stand at the end. */
  end() {
    cancelAnimationFrame(this.handle);
    const done = this.done;
    this.done = () => {};
    done();
  }
}

/** Sounds made on the page itself: beats of filtered noise and low tones; nothing is fetched. */
class Sounds {
  play(list) {
    const Context = window.AudioContext ?? window.webkitAudioContext;
    if (!Context || !list.length) return;
    this.context ??= new Context();
    this.context.resume?.();
    let at = this.context.currentTime + 0.05;
    for (const [kind, beats, ms] of list) {
      this.one(kind, beats, at, ms / 1000);
      at += ms / 1000;
    }
  }

  one(kind, beats, at, length) {
    if (kind === "hiss") return this.noise(at, length, 5200, 0.10);
    if (kind === "hum") return this.tone(at, length, 20 * beats, 0.06);
    const count = kind === "click" && beats <= 1 ? 1 : Math.max(1, Math.round(beats * length));
    for (let beat = 0; beat < count; beat += 1) {
      if (kind === "stumble" && beat % 5 === 3) continue;
      const when = at + (beat * length) / count;
      if (kind === "click") this.noise(when, 0.03, 3000, 0.25);
      else if (kind === "turn") this.noise(when, 0.6 / beats, 420, 0.22);
      else this.tone(when, 0.07, kind === "clunk" ? 90 : 62, 0.28);
    }
    return undefined;
  }

  fade(at, length, loud) {
    const gain = this.context.createGain();
    gain.gain.setValueAtTime(loud, at);
    gain.gain.exponentialRampToValueAtTime(0.001, at + length);
    gain.connect(this.context.destination);
    return gain;
  }

  tone(at, length, pitch, loud) {
    const source = this.context.createOscillator();
    source.type = "triangle";
    source.frequency.value = pitch;
    source.connect(this.fade(at, length, loud));
    source.start(at);
    source.stop(at + length);
  }

  noise(at, length, pitch, loud) {
    const { sampleRate } = this.context;
    const buffer = this.context.createBuffer(1, Math.max(1, Math.round(sampleRate * length)), sampleRate);
    const samples = buffer.getChannelData(0);
    for (let i = 0; i < samples.length; i += 1) samples[i] = Math.random() * 2 - 1;
    const source = this.context.createBufferSource();
    const filter = this.context.createBiquadFilter();
    filter.type = "bandpass";
    filter.frequency.value = pitch;
    source.buffer = buffer;
    source.connect(filter);
    filter.connect(this.fade(at, length, loud));
    source.start(at);
  }
}
