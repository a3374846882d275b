/* A reading's half of the view: the readings before, the one in hand, what follows, the other ways, the keypad. */

import { comparedWords } from "./compared.js";
import { follows, suggested } from "./follow_line.js";
import { answer, changed, keepNow } from "./drafts.js";
import { el, fill, write } from "./elements.js";
import { settledIn } from "./keys.js";
import { keypad } from "./keypad.js";
import { line } from "./lines.js";
import { BELOW, judged, ReadingBox } from "./reading_box.js";
import { inMm, say, sheet } from "./words.js";

const MOST_READINGS = 3;
const DIFFER = "reading.repeats_differ";
const UNITS = ["mm", "cm", "in"];

function textsOf(draft, field) {
  const value = draft.answers[field.key];
  if (field.kind === "reading") return [value ?? ""];
  return value?.length ? value : [""];
}

/* Makes every bare number typed so far of one shell say its unit, so that another unit for new ones changes nothing kept. */
function settleOthers(draft, unit, inHand) {
  const bare = (text) => settledIn(text, unit, judged(text, unit, "").unit_typed);
  for (const field of sheet.fields) {
    const value = draft.answers[field.key];
    if (value && ["points", "rows"].includes(field.kind)) draft.answers[field.key] = settledRows(value, field, bare);
    if (!["reading", "readings"].includes(field.kind) || value === undefined) continue;
    const settled = textsOf(draft, field).map((text, at) => {
      const isInHand = inHand.field === field && inHand.at === at;
      return isInHand ? text : bare(text);
    });
    draft.answers[field.key] = field.kind === "reading" ? settled[0] : settled;
  }
}

/* The same for lengths that stand in rows, whether in a list or under names. */
function settledRows(value, { kind, columns }, bare) {
  if (typeof value !== "object") return value;
  const lengths = kind === "points" ? ["below_apex"] : columns.map(({ key }) => key);
  const settled = (row) => ({ ...row, ...Object.fromEntries(lengths.filter((key) => row[key]).map((key) => [key, bare(row[key])])) });
  if (Array.isArray(value)) return value.map(settled);
  return Object.fromEntries(Object.entries(value).map(([key, row]) => [key, settled(row)]));
}

/* `view` has draft, field, refresh() (after a change), refreshSoon() (after a key), situation() (entry and result now), takeUp(field), build(). */
export class ReadingControl {
  constructor(view) {
    this.view = view;
    this.texts = textsOf(view.draft, view.field);
    this.at = this.texts.length - 1;
    this.before = el("ol", { class: "before" });
    this.follow = el("p", { class: "follow" });
    this.compare = el("p", { class: "compare" });
    this.showsFlags = true;
    this.spoken = el("p", { class: "unseen", role: "status" });
    this.beside = el("div", { class: "beside" });
    this.element = el("div", { class: "reading" });
    this.build();
  }

  build() {
    const { draft, field } = this.view;
    this.box = new ReadingBox({
      id: "reading",
      label: this.labelOf(this.at),
      text: this.texts[this.at],
      unit: draft.units,
      quantity: field.quantity,
      typed: (text) => this.typed(text),
      offered: (text) => this.settle(text),
      ownKeys: () => this.showOwnKeys(),
    });
    this.pad = keypad(draft.units, this.box);
    const said = el("div", { class: "said" }, this.before, this.view.flags.element, this.box.says, this.follow, this.compare);
    fill(this.element, this.box.element, said, this.beside, this.spoken, this.pad);
    this.units = this.unitSwitch();
    this.showBefore();
    this.showBeside(field);
  }

  /* The phone's own keyboard takes the place of ours, until ours is called back. */
  showOwnKeys() {
    const back = el("button", { type: "button", class: "button quiet", onclick: () => this.remade() }, say("our_digits"));
    this.pad.replaceWith(back);
    this.pad = back;
    this.box.keys.hidden = true;
  }

  labelOf(at) {
    const { field } = this.view;
    return this.texts.length > 1 ? say("reading_number", { label: field.label, number: at + 1 }) : field.label;
  }

  typed(text) {
    const { draft, field, signal } = this.view;
    if (signal.aborted) return; // the draft may have its other shell in hand already
    this.texts[this.at] = text;
    answer(draft, field, field.kind === "reading" ? text : [...this.texts]);
    this.box.show(this.verdict(), this.uncertainty);
    this.view.refreshSoon();
  }

  settle(text) {
    this.box.setText(text);
    this.box.input.focus();
    this.typed(text);
    keepNow();
  }

  verdict(at = this.at) {
    const { draft, field } = this.view;
    return judged(this.texts[at], draft.units, field.quantity, field.signed);
  }

  /* Whether the reading in hand is only begun. */
  isBegun() {
    return this.box.begun;
  }

  /* Shows what is understood and what follows; called by the view after every change. */
  show(situation) {
    const { result } = situation;
    const { field } = this.view;
    this.uncertainty = { length: result?.length_U_mm, girth: result?.girth_U_mm }[field.key];
    const verdict = this.verdict();
    this.box.show(verdict, this.uncertainty);
    const several = this.texts.length > 1;
    const words =
      verdict.outcome === "value" || several
        ? follows(field, situation)
        : verdict.outcome === "empty" && suggested(field, situation);
    if (this.follow.textContent !== (words ? `${words.before} ${words.made}` : ""))
      fill(this.follow, words && `${words.before} `, words && el("strong", {}, words.made));
    this.showCompared(result);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.spoken.textContent = [verdict.says, this.follow.textContent, this.compare.textContent].filter(Boolean).join(". ");
    }, 900);
    this.beside.hidden = !this.beside.children.length || ["ask", "refuse"].includes(verdict.outcome);
    this.beside.querySelector(".below")?.setAttribute("aria-pressed", this.isBelow);
    for (const button of this.beside.querySelectorAll(".other-way, .again")) {
      button.setAttribute("aria-disabled", String(verdict.outcome !== "value"));
    }
  }

  /* How the readings compare, unless a check says it already. */
  showCompared(result) {
    const isSaid = result?.flags.some(({ id, fields }) => id === DIFFER && fields.includes(this.view.field.key));
    const words = this.texts.length > 1 && !isSaid && !this.isBegun();
    write(this.compare, words ? comparedWords(this.texts.map((_text, at) => this.verdict(at))) : "");
  }

  showBefore() {
    const line_ = (text, at) =>
      at === this.at
        ? null
        : el(
            "li",
            {},
            el("span", { class: "small" }, say("reading_nth", { number: at + 1 })),
            el("span", { class: "was nowrap" }, this.meant(text, at)),
            el("button", { type: "button", class: "link", onclick: () => this.take(at) }, say("change")),
          );
    fill(this.before, this.texts.map(line_));
    this.before.hidden = this.texts.length < 2;
  }

  meant(text, at) {
    const { mm, outcome, unit_typed } = this.verdict(at);
    const typed = unit_typed ? text : `${text} ${this.view.draft.units}`;
    return outcome === "value" ? `${typed} · ${inMm(mm, 1)} mm` : typed;
  }

  take(at) {
    this.texts = this.texts.filter((text, place) => place === at || text.trim() !== "");
    this.at = Math.min(at, this.texts.length - 1);
    this.remade();
  }

  again() {
    if (!this.may()) return;
    this.texts.push("");
    this.at = this.texts.length - 1;
    this.remade();
  }

  remade() {
    this.build();
    this.view.refresh();
    this.focus();
  }

  /* Whether a second measurement makes sense yet; says so if not. */
  may() {
    if (this.verdict().outcome === "value") return true;
    this.refuse(say("first_this_one"));
    return false;
  }

  showBeside(field) {
    const offered = sheet.fields.find((other) => other.offered && other.part === field.part);
    const otherWay =
      field.key === "length" &&
      el(
        "button",
        { type: "button", class: "other-way", onclick: () => this.may() && this.view.takeUp(offered) },
        line("otherWay"),
        el("span", {}, el("strong", {}, say("other_way")), el("span", { class: "small" }, say("other_way_how"))),
      );
    const repeats = field.kind === "readings" && this.texts.length < MOST_READINGS;
    const again =
      repeats && el("button", { type: "button", class: "again", onclick: () => this.again() }, say("read_again"));
    fill(this.beside, otherWay, again, field.signed && this.belowButton());
    this.beside.hidden = !this.beside.children.length;
  }

  get isBelow() {
    return BELOW.test(this.box.text);
  }

  // A minus before the text says that it lies the other way; no key of a tape has one.
  belowButton() {
    const turn = () => this.box.whole((text) => (this.isBelow ? text.replace(BELOW, "") : `-${text}`));
    return el("button", { type: "button", class: "below", onclick: turn }, say("below_rim"));
  }

  unitSwitch() {
    const { draft } = this.view;
    const option = (unit) =>
      el(
        "label",
        { class: "unit-option" },
        el("input", {
          type: "radio",
          name: "units",
          value: unit,
          class: "unseen",
          checked: unit === draft.units,
          onchange: () => this.switchTo(unit),
        }),
        el("span", {}, unit),
      );
    return el("fieldset", { class: "units" }, el("legend", { class: "unseen" }, say("units")), UNITS.map(option));
  }

  switchTo(unit) {
    const { draft, field } = this.view;
    settleOthers(draft, draft.units, { field, at: this.at });
    if (draft.second) settleOthers(draft.second, draft.units, {});
    draft.units = unit;
    if (draft.answers[field.key] !== undefined) this.texts = textsOf(draft, field);
    changed(draft);
    this.view.build();
  }

  focus() {
    this.box.input.focus();
  }

  refuse(says) {
    this.box.stop(true);
    this.box.shows = says;
    fill(this.box.says, el("p", { class: "says", role: "alert" }, says));
    this.focus();
  }

  /* Whether Next may go on; if not, says why at the field. */
  ready() {
    const wrong = this.texts.findIndex((_text, at) => ["ask", "refuse"].includes(this.verdict(at).outcome));
    if (wrong >= 0) {
      if (wrong !== this.at) this.take(wrong);
      this.box.speak(true);
      this.focus();
      return false;
    }
    const empty = this.texts.every((text) => text.trim() === "");
    if (empty && this.view.standing().asked && this.view.field.required) {
      this.refuse(say("needs_reading"));
      return false;
    }
    return true;
  }
}
