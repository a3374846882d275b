/* Drafts: what is being measured, kept on this phone 300 ms after a key, at once on leaving a field or the page. */

import { drop, keep, readAll } from "../offline/store.js";

const PAUSE_MS = 300;
let inHand = null;
let timer = 0;
let waiting = false;
const listeners = new Set();

/* Calls back when a draft was kept, or could not be (with the fault). Gives the function that ends it. */
export function onKept(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/* A new draft for a visit; its id is the order's. */
export function newDraft(visit, member, units, id = crypto.randomUUID()) {
  return {
    key: `draft/${id}`,
    id,
    member,
    visit,
    units,
    answers: {},
    skipped: {},
    taken_up: {},
    reasons: {},
    at: null,
    kept_at: null,
    sealed_content: null,
    changing: true,
  };
}

/* All drafts of one member on this phone. */
export async function draftsOf(member) {
  return (await readAll("draft/")).filter((draft) => draft.member === member);
}

/* A member's draft of one order as it is kept, or undefined; somebody else on this phone may have another. */
export async function draftOf(id, member) {
  return (await readAll(`draft/${id}`)).find((draft) => draft.member === member);
}

/* The draft in hand: opened once, then shared by every view of it. */
export async function openDraft(id, member) {
  if (inHand?.id !== id || inHand.member !== member) {
    await keepNow();
    inHand = (await draftOf(id, member)) ?? null;
  }
  return inHand;
}

/* Changes a draft wherever it is by now, in hand or only in the store, and keeps it; `change` says whether it did. */
export async function alter(id, member, change) {
  const isInHand = inHand?.id === id && inHand.member === member;
  const draft = isInHand ? inHand : await draftOf(id, member);
  if (!draft || !change(draft)) return;
  draft.changing = true;
  if (!isInHand) return keep(draft);
  changed(draft);
  return keepNow();
}

/* Lets go of the draft in hand, so that the next view reads it anew. */
export async function closeDraft() {
  await keepNow();
  inHand = null;
}

/* Throws the draft in hand away. */
export async function throwAway(draft) {
  clearTimeout(timer);
  waiting = false;
  inHand = null;
  await drop(draft.key);
}

/* Says that the draft in hand has changed; it is kept shortly. */
export function changed(draft) {
  inHand = draft;
  waiting = true;
  clearTimeout(timer);
  timer = setTimeout(keepNow, PAUSE_MS);
}

/* Keeps the draft in hand now, if it has changed. */
export async function keepNow() {
  clearTimeout(timer);
  if (!waiting || !inHand) return;
  waiting = false;
  inHand.kept_at = new Date().toISOString();
  try {
    await keep(structuredClone(inHand));
    for (const listener of listeners) listener(null);
  } catch (fault) {
    waiting = true;
    timer = setTimeout(keepNow, 10 * PAUSE_MS);
    for (const listener of listeners) listener(fault);
  }
}

/* Keeps what is typed before the page may be gone. */
export function keepOnLeaving() {
  addEventListener("pagehide", keepNow);
  addEventListener("blur", keepNow);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && keepNow());
  document.addEventListener("focusout", keepNow);
}

/* Sets one answer. A draft that was sent is being changed from then on. */
export function answer(draft, field, value) {
  draft.answers[field.key] = value;
  delete draft.skipped[field.key];
  draft.changing = true;
  changed(draft);
}
