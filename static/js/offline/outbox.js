/* The outbox: what waits on this phone until the server has named it as kept. One flusher at a time, under a Web
   Lock; it is woken at the start, by a signal, by the page becoming visible, by a new seal, a timer and a button.
   Doing it twice does no harm: ids and hashes are the same. Only a receipt that names the very hash, length and
   order counts as received; until then the bytes stay. */

import { asked, NoAnswer, Refused, SignedOut } from "./calls.js";
import { sendPhoto } from "./photo_parts.js";
import { sha256Of } from "./seal.js";
import { keep, readAll, readBytes } from "./store.js";

const FIRST_WAIT_MS = 5_000;
const LONGEST_WAIT_MS = 5 * 60_000;
const listeners = new Set();
let failures = 0;
let timer = 0;
let queued = null;

/* What the last round met: "idle", "sending", "waits" (no answer) or "signed_out"; `since` when it began, for show. */
export const signal = { state: "idle", since: null };

/* Calls back after every change of what waits; gives the function that ends it. */
export function onOutbox(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function tell(state) {
  if (state && state !== signal.state) Object.assign(signal, { state, since: new Date() });
  for (const listener of listeners) listener();
}

/* Whether an answer is the receipt for this very seal. */
export function isReceiptFor(seal, answer) {
  return (
    answer?.schema === "shankline-receipt-1" &&
    answer.id === seal.order &&
    answer.sha256 === seal.sha256 &&
    answer.bytes === seal.bytes
  );
}

/* The text first, then each photo that the server lacks, then the text again for the receipt that names them all. */
async function sendSeal(seal, csrf) {
  const first = await putSeal(seal, csrf);
  if (first.outcome !== "waiting") return received(seal, first);
  const missing = first.photos.filter(({ state }) => state === "missing");
  await keep({ ...seal, done: seal.count - missing.length });
  for (const [number, { sha256 }] of missing.entries()) {
    tell("sending");
    await sendPhoto(sha256, csrf);
    await keep({ ...seal, done: seal.count - missing.length + number + 1 });
  }
  const last = await putSeal(seal, csrf);
  if (last.outcome === "waiting") throw new NoAnswer("not every photo is there yet");
  return received(seal, last);
}

function received(seal, receipt) {
  return keep({ ...seal, done: seal.count, state: "received", problem: null, receipt });
}

async function putSeal(seal, csrf) {
  const bytes = await readBytes(seal.sha256);
  if (!bytes || (await sha256Of(bytes)) !== seal.sha256) throw new Refused(0, { lost: true });
  const answer = await asked(`/api/entries/${seal.order}/seals/${seal.sha256}`, {
    method: "PUT",
    body: bytes,
    headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
  });
  if (!isReceiptFor(seal, answer)) throw new NoAnswer("a receipt for something else");
  return answer;
}

async function sendVisit(visit, csrf) {
  const { id, reference, initials } = visit;
  const answer = await asked("/api/visits", {
    method: "POST",
    body: JSON.stringify({ id, reference, initials }),
    headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
  });
  if (answer.id !== id) throw new NoAnswer("an answer about another visit");
  await keep({ ...visit, state: "received", problem: null });
}

/* One thing is sent. A refusal is kept with it and blocks nothing else. */
async function sendOne(item, csrf) {
  try {
    await (item.key.startsWith("seal/") ? sendSeal : sendVisit)(item, csrf);
  } catch (fault) {
    if (!(fault instanceof Refused)) throw fault;
    await keep({
      ...item,
      state: "refused",
      tries: (item.tries || 0) + 1,
      problem: { status: fault.status, ...fault.problem },
    });
  }
}

/* What waits on this phone, whoever's it is: visits, then seals in the order in which each order's were made. */
async function allWaiting() {
  const [visits, seals] = await Promise.all([readAll("visit/"), readAll("seal/")]);
  return [...visits, ...seals].filter(({ state }) => state === "waiting");
}

/* One round over all that waits. Where nothing answers at all, the round ends; an odd answer about one thing only
   holds up what belongs to the same order, since a correction must not overtake what it corrects. */
async function round(signedIn) {
  const waiting = await allWaiting();
  if (!waiting.length) return;
  const phone = await signedIn();
  const held = new Set();
  for (const item of waiting) {
    if (item.member !== phone.member.id || held.has(item.order)) continue;
    tell("sending");
    try {
      await sendOne(item, phone.csrf);
    } catch (fault) {
      if (!(fault instanceof NoAnswer) || !fault.reached) throw fault;
      held.add(item.order ?? item.id);
    }
  }
  if (held.size) throw new NoAnswer("not everything went through");
}

function later(signedIn) {
  clearTimeout(timer);
  const wait = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(failures, 10));
  timer = setTimeout(() => flush(signedIn), wait * (0.5 + Math.random() / 2));
}

async function flushed(signedIn) {
  try {
    await round(signedIn);
    failures = 0;
    tell("idle");
    return true;
  } catch (fault) {
    if (fault instanceof SignedOut) {
      tell("signed_out");
      return false;
    }
    if (!(fault instanceof NoAnswer)) throw fault;
    failures += 1;
    tell("waits");
    later(signedIn);
    return false;
  }
}

/* Sends all that waits. `signedIn` asks the server who is signed in and gives {member, csrf}; what belongs to
   somebody else stays. A call while a round is under way makes one more round after it. Gives whether all went. */
export function flush(signedIn) {
  queued ??= navigator.locks.request("outbox", () => {
    queued = null;
    return flushed(signedIn);
  });
  return queued;
}

/* Makes what was refused wait again, for the button beside it. */
export async function tryAgain(item) {
  await keep({ ...item, state: "waiting" });
}

/* Wakes the flusher whenever there may be a way out. */
export function keepFlushing(signedIn) {
  const wake = () => flush(signedIn);
  addEventListener("online", wake);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && wake());
  wake();
}
