/* The workshop's question above the field that it is about. */

import { el } from "./elements.js";
import { inWords } from "./in_words.js";
import { phone } from "./phone_data.js";
import { aboutWords, askedEntry, at, isAboutPhoto, orderOf, placeOf, questionsOf } from "./replies.js";
import { say } from "./words.js";

/* What was sent of one field, in words with its unit; "" where nothing was. */
function sentWords(draft, field) {
  const entry = askedEntry(draft, draft.answers.side);
  const value = entry && at(entry, field.key);
  if (value === undefined || value === null || value.length === 0) return "";
  const workshop = phone.workshops.find(({ id }) => id === orderOf(draft).workshop_id);
  return inWords({ field, value }, { draft: entry, phone, catalogue: workshop?.catalogue, result: null });
}

/* The question above the field that it is about, or null. */
export function questionBox(draft, field) {
  const order = orderOf(draft);
  const isHere = (one) => one.side === draft.answers.side && placeOf(one, draft) === field.key;
  const asked = questionsOf(order).filter(isHere);
  if (!asked.length) return null;
  const sent = field.home === "entry" && sentWords(draft, field);
  return el(
    "div",
    { class: "question" },
    el("p", { class: "label" }, say("workshop_asks", { workshop: order.workshop })),
    asked.map((one) => el("p", {}, isAboutPhoto(one) && [el("strong", {}, aboutWords(one, order)), el("br")], one.text)),
    sent && el("p", { class: "second" }, say("sent_was", { value: sent })),
  );
}
