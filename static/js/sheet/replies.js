/* The workshop's questions: which wait, what each is about, and where it is answered. */

import { readAll } from "../offline/store.js";
import { standingsOf } from "./answers.js";
import { phone } from "./phone_data.js";
import { say, sheet } from "./words.js";

export const ABOUT_A_PHOTO = "photo:";
let onTheirWay = new Set();

/* Whether the server took what a seal says, or may still take it. One that was refused, or kept without becoming a
   revision, leaves its questions open. */
function stands({ state, receipt }) {
  return state === "waiting" || (state === "received" && receipt?.outcome !== "kept");
}

/* Learns from the seals on this phone which questions have an answer on its way; to be asked before a view is shown
   and after a seal was made or sent. */
export async function learnReplies() {
  const seals = await readAll("seal/");
  onTheirWay = new Set(seals.filter(stands).flatMap(({ replies }) => replies ?? []));
}

/* What the server said last of this draft's order, or undefined. */
export function orderOf(draft) {
  return phone.orders.find(({ id }) => id === draft.id);
}

/* The questions about an order that wait and that no seal on this phone answers. */
export function questionsOf(order) {
  return (order?.queries ?? []).filter(({ id }) => !onTheirWay.has(id));
}

export function isAboutPhoto({ field }) {
  return field.startsWith(ABOUT_A_PHOTO);
}

/* What a question is about, in the sheet's words. */
export function aboutWords({ id, field }, order = null) {
  if (!isAboutPhoto({ id, field })) {
    return sheet.fields.find(({ key }) => key === field)?.brief ?? field.split(".").at(-1).replaceAll("_", " ");
  }
  const asked = order?.photos.find(({ sha256 }) => ABOUT_A_PHOTO + sha256 === field);
  return asked ? say("the_photo", { view: say(`view_${asked.view}`) }) : say("a_photo");
}

/* Where a question is answered: at the field it is about, if the sheet has it. */
export function placeOf(question, draft) {
  if (isAboutPhoto(question)) return "photos";
  return standingsOf(draft).some(({ field }) => field.key === question.field) ? question.field : "check";
}

/* What one place of an entry holds. */
export function at(entry, key) {
  return key.split(".").reduce((place, step) => place?.[step], entry);
}

/* What the revision that was asked about holds of the shell on this side, or undefined. */
export function askedEntry(draft, side) {
  const entries = orderOf(draft)?.entries ?? draft.sealed_content?.entries ?? [];
  return entries.find((entry) => entry.side === side);
}
