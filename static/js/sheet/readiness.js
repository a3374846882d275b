/* Whether this phone is ready for a visit with no signal: what must be here, and what to do about what isn't. */

import { installer, newerWaits, pageKept, takeNewer } from "../offline/app.js";
import { askToStay } from "../offline/store.js";
import { drawn, el, line } from "./elements.js";
import { phone } from "./phone_data.js";
import { say, sheet } from "./words.js";

const LEAST_FREE_BYTES = 50_000_000; // a visit's photos, should none of them be made smaller
const MARKS = {
  no: '<svg class="ready-mark no" viewBox="0 0 34 34" aria-hidden="true"><path d="M17 2 32 17 17 32 2 17z"/><path d="M17 10v9m0 4v1"/></svg>',
  note: '<svg class="ready-mark" viewBox="0 0 34 34" aria-hidden="true"><circle cx="17" cy="17" r="12"/></svg>',
};

function link(words, act) {
  return typeof act === "string"
    ? el("a", { class: "link", href: act }, words)
    : el("button", { type: "button", class: "link", onclick: act }, words);
}

function signedIn() {
  const { member, organisation } = phone;
  if (!member || phone.signed_out)
    return { is: "no", says: say("ready_nobody"), way: link(say("sign_in"), sheet.sign_in) };
  return { is: "yes", says: say("ready_who", { name: member.name, organisation: organisation.name }) };
}

async function pageIsHere() {
  const is = await pageKept(sheet.build);
  return { is, says: say(`ready_sheet_${is}`) };
}

function catalogues() {
  const count = phone.workshops.length;
  return phone.book && count
    ? { is: "yes", says: say("ready_catalogues", { names: phone.workshops.map(({ name }) => name).join(", ") }) }
    : { is: "no", says: say("ready_no_catalogues") };
}

function inMegabytes(bytes) {
  const [value, unit] = bytes < 1e9 ? [bytes / 1e6, "megabyte"] : [bytes / 1e9, "gigabyte"];
  return new Intl.NumberFormat(sheet.language, { style: "unit", unit, maximumFractionDigits: 0 }).format(Math.floor(value));
}

async function space() {
  const { quota, usage } = (await navigator.storage?.estimate?.()) ?? {};
  if (!quota) return null;
  const free = quota - usage;
  const is = free >= LEAST_FREE_BYTES ? "yes" : "no";
  return { is, says: say(`ready_space_${is}`, { free: inMegabytes(free), least: inMegabytes(LEAST_FREE_BYTES) }) };
}

// Only Safari on a phone or tablet says whether it runs from the home screen.
const IN_SAFARI = navigator.standalone === false;

async function stays(changed) {
  if (IN_SAFARI) return { is: "no", says: say("ready_safari") };
  if (await navigator.storage?.persisted?.()) return { is: "yes", says: say("ready_stays") };
  const ask = () => askToStay().then(changed);
  return { is: "note", says: say("ready_may_go"), way: link(say("ask_again"), ask) };
}

function homeScreen() {
  const install = installer();
  return install && { is: "note", says: say("ready_install"), way: link(say("put_there"), install) };
}

/* What makes this phone ready, what is missing first: {is: "yes", "soon", "note" or "no", says, way: what can be done about it}. */
export async function standingOfPhone(changed) {
  const things = [signedIn(), pageIsHere(), catalogues(), space(), stays(changed), homeScreen()];
  const rank = ({ is }) => ["no", "soon", "note", "yes"].indexOf(is);
  return (await Promise.all(things)).filter(Boolean).sort((a, b) => rank(a) - rank(b));
}

function row({ is, says, way }) {
  const mark = is === "yes" ? line("tick") : MARKS[is] ? drawn(MARKS[is]) : line("phone");
  return el("li", { class: `ready-row ${is}` }, mark, el("p", {}, says, way && [" ", way]));
}

/* The fold on Visits; open while something is missing. `was` is the one it takes the place of. */
export function readiness(things, was = null) {
  const missing = things.some(({ is }) => is === "no");
  const words = missing ? "ready_not" : things.some(({ is }) => is === "soon") ? "ready_soon" : "ready_yes";
  const open = was && was.dataset.words === words ? was.open : missing;
  const summary = el("summary", {}, el("h2", {}, say(words)), missing ? drawn(MARKS.no) : line(words === "ready_yes" ? "tick" : "phone"));
  return el("details", { class: "ready given", open, "data-words": words }, summary, el("ul", {}, things.map(row)));
}

/* That a newer version waits, or nothing. */
export function newerVersion() {
  return newerWaits() && el("p", { class: "notice", role: "status" }, say("newer"), " ", link(say("newer_now"), takeNewer));
}
