// Runs a tree of the rule book's notation. Twin: orders/rulebook/evaluate.py.

import { FUNCTIONS } from "./functions.js";

/** Thrown where an expression looks up a quantity that isn't known. */
export class Unknown extends Error {}

const OPERATORS = {
  ...FUNCTIONS,
  "+": (a, b) => a + b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
  "==": (a, b) => a === b,
  "!=": (a, b) => a !== b,
  "<": (a, b) => a < b,
  ">": (a, b) => a > b,
  "<=": (a, b) => a <= b,
  ">=": (a, b) => a >= b,
  "-": (a, b) => (b === undefined ? -a : a - b),
  "!": (a) => !a,
};

/** The value of a tree; `known` holds the quantities by name. */
export function evaluate(tree, known) {
  if (typeof tree === "string") {
    if (known[tree] === undefined) throw new Unknown(tree);
    return known[tree];
  }
  if (!Array.isArray(tree)) return typeof tree === "object" ? tree.text : tree;
  const [sign, a, b, c] = tree;
  if (sign === "?") return evaluate(evaluate(a, known) ? b : c, known);
  if (sign === "&&") return evaluate(a, known) && evaluate(b, known);
  if (sign === "||") return evaluate(a, known) || evaluate(b, known);
  if (sign === "in") return b.includes(evaluate(a, known));
  return OPERATORS[sign](...tree.slice(1).map((part) => evaluate(part, known)));
}

/** As `evaluate`, but undefined where something isn't known or the result is no finite number. */
export function valueOf(tree, known) {
  try {
    const value = evaluate(tree, known);
    return typeof value === "number" && !Number.isFinite(value) ? undefined : value;
  } catch (error) {
    if (error instanceof Unknown) return undefined;
    throw error;
  }
}
