/* The places that are marked before anything is measured: nothing is answered here, so that Next is all there is to tap. */

import { drawn, el, fill } from "./elements.js";
import { pictures } from "./later.js";
import { say } from "./words.js";

export class MarksControl {
  constructor(view) {
    this.view = view;
    const { situation } = view;
    const marks = situation.entry.other_leg === "sound" ? ["apex", "rim", "calf"] : ["apex", "rim"];
    this.element = el(
      "ol",
      { class: "marks" },
      marks.map((mark, at) => this.row(mark, at + 1, situation)),
    );
  }

  row(mark, number, situation) {
    const place = el("span", { class: "picture", "aria-hidden": "true" });
    const picture = () => drawn(pictures.here.markPicture(mark, situation));
    this.view.turns.afterFrame(`picture of ${mark}`, () => fill(place, picture()));
    return el(
      "li",
      {},
      place,
      el(
        "p",
        {},
        el("strong", {}, `${number} ${say(`mark_${mark}`)}`),
        el("span", { class: "second" }, say(`mark_${mark}_how`)),
      ),
    );
  }

  show() {}

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  ready() {
    return true;
  }
}
