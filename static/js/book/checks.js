// Runs the rule book's figures and checks on what is known. Twin: orders/rulebook/checks.py.

import { valueOf } from "./evaluate.js";
import { filled, namesIn, printed, typedValue } from "./follows.js";

/** Stops first. */
export const LEVELS = ["stop", "explain", "note"];

const allKnown = (names, known) => names.every((name) => known[name] !== undefined);

/** Works out the figures of one stage and adds those that can be known. */
export function addFigures(known, figures, stage) {
  for (const figure of figures) {
    if (figure.stage !== stage || !allKnown(figure.needs, known)) continue;
    const value = valueOf(figure.tree, known);
    if (value !== undefined) known[figure.id] = value;
  }
}

/** How a figure came about, in words, with as few decimals as it takes to add up as printed. */
export function derivation(figure, known) {
  const says = figure.cases.find((one) => valueOf(one.tree, known))?.says ?? figure.says;
  const names = namesIn(says);
  return filled(says, known, FINELY.find((more) => addsUp(figure, names, known, more)) ?? FINELY[0]);
}

const FINELY = [1, 2, 3, 4];

function addsUp({ id, tree }, names, known, finely) {
  const seen = { ...known };
  for (const name of names) if (typeof seen[name] === "number") seen[name] = printed(name, seen[name], finely);
  const value = valueOf(tree, seen);
  return typeof value === "number" ? printed(id, value, finely) === printed(id, known[id], finely) : value === known[id];
}

function offerOf(offers, known) {
  for (const offer of offers) {
    if (!offer || (offer.tree !== undefined && !valueOf(offer.tree, known))) continue;
    const value = typedValue(offer.value, known);
    if (value !== undefined) return { field: offer.field, value };
  }
  return null;
}

/** The flag that a check raises, or null. */
export function flagOf(check, known) {
  if (check.by || !allKnown(check.needs, known)) return null;
  if (check.tree !== null && !valueOf(check.tree, known)) return null;
  const cases = check.cases.filter((one) => valueOf(one.tree, known));
  if (check.tree === null && !cases.length) return null;
  const parts = [check, ...cases];
  return {
    id: check.id,
    level: LEVELS.find((level) => parts.some((part) => part.level === level)),
    fields: [...new Set(parts.flatMap((part) => part.fields))],
    at: cases.find((one) => one.at)?.at ?? check.at,
    says: parts.map((part) => filled(part.says, known)).join(" "),
    do: filled(cases.find((one) => one.do)?.do ?? check.do, known),
    offer: offerOf([...cases.map((one) => one.offer), check.offer], known),
  };
}

/** The flags that the checks raise, in the checks' order. */
export const flagsOf = (checks, known) => checks.map((check) => flagOf(check, known)).filter(Boolean);
