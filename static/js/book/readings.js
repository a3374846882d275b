// The entry's fields as quantities; what can't be read becomes a flag. Twin: orders/rulebook/readings.py.

import { withMark } from "../reading/language.js";
import { combine, digitsSwapped, mmOf, understand } from "../reading/typed.js";
import { trimmedText } from "./follows.js";
import { told } from "./strings.js";

const LONGEST_MM = 3000;
const PLAIN_NUMBER = /^[ \t]*([-+−]?)([0-9]{1,4})(?:[.,]([0-9]{1,4}))?[ \t]*°?[ \t]*$/;
const MINUS = /^[ \t]*[-−]/;
const MEASURED = ["reading", "signed", "number"];

/** The value at a dotted path; undefined where the path ends early. */
export const atPath = (value, path) => path.split(".").reduce((part, key) => part?.[key], value) ?? undefined;

/** The flag that says whether a measurement was given at all: gap_entered_mm, gap_entered_given. */
const givenName = (name) => `${name.slice(0, name.lastIndexOf("_"))}_given`;

function numberOf(text) {
  const match = text.match(PLAIN_NUMBER);
  if (!match) return null;
  const number = Number(`${match[2]}.${match[3] ?? 0}`);
  return match[1] && match[1] !== "+" ? -number : number;
}

const withUnit = ({ number, unit }) => (number.endsWith("ft") ? number : `${number}\u00a0${unit}`);

const listed = (parts) =>
  parts.length > 1 ? told("and", { first: parts.slice(0, -1).join(", "), last: parts.at(-1) }) : parts[0];

/** Every quantity that an entry, whole or partial, gives: {known, flags, extra_girths, service_points}. */
export function readGivens(entry, givens, byReading) {
  const known = {};
  const flags = [];
  const units = entry.units ?? "mm";

  const flag = (id, path, at, says, offer) => {
    const fields = [/\.\d+/.test(path) ? path.split(".")[0] : path];
    const { level, do: what } = byReading[id];
    flags.push({ id, level, fields, at, says, do: what, offer: offer ? { field: path, value: offer } : null });
  };
  const understood = (text, path, at, quantity) => {
    const read = understand(text, units, quantity);
    if (read.outcome === "value" && read.mm <= LONGEST_MM) return read;
    if (read.outcome === "ask") flag("reading.wrong_unit", path, at, read.says, read.offers[0]);
    else flag("reading.unreadable", path, at, read.outcome === "refuse" ? read.says : `${read.says}. ${told("too_long")}`);
    return undefined;
  };
  const aboveNought = (read, path, at) => {
    if (read && !(read.mm > 0)) flag("reading.unreadable", path, at, `${read.says}. ${told("not_nought")}`);
    return read?.mm > 0 ? read.mm : undefined;
  };
  const lengthOf = (text, { field, at, quantity = "other", read, above_nought }) => {
    const minus = read === "signed" && MINUS.test(text);
    const found = understood(minus ? text.replace(MINUS, "") : text, field, at, quantity);
    if (above_nought) return aboveNought(found, field, at);
    return minus && found ? -found.mm : found?.mm;
  };
  const plainNumber = (value, { field, at, least, most }) => {
    const number = typeof value === "string" ? numberOf(value) : value;
    if (number !== null && least <= number && number <= most) return number;
    const shown = typeof value === "string" ? [...value].slice(0, 24).join("") : trimmedText(number, 4);
    const [from, to] = [least, most].map((end) => withMark(trimmedText(end, 1)));
    flag("reading.unreadable", field, at, told("not_within", { shown, least: from, most: to }));
    return undefined;
  };
  const take = (name, given) => {
    const value = atPath(entry, given.field);
    const there = value !== undefined;
    if (given.read === "presence") known[name] = there;
    if (MEASURED.includes(given.read)) known[givenName(name)] = there;
    if (given.read === "presence") return;
    let taken = there ? value : given.default;
    if (there && given.read === "number") taken = plainNumber(value, given);
    else if (there && MEASURED.includes(given.read)) taken = lengthOf(value, given);
    if (taken !== undefined) known[name] = taken;
  };
  const takeRepeats = (name) => {
    const readings = (entry[name] ?? []).map((text, n) => understood(text, `${name}.${n}`, name, name)).filter(Boolean);
    if (!readings.length) return;
    const exact = readings.map((reading) => reading.exact);
    const [a, b] = readings;
    known[`${name}_read_mm`] = mmOf(combine(exact));
    known[`${name}_count`] = readings.length;
    known[`${name}_spread_mm`] = spread(exact);
    known[`${name}_swapped`] = readings.length === 2 && digitsSwapped(a, b);
    known[`${name}_typed`] = listed(readings.map(withUnit));
  };
  const item = (group, path, key, at = "girth", quantity = "other") => {
    const text = group[key] ?? undefined;
    const found = text === undefined ? undefined : understood(text, `${path}.${key}`, at, quantity);
    return key === "girth" ? aboveNought(found, `${path}.${key}`, at) : found?.mm;
  };
  const takeExtraGirths = () => {
    const pairs = (entry.extra_girths ?? []).map((extra, n) =>
      ["above_floor", "girth"].map((key) => item(extra, `extra_girths.${n}`, key)),
    );
    const extras = pairs.filter(([place, girth]) => place !== undefined && girth !== undefined);
    const girths = extras.map(([, girth]) => girth);
    if (girths.length) {
      known.extra_girth_least_mm = Math.min(...girths);
      known.extra_girth_most_mm = Math.max(...girths);
    }
    return extras;
  };

  for (const [name, given] of Object.entries(givens)) take(name, given);
  takeRepeats("length");
  takeRepeats("girth");
  const extra_girths = takeExtraGirths();
  const service_points = (entry.service_points ?? []).map((point, n) => ({
    ...point,
    below_apex_mm: item(point, `service_points.${n}`, "below_apex", "service", "below_apex"),
  }));
  return { known, flags, extra_girths, service_points };
}

/** How far the readings lie apart, exactly. [mm] */
function spread(exact) {
  let [most, least] = [exact[0], exact[0]];
  for (const one of exact) {
    if (BigInt(one.n) * BigInt(most.d) > BigInt(most.n) * BigInt(one.d)) most = one;
    if (BigInt(one.n) * BigInt(least.d) < BigInt(least.n) * BigInt(one.d)) least = one;
  }
  const d = BigInt(most.d) * BigInt(least.d);
  return mmOf({ n: BigInt(most.n) * BigInt(least.d) - BigInt(least.n) * BigInt(most.d), d });
}
