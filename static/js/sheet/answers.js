/* What the answers so far ask for: which fields are open, which are asked, what stands, and the entry they make. */

import { evaluate } from "../book/evaluate.js";
import { sheet } from "./words.js";

const FIRST_OPTION = "@first";
const ADVISED = "@advised";

function given(value) {
  return (
    value !== undefined &&
    value !== null &&
    value !== "" &&
    !(Array.isArray(value) && value.every((text) => text === ""))
  );
}

/* Whether the measurer answered this field. */
export function isAnswered(draft, field) {
  return given(draft.answers[field.key]);
}

function taken_up(draft, field, short) {
  return short || Boolean(draft.taken_up[field.key]) || isAnswered(draft, field);
}

function isAsked(draft, field, known, short) {
  if (field.offered) return taken_up(draft, field, short);
  return Boolean(evaluate(field.asked, known)) || Boolean(field.asked_by && draft.raised?.includes(field.asked_by));
}

/* Notes which checks speak, since some fields are asked by them. Gives whether they are others than before. */
export function noteRaised(draft, flags) {
  const before = String(draft.raised ?? "");
  draft.raised = flags.map(({ id }) => id).filter((id) => sheet.fields.some(({ asked_by }) => asked_by === id));
  return String(draft.raised) !== before;
}

let latest = { about: "", standings: [] };

/* Every open field of the sheet with its standing: {field, asked, answered, value, done}. A value is the answer, or
   what the field starts at while it isn't asked; undefined while nothing is known. `short` also asks what is offered
   beside a reading. Of a draft that is as it was they are the same ones: a view asks again and again. */
export function standingsOf(draft, { short = false } = {}) {
  const { answers, skipped, taken_up: taken, raised } = draft;
  const about = JSON.stringify([answers, skipped, taken, raised, short]);
  if (latest.about !== about) latest = { about, standings: standingsAnew(draft, short) };
  return latest.standings;
}

function standingsAnew(draft, short) {
  const known = {};
  const standings = [];
  for (const field of sheet.fields) {
    const name = field.key.replaceAll(".", "_");
    known[name] = "";
    if (!evaluate(field.open, known)) continue;
    const asked = isAsked(draft, field, known, short);
    const answered = isAnswered(draft, field);
    const value = answered ? draft.answers[field.key] : asked ? undefined : field.starts_at;
    known[name] = value === undefined || typeof value === "object" ? "" : String(value);
    const done = answered || !field.required || Boolean(draft.skipped[field.key]);
    standings.push({ field, asked, answered, value, done: field.required ? answered : done });
  }
  return standings;
}

/* The fields that are asked, in order. */
export function askedOf(standings) {
  return standings.filter((standing) => standing.asked);
}

/* The first asked field that still wants an answer, or undefined. */
export function firstOpen(draft) {
  const waits = ({ field, asked, answered }) => asked && !answered && !field.offered && !draft.skipped[field.key];
  return standingsOf(draft).find(waits)?.field;
}

/* The workshop's catalogue that the draft's answer names, or undefined. */
export function workshopOf(draft, phone) {
  return phone.workshops.find((workshop) => workshop.id === draft.answers.workshop);
}

function first(options) {
  return options?.[0]?.key ?? null;
}

function asNumber(text) {
  const number = Number(String(text).trim().replace(",", "."));
  return Number.isFinite(number) ? number : null;
}

/* What must stay reachable, as the entry holds it; a row without a name isn't one yet. */
function pointsOf(rows) {
  const named = rows.filter(({ what }) => what.trim());
  return named.map(({ what, side, below_apex, stays_open }) => ({
    what: what.trim(),
    side,
    below_apex: below_apex?.trim() || null,
    stays_open: Boolean(stays_open),
  }));
}

/* Rows of lengths as the entry holds them: named rows as an object; others as a list, empty ones left out. */
function rowsOf({ columns, rows }, value) {
  const kept = (row) => Object.fromEntries(columns.map(({ key }) => [key, row?.[key]?.trim() || null]));
  if (rows) return Object.fromEntries(rows.map(({ key }) => [key, kept(value[key])]));
  return value.map(kept).filter((row) => Object.values(row).some(Boolean));
}

/* One field's value as the entry holds it. */
export function entryValue({ field, value }, catalogue) {
  if (value === ADVISED) return null;
  if (value === FIRST_OPTION) return first(catalogue?.[field.options]);
  if (field.kind === "readings") return (value ?? []).filter((text) => text.trim() !== "");
  if (value === undefined) return null;
  if (field.kind === "yes_no") return value === true || value === "yes";
  if (field.kind === "points") return value === "nothing" ? [] : pointsOf(value);
  if (field.kind === "rows") return rowsOf(field, value);
  if (field.kind === "number") return asNumber(value);
  return value;
}

function put(entry, key, value) {
  const steps = key.split(".");
  const last = steps.pop();
  let place = entry;
  for (const step of steps) place = place[step] ??= {};
  place[last] = value;
}

const OWN = new Set(["schema", "reference", "units", "answers"]);

/* Takes over what an earlier entry holds and this sheet has no field for. */
function putUnasked(entry, base, before = "") {
  const fields = new Set(sheet.fields.map(({ key }) => key));
  for (const [key, value] of Object.entries(base)) {
    const path = `${before}${key}`;
    if (value === null || OWN.has(path) || fields.has(path)) continue;
    if (typeof value === "object" && !Array.isArray(value)) putUnasked(entry, value, `${path}.`);
    else put(entry, path, value);
  }
}

/* The entry, as far as it is known; what isn't known is null. Reasons given for other figures are left out. */
export function entryOf(draft, phone, answers = {}) {
  const catalogue = workshopOf(draft, phone)?.catalogue;
  const entry = { schema: "shankline-entry-1", reference: draft.visit.reference, units: draft.units };
  for (const standing of standingsOf(draft)) {
    if (standing.field.home === "entry") put(entry, standing.field.key, entryValue(standing, catalogue));
  }
  if (draft.base) putUnasked(entry, draft.base);
  if (Object.keys(answers).length) entry.answers = answers;
  return entry;
}
