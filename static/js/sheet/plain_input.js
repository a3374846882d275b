/* A plain input's half of the view: a number, a short text or a day. */

import { answer } from "./drafts.js";
import { el, fill } from "./elements.js";
import { say } from "./words.js";

const TYPES = { number: "text", text: "text", date: "date" };
const LONGEST = { number: 8, text: 200, date: 10 };

export class PlainControl {
  constructor(view) {
    const { field, draft } = view;
    this.view = view;
    this.says = el("p", { class: "says", id: "plain-says", role: "alert" });
    this.input = el("input", {
      id: "plain",
      class: "input",
      type: TYPES[field.kind],
      maxlength: field.kind === "date" ? null : LONGEST[field.kind],
      inputmode: field.kind === "number" ? "decimal" : null,
      autocomplete: "off",
      "aria-describedby": "plain-says",
      oninput: () => this.typed(),
      onblur: () => this.judge(),
    });
    this.input.value = draft.answers[field.key] ?? "";
    this.element = el("div", { class: "field" }, el("label", { for: "plain" }, this.label()), this.input, this.says);
  }

  label() {
    const { label, unit } = this.view.field;
    return unit ? say("label_with_unit", { label, unit: say(`unit_${unit}`) }) : label;
  }

  typed() {
    answer(this.view.draft, this.view.field, this.input.value);
    this.mark("");
    this.view.refreshSoon();
  }

  mark(says) {
    this.says.textContent = says;
    if (says) this.input.setAttribute("aria-invalid", "true");
    else this.input.removeAttribute("aria-invalid");
  }

  /* Says what is wrong with a number; gives whether all is well. */
  judge() {
    const { kind, least, most } = this.view.field;
    const text = this.input.value.trim();
    if (kind !== "number" || text === "") {
      this.mark("");
      return true;
    }
    const number = Number(text.replace(",", "."));
    const within = Number.isFinite(number) && number >= least && number <= most;
    this.mark(within ? "" : say("number_within", { typed: text, least, most }));
    return within;
  }

  show() {}

  focus() {
    this.input.focus({ preventScroll: true });
  }

  ready() {
    const well = this.judge();
    if (!well) this.focus();
    return well;
  }
}
