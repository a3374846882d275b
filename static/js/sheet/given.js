/* The fold of one part: what is taken as given, and what may be added. */

import { cardMark } from "./card.js";
import { el } from "./elements.js";
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

/* The fold of a part, or null where nothing is folded away. */
export function givenFold(standings, part, about, hrefOf) {
  const folded = standings.filter(({ field, asked }) => field.part === part && !asked && !field.offered);
  const [given, more] = [
    folded.filter((one) => one.value !== undefined),
    folded.filter((one) => one.value === undefined),
  ];
  if (!folded.length) return null;
  const summary = given.length
    ? say("taken_as_given", { count: given.length })
    : say("may_be_added", { count: more.length });
  return el(
    "details",
    { class: "given", onfocusout: closeBehind },
    el("summary", {}, summary),
    el(
      "ul",
      {},
      given.map((one) => row(one, about, hrefOf)),
      more.map((one) => row(one, about, hrefOf)),
    ),
  );
}
