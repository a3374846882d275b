/* The outbox: what waits on this phone until the server has named it as kept. One flusher at a time, under a Web
   Lock; it is woken at the start, by a signal, by the page becoming visible, by a new seal, a timer and a button.
   Doing it twice does no harm: ids and hashes are the same. Only a receipt that names the very hash, length and
   order counts as received; until then the bytes stay. */

import { asked, NoAnswer, pace, Refused, SignedOut } from "./calls.js";
import { signal, tell } from "./outbox_signal.js";
import { sendPhoto } from "./photo_parts.js";
import { sha256Of } from "./seal.js";
import { dropKey, keyOf } from "./send_key.js";
import { keep, read, readAll, readBytes } from "./store.js";

const stumbled = new Set(); // what nothing answered to the last time: others go first, so that it can't hold them up
// The photos that the server lacks of each text that it has, by the text's hash: a bad link is not asked to carry the
// text anew in each round. Gone with the page; only the receipt at the end counts.
const lacking = new Map();
let failures = 0;
let timer = 0;
let queued = null;

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

/* Sends a seal's text. Gives the hashes of the photos that the server lacks; null if it lacks none: the seal is received. */
async function sendText(seal, by) {
  const receipt = await putSeal(seal, by);
  const missing = missingOf(receipt);
  if (missing.length) {
    lacking.set(seal.sha256, missing);
    await keep({ ...seal, done: seal.count - missing.length });
    return missing;
  }
  if (receipt.outcome === "waiting") throw new NoAnswer("a receipt that waits for nothing");
  lacking.delete(seal.sha256);
  await keep({ ...seal, done: seal.count, state: "received", problem: null, receipt });
  return null;
}

/* Sends the photos that the server lacks, then the text again for the receipt that accounts for them all. A photo that
   can't be sent leaves the others their turn; the first such fault is thrown once they had it. */
async function sendPhotos(seal, missing, by) {
  const faults = [];
  const left = new Set(missing);
  for (const sha256 of missing) {
    await keep({ ...seal, done: seal.count - left.size });
    tell("sending");
    try {
      await sendPhoto(sha256, by);
      left.delete(sha256);
      lacking.set(seal.sha256, [...left]);
    } catch (fault) {
      if (!isOfOneThing(fault)) throw fault;
      faults.push(fault);
    }
  }
  if (faults.length) throw faults.find((fault) => fault instanceof NoAnswer) ?? faults[0];
  if (await sendText(seal, by)) throw new NoAnswer("not every photo is there yet");
}

async function putSeal(seal, by) {
  const bytes = await readBytes(seal.sha256);
  if (!bytes || (await sha256Of(bytes)) !== seal.sha256) throw new Refused(0, { lost: true });
  const path = `/api/entries/${seal.order}/seals/${seal.sha256}`;
  const answer = await asked(path, { method: "PUT", body: bytes, headers: { "Content-Type": "application/json" }, by });
  if (!isReceiptFor(seal, answer)) throw new NoAnswer("a receipt for something else");
  return answer;
}

async function sendVisit(visit, by) {
  const { id, reference, initials } = visit;
  const answer = await asked("/api/visits", {
    method: "POST",
    body: JSON.stringify({ id, reference, initials }),
    headers: { "Content-Type": "application/json" },
    by,
  });
  if (answer.id !== id) throw new NoAnswer("an answer about another visit");
  await keep({ ...visit, state: "received", problem: null });
}

/* Whether a fault says something about the one thing that was sent, rather than about the way out. */
function isOfOneThing(fault) {
  return fault instanceof Refused || (fault instanceof NoAnswer && fault.reached);
}

async function waitingAt(beginning, member = null) {
  const all = (await readAll(beginning)).filter((one) => one.state === "waiting" && (!member || one.member === member));
  return all.sort((a, b) => (a.turn ?? 0) - (b.turn ?? 0));
}

/* Of things that don't wait for each other: those that met silence the last time go last. */
function stumbledLast(items) {
  return items.sort((a, b) => stumbled.has(a.key) - stumbled.has(b.key));
}

const SILENCE = Symbol("nothing answered");

/* Tries one thing at a time for one round, and keeps what came of it. What can't be sent is held for this round, so that
   it holds up only its own order; where nothing answers at all twice running, the round ends. Gives what `act` gave,
   null where it can't be sent now, SILENCE where nothing answered. */
class Attempts {
  held = new Set();
  silent = 0;

  async at(item, act) {
    tell("sending");
    try {
      const answer = await act();
      this.silent = 0;
      stumbled.delete(item.key);
      this.held.delete(item.order ?? item.id);
      return answer;
    } catch (fault) {
      if (fault instanceof Refused) return refused(item, fault);
      if (!(fault instanceof NoAnswer)) throw fault;
      this.held.add(item.order ?? item.id);
      if (fault.reached) return null;
      stumbled.add(item.key);
      this.silent += 1;
      if (this.silent > 1) throw fault;
      return SILENCE;
    }
  }
}

/* The first that waits of each order: a correction must not overtake what it corrects. */
function firsts(seals, held) {
  const orders = new Set(held);
  return stumbledLast(seals.filter(({ order }) => !orders.has(order) && orders.add(order)));
}

/* Every text first, in order of age, then photos. A text that met silence is tried once more before any photo, lest
   photos of others keep it waiting. */
async function sendSeals({ member, by }, attempts) {
  for (;;) {
    const next = firsts(await waitingAt("seal/", member), attempts.held);
    if (!next.length) return;
    const missing = new Map();
    const send = async (seal) =>
      missing.set(seal, lacking.get(seal.sha256) ?? (await attempts.at(seal, () => sendText(seal, by))));
    for (const seal of next) await send(seal);
    for (const seal of next) if (missing.get(seal) === SILENCE) await send(seal);
    for (const [seal, photos] of missing)
      if (Array.isArray(photos)) await attempts.at(seal, () => sendPhotos(seal, photos, by));
  }
}

/* Visits made on this phone need the session, since the answer tells about a person; their seals don't wait for it. */
async function sendVisits(signedIn, attempts) {
  if (!(await waitingAt("visit/")).length) return;
  const { member, csrf } = await signedIn();
  const visits = stumbledLast(await waitingAt("visit/", member.id));
  for (const visit of visits) await attempts.at(visit, () => sendVisit(visit, { csrf }));
}

/* Who sends, and what shows it: the key of the member last signed in here, else the session. */
async function senderNow(signedIn) {
  const kept = (await read("phone"))?.phone.member?.id;
  const key = kept && (await keyOf(kept));
  if (key) return { member: kept, by: { key } };
  const { member, csrf } = await signedIn();
  const given = await keyOf(member.id);
  return { member: member.id, by: given ? { key: given } : { csrf } };
}

/* One round over all that waits. Gives whether it went by the key, so that nobody knows how the session stands. */
async function round(signedIn) {
  const attempts = new Attempts();
  let sender = null;
  if ((await waitingAt("seal/")).length) {
    sender = await senderNow(signedIn);
    try {
      await sendSeals(sender, attempts);
    } catch (fault) {
      if (!(fault instanceof SignedOut) || !sender.by.key) throw fault;
      await dropKey(); // it was ended, or is too old; the session may still hold
      await sendSeals(await senderNow(signedIn), attempts);
    }
  }
  const fault = await sendVisits(signedIn, attempts).catch((out) => out);
  if (fault && !(fault instanceof SignedOut)) throw fault;
  if (attempts.held.size) throw new NoAnswer("not everything went through");
  if (fault) throw fault;
  return Boolean(sender?.by.key);
}

async function refused(item, fault) {
  const problem = { status: fault.status, ...fault.problem };
  await keep({ ...item, state: "refused", tries: (item.tries || 0) + 1, problem });
  return null;
}

/* Tries again by itself, later after each failure; not all phones at once. Gives when. */
function later(signedIn) {
  clearTimeout(timer);
  const wait = Math.min(pace.longest_wait_ms, pace.first_wait_ms * 2 ** Math.min(failures, 10)) * (0.5 + Math.random() / 2);
  timer = setTimeout(() => flush(signedIn), wait);
  return new Date(Date.now() + wait);
}

/* All went by the key: who is signed in is asked besides, so that whose session has ended is told at once. */
async function askedAfter(signedIn) {
  await signedIn().catch(() => {});
  if (signal.state === "idle") tell("idle");
}

async function flushed(signedIn) {
  try {
    const wentByKey = await round(signedIn);
    failures = 0;
    tell("idle");
    if (wentByKey) askedAfter(signedIn);
    return true;
  } catch (fault) {
    if (fault instanceof SignedOut) {
      tell("signed_out");
      return false;
    }
    tell("waits", later(signedIn));
    failures += 1;
    if (fault instanceof NoAnswer) return false;
    throw fault;
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

/* Wakes the flusher whenever there may be a way out. */
export function keepFlushing(signedIn) {
  const wake = () => flush(signedIn);
  addEventListener("online", wake);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && wake());
  wake();
}
