/* The workshop's questions: which wait, the draft that answers them, and what is said to each. */

import { reckon } from "../book/reckon.js";
import { sealsOf } from "../offline/seal.js";
import { keep, read } from "../offline/store.js";
import { isAnswered, standingsOf } from "./answers.js";
import { otherShell, swap } from "./both_legs.js";
import { changed, closeDraft, newDraft } from "./drafts.js";
import { el } from "./elements.js";
import { phone } from "./phone_data.js";
import { say, sheet } from "./words.js";

/* What the server said last of this draft's order, or undefined. */
export function orderOf(draft) {
  return phone.orders.find(({ id }) => id === draft.id);
}

/* The questions about an order that wait and that this draft has not sealed an answer to. */
export function questionsOf(order, draft = null) {
  const sealed = new Set((draft?.sealed_content?.replies ?? []).map(({ query }) => query));
  return (order?.queries ?? []).filter(({ id }) => !sealed.has(id));
}

/* What a question is about, in the sheet's words. */
export function aboutWords({ field }) {
  if (field.startsWith("photo:")) return say("a_photo");
  return sheet.fields.find(({ key }) => key === field)?.brief ?? field.split(".").at(-1).replaceAll("_", " ");
}

function at(entry, key) {
  return key.split(".").reduce((place, step) => place?.[step], entry);
}

function asAnswered(field, value) {
  if (value === null || value === undefined) return undefined;
  if (field.kind === "readings") return [...value];
  if (field.kind === "points") return value.length ? value : "nothing";
  if (field.kind === "yes_no") return value ? "yes" : "no";
  return typeof value === "number" ? String(value) : value;
}

/* The answers that make this entry. */
function answersFrom(order, entry) {
  const place = order.entries.indexOf(entry);
  const answers = { workshop: order.workshop_id, photos: order.photos.filter((photo) => photo.entry === place) };
  if (order.need_by) answers.need_by = order.need_by;
  if (order.deliver_to) answers.deliver_to = order.deliver_to;
  for (const field of sheet.fields) {
    if (field.home !== "entry") continue;
    const value = asAnswered(field, at(entry, field.key));
    if (value !== undefined) answers[field.key] = value;
  }
  return answers;
}

/* The reasons that were given, each with the sentence that it was given for. */
function reasonsFrom(order, entry) {
  const catalogue = phone.workshops.find(({ id }) => id === order.workshop_id)?.catalogue;
  if (!catalogue || !phone.book || !entry.answers) return {};
  const { flags } = reckon(entry, catalogue, phone.book, null);
  const answered = flags.filter(({ id }) => entry.answers[id]);
  return Object.fromEntries(answered.map(({ id, says }) => [id, { text: entry.answers[id], says }]));
}

function shellFrom(order, entry) {
  return {
    answers: answersFrom(order, entry),
    skipped: {},
    taken_up: {},
    reasons: reasonsFrom(order, entry),
    base: entry,
    at: null,
  };
}

/* A draft made from what the server holds, with the shell of one side in hand. */
function draftFrom(order, side) {
  const place = Math.max(0, order.sides.indexOf(side));
  const entry = order.entries[place];
  const { visit, reference, initials } = order;
  const draft = newDraft({ id: visit, reference, initials }, phone.member.id, entry.units);
  return Object.assign(draft, {
    key: `draft/${order.id}`,
    id: order.id,
    ...shellFrom(order, entry),
    second: order.entries.length > 1 ? shellFrom(order, order.entries[1 - place]) : null,
    sealed_content: {
      entries: order.entries,
      workshop: order.workshop_id,
      need_by: order.need_by,
      deliver_to: order.deliver_to,
      photos: order.photos,
      replies: [],
    },
    parent_sha256: order.seal_sha256,
  });
}

/* Whether the draft on this phone stands where the server does, or ahead of it. */
async function isCurrent(draft, order, side) {
  if (draft.answers.side !== side && draft.second?.answers.side !== side) return false;
  if (draft.parent_sha256 === order.seal_sha256) return true;
  const last = (await sealsOf(order.id)).findLast(({ state }) => state !== "refused");
  return last?.sha256 === order.seal_sha256 || last?.state === "waiting";
}

/* The draft in which a question is answered: the one on this phone, or one made from what the server holds. */
export async function draftToReply(order, { side }) {
  await closeDraft();
  const here = await read(`draft/${order.id}`);
  if (here && here.member === phone.member.id && (await isCurrent(here, order, side))) {
    here.changing = true;
    if (here.answers.side !== side) swap(here);
    await keep(here);
    return here;
  }
  const draft = draftFrom(order, side);
  await keep(draft);
  return draft;
}

/* Where a question is answered: at the field it is about, if the sheet has it. */
export function placeOf({ field }, draft) {
  const standing = standingsOf(draft).find((one) => one.field.key === field);
  return standing ? field : "check";
}

/* What was sent of the shell in hand, as the sheet can hold it against what stands now. */
function sentEntry(draft) {
  return draft.base ?? draft.sealed_content?.entries?.find(({ side }) => side === draft.answers.side);
}

function isChanged(inHand, { field, side }) {
  const draft = inHand.answers.side === side ? inHand : (otherShell(inHand) ?? inHand);
  const standing = sheet.fields.find(({ key }) => key === field);
  const before = sentEntry(draft);
  if (!standing || !before) return false;
  return JSON.stringify(asAnswered(standing, at(before, field))) !== JSON.stringify(draft.answers[field]);
}

/* Whether a question has its answer: words, or a field that was measured or chosen anew. */
export function isReplied(draft, question) {
  return Boolean(draft.replies?.[question.id]?.trim()) || isChanged(draft, question);
}

/* What the seal says to the questions that wait. */
export function repliesOf(draft) {
  return questionsOf(orderOf(draft), draft)
    .filter((question) => isReplied(draft, question))
    .map(({ id }) => ({ query: id, says: draft.replies?.[id]?.trim() ?? "" }));
}

/* The question above the field that it is about, or null. */
export function questionBox(draft, field) {
  const asked = questionsOf(orderOf(draft), draft).filter(
    (question) => question.field === field.key && question.side === draft.answers.side,
  );
  if (!asked.length) return null;
  const before = isAnswered(draft, field) && at(sentEntry(draft), field.key);
  return el(
    "div",
    { class: "question" },
    el("p", { class: "label" }, say("workshop_asks", { workshop: orderOf(draft).workshop })),
    asked.map(({ text }) => el("p", {}, text)),
    before && el("p", { class: "second" }, say("sent_was", { value: [before].flat().join(", ") })),
  );
}

/* The questions with a place for words, before sending. `view` has draft, hrefOf(key) and showFoot(). */
export function questionList(view) {
  const { draft } = view;
  const asked = questionsOf(orderOf(draft), draft);
  if (!asked.length) return null;
  return el(
    "section",
    { class: "questions", "aria-labelledby": "questions-head" },
    el("h2", { id: "questions-head" }, say("workshop_asks", { workshop: orderOf(draft).workshop })),
    asked.map((question) => questionRow(view, question)),
  );
}

function questionRow({ draft, hrefOf, showFoot }, question) {
  const id = `reply-${question.id}`;
  const input = el("textarea", { class: "input", id, rows: 2, maxlength: 500 });
  input.value = draft.replies?.[question.id] ?? "";
  input.addEventListener("input", () => {
    draft.replies = { ...draft.replies, [question.id]: input.value };
    draft.changing = true;
    changed(draft);
    showFoot();
  });
  const place = placeOf(question, draft);
  return el(
    "div",
    { class: "question" },
    el("p", {}, el("strong", {}, aboutWords(question)), el("br"), question.text),
    place !== "check" && el("a", { class: "button", href: hrefOf(place) }, say("look_again")),
    el("p", { class: "field" }, el("label", { for: id }, say("your_answer")), input),
    isChanged(draft, question) && el("p", { class: "second" }, say("changed_since")),
  );
}
