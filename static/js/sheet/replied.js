/* Whether the workshop's questions have their answers, and what the seal says to them. */

import { entryOf } from "./answers.js";
import { otherShell } from "./both_legs.js";
import { phone } from "./phone_data.js";
import { ABOUT_A_PHOTO, askedEntry, at, isAboutPhoto, orderOf, questionsOf } from "./replies.js";
import { same } from "./same.js";

/* The shell of one side, whichever is in hand. */
function shellOn(draft, side) {
  return draft.answers.side === side ? draft : (otherShell(draft) ?? draft);
}

/* The photos of a shell that were taken since it was asked. */
export function newPhotos(draft, side) {
  const sent = new Set((orderOf(draft)?.photos ?? []).map(({ sha256 }) => sha256));
  return (shellOn(draft, side).answers.photos ?? []).filter(({ sha256 }) => !sent.has(sha256));
}

/* Whether what a question is about was measured, chosen or photographed anew. */
export function isChanged(draft, question) {
  const { field, side } = question;
  if (isAboutPhoto(question)) {
    const photos = shellOn(draft, side).answers.photos ?? [];
    return newPhotos(draft, side).length > 0 || !photos.some(({ sha256 }) => ABOUT_A_PHOTO + sha256 === field);
  }
  const before = askedEntry(draft, side);
  return Boolean(before) && !same(at(before, field), at(entryOf(shellOn(draft, side), phone), field));
}

/* Whether a question has its answer: words, or what it is about is another now. */
export function isReplied(draft, question) {
  return Boolean(draft.replies?.[question.id]?.trim()) || isChanged(draft, question);
}

/* What the seal says to the questions that wait. */
export function repliesOf(draft) {
  return questionsOf(orderOf(draft))
    .filter((question) => isReplied(draft, question))
    .map(({ id }) => ({ query: id, says: draft.replies?.[id]?.trim() ?? "" }));
}
