/* The six places that measure in a photo: a sheet's four corners, one after the other, and the two ends of a length. */

import { reckoning } from "./later.js";
import { judged } from "./reading_box.js";
import { inMm, say, sheet } from "./words.js";

/* What may be measured: the field that the tape fills, and what its two ends are called. */
export const MEASURES = {
  length: { field: "length", ends: ["apex", "rim"] },
  hardware_length: { field: "knee.hardware_length", ends: ["apex", "grip"] },
  hardware_above_rim: { field: "foot.hardware_above_rim", ends: ["top", "rim"] },
};
export const SHEETS = ["a4", "letter", "card"];
const BY_VIEW = { knee: "hardware_length", foot: "hardware_above_rim" };
// Where the places begin, as shares of the photo's width and height: a sheet on one side, a length on the other.
const BEGIN = [[0.58, 0.36], [0.84, 0.36], [0.84, 0.64], [0.58, 0.64], [0.36, 0.24], [0.36, 0.78]];

/* The field whose label names a measure. */
export function fieldOf(what) {
  return sheet.fields.find(({ key }) => key === MEASURES[what].field);
}

/* What a place is called: "corner 2", "rim". */
export function placeName(what, number) {
  return number < 4 ? say("corner", { number: number + 1 }) : say(`end_${MEASURES[what].ends[number - 4]}`);
}

/* The places to begin with: those put before, if the picture is still as large. `put` lists which were put. */
export function placesOf({ placing, measured, view }, size) {
  const before = placing ?? (measured && { ...measured, put: [0, 1, 2, 3, 4, 5] });
  if (before && before.size.join() === size.join()) return structuredClone(before);
  const places = BEGIN.map((share) => share.map((part, axis) => Math.round(part * size[axis])));
  return { what: BY_VIEW[view] ?? "length", sheet: "a4", size, corners: places.slice(0, 4), ends: places.slice(4), put: [] };
}

/* What goes into the seal. */
export function measuredOf({ what, sheet: paper, size, corners, ends }) {
  return { what, sheet: paper, size, corners, ends };
}

/* A length in a photo, in words: "402 ± 14 mm"; "" where the places give none. */
export function lengthInWords(measured) {
  const { mm, U_mm } = reckoning.here.photoLength(measured);
  return mm === undefined ? "" : say("plus_minus", { mm: inMm(mm), U_mm: inMm(Math.ceil(U_mm)) });
}

/* What the tape says of the same, or null. */
function tapeMm(what, { entry, result }) {
  if (what === "length") return result?.length_taken_mm ?? null;
  const text = what === "hardware_length" ? entry.knee?.hardware_length : entry.foot?.hardware_above_rim;
  return judged(text ?? "", entry.units, "").mm ?? null;
}

/* What the places say of the tape, in a sentence; the limit is that of the check photo.disagrees. */
export function heldAgainstTape(placed, situation) {
  const { mm, U_mm, why } = reckoning.here.photoLength(placed);
  if (why) return say(`photo_${why}`);
  const tape = tapeMm(placed.what, situation);
  const read = say("in_the_photo", { read: lengthInWords(placed) });
  if (tape === null) return `${read} ${say("no_tape_yet")}`;
  const apart = Math.abs(mm - tape);
  const words = apart > U_mm + 10 ? "tape_apart" : "tape_agrees";
  return `${read} ${say(words, { tape: inMm(tape, Number.isInteger(tape) ? 0 : 1), apart: inMm(apart) })}`;
}
