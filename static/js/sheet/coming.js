/* In place of a control, or of a view, that this phone hasn't yet: it comes by itself. */

import { el } from "./elements.js";
import { say } from "./words.js";

/* Says so. */
export function comingWords() {
  return el("p", { class: "second", role: "status" }, say("coming"));
}

export class ComingControl {
  constructor(view) {
    this.view = view;
    this.element = el("div", { class: "field" }, comingWords());
  }

  show() {}

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  ready() {
    return true;
  }
}
