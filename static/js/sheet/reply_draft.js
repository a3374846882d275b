/* The draft in which a question is answered: the one on this phone, or one made from what the server holds. */

import { sealsOf } from "../offline/seal.js";
import { drop, keep, readAll } from "../offline/store.js";
import { swap } from "./both_legs.js";
import { closeDraft, keepNow, newDraft, openDraft } from "./drafts.js";
import { impliedBy } from "./implied.js";
import { reckoning } from "./later.js";
import { phone } from "./phone_data.js";
import { at, orderOf } from "./replies.js";
import { sheet } from "./words.js";

function asAnswered(field, value) {
  if (value === null || value === undefined) return undefined;
  if (field.kind === "readings") return [...value];
  if (field.kind === "points") return value.length ? value : "nothing";
  if (field.kind === "rows") return structuredClone(value);
  if (field.kind === "yes_no") return value ? "yes" : "no";
  return typeof value === "number" ? String(value) : value;
}

function photosOf(order, entry) {
  const place = order.entries.indexOf(entry);
  return order.photos.filter((photo) => photo.entry === place);
}

/* The answers that make this entry. */
function answersFrom(order, entry) {
  const answers = { workshop: order.workshop_id, photos: photosOf(order, entry) };
  if (order.need_by) answers.need_by = order.need_by;
  if (order.deliver_to) answers.deliver_to = order.deliver_to;
  for (const field of sheet.fields) {
    const value = field.home === "sheet" ? impliedBy(entry, field.choices) : asAnswered(field, at(entry, field.key));
    if (value !== undefined && !["seal", "step"].includes(field.home)) answers[field.key] = value;
  }
  return answers;
}

/* The reasons that were given, each with the sentence that it was given for. */
function reasonsFrom(order, entry) {
  const catalogue = phone.workshops.find(({ id }) => id === order.workshop_id)?.catalogue;
  if (!catalogue || !phone.book || !entry.answers) return {};
  const { besideOf, reckon } = reckoning.here;
  const { flags } = reckon(entry, catalogue, phone.book, besideOf(photosOf(order, entry)));
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
function draftFrom(order, side, key) {
  const place = Math.max(0, order.sides.indexOf(side));
  const entry = order.entries[place];
  const { visit, reference, initials } = order;
  const draft = newDraft({ id: visit, reference, initials }, phone.member.id, entry.units, order.id);
  return Object.assign(draft, {
    key,
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
  const last = (await sealsOf(order.id, draft.member)).findLast(({ state }) => state !== "refused");
  return last?.sha256 === order.seal_sha256 || last?.state === "waiting";
}

/* The draft in which a question is answered, null once no view wants it. What was being changed here of an older
   revision is set aside. */
export async function draftToReply(order, { side }, wants) {
  const here = await openDraft(order.id, phone.member.id, wants);
  if (wants.signal.aborted) return null;
  if (here && (await isCurrent(here, order, side))) {
    if (here.answers.side !== side) swap(here);
    return here;
  }
  const draft = draftFrom(order, side, here?.key ?? `draft/${order.id}/${phone.member.id}`);
  const older = here?.changing && here.sealed_content;
  await keep(draft, ...(older ? [{ ...here, key: asideKey(here) }] : []));
  await closeDraft(); // to be read anew
  return draft;
}

function asideKey({ id, member }) {
  return `aside/${id}/${member}`;
}

/* What was set aside of this draft's order, or undefined. */
export async function setAside(draft) {
  return (await readAll(asideKey(draft)))[0];
}

/* Takes up what was set aside, in place of what stands in the draft now. */
export async function takeBack(aside, draft) {
  await keepNow();
  const back = { ...aside, key: draft.key, parent_sha256: orderOf(draft)?.seal_sha256 ?? aside.parent_sha256 };
  await keep(back);
  await drop(asideKey(draft));
  await closeDraft(); // to be read anew
}
