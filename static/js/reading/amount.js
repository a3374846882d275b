// The grammar of one typed length, over the pieces of scan.js. Twin: orders/reckoning/typed_amount.py, which
// tells it in words. Whatever does not fit throws a Refused with its sentence's key and what fills it.

import { compared, fraction, plus, times } from "./exact.js";
import { withMark } from "./language.js";
import { trimmed } from "./scan.js";

export const MOST_DECIMALS = 4;
const FOOT = fraction(12n);
// Each unit's names, in the sheet's languages, without accents.
const UNIT_NAMES = {
  mm: "mm millimeter millimeters millimetre millimetres millimetern milimetro milimetros",
  cm: "cm centimeter centimeters centimetre centimetres zentimeter zentimetern centimetro centimetros",
  in: "in inch inches zoll pulgada pulgadas pouce pouces",
  ft: "ft foot feet fus fuss pie pies pied pieds",
};
const UNIT_WORDS = new Map(
  Object.entries(UNIT_NAMES).flatMap(([unit, names]) => names.split(" ").map((name) => [name, unit])),
);
const UNIT_MARKS = new Map([
  ["feet", "ft"],
  ["inches", "in"],
]);

export class Refused extends Error {
  constructor(reason, values = {}) {
    super(reason);
    this.reason = reason;
    this.values = values;
  }
}

const isWhole = (text) => /^[0-9]+$/.test(text);

function unitAt(tokens, at) {
  const token = tokens[at];
  return (token?.kind === "word" ? UNIT_WORDS.get(token.text) : UNIT_MARKS.get(token?.kind)) ?? null;
}

const beginsFraction = (tokens, at) =>
  tokens[at]?.kind === "vulgar" || (tokens[at]?.kind === "number" && tokens[at + 1]?.kind === "slash");

function fractionAt(tokens, at) {
  let upper, lower, after;
  if (tokens[at].kind === "vulgar") {
    [upper, lower] = tokens[at].text.split("/");
    after = at + 1;
  } else if (tokens[at + 2]?.kind === "number") {
    [upper, lower, after] = [tokens[at].text, tokens[at + 2].text, at + 3];
  } else throw new Refused("fraction_open", { fraction: `${tokens[at].text}/` });
  const number = `${upper}/${lower}`;
  if (!isWhole(upper) || !isWhole(lower)) throw new Refused("fraction_whole", { fraction: number });
  if (BigInt(lower) === 0n) throw new Refused("fraction_zero", { fraction: number });
  if (BigInt(upper) >= BigInt(lower)) throw new Refused("fraction_size", { fraction: number });
  return { value: fraction(BigInt(upper), BigInt(lower)), number, after };
}

/** A number with at most one comma or point before at most four decimals, exactly. */
function decimal(number) {
  const parts = /^([0-9]*)([.,]?)([0-9]*)$/.exec(number);
  if (!parts) throw new Refused("marks", { number });
  const [, whole, mark, decimals] = parts;
  if (mark && !decimals) throw new Refused("open_mark", { number });
  if (decimals.length === 3 && /^[1-9][0-9]{0,2}$/.test(whole))
    throw new Refused("ambiguous", { number, decimal: withMark(`${whole}.${decimals}`), thousands: whole + decimals });
  if (decimals.length > MOST_DECIMALS)
    throw new Refused("decimals", { number, count: decimals.length, most: MOST_DECIMALS });
  return fraction(BigInt(whole + decimals), 10n ** BigInt(decimals.length));
}

/** A number, a fraction, or a whole number and a fraction, from `at` on; null if neither begins there. */
function partAt(tokens, at) {
  if (beginsFraction(tokens, at)) return fractionAt(tokens, at);
  if (tokens[at]?.kind !== "number") return null;
  const number = tokens[at].text;
  const value = decimal(number);
  let follows = at + 1;
  // 15-1/2 and 15 - 1/2 join; in 15 -1/2 the dash looks like a sign.
  if (tokens[follows]?.kind === "dash" && tokens[follows].spaced === tokens[follows + 1]?.spaced) follows += 1;
  if (!beginsFraction(tokens, follows)) return { value, number, after: at + 1 };
  const part = fractionAt(tokens, follows);
  if (!isWhole(number)) throw new Refused("decimal_fraction", { number, fraction: part.number });
  return { value: plus(value, part.value), number: `${number} ${part.number}`, after: part.after };
}

/** Feet, and the inches after them if there are any, as inches. */
function feetOf(tokens, feet) {
  const after = feet.after + 1;
  const inches = partAt(tokens, after);
  const whole = times(feet.value, FOOT);
  if (!inches) return { value: whole, unit: "in", number: `${feet.number} ft`, after };
  if (!isWhole(feet.number)) throw new Refused("feet_whole", { number: feet.number });
  const unit = unitAt(tokens, inches.after);
  if (unit === null) throw new Refused("feet_mark", { number: inches.number });
  if (unit !== "in") throw new Refused("units", { first: "ft", second: unit });
  if (compared(inches.value, FOOT) >= 0) throw new Refused("feet_inches", { number: inches.number });
  const number = `${feet.number} ft ${inches.number}`;
  return { value: plus(whole, inches.value), unit: "in", number, after: inches.after + 1 };
}

function refuseRest(tokens, at, characters) {
  const token = tokens[at];
  const rest = trimmed(characters.slice(token.at));
  if (token.kind === "number" || token.kind === "vulgar") throw new Refused("second_number", { rest });
  if (token.kind === "sign" || token.kind === "dash") throw new Refused("sign", { rest: token.text });
  if (token.kind === "word" && token.text === "e" && !token.spaced) throw new Refused("exponent", { rest });
  throw new Refused("left_over", { rest });
}

/** The one length that the pieces spell: {value, unit or null, number}. */
export function amountOf(tokens, characters) {
  const part = partAt(tokens, 0);
  if (!part) {
    const signed = tokens[0].kind === "sign" || tokens[0].kind === "dash";
    throw signed ? new Refused("sign", { rest: tokens[0].text }) : new Refused("no_number");
  }
  const unit = unitAt(tokens, part.after);
  const found = unit === "ft" ? feetOf(tokens, part) : { ...part, unit, after: part.after + (unit ? 1 : 0) };
  let at = found.after;
  for (let again = unitAt(tokens, at); found.unit && again; again = unitAt(tokens, at)) {
    if (again !== found.unit) throw new Refused("units", { first: found.unit, second: again });
    at += 1;
  }
  if (at < tokens.length) refuseRest(tokens, at, characters);
  return found;
}
