/* Drafts: what is being measured, kept on this phone at once. Each change is a transaction of its own, begun and
   committed before the task ends that made it; what a page that goes is still writing, it leaves as its last words. */

import { note, strike } from "../offline/held.js";
import { drop, keep, readAll } from "../offline/store.js";
import { hold, holds, letGo, withHold } from "./hold.js";
import { forget, isLeft, later, leave } from "./last_words.js";

const RETRY_MS = 3_000;
let inHand = null;
let timer = 0;
let underWay = Promise.resolve(); // settles once every write begun so far has ended
let latest = 0; // the highest turn given so far
const unkept = new Map(); // drafts by their key: changed and not written yet, or the writing failed
const writing = new Set(); // drafts whose latest writing has begun and not ended
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
    kept_at: null, // by this phone's clock, which may be wrong: for show only
    turn: null, // counted up with every change of any draft: the highest was changed last
    sealed_content: null,
    changing: true,
  };
}

/* The drafts whose key begins so, of one member; one that could not be kept as it stands here. */
async function standing(beginning, member) {
  const drafts = (await readAll(beginning)).filter((draft) => draft.member === member);
  latest = Math.max(latest, ...drafts.map(({ turn }) => turn ?? 0));
  return drafts.map((draft) => unkept.get(draft.key) ?? later(draft));
}

/* All drafts of one member on this phone. */
export function draftsOf(member) {
  return standing("draft/", member);
}

/* A member's draft of one order, or undefined; somebody else on this phone may have another. */
export async function draftOf(id, member) {
  return (await standing(`draft/${id}`, member))[0];
}

/* The draft in hand: opened once, then shared by every view of it; null where there is none, or no view wants it any
   more. `wants` as in hold.js. */
export async function openDraft(id, member, wants) {
  if (inHand?.id === id && inHand.member === member) return inHand;
  await closeDraft();
  if (!(await hold(id, { ...wants, lost: () => lose(wants.lost) }))) return null;
  inHand = (await draftsOf(member)).find((draft) => draft.id === id) ?? null;
  if (inHand && isLeft(inHand.key)) changed(inHand);
  return inHand;
}

// Another tab has it now and read what is kept here: nothing of this tab's may be written over that.
function lose(told) {
  unkept.delete(inHand?.key);
  inHand = null;
  told();
}

/* Changes a draft wherever it is by now, in hand or only in the store, and keeps it; `change` says whether it did. */
export function alter(id, member, change) {
  return withHold(id, async () => {
    const isInHand = inHand?.id === id && inHand.member === member;
    const draft = isInHand ? inHand : await draftOf(id, member);
    if (!draft || !change(draft)) return;
    draft.changing = true;
    if (!isInHand) return keep(draft);
    changed(draft);
    return keepNow();
  });
}

/* Lets go of the draft in hand, so that the next view reads it anew. */
export async function closeDraft() {
  await keepNow();
  inHand = null;
  letGo();
}

/* Throws the draft in hand away. */
export async function throwAway(draft) {
  unkept.delete(draft.key);
  inHand = null;
  await underWay;
  await drop(draft.key);
  forget(draft.key);
  strike(draft.member, [draft.id]);
  letGo();
}

/* Says that the draft in hand has changed. It is kept once the changes of this very moment are all made. A view that
   outlives its hold changes nothing any more. */
export function changed(draft) {
  if (!holds(draft.id)) return;
  inHand = draft;
  unkept.set(draft.key, draft);
  queueMicrotask(write);
}

/* Begins to write what isn't kept yet. */
function write() {
  clearTimeout(timer);
  const drafts = [...unkept.values()];
  unkept.clear();
  for (const draft of drafts) underWay = Promise.all([underWay, written(draft)]);
}

async function written(draft) {
  draft.kept_at = new Date().toISOString();
  draft.turn = latest += 1;
  const ordinal = (draft.writes = (draft.writes ?? 0) + 1);
  writing.add(draft);
  let fault = null;
  try {
    await keep(draft);
    if (draft.writes === ordinal) forget(draft.key);
    note(draft);
  } catch (refusal) {
    fault = refusal;
    unkept.set(draft.key, draft);
    timer = setTimeout(write, RETRY_MS);
  }
  if (draft.writes === ordinal) writing.delete(draft);
  for (const listener of listeners) listener(fault);
}

/* Keeps what has changed; resolves once every change so far is on the disk, or could not be put there. */
export async function keepNow() {
  write();
  await underWay;
}

/* Keeps the draft in hand anew, after the store was cleared; what was sealed of it is gone, so it is a change again. */
export function keepAnew() {
  if (!inHand) return;
  inHand.changing = true;
  changed(inHand);
}

/* Whether nothing of any draft is in this page alone. */
export function isAllKept() {
  return !unkept.size && !writing.size;
}

/* Sets one answer. A draft that was sent is being changed from then on. Of two shells there is one for each leg: the side
   that the other one has, it gives up for this one's. */
export function answer(draft, field, value) {
  const other = draft.second?.answers;
  if (field.key === "side" && other?.side === value) other.side = draft.answers.side;
  draft.answers[field.key] = value;
  delete draft.skipped[field.key];
  draft.changing = true;
  changed(draft);
}

function leaveTheRest() {
  for (const draft of new Set([...unkept.values(), ...writing])) if (holds(draft.id)) leave(draft);
}

addEventListener("pagehide", leaveTheRest);
document.addEventListener("visibilitychange", () => document.hidden && leaveTheRest());
