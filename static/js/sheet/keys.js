/* What a press of our own keypad makes of the text typed so far. Pure: text in, text out. */

const TRAILING_FRACTION = /\s*\d+\/\d+\s*$/;
const TRAILING_UNIT = /\s*(mm|cm|in)\s*$/;
const WHOLE_AND_FRACTION = /^\s*(?:(\d+)\s+)?(\d+)\/(\d+)\s*$/;
const WHOLE = /^\s*(\d*)\s*$/;

/* "16" and 1/2 make "16 1/2"; a fraction that is there already gives way. */
export function withFraction(text, fraction) {
  const whole = text.replace(TRAILING_FRACTION, "").replace(/[.,\s]+$/, "");
  const bare = WHOLE_AND_FRACTION.test(text) && !/\s/.test(text.trim()) ? "" : whole;
  return bare ? `${bare} ${fraction}` : fraction;
}

/* A sixteenth of an inch more: "16 1/2" makes "16 9/16", "16 15/16" makes "17". Other texts stay as they are. */
export function plusSixteenth(text) {
  const [, whole = "", numerator = "0", denominator = "1"] = text.match(WHOLE_AND_FRACTION) ?? [
    ...(text.match(WHOLE) ?? []),
    "0",
    "1",
  ];
  const sixteenths = (Number(numerator) * 16) / Number(denominator) + 1;
  if (!Number.isInteger(sixteenths) || !(WHOLE_AND_FRACTION.test(text) || WHOLE.test(text))) return text;
  return inSixteenths(Number(whole) * 16 + sixteenths);
}

function inSixteenths(count) {
  const whole = Math.floor(count / 16);
  let [numerator, denominator] = [count % 16, 16];
  while (numerator && numerator % 2 === 0) [numerator, denominator] = [numerator / 2, denominator / 2];
  return [whole || null, numerator ? `${numerator}/${denominator}` : null].filter(Boolean).join(" ");
}

/* A unit at the end, in place of the one that is there. */
export function withUnit(text, unit) {
  const bare = text.replace(TRAILING_UNIT, "");
  return bare.trim() ? `${bare} ${unit}` : bare;
}

/* Takes back the last press: a whole fraction, a whole unit, else one character. */
export function takenBack(text) {
  if (TRAILING_UNIT.test(text)) return text.replace(TRAILING_UNIT, "");
  if (/\s\d+\/\d+\s*$/.test(text)) return text.replace(TRAILING_FRACTION, "");
  return text.slice(0, -1);
}

/* One more half, in a unit that is counted in tenths. */
export function withHalf(text, mark = ".") {
  return /\d$/.test(text) && !/[.,/]/.test(text) ? `${text}${mark}5` : text;
}

/* A text whose bare number keeps its meaning when the unit of bare numbers changes. */
export function settledIn(text, unit, unitTyped) {
  return text.trim() === "" || unitTyped ? text : `${text.trimEnd()} ${unit}`;
}
