/* What the checks say of the field in hand, while the tape still is. Notes wait for the check. */

import { el, fill } from "./elements.js";
import { flagShape } from "./flag_shape.js";
import { inWords } from "./in_words.js";
import { reckoning } from "./later.js";
import { phone } from "./phone_data.js";
import { say, sheet } from "./words.js";

// What a reading's own box says already.
const SAID_THERE = ["reading.unreadable", "reading.wrong_unit"];

/* The stops and explains that this field's answer is part of, each with its number in the list of all. What a
   catalogue decides is told once a workshop is chosen. */
export function flagsAt(field, { result, workshop }) {
  const may = ({ id }) => workshop || reckoning.here.sureChecks(phone.book).has(id);
  const here = ({ id, level, fields }) => level !== "note" && fields.includes(field.key) && !SAID_THERE.includes(id);
  return (result?.flags ?? []).map((flag, at) => ({ ...flag, n: at + 1 })).filter((flag) => here(flag) && may(flag));
}

/* The ids of the flags that some answered field tells. */
export function toldOf(standings, situation) {
  const told = standings.filter(({ answered }) => answered).flatMap(({ field }) => flagsAt(field, situation));
  return new Set(told.map(({ id }) => id));
}

export class FieldFlags {
  /* `view` has draft, about, hrefOf(key), take(field, value). */
  constructor(view) {
    this.view = view;
    this.element = el("div", { class: "field-flags", role: "status" });
    this.shows = "[]";
  }

  show(flags) {
    const shows = JSON.stringify([flags, this.view.draft.reasons]);
    if (shows === this.shows) return; // a button under the thumb stays the same button
    this.shows = shows;
    fill(this.element, flags.length > 0 && this.row(flags[0], flags.length - 1));
  }

  // The first, and that there are more: the keys keep their place.
  row(flag, more) {
    const { level, n, says } = flag;
    const given = this.view.draft.reasons[flag.id];
    const answered = level === "explain" && given?.says === says && Boolean(given.text.trim());
    return el(
      "div",
      { class: `field-flag ${level}` },
      flagShape(level, n, answered),
      el("p", {}, el("strong", { class: `flag-word ${level}` }, say(level)), " ", says),
      el(
        "span",
        { class: "ways" },
        this.wayOut(flag),
        more > 0 && el("a", { class: "link", href: this.view.hrefOf("check") }, say("more_said", { count: more })),
      ),
    );
  }

  wayOut({ id, level, offer }) {
    const { view } = this;
    const field = offer && sheet.fields.find(({ key }) => key === offer.field);
    if (field) {
      const words = say("choose", { what: field.brief, words: inWords({ field, value: offer.value }, view.about) });
      return el("button", { type: "button", class: "button quiet", onclick: () => view.take(field, offer.value) }, words);
    }
    return level === "explain" && el("a", { class: "link", href: `${view.hrefOf("check")}/${id}` }, say("say_why"));
  }
}
