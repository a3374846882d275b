/* What the checks say, stops first: each with its shape, its word, its sentence and its way out. */

import { changed } from "./drafts.js";
import { el } from "./elements.js";
import { flagShape } from "./flag_shape.js";
import { inWords } from "./in_words.js";
import { say, sheet } from "./words.js";

const ORDER = ["stop", "explain", "note"];
/* What is done at a field of which kind, where it isn't changed. */
const WAYS = { reading: "measure_it", readings: "measure_it", photos: "take_photo" };
/* The flags in the order in which they are listed and numbered. */
export function inOrder(flags) {
  return ORDER.flatMap((level) => flags.filter((flag) => flag.level === level));
}

/* A flag's sentence; where it has two parts, the first, what is wrong, is in bold. */
function sentence({ says, level }) {
  const [, first, rest] = says.match(/^(.+?[.;:!?])(\s[\s\S]+)$/) ?? [null, says, ""];
  return el("p", { class: "flag-says" }, rest && level !== "note" ? el("strong", {}, first) : first, rest);
}

function fieldOf(flag) {
  return flag.fields.map((key) => sheet.fields.find((field) => field.key === key)).find(Boolean);
}

/* `view` has draft, about (for words), hrefOf(key), take(field, value) and refresh(). */
export class FlagRow {
  constructor(view, flag, number) {
    Object.assign(this, { view, flag, number });
    const { level } = flag;
    this.shapePlace = el("span", { class: "shape" }, flagShape(level, number, this.answered()));
    this.element = el(
      "li",
      { class: `flag ${level}`, id: `flag-${number}` },
      this.shapePlace,
      el(
        "div",
        { class: "flag-words" },
        el("p", { class: `flag-word ${level}` }, say(level)),
        sentence(flag),
        level !== "note" && flag.do && el("p", { class: "second" }, flag.do),
        level === "explain" ? this.reason() : level === "stop" && el("div", { class: "ways" }, this.wayOut()),
      ),
    );
  }

  answered() {
    const given = this.view.draft.reasons[this.flag.id];
    return this.flag.level === "explain" && Boolean(given?.text.trim()) && given.says === this.flag.says;
  }

  wayOut() {
    const { flag, view } = this;
    const offered = flag.offer && sheet.fields.find((field) => field.key === flag.offer.field);
    if (offered) {
      const words = inWords({ field: offered, value: flag.offer.value }, view.about);
      return el(
        "button",
        { type: "button", class: "button", onclick: () => view.take(offered, flag.offer.value) },
        say("choose", { what: offered.brief, words }),
      );
    }
    const field = fieldOf(flag);
    if (!field) return null;
    const words = say(WAYS[field.kind] ?? "change_it");
    const label = `${words}: ${field.label}`; // begins with what is seen, which is what whoever speaks to the phone says
    return el("a", { class: "button", href: view.hrefOf(field.key), "aria-label": label }, words);
  }

  reason() {
    const { draft } = this.view;
    const given = draft.reasons[this.flag.id];
    const stale = given && given.text.trim() && given.says !== this.flag.says;
    const id = `reason-${this.number}`;
    this.input = el("textarea", {
      class: "input reason",
      id,
      rows: 1,
      maxlength: 500,
      placeholder: say("your_reason"),
      oninput: () => this.typed(),
      "aria-describedby": stale ? `${id}-stale` : null,
    });
    this.input.value = given?.text ?? "";
    return el(
      "div",
      {},
      el(
        "div",
        { class: "ways" },
        el("label", { class: "unseen", for: id }, say("your_reason")),
        this.input,
        this.wayOut(),
      ),
      stale &&
        el(
          "div",
          { class: "stale", id: `${id}-stale` },
          el("p", { class: "second" }, say("reason_was_for", { says: given.says })),
          el(
            "button",
            {
              type: "button",
              class: "button quiet",
              onclick: () => {
                this.typed();
                this.view.refresh();
              },
            },
            say("still_holds"),
          ),
        ),
    );
  }

  typed() {
    this.view.draft.reasons[this.flag.id] = { text: this.input.value, says: this.flag.says };
    this.view.draft.changing = true;
    changed(this.view.draft);
    this.shapePlace.replaceChildren(flagShape(this.flag.level, this.number, this.answered()));
    this.view.showFoot();
  }
}
