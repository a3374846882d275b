/* Our own keypad, ruled like a table: digits, then what the tape shows between them. */

import { language } from "../reading/language.js";
import { el } from "./elements.js";
import { plusSixteenth, takenBack, withFraction, withHalf, withUnit } from "./keys.js";
import { line } from "./lines.js";
import { say } from "./words.js";

const DIGITS = [
  ["1", "2", "3"],
  ["4", "5", "6"],
  ["7", "8", "9"],
  [".", "0", "erase"],
];
// In the order in which a tape shows them, down each column.
const FRACTIONS = [
  ["1/8", "5/8"],
  ["1/4", "3/4"],
  ["3/8", "7/8"],
  ["1/2", "+1/16"],
];
const METRIC = ["half", "mm", "cm", "in"];

function key(label, face, press, kind = "") {
  return el("button", { type: "button", class: `key ${kind}`, "aria-label": label, onclick: press }, face);
}

function fractionFace(text) {
  const [, plus, top, bottom] = text.match(/^(\+?)(\d+)\/(\d+)$/);
  return el("span", { class: "fraction", "aria-hidden": "true" }, plus, el("sup", {}, top), "/", el("sub", {}, bottom));
}

function digitKey(digit, edit) {
  if (digit === "erase") return key(say("key_erase"), line("erase"), () => edit.whole(takenBack));
  if (digit === ".") return key(say("key_point"), language.mark, () => edit.insert(language.mark));
  return key(digit, digit, () => edit.insert(digit));
}

function fractionKey(text, edit) {
  const press = text.startsWith("+") ? plusSixteenth : (typed) => withFraction(typed, text);
  return key(text, fractionFace(text), () => edit.whole(press), "between");
}

function metricKey(name, edit) {
  if (name === "half") return key(say("key_half"), `${language.mark}5`, () => edit.whole((typed) => withHalf(typed, language.mark)), "between wide");
  return key(name, name, () => edit.whole((typed) => withUnit(typed, name)), "between wide");
}

/* The keypad for a unit. `edit` has `insert(text)`, at the caret, and `whole(change)`, on all of the text. */
export function keypad(unit, edit) {
  const rows = DIGITS.map((digits, row) => [
    ...digits.map((digit) => digitKey(digit, edit)),
    ...(unit === "in" ? FRACTIONS[row].map((text) => fractionKey(text, edit)) : [metricKey(METRIC[row], edit)]),
  ]);
  const pad = el("div", { class: "keypad", role: "group", "aria-label": say("keypad") }, rows);
  pad.addEventListener("mousedown", (event) => event.preventDefault()); // the caret stays in the field
  return pad;
}
