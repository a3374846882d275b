// What was typed, read as one exact length, or refused in the person's own words.
// Twin: orders/reckoning/typed.py; both are held to tests/orders/reckoning/typed_cases.json.

import { amountOf, Refused } from "./amount.js";
import { absolute, compared, fraction, ofNumber, over, plus, rounded, times, toNumber } from "./exact.js";
import { withMark } from "./language.js";
import { scanned, trimmed } from "./scan.js";
import { EXAMPLES, filled } from "./sentences.js";
import { respelled } from "./spoken.js";

const LONGEST_TEXT = 64;
const MM_PER = { mm: fraction(1n), cm: fraction(10n), in: fraction(254n, 10n) };

/** Ordinary range of a quantity, ends included. [mm] Twin: ORDINARY_MM of orders/reckoning/constants.py. */
export const ORDINARY_MM = {
  length: [240, 560],
  girth: [230, 560],
  hardware_length: [40, 260],
  hardware_above_rim: [20, 220],
  rim_to_floor: [50, 180],
  apex_to_floor: [300, 680],
  below_apex: [0, 680],
};

/** A value to one decimal, half up, without a trailing zero: "419.1", "394". */
function decimalText(value) {
  const tenths = rounded(times(absolute(value), fraction(10n)));
  const text = tenths % 10n ? `${tenths / 10n}.${tenths % 10n}` : `${tenths / 10n}`;
  return value.n < 0n && tenths ? `-${text}` : text;
}

/** A length in inches to the nearest 1/16, as a tape shows it: "16 1/2". `mm` is a number or a fraction {n, d}. */
export function inchesText(mm) {
  const exact = over(exactOf(mm), MM_PER.in);
  const marks = rounded(times(absolute(exact), fraction(16n)));
  const whole = marks / 16n;
  const rest = fraction(marks % 16n, 16n);
  const part = rest.n ? `${rest.n}/${rest.d}` : "";
  return (exact.n < 0n && marks ? "-" : "") + (whole && part ? `${whole} ${part}` : part || `${whole}`);
}

const exactOf = (value) =>
  typeof value === "number" ? ofNumber(value) : fraction(BigInt(value.n), BigInt(value.d));

const digitsOf = (value) => ({ n: value.n.toString(), d: value.d.toString() });

const asRead = (number, unit) => (number.endsWith("ft") ? number : `${number} ${unit}`);

function says(read, unit, mm) {
  if (unit !== "mm") return filled("is_mm", { read, mm: withMark(decimalText(mm)) });
  const sixteenths = over(times(mm, fraction(16n)), MM_PER.in);
  return filled(sixteenths.d === 1n ? "is_inches" : "is_about_inches", { read, inches: inchesText(mm) });
}

function readLength(characters, unit) {
  if (characters.length > LONGEST_TEXT) {
    const start = [...trimmed(characters)].slice(0, 16).join("");
    throw new Refused("too_long", { count: characters.length, most: LONGEST_TEXT, start });
  }
  const tokens = respelled(scanned(characters));
  if (!tokens.length) throw new Refused("empty");
  const amount = amountOf(tokens, characters);
  const readIn = amount.unit ?? unit;
  return { ...amount, unit: readIn, typed: amount.unit !== null, mm: times(amount.value, MM_PER[readIn]) };
}

function isOrdinary(mm, [low, high]) {
  return compared(mm, fraction(BigInt(low))) >= 0 && compared(mm, fraction(BigInt(high))) <= 0;
}

/** The units in which a bare number out of the ordinary would be an ordinary one, with its mm. */
function otherUnits(reading, ordinary) {
  if (!ordinary || reading.typed || isOrdinary(reading.mm, ordinary)) return [];
  return Object.keys(MM_PER)
    .filter((unit) => unit !== reading.unit)
    .map((unit) => ({ unit, mm: times(reading.value, MM_PER[unit]) }))
    .filter((other) => isOrdinary(other.mm, ordinary));
}

function question(text, reading, [low, high], others) {
  const own = `${reading.number} ${reading.unit}`;
  const read = reading.unit === "mm" ? own : `${own} (${withMark(decimalText(reading.mm))} mm)`;
  const values = { text, low, high, own, read };
  ["first", "second"].slice(0, others.length).forEach((name, at) => {
    values[name] = `${reading.number} ${others[at].unit}`;
    values[`${name}_mm`] = withMark(decimalText(others[at].mm));
  });
  return filled(others.length === 1 ? "ask_one" : "ask_two", values);
}

/**
 * Read a text as the value of one field, and ask if it looks like the wrong unit.
 *
 * Gives {outcome: "value" | "ask" | "refuse", mm, exact: {n, d} as digits, unit, unit_typed, number, says,
 * offers, reason}. Of "ask" and "refuse" nothing is to be stored: mm and exact are null there.
 */
export function understand(text, unit, quantity = "length") {
  if (!Object.hasOwn(MM_PER, unit)) throw new RangeError(`unit is ${unit}; it must be mm, cm or in`);
  const characters = [...text];
  const shown = trimmed(characters);
  const nothing = { mm: null, exact: null, unit: null, unit_typed: null, number: null, offers: [], reason: null };
  let reading;
  try {
    reading = readLength(characters, unit);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const values = { text: shown, example: withMark(EXAMPLES[unit]), ...error.values };
    return { ...nothing, outcome: "refuse", says: filled(error.reason, values), reason: error.reason };
  }
  const read = { unit: reading.unit, unit_typed: reading.typed, number: reading.number };
  const ordinary = Object.hasOwn(ORDINARY_MM, quantity) ? ORDINARY_MM[quantity] : null;
  const others = otherUnits(reading, ordinary);
  if (others.length) {
    const offers = others.map((other) => `${reading.number} ${other.unit}`);
    return { ...nothing, ...read, outcome: "ask", says: question(shown, reading, ordinary, others), offers };
  }
  const told = says(asRead(reading.number, reading.unit), reading.unit, reading.mm);
  return { ...nothing, ...read, outcome: "value", mm: toNumber(reading.mm), exact: digitsOf(reading.mm), says: told };
}

/**
 * The value to keep, exactly: one reading as it is, of two the mean, of three the median.
 * Takes and gives {n, d}; numbers are taken too.
 */
export function combine(readings) {
  if (readings.length < 1 || readings.length > 3)
    throw new RangeError(`number of readings is ${readings.length}; it must be one, two or three`);
  const ordered = readings.map(exactOf).sort(compared);
  if (ordered.length !== 2) return digitsOf(ordered[(ordered.length - 1) / 2]);
  return digitsOf(times(plus(ordered[0], ordered[1]), fraction(1n, 2n)));
}

/** The double nearest to an exact length {n, d}. [mm] */
export const mmOf = (exact) => toNumber(exactOf(exact));

/** Whether two values that `understand` gave differ by just two neighbouring digits that changed places. */
export function digitsSwapped(one, other) {
  const a = one.number.replaceAll(",", ".");
  const b = other.number.replaceAll(",", ".");
  if (one.unit !== other.unit || a.length !== b.length) return false;
  const differ = [...a].map((_, at) => at).filter((at) => a[at] !== b[at]);
  if (differ.length !== 2) return false;
  const [first, second] = differ;
  const between = a.slice(first + 1, second);
  const exchanged = a[first] === b[second] && a[second] === b[first];
  return exchanged && (between === "" || between === ".") && /^[0-9]{2}$/.test(a[first] + a[second]);
}
