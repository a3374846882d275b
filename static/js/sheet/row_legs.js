/* The small legs in the rows of Visits. Each is reckoned and drawn once for what it shows, however often its row is made
   anew, and each in a task of its own. */

import { el, fill } from "./elements.js";
import { Turns } from "./turns.js";

export class RowLegs {
  legs = new Map(); // by name what is drawn: {text, leg}

  /* No more is drawn once `signal` ends. */
  constructor(signal) {
    this.turns = new Turns(signal);
  }

  /* A leg's place in a row. `make` draws the leg, once for what it `shows`; what was drawn before stands until then. */
  place(name, shows, make) {
    const place = el("span", { class: "row-leg", "aria-hidden": "true" });
    const text = JSON.stringify(shows);
    const before = this.legs.get(name);
    fill(place, before?.leg);
    if (before?.text !== text)
      this.turns.take(name, () => {
        const leg = make();
        this.legs.set(name, { text, leg });
        fill(place, leg);
      });
    return place;
  }
}
