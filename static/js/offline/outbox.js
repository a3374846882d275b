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

/* Whether an answer is the receipt for this very seal, its photos included. */
export function isReceiptFor(seal, answer) {
  const told = new Set((answer?.photos ?? []).map(({ sha256 }) => sha256));
  return (
    answer?.schema === "shankline-receipt-1" &&
    answer.id === seal.order &&
    answer.sha256 === seal.sha256 &&
    answer.bytes === seal.bytes &&
    (seal.photos ?? []).every(({ sha256 }) => told.has(sha256))
  );
}

function missingOf(receipt) {
  return receipt.photos.filter(({ state }) => state === "missing").map(({ sha256 }) => sha256);
}

/* Sends a seal's text. Gives the hashes of the photos that the server lacks; without any, the seal is received. */
async function sendText(seal, csrf) {
  const receipt = await putSeal(seal, csrf);
  const missing = missingOf(receipt);
  if (missing.length) await keep({ ...seal, done: seal.count - missing.length });
  else if (receipt.outcome === "waiting") throw new NoAnswer("a receipt that waits for nothing");
  else await received(seal, receipt);
  return missing;
}

/* Sends the photos that the server lacks, then the text again for the receipt that accounts for them all. A photo that
   can't be sent leaves the others their turn; the first such fault is thrown once they had it. */
async function sendPhotos(seal, missing, csrf) {
  const faults = [];
  for (const sha256 of missing) {
    const done = seal.count - missing.length + missing.indexOf(sha256) - faults.length;
    await keep({ ...seal, done });
    tell("sending");
    try {
      await sendPhoto(sha256, csrf);
    } catch (fault) {
      if (!isOfOneThing(fault)) throw fault;
      faults.push(fault);
    }
  }
  if (faults.length) throw faults.find((fault) => fault instanceof NoAnswer) ?? faults[0];
  const receipt = await putSeal(seal, csrf);
  if (missingOf(receipt).length) throw new NoAnswer("not every photo is there yet");
  await received(seal, receipt);
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
  return [];
}

/* Whether a fault says something about the one thing that was sent, rather than about the way out. */
function isOfOneThing(fault) {
  return fault instanceof Refused || (fault instanceof NoAnswer && fault.reached);
}

/* What waits on this phone, whoever's it is: visits, then seals in the order in which each order's were made. */
async function allWaiting() {
  const [visits, seals] = await Promise.all([readAll("visit/"), readAll("seal/")]);
  return [...visits, ...seals].filter(({ state }) => state === "waiting");
}

/* The first that waits of each order: a correction must not overtake what it corrects. */
function firsts(items) {
  const orders = new Set();
  return items.filter(({ order, id }) => !orders.has(order ?? id) && orders.add(order ?? id));
}

/* One round over all that waits: every text first, then photos. Where nothing answers at all, the round ends. A
   refusal is kept with the thing refused; an odd answer holds up only what belongs to the same order. */
async function round(signedIn) {
  if (!(await allWaiting()).length) return;
  const { member, csrf } = await signedIn();
  const held = new Set();
  const attempted = async (item, act) => {
    tell("sending");
    try {
      return await act();
    } catch (fault) {
      if (!isOfOneThing(fault)) throw fault;
      if (fault instanceof Refused) await refused(item, fault);
      else held.add(item.order ?? item.id);
      return [];
    }
  };
  for (;;) {
    const waiting = (await allWaiting()).filter((item) => item.member === member.id);
    const next = firsts(waiting).filter(({ order, id }) => !held.has(order ?? id));
    if (!next.length) break;
    const lacking = [];
    for (const item of next) lacking.push(await attempted(item, () => sendOne(item, csrf)));
    for (const [at, missing] of lacking.entries())
      if (missing.length) await attempted(next[at], () => sendPhotos(next[at], missing, csrf));
  }
  if (held.size) throw new NoAnswer("not everything went through");
}

/* Sends a visit, or a seal's text; gives the hashes of the photos that are still to be sent. */
function sendOne(item, csrf) {
  return item.key.startsWith("seal/") ? sendText(item, csrf) : sendVisit(item, csrf);
}

function refused(item, fault) {
  const problem = { status: fault.status, ...fault.problem };
  return keep({ ...item, state: "refused", tries: (item.tries || 0) + 1, problem });
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
