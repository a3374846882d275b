/* Whether this phone is ready for a visit with no signal: what must be here, and what to do about what isn't. */

import { installer, newerWaits, pageKept, takeNewer } from "../offline/app.js";
import { strike } from "../offline/held.js";
import { keptKey } from "../offline/send_key.js";
import { askToStay, reserve } from "../offline/store.js";
import { drawn, el } from "./elements.js";
import { line } from "./lines.js";
import { phone } from "./phone_data.js";
import { say, sheet } from "./words.js";

const GIB = 2 ** 30;
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
  if (phone.signed_out) return { is: "no", says: say("ready_nobody"), way: link(say("sign_in"), sheet.sign_in) };
  if (!member) return { is: "no", says: say("needs_signal_first") }; // somebody may be: no answer has said yet
  return { is: "yes", says: say("ready_who", { name: member.name, organisation: organisation.name }) };
}

/* A date: "December 26, 2026". */
function day(date) {
  return new Intl.DateTimeFormat(sheet.language, { dateStyle: "long" }).format(date);
}

/* Whether what is sealed goes when the session has ended; with no signal, as it was told at the last one. */
async function sends() {
  if (!phone.member) return null;
  const key = await keptKey(phone.member.id);
  const isAsked = phone.no_signal_since || phone.signed_out;
  if (!key) return isAsked ? { is: "no", says: say("ready_key_no") } : { is: "soon", says: say("ready_key_soon") };
  const words = key.until ? say("ready_key_until", { until: day(new Date(key.until)) }) : say("ready_key");
  return { is: "yes", says: words };
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

/* How many bytes more may be kept here; null where the browser doesn't say. Chromium since 138 tells a made-up figure, a
   whole number of GiB free (chromestatus.com/feature/4977371751645184), and holds the site to another one. */
async function room() {
  const { quota, usage } = (await navigator.storage?.estimate?.()) ?? {};
  return quota && (quota - usage) % GIB ? Math.max(0, quota - usage) : null;
}

async function space() {
  if (reserve.is !== "yes") return { is: reserve.is, says: say(`ready_reserve_${reserve.is}`) };
  const free = await room();
  if (free === null) return { is: "yes", says: say("ready_reserve_yes") };
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
async function standingOfPhone(changed) {
  const things = [signedIn(), sends(), pageIsHere(), catalogues(), space(), stays(changed), homeScreen()];
  const rank = ({ is }) => ["no", "soon", "note", "yes"].indexOf(is);
  return (await Promise.all(things)).filter(Boolean).sort((a, b) => rank(a) - rank(b));
}

function row({ is, says, way }) {
  const mark = is === "yes" ? line("tick") : MARKS[is] ? drawn(MARKS[is]) : line("phone");
  return el("li", { class: `ready-row ${is}` }, mark, el("p", {}, says, way && [" ", way]));
}

/* The fold on Visits; open while something is missing. `was` is the one it takes the place of. */
function readiness(things, was = null) {
  const missing = things.some(({ is }) => is === "no");
  const words = missing ? "ready_not" : things.some(({ is }) => is === "soon") ? "ready_soon" : "ready_yes";
  const open = was && was.dataset.words === words ? was.open : missing;
  const summary = el("summary", {}, el("h2", {}, say(words)), missing ? drawn(MARKS.no) : line(words === "ready_yes" ? "tick" : "phone"));
  return el("details", { class: "ready given", open, "data-words": words }, summary, el("ul", {}, things.map(row)));
}

/* The fold as things stand now; `changed` is called when that may be otherwise. */
export async function readinessNow(changed, was) {
  return readiness(await standingOfPhone(changed), was);
}

/* That a newer version waits, or nothing. */
export function newerVersion() {
  return newerWaits() && el("p", { class: "notice", role: "status" }, say("newer"), " ", link(say("newer_now"), takeNewer));
}

/* What was here and is no more, since the browser has cleared it: told until it is read. */
export function gone(missing, changed) {
  if (!missing.length) return null;
  const read = () => {
    strike(phone.member.id, missing.map(({ id }) => id));
    changed();
  };
  const isAsked = !phone.signed_out && !phone.no_signal_since;
  const where = (id) =>
    phone.orders.some((order) => order.id === id) ? "gone_server_has" : isAsked ? "gone_whole" : "gone_unknown";
  const one = ({ id, reference, initials }) => el("li", {}, el("strong", {}, reference), ` ${initials}`, el("br"), say(where(id)));
  return el(
    "section",
    { class: "gone notice", "aria-labelledby": "gone" },
    el("h2", { id: "gone" }, say("gone")),
    el("p", {}, say("gone_why")),
    el("ul", {}, missing.map(one)),
    el("button", { type: "button", class: "button", onclick: read }, say("seen")),
  );
}
