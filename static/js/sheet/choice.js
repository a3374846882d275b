/* A choice's half of the view: one row an answer, each with its small drawing where there is one. */

import { answer } from "./drafts.js";
import { drawn, el, fill } from "./elements.js";
import { pictures } from "./later.js";
import { inMm, say } from "./words.js";

const YES_NO = [
  { value: "yes", key: "yes" },
  { value: "no", key: "no" },
];

function choicesOf({ field, phone, catalogue }) {
  if (field.kind === "yes_no") return YES_NO.map(({ value, key }) => ({ value, label: say(key) }));
  if (field.kind === "workshop") return phone.workshops.map(({ id, name }) => ({ value: id, label: name }));
  if (field.kind === "option") return (catalogue?.[field.options] ?? []).map(ofCatalogue);
  return field.choices;
}

// What an option's numbers say about it, in words; the names are the workshop's own.
function ofCatalogue(option) {
  const notes = [
    option.wall_mm !== undefined && say("option_thick", { mm: inMm(option.wall_mm, 1) }),
    option.reach !== undefined && say("option_reach", { percent: Math.round(option.reach * 100) }),
    option.relief_mm > 0 && say("option_relief", { mm: inMm(option.relief_mm) }),
  ];
  return { value: option.key, label: option.label, note: notes.filter(Boolean).join(", ") };
}

function asText(value) {
  return typeof value === "boolean" ? (value ? "yes" : "no") : value;
}

export class ChoiceControl {
  constructor(view) {
    this.view = view;
    this.says = el("p", { class: "says", id: "choice-says", role: "alert" });
    this.element = el("fieldset", { class: "choices", "aria-describedby": "choice-says" });
    this.build();
  }

  build() {
    const { field } = this.view;
    const choices = choicesOf(this.view);
    const chosen = this.chosen();
    this.rows = choices.map((choice) => [this.row(choice, chosen), choice.value]);
    fill(this.element, el("legend", { class: "unseen" }, field.label), this.says, this.rows.map(([row]) => row));
    if (!choices.length) this.says.textContent = say(field.kind === "workshop" ? "no_workshop" : "workshop_first");
    this.element.classList.add(`of-${choices.length}`);
    this.nowDrawn();
  }

  /* Puts the small drawings beside their answers, once they can be drawn: their places at once, and what stands there
     after the answers are painted. */
  nowDrawn() {
    for (const [row, value] of this.rows) {
      const picture = pictures.here?.choicePicture(this.view, value);
      row.querySelector(".picture")?.remove();
      if (!picture) continue;
      const place = el("span", { class: "picture", "aria-hidden": "true" });
      row.querySelector("input").after(place);
      this.view.turns.afterFrame(`picture of ${value}`, () => fill(place, drawn(picture())));
    }
    this.element.classList.toggle("pictured", Boolean(this.element.querySelector(".picture")));
  }

  // While a field is asked nothing is chosen beforehand: a tap on what is chosen already answers nothing.
  chosen() {
    const { field, draft } = this.view;
    return asText(draft.answers[field.key] ?? (this.view.standing().asked ? undefined : this.view.startsAt()));
  }

  row({ value, label, note }, chosen) {
    const { field } = this.view;
    return el(
      "label",
      { class: "choice" },
      el("input", {
        type: "radio",
        name: field.key,
        value,
        checked: chosen === value,
        onchange: () => this.choose(value),
      }),
      el(
        "span",
        { class: "name" },
        el("span", { class: "label" }, label),
        note && el("span", { class: "small" }, note),
      ),
    );
  }

  choose(value) {
    const { draft, field } = this.view;
    answer(draft, field, field.kind === "yes_no" ? value === "yes" : value);
    this.says.textContent = "";
    this.view.refreshSoon();
  }

  show() {}

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  ready() {
    const { asked, answered } = this.view.standing();
    if (!asked || answered || !this.view.field.required) return true;
    this.says.textContent = say("needs_choice");
    this.element.querySelector("input")?.focus();
    return false;
  }
}
