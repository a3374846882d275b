/* Component cards: what a clinic has noted of a knee or foot fills the sheet, is shown as from the card, and never
   stands in for a look. What must be seen or measured is only held against the card. */

import { isAnswered } from "./answers.js";
import { el } from "./elements.js";
import { inWords } from "./in_words.js";
import { cardChooser, withLater } from "./later.js";
import { phone } from "./phone_data.js";
import { judged } from "./reading_box.js";
import { same } from "./same.js";
import { say, sheet } from "./words.js";

const APART_MM = 8; // as two readings that differ

/* The clinic's cards of one kind of component. */
export function cardsOf(kind) {
  return (phone.cards ?? []).filter((card) => card.kind === kind);
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

/* What the maker of a card's component says of shells; "" where nothing stands in the way. */
export function makerWords({ allows_shell }) {
  return allows_shell === "no" ? say("maker_forbids") : allows_shell === "unknown" ? say("maker_unknown") : "";
}

/* The place at a part's first field where a card is chosen; null where the clinic has none. */
export function cardPlace(view) {
  const { draft, field } = view;
  const kind = field.part;
  const chosen = draft.cards?.[kind];
  if (sheet.fields.find(({ part }) => part === kind) !== field || !(chosen || cardsOf(kind).length)) return null;
  const open = () => withLater(cardChooser, ({ chooser }) => chooser(view, kind, chosen));
  const button = el("button", { type: "button", class: "button quiet", onclick: open }, say(chosen ? "change" : "from_a_card"));
  return el(
    "div",
    { class: "card-place" },
    chosen && el("p", {}, say("card_called"), " ", el("strong", {}, chosen.label)),
    button,
    chosen && makerWords(chosen) && el("p", { class: chosen.allows_shell === "no" ? "maker-forbids" : "small" }, makerWords(chosen)),
  );
}
