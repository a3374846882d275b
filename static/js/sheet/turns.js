/* What is shown piece by piece, each in a task of its own: all at once would hold the page up, and a tap or a key with it. */

export class Turns {
  waiting = new Map();
  next = null;

  /* Nothing is done once `signal` has ended. */
  constructor(signal) {
    this.signal = signal;
    signal.addEventListener("abort", () => clearTimeout(this.next));
  }

  /* Does `act` in its turn. Of one name only the latest is done. */
  take(name, act) {
    if (this.signal.aborted) return;
    this.waiting.set(name, act);
    this.goOn();
  }

  /* The same once the next frame is painted. */
  afterFrame(name, act) {
    requestAnimationFrame(() => this.take(name, act));
  }

  goOn() {
    this.next ??= setTimeout(() => {
      this.next = null;
      const [name, act] = this.waiting.entries().next().value;
      this.waiting.delete(name);
      if (this.waiting.size) this.goOn();
      act();
    });
  }
}
