// Sentences with their numbers filled in, and what follows from a reading. Twin: orders/rulebook/sentences.py.

import { withMark } from "../reading/language.js";
import { told } from "./strings.js";

const NAME = /\{([a-zA-Z_0-9]+)\}/g;
const NO_BREAK = "\u00a0";
const UNITS = [
  ["_kg_m2", "kg\u00a0m²", 4],
  ["_mm", "mm", 1],
  ["_deg", "°", 1],
  ["_kg", "kg", 1],
  ["_g", "g", 0],
  ["", "", 2],
];
const WHOLE_WITHIN = 1e-6;

/** A number with exactly so many decimals, halves away from zero: (19.05, 1) is "19.1". */
export function decimalText(value, places) {
  const scaled = Math.floor(Math.abs(value) * 10 ** places + 0.5);
  const digits = String(scaled).padStart(places + 1, "0");
  const sign = value < 0 && scaled ? "−" : "";
  if (!places) return sign + digits;
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

/** As decimalText, less the noughts at its end. */
export function trimmedText(value, places) {
  const text = decimalText(value, places);
  return places ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

const unitOf = (name) => UNITS.find(([end]) => name.endsWith(end));

/** How many decimals of a number are shown at most. */
function placesOf(name, value, finely) {
  if (Math.abs(value - Math.floor(value + 0.5)) < WHOLE_WITHIN) return 0;
  const [, unit, places] = unitOf(name);
  return places + Math.max(finely, unit === "" ? 1 : 0);
}

/** The very number that `shown` shows. */
export function printed(name, value, finely) {
  const scale = 10 ** placesOf(name, value, finely);
  return (Math.sign(value) * Math.floor(Math.abs(value) * scale + 0.5)) / scale;
}

/** The names that a sentence fills in. */
export const namesIn = (sentence) => Array.from(sentence.matchAll(NAME), (match) => match[1]);

/** A quantity as a person reads it: whole millimetres when it is whole, else one decimal, and `finely` more. */
export function shown(name, value, finely = 0) {
  if (value === undefined || value === null) return "?";
  if (typeof value === "boolean") return told(value ? "yes" : "no");
  if (typeof value === "string") return value;
  const [, unit, places] = unitOf(name);
  const to = placesOf(name, value, finely);
  const number = to === places ? decimalText(value, to) : trimmedText(value, to);
  return `${withMark(number)}${unit === "" || unit === "°" ? "" : NO_BREAK}${unit}`;
}

/** A sentence with its {names} filled in. */
export const filled = (sentence, known, finely = 0) =>
  sentence.replace(NAME, (_, name) => shown(name, known[name], finely));

/** An offer's value as it would be typed or chosen: "{gap_mm}" becomes "19.05 mm". */
export function typedValue(value, known) {
  const match = value.match(/^\{([a-zA-Z_0-9]+)\}$/);
  if (!match) return value;
  const found = known[match[1]];
  if (found === undefined || typeof found === "string") return found;
  return `${trimmedText(found, 4)} ${unitOf(match[1])[1]}`.trim().replace("−", "-");
}

/** "419 taken, 19 left open: made 400 mm long", or null; the numbers add up as printed. */
export function follows({ length_taken_mm: taken, gap_mm: gap, finished_length_mm: made }) {
  if ([taken, gap, made].some((value) => value === undefined || value === null)) return null;
  let places = 0;
  let over = 0;
  for (; ; places++) {
    const scale = 10 ** places;
    over = Math.floor(taken * scale + 0.5) - Math.floor(gap * scale + 0.5) - made * scale;
    if (over === 0 || (places && over > 0 && over < scale) || places === 6) break;
  }
  const [one, other] = [taken, gap].map((mm) => withMark(decimalText(mm, places)));
  const values = { taken: one, gap: other, made: shown("finished_length_mm", made) };
  return told(over ? "rounded_down" : "follows", values);
}
