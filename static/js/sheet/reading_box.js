/* One reading in hand: the text as typed with its unit, what was understood, and the tape beneath. */

import { ORDINARY_MM, understand } from "../reading/typed.js";
import { drawn, el, fill, write } from "./elements.js";
import { line } from "./lines.js";
import { inMm, say } from "./words.js";

const PAUSE_MS = 1000;
export const BELOW = /^\s*[-−]\s*/;
const DIGITS = /^\s*\d{1,3}\s*$/;
let patterns = 0;

/* What a text means: {outcome: "empty" | "value" | "ask" | "refuse", mm, says, offers, unit, unit_typed}. */
export function judged(text, unit, quantity, signed = false) {
  if (text.trim() === "") return { outcome: "empty", offers: [], unit, unit_typed: false };
  const below = signed && BELOW.test(text);
  const verdict = understand(below ? text.replace(BELOW, "") : text, unit, quantity || "");
  return below && verdict.mm !== null ? { ...verdict, mm: -verdict.mm, says: `−${verdict.says}` } : verdict;
}

/* Whether a text is likely only begun: one digit, or digits to which another one still makes an ordinary length. */
export function mayGrow(text, unit, quantity) {
  if (!DIGITS.test(text)) return false;
  const [, most] = ORDINARY_MM[quantity] ?? [0, 0];
  return text.trim().length === 1 || understand(`${text.trim()}0`, unit, "").mm <= most;
}

// Where the ticks of a tape stand, in px of a 10 px step, by the unit's habit: eighths of an inch, tenths else.
const TICKS = { in: 8, cm: 10, mm: 10 };

/* The strip of tape under the field in hand, graduated in its unit. */
export function tapeEdge(unit) {
  const count = TICKS[unit];
  const step = 8;
  const id = `ticks-${(patterns += 1)}`;
  const short = Array.from({ length: count - 1 }, (_, at) => `M${(at + 1) * step + 0.5} 0v${(at + 1) * 2 === count ? 8 : 5}`);
  const ticks = `<path class="tick long" d="M.5 0v14"/><path class="tick" d="${short.join("")}"/>`;
  return drawn(`<svg class="tape-edge" aria-hidden="true" focusable="false"><defs><pattern id="${id}" width="${count * step}"
    height="14" patternUnits="userSpaceOnUse">${ticks}</pattern></defs><rect class="tape" width="100%" height="14"/>
    <rect width="100%" height="14" fill="url(#${id})"/></svg>`);
}

/* The box of one reading. `typed(text)` is called at every change, `offered(text)` when one of the readings that the
   parser offers is chosen, `ownKeys(yes)` when the phone's own keyboard is called, for dictating or pasting. */
export class ReadingBox {
  constructor({ id, label, text, unit, quantity, typed, offered, ownKeys }) {
    Object.assign(this, { unit, quantity, typed, offered, ownKeys, begun: false, timer: 0, verdict: judged(text, unit, "") });
    this.mirror = el("span", { class: "mirror", "aria-hidden": "true" });
    this.input = el("input", {
      id,
      class: "typed",
      type: "text",
      size: 1,
      inputmode: "none",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      enterkeyhint: "next",
      "aria-describedby": `${id}-means ${id}-says`,
    });
    this.unitShown = el("span", { class: "unit", "aria-hidden": "true" });
    this.keys = el(
      "button",
      { type: "button", class: "own-keys", onclick: () => this.callKeys() },
      line("keys"),
      say("speak_or_paste"),
    );
    this.means = el("p", { class: "means", id: `${id}-means` });
    this.says = el("div", { class: "reading-says", id: `${id}-says` });
    this.element = el(
      "div",
      { class: "reading-box in-hand" },
      el("label", { class: "unseen", for: id }, label),
      el(
        "div",
        { class: "line" },
        el("span", { class: "typed-room" }, this.mirror, this.input),
        this.unitShown,
        this.keys,
        this.means,
      ),
      tapeEdge(unit),
    );
    this.setText(text);
    this.listen();
  }

  /* Calls the phone's own keyboard; it has the keys for dictating and for pasting. */
  callKeys() {
    this.input.inputMode = "text";
    this.input.blur();
    this.input.focus();
    this.ownKeys(true);
  }

  get text() {
    return this.input.value;
  }

  setText(text) {
    this.input.value = text;
    this.mirror.textContent = text || " ";
  }

  listen() {
    this.input.addEventListener("input", () => this.changed());
    this.input.addEventListener("blur", () => {
      clearTimeout(this.timer);
      this.timer = setTimeout(() => this.rested());
    });
    this.input.addEventListener("pointerdown", () => {
      if (document.activeElement === this.input) this.callKeys(); // a second tap
    });
  }

  changed() {
    this.mirror.textContent = this.text || " ";
    this.begun = mayGrow(this.text, this.unit, this.quantity);
    this.typed(this.text);
  }

  /* Shows a verdict on the text, and the uncertainty of what it makes. [mm] */
  show(verdict, uncertainty) {
    this.verdict = verdict;
    const known = verdict.outcome === "value" && verdict.mm !== null;
    const mm = known ? `${inMm(verdict.mm, 1)} mm` : "";
    const within = known && uncertainty ? `± ${inMm(Math.ceil(uncertainty))}` : "";
    if (this.means.textContent !== mm + within)
      fill(
        this.means,
        mm && el("span", { class: "mm nowrap" }, mm),
        within && el("span", { class: "plus-minus nowrap" }, within),
      );
    this.keys.hidden = verdict.outcome !== "empty" || this.input.inputMode === "text";
    write(this.unitShown, verdict.unit_typed ? "" : this.unit);
    this.speak(false);
  }

  /* Says what is wrong, `now` or once the hand rests: half a fraction or one digit is no mistake yet. */
  speak(now) {
    clearTimeout(this.timer);
    const { outcome } = this.verdict;
    const later = !now && (outcome === "refuse" || (this.begun && outcome === "ask"));
    if (!later) this.showSays();
    if (later || this.begun) this.timer = setTimeout(() => this.rested(), PAUSE_MS);
  }

  /* The hand rests: what stands there is meant, unless another box stands there by now. */
  rested() {
    if (!this.element.isConnected) return;
    const { begun } = this;
    this.begun = false;
    if (begun) this.typed(this.text);
    else this.showSays();
  }

  showSays() {
    const { outcome, says } = this.verdict;
    this.stop(outcome === "refuse");
    const shows = outcome === "ask" || outcome === "refuse" ? says : "";
    if (this.shows === shows) return; // a button under the thumb stays the same button
    this.shows = shows;
    fill(
      this.says,
      shows && el("p", { class: outcome === "ask" ? "question" : "says" }, shows),
      outcome === "ask" && this.offers(),
    );
  }

  /* The readings that may be meant, the one in the unit that is set among them. */
  offers() {
    const { offers, number, unit } = this.verdict;
    const button = (text) =>
      el("button", { type: "button", class: "offer nowrap", onclick: () => this.offered(text) }, text);
    return el(
      "div",
      { class: "offers", role: "group", "aria-label": say("which_unit") },
      [...offers, `${number} ${unit}`].map(button),
    );
  }

  stop(stopped) {
    this.element.classList.toggle("stopped", stopped);
    if (stopped) this.input.setAttribute("aria-invalid", "true");
    else this.input.removeAttribute("aria-invalid");
  }

  /* A press of the keypad: `more` goes in at the caret. */
  insert(more) {
    const inHand = document.activeElement === this.input;
    const [from, to] = inHand
      ? [this.input.selectionStart, this.input.selectionEnd]
      : [this.text.length, this.text.length];
    this.input.setRangeText(more, from, to, "end");
    this.changed();
  }

  /* A press of the keypad that changes all of the text. */
  whole(change) {
    this.input.value = change(this.text);
    this.input.setSelectionRange(this.text.length, this.text.length);
    this.changed();
  }
}
