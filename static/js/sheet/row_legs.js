/* The small legs in the rows of Visits. Each is reckoned and drawn once for what it shows, however often its row is made
   anew, and each in a task of its own: a day's visits at once would hold the page up. */

import { el, fill } from "./elements.js";

export class RowLegs {
  legs = new Map(); // by name what is drawn: {text, leg}
  waiting = new Map(); // by name what draws it
  next = null;

  /* No more is drawn once `signal` ends. */
  constructor(signal) {
    signal.addEventListener("abort", () => clearTimeout(this.next));
  }

  /* A leg's place in a row. `make` draws the leg, once for what it `shows`; what was drawn before stands until then. */
  place(name, shows, make) {
    const place = el("span", { class: "row-leg", "aria-hidden": "true" });
    const text = JSON.stringify(shows);
    const before = this.legs.get(name);
    fill(place, before?.leg);
    if (before?.text !== text) {
      this.waiting.set(name, () => {
        const leg = make();
        this.legs.set(name, { text, leg });
        fill(place, leg);
      });
      this.drawNext();
    }
    return place;
  }

  drawNext() {
    this.next ??= setTimeout(() => {
      this.next = null;
      const [name, act] = this.waiting.entries().next().value;
      this.waiting.delete(name);
      if (this.waiting.size) this.drawNext();
      act();
    });
  }
}
