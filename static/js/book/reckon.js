// The one call: an entry, whole or partial, and a catalogue become the result. Twin: orders/reckon.py.
// What isn't known yet stays null, and the checks that need it keep quiet.

import { readBeside } from "./beside.js";
import { addFigures, derivation, flagsOf, LEVELS } from "./checks.js";
import { follows } from "./follows.js";
import { worked } from "./geometry.js";
import { chosen, limits } from "./options.js";
import { readGivens } from "./readings.js";

// The result's figures, in its order. Twin: orders/reckoning/result.py.
export const FIGURES = [
  "length_taken_mm", "length_U_mm", "gap_mm", "gap_advised_mm", "finished_length_mm", "girth_mm", "girth_U_mm",
  "upper_strap_mm", "lower_strap_mm", "strap_spacing_mm", "foam_pad", "rim_rise_mm", "margin_mm",
  "inside_girth_mm", "rear_end_above_rim_mm", "rear_trim_mm", "mass_g", "inertia_kg_m2",
];
// What else is explained, where it is known.
const EXPLAINED = [...FIGURES, "hcpcs", "centre_above_apex_mm", "pivots_stay_above_mm", "pivots_past_front_mm"];
const rounded = (value, decimals) =>
  typeof value === "number" ? Math.floor(value * 10 ** decimals + 0.5) / 10 ** decimals : (value ?? null);

/**
 * Reckon one shell.
 * `catalogue` is what the server sends (its own checks as trees under own_checks), `book` the rule book's JSON,
 * `beside` the quantities that come from photos and earlier orders, as orders/rulebook/beside.py describes them: a
 * phone passes {photo_front, photo_side, photo_knee, photo_foot}, true or false each.
 */
export function reckon(entry, catalogue, book, beside = null) {
  const byReading = Object.fromEntries(book.checks.filter((check) => check.by).map((check) => [check.id, check]));
  const read = readGivens(entry, book.givens.entry, byReading);
  const known = {
    ...read.known,
    ...limits(catalogue, book.givens.catalogue),
    ...chosen(entry.shell, catalogue),
    ...readBeside(beside, book.givens.beside),
  };
  addFigures(known, book.figures, 1);
  const shape = worked(known, read, catalogue, entry);
  Object.assign(known, shape.known);
  addFigures(known, book.figures, 2);
  const text = follows(known);
  known.follows = text ? `${text}.` : "";
  const checks = [...book.checks, ...(catalogue.own_checks ?? [])];
  return result(book, known, shape, inOrder([...read.flags, ...flagsOf(checks, known)]), entry.answers ?? {});
}

const likelyGirth = (figures, known) => ({
  girth_mm: rounded(known.likely_girth_mm, 3),
  least_mm: rounded(known.likely_girth_least_mm, 3),
  most_mm: rounded(known.likely_girth_most_mm, 3),
  says: derivation(figures.likely_girth_mm, known),
});

const inOrder = (flags) => LEVELS.flatMap((level) => flags.filter((flag) => flag.level === level));

function result(book, known, shape, flags, answers) {
  const figures = Object.fromEntries(book.figures.map((figure) => [figure.id, figure]));
  const told = EXPLAINED.filter((name) => known[name] !== undefined);
  const answered = (flag) => flag.level === "note" || (flag.level === "explain" && answers[flag.id]?.trim());
  const enough = known.finished_length_mm !== undefined && known.girth_mm !== undefined;
  return {
    schema: "shankline-result-1",
    ...Object.fromEntries(FIGURES.map((name) => [name, rounded(known[name], figures[name].decimals)])),
    stations: shape.stations,
    clearances: shape.clearances,
    hcpcs: known.hcpcs ?? null,
    derivations: Object.fromEntries(told.map((name) => [name, derivation(figures[name], known)])),
    ...(shape.mechanism.length && { mechanism: shape.mechanism }),
    ...(known.girth_suggested && { suggestions: { girth: likelyGirth(figures, known) } }),
    flags,
    sendable: enough && flags.every(answered) ? true : false,
  };
}
