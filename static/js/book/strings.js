// The few sentences that the book's code says itself. Twin: orders/rulebook/strings.py.

import { language } from "../reading/language.js";

export const strings = {
  yes: "yes",
  no: "no",
  and: "{first} and {last}",
  follows: "{taken} taken, {gap} left open: made {made} long",
  rounded_down: "{taken} taken, {gap} left open: made {made} long, rounded down",
  not_nought: "This can't be 0: leave it empty where there is nothing to measure.",
  too_long: "Nothing on a leg is that long.",
  not_within: "“{shown}” was read; a number from {least} to {most} was expected.",
};

/** The sentence of that key, in the page's language, with its names filled in, once. */
export const told = (key, values = {}) => (language.book[key] ?? strings[key]).replace(/\{(\w+)\}/g, (_, name) => values[name]);
