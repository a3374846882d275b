// Exact fractions of whole numbers (BigInt), for what was typed. Twin of Python's Fraction.

/** A fraction in lowest terms, n over d, d above zero. */
export function fraction(n, d = 1n) {
  let [a, b] = [n < 0n ? -n : n, d];
  while (b) [a, b] = [b, a % b];
  return a ? { n: n / a, d: d / a } : { n: 0n, d: 1n };
}

export const plus = (a, b) => fraction(a.n * b.d + b.n * a.d, a.d * b.d);
export const times = (a, b) => fraction(a.n * b.n, a.d * b.d);
export const over = (a, b) => (b.n < 0n ? fraction(-a.n * b.d, a.d * -b.n) : fraction(a.n * b.d, a.d * b.n));
export const negated = (a) => ({ n: -a.n, d: a.d });
export const absolute = (a) => (a.n < 0n ? negated(a) : a);

/** Below zero, zero or above zero as a is less than, equal to or more than b. */
export const compared = (a, b) => {
  const difference = a.n * b.d - b.n * a.d;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
};

/** The fraction that a double is, exactly. */
export function ofNumber(number) {
  if (!Number.isFinite(number)) throw new RangeError(`${number} is not a length`);
  let lower = 1n;
  while (!Number.isInteger(number)) {
    number *= 2;
    lower *= 2n;
  }
  return fraction(BigInt(number), lower);
}

/** The nearest whole number of a fraction not below zero, halves up. */
export const rounded = (a) => (2n * a.n + a.d) / (2n * a.d);

const MOST = 2n ** 53n;

/** The double nearest to a fraction, as Python's float() gives it. */
export function toNumber(a) {
  const n = a.n < 0n ? -a.n : a.n;
  const sign = a.n < 0n ? -1 : 1;
  if (n <= MOST && a.d <= MOST) return (sign * Number(n)) / Number(a.d);
  // Far more bits than a double holds, the lowest one set if anything was cut off: Number() rounds the rest right.
  const shift = BigInt(Math.max(0, 70 + a.d.toString(2).length - n.toString(2).length));
  const quotient = (n << shift) / a.d;
  const sticky = (n << shift) % a.d ? 1n : 0n;
  return (sign * Number(quotient | sticky)) / 2 ** Number(shift);
}
