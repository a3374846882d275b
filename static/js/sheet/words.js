/* The page's own words and rules, rendered into it when the site was built. */

import { decimalText, trimmedText } from "../book/follows.js";
import { language, withMark } from "../reading/language.js";

export const sheet = JSON.parse(document.getElementById("sheet").textContent);

Object.assign(language, sheet.strings);

/* A sentence of the page, with `{names}` filled in. */
export function say(key, values = {}) {
  const text = sheet.words[key];
  if (text === undefined) throw new Error(`no words for ${key}`);
  return text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}

const formats = new Map();

/* A formatter of the page's language, made once for each zone of time: making one takes longer than using it. */
function intl(kind, options) {
  const key = kind + sheet.language + new Date().getTimezoneOffset() + JSON.stringify(options);
  if (!formats.has(key)) formats.set(key, new Intl[kind](sheet.language, options));
  return formats.get(key);
}

const twoDigits = (number) => String(number).padStart(2, "0");

/* A time of day by 24 hours, as all of the page's languages write it. By hand: a browser's first formatter takes as long
   to make as a whole view, and this stands on every one. */
export function timeOfDay(date) {
  return `${twoDigits(date.getHours())}:${twoDigits(date.getMinutes())}`;
}

/* A day and time in words: "today 15:30", "tomorrow 09:00", else the date. */
export function dayAndTime(date, now = new Date()) {
  const midnight = (day) => new Date(day.getFullYear(), day.getMonth(), day.getDate()).getTime();
  const days = Math.round((midnight(date) - midnight(now)) / 86_400_000);
  const day =
    Math.abs(days) <= 1
      ? intl("RelativeTimeFormat", { numeric: "auto" }).format(days, "day")
      : intl("DateTimeFormat", { day: "numeric", month: "short" }).format(date);
  return `${day} ${timeOfDay(date)}`;
}

/* How long ago, in words: "2 days ago", "5 hours ago", "now". */
export function ago(date, now = new Date()) {
  const minutes = (date.getTime() - now.getTime()) / 60_000;
  const [value, unit] =
    minutes > -1 ? [0, "second"] : minutes > -60 ? [minutes, "minute"] : minutes > -1440 ? [minutes / 60, "hour"] : [minutes / 1440, "day"];
  return intl("RelativeTimeFormat", { numeric: "auto" }).format(Math.round(value), unit);
}

/* Millimetres as printed: whole, or with so many decimals. */
export function inMm(mm, decimals = 0) {
  return withMark(decimalText(mm, decimals));
}

/* The same, with a tenth where there is one. */
export function inTenths(mm) {
  return withMark(trimmedText(mm, 1));
}
