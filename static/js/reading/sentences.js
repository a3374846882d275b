// What the person is told about a typed length. Twin: orders/reckoning/typed_sentences.py.
// Each sentence says what was read and what was expected.

import { language } from "./language.js";

export const strings = {
  empty: "Nothing was typed. Expected one length, such as {example}.",
  too_long:
    "Read {count} characters, beginning “{start}”. Expected one length of at most {most} characters, such as {example}.",
  ambiguous:
    "Read “{text}”: {number} could be {decimal} or {thousands}. Expected {thousands}, or {decimal}0 for the decimal.",
  marks:
    "Read “{text}”: {number} has more than one comma or point. Expected at most one, before the decimals, as in {example}.",
  open_mark:
    "Read “{text}”: {number} has no digit after its comma or point. Expected digits there, or neither comma nor point, as in {example}.",
  decimals: "Read “{text}”: {number} has {count} decimals. Expected at most {most}, as in {example}.",
  fraction_size:
    "Read “{text}”: the fraction {fraction} is not less than one. Expected one such as 1/4 or 7/8.",
  fraction_zero: "Read “{text}”: the fraction {fraction} divides by zero. Expected one such as 1/4 or 7/8.",
  fraction_whole:
    "Read “{text}”: the fraction {fraction} is not made of whole numbers. Expected one such as 1/4 or 7/8.",
  fraction_open:
    "Read “{text}”: the fraction {fraction} has no lower number. Expected one such as 1/4 or 7/8.",
  decimal_fraction:
    "Read “{text}”: {number} is a decimal, and the fraction {fraction} follows it. Expected one or the other, as in {example}.",
  units:
    "Read “{text}”: {first} and {second} are two units. Expected one length in one unit, as in {example}.",
  feet_whole:
    `Read “{text}”: {number} is not a whole number of feet, and inches follow. Expected whole feet before inches, as in 1' 3 1/2".`,
  feet_mark: `Read “{text}”: {number} follows the feet without an inch mark. Expected one, as in 1' 3 1/2".`,
  feet_inches:
    `Read “{text}”: {number} inches follow the feet. Expected less than 12 there, as in 1' 3 1/2".`,
  sign: "Read “{text}”: there is a sign, {rest}. Expected one length without a sign, such as {example}.",
  exponent:
    "Read “{text}”: {rest} looks like a power of ten. Expected one length in plain digits, such as {example}.",
  second_number: "Read “{text}”: a second number follows, {rest}. Expected one length, such as {example}.",
  no_number: "Read “{text}”, which does not begin with a number. Expected one length, such as {example}.",
  left_over: "Read “{text}”: “{rest}” is left over. Expected a number, then mm, cm or in, such as {example}.",
  is_mm: "{read} is {mm} mm",
  is_inches: "{read} is {inches} in",
  is_about_inches: "{read} is about {inches} in",
  ask_one:
    "Read “{text}” as {read}; {low} to {high} mm is usual here. Is it {first}, which is {first_mm} mm? Add the unit that is meant: {first} or {own}.",
  ask_two:
    "Read “{text}” as {read}; {low} to {high} mm is usual here. Is it {first}, which is {first_mm} mm, or {second}, which is {second_mm} mm? Add the unit that is meant: {first}, {second} or {own}.",
};

/** A length as one would type it, by the unit that a bare number is in. */
export const EXAMPLES = { mm: "394 mm", cm: "39.4 cm", in: "15 1/2 in" };

/** The sentence of that key, in the page's language, with its names filled in, once: the text is the person's own. */
export const filled = (key, values) => (language.reading[key] ?? strings[key]).replace(/\{(\w+)\}/g, (_, name) => String(values[name]));
