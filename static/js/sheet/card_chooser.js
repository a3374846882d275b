/* Choosing a component card, which fills what the sheet asks of that component. */

import { isAnswered } from "./answers.js";
import { cardsOf, makerWords } from "./card.js";
import { changed } from "./drafts.js";
import { el, fill } from "./elements.js";
import { same } from "./same.js";
import { say, sheet } from "./words.js";

function fieldCalled(key) {
  return sheet.fields.find((field) => field.key === key);
}

/* Takes a card in hand in place of the one before, or none. What was answered otherwise stays. */
function takeCard(draft, kind, card) {
  const before = draft.cards?.[kind];
  for (const [key, value] of Object.entries(before?.fills ?? {})) {
    if (same(draft.answers[key], value)) delete draft.answers[key];
  }
  draft.cards = { ...draft.cards, [kind]: card };
  for (const [key, value] of Object.entries(card?.fills ?? {})) {
    const field = fieldCalled(key);
    if (field && !isAnswered(draft, field)) draft.answers[key] = structuredClone(value);
  }
  changed(draft);
}

/* Opens the list of a kind's cards over the view; taking one remakes it. */
export function chooser(view, kind, chosen) {
  const dialog = el("dialog", { class: "enlarged choosing", "aria-label": say("which_card") });
  const take = (card) => {
    takeCard(view.draft, kind, card);
    dialog.close();
    view.build();
  };
  const row = (card) =>
    el(
      "li",
      {},
      el(
        "button",
        { type: "button", class: "row", "aria-pressed": String(card.id === chosen?.id), onclick: () => take(card) },
        el("span", { class: "row-words" }, el("strong", {}, card.label), makerWords(card) && el("span", { class: card.allows_shell === "no" ? "maker-forbids" : "small" }, makerWords(card))),
      ),
    );
  fill(
    dialog,
    el("h2", {}, say("which_card")),
    el("p", { class: "second" }, say("card_how")),
    el("ul", { class: "rows" }, cardsOf(kind).map(row)),
    chosen && el("button", { type: "button", class: "button quiet", onclick: () => take(null) }, say("no_card")),
    el("button", { type: "button", class: "button", onclick: () => dialog.close() }, say("close")),
  );
  dialog.addEventListener("close", () => dialog.remove());
  view.signal.addEventListener("abort", () => dialog.close());
  document.body.append(dialog);
  dialog.showModal();
}
