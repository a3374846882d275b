/* Component cards: what a clinic has noted of a knee or foot fills the sheet, is shown as from the card, and never
   stands in for a look. What must be seen or measured is only held against the card. */

import { isAnswered } from "./answers.js";
import { changed } from "./drafts.js";
import { el, fill } from "./elements.js";
import { inWords } from "./in_words.js";
import { phone } from "./phone_data.js";
import { judged } from "./reading_box.js";
import { same } from "./same.js";
import { say, sheet } from "./words.js";

const APART_MM = 8; // as two readings that differ

function cardsOf(kind) {
  return (phone.cards ?? []).filter((card) => card.kind === kind);
}

function fieldCalled(key) {
  return sheet.fields.find((field) => field.key === key);
}

/* Takes a card in hand in place of the one before, or none. What was answered otherwise stays. */
export function takeCard(draft, kind, card) {
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

function agrees(field, value, expected, units) {
  if (field.kind !== "reading") return same(value, expected);
  const [here, there] = [value, expected].map((text) => judged(text, units, "", field.signed).mm);
  return typeof here !== "number" || typeof there !== "number" || Math.abs(here - there) <= APART_MM;
}

/* What a field's card has to say of it: {words, differs}, or null. Where one must look, the card keeps its word back
   until there is an answer, so that it suggests none. `about` is as in_words.js wants it. */
export function cardWords(field, about) {
  const { draft } = about;
  for (const card of Object.values(draft.cards ?? {})) {
    const filled = card?.fills[field.key];
    const value = filled ?? card?.expects[field.key];
    if (value === undefined) continue;
    const words = inWords({ field, value }, about);
    if (!isAnswered(draft, field)) return { words: filled ? say("card_says", { value: words }) : say("card_look"), differs: false };
    const answer = draft.answers[field.key];
    if (filled && same(answer, filled)) return { words: say("from_card"), differs: false };
    const differs = !agrees(field, answer, value, draft.units);
    return { words: say(differs ? "card_differs" : "card_says", { value: words }), differs };
  }
  return null;
}

/* The same as an element; nothing where no card speaks of the field. */
export function cardMark(field, about) {
  const told = cardWords(field, about);
  return told && el("span", { class: told.differs ? "card-words differs" : "card-words" }, told.words);
}

function makerWords({ allows_shell }) {
  return allows_shell === "no" ? say("maker_forbids") : allows_shell === "unknown" ? say("maker_unknown") : "";
}

/* What the makers of the chosen components forbid, to be told before sending. */
export function makersForbid({ cards }) {
  return Object.values(cards ?? {})
    .filter((card) => card?.allows_shell === "no")
    .map((card) => el("p", { class: "maker-forbids" }, el("strong", {}, card.label), ": ", say("maker_forbids")));
}

/* The place at a part's first field where a card is chosen; null where the clinic has none. */
export function cardPlace(view) {
  const { draft, field } = view;
  const kind = field.part;
  const chosen = draft.cards?.[kind];
  if (sheet.fields.find(({ part }) => part === kind) !== field || !(chosen || cardsOf(kind).length)) return null;
  const open = () => chooser(view, kind, chosen);
  const button = el("button", { type: "button", class: "button quiet", onclick: open }, say(chosen ? "change" : "from_a_card"));
  return el(
    "div",
    { class: "card-place" },
    chosen && el("p", {}, say("card_called"), " ", el("strong", {}, chosen.label)),
    button,
    chosen && makerWords(chosen) && el("p", { class: chosen.allows_shell === "no" ? "maker-forbids" : "small" }, makerWords(chosen)),
  );
}

function chooser(view, kind, chosen) {
  const dialog = el("dialog", { class: "enlarged", "aria-label": say("which_card") });
  const take = (card) => {
    takeCard(view.draft, kind, card);
    dialog.close();
    view.remake();
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
