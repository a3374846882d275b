/* The fold of one part: what is taken as given, and what may be added. */

import { cardMark } from "./card.js";
import { el, fill } from "./elements.js";
import { inWords } from "./in_words.js";
import { say } from "./words.js";

function row(standing, about, hrefOf) {
  const words = inWords(standing, about);
  return el(
    "li",
    { class: "given-row" },
    el("span", { class: "name" }, standing.field.label),
    el("span", { class: "value" }, words || say("not_given"), " ", cardMark(standing.field, about)),
    el(
      "a",
      {
        class: "link",
        href: hrefOf(standing.field.key),
        "aria-label": say(words ? "change_what" : "add_what", { what: standing.field.label }),
      },
      say(words ? "change" : "add"),
    ),
  );
}

// Opened it lies over what stands above it; that is shown again once the hand goes on.
function closeBehind({ currentTarget, relatedTarget }) {
  if (relatedTarget && !currentTarget.contains(relatedTarget)) currentTarget.open = false;
}

/* What is folded away of a part: what is taken as given, and what may be added. */
function foldedOf({ standings, field: { part } }) {
  const folded = standings.filter(({ field, asked }) => field.part === part && !asked && !field.offered);
  return [folded.filter((one) => one.value !== undefined), folded.filter((one) => one.value === undefined)];
}

/* The fold of the view's part, or null where nothing is folded away. Its rows are made as it opens, of the answers as they
   stand by then. */
export function givenFold(view, open) {
  const [given, more] = foldedOf(view);
  if (!given.length && !more.length) return null;
  const rows = () => foldedOf(view).flat().map((one) => row(one, view.about, (key) => view.hrefOf(key)));
  const words = given.length
    ? say("taken_as_given", { count: given.length })
    : say("may_be_added", { count: more.length });
  const list = el("ul", {}, open && rows());
  const summary = el("summary", { onclick: () => fill(list, !fold.open && rows()) }, words);
  const fold = el("details", { class: "given", open, onfocusout: closeBehind }, summary, list);
  return fold;
}
