/* All of the sheet by its parts, over the view in hand: what stands, what is missing. From any field to any other in two
   taps. */

import { cardMark } from "./card.js";
import { el } from "./elements.js";
import { inWords } from "./in_words.js";
import { doneParts } from "./ruler.js";
import { say, sheet } from "./words.js";

function row(standing, view, close) {
  const { field, asked, answered } = standing;
  const words = inWords(standing, view.about);
  const missing = asked && field.required && !answered;
  return el(
    "li",
    {},
    el(
      "a",
      {
        class: `part-row${answered ? " answered" : ""}`,
        href: view.hrefOf(field.key),
        "aria-current": field === view.field ? "step" : null,
        onclick: close,
      },
      el("span", { class: "name" }, field.label),
      el("span", { class: missing ? "value missing" : "value" }, words || say(missing ? "missing" : "not_given"), " ", cardMark(field, view.about)),
    ),
  );
}

// How a part stands, in words.
function standsFor(standings, isDone) {
  const missing = standings.filter(({ field, asked, answered }) => asked && field.required && !answered).length;
  if (missing) return say(missing === 1 ? "one_open" : "some_open", { count: missing });
  return isDone ? say("done") : "";
}

/* Opens the panel with one part unfolded. `view` has standings, about, field, hrefOf(key). */
export function partsPanel(view, open) {
  const { standings } = view;
  const done = doneParts(standings);
  const close = () => dialog.close();
  const part = ({ key, name }) => {
    const own = standings.filter(({ field }) => field.part === key && field.kind !== "marks");
    return el(
      "details",
      { class: "part", open: key === open, name: "part" },
      el("summary", {}, el("strong", {}, name), el("span", { class: "second" }, standsFor(own, done[key]))),
      el("ul", {}, own.map((standing) => row(standing, view, close))),
    );
  };
  const dialog = el(
    "dialog",
    { class: "parts-panel", "aria-label": say("parts") },
    el("div", { class: "parts-list" }, sheet.parts.map(part)),
    el(
      "div",
      { class: "parts-foot" },
      el("button", { type: "button", class: "button", onclick: close }, say("close")),
      el("a", { class: "button", href: view.hrefOf("check"), onclick: close }, say("check_and_send")),
    ),
  );
  dialog.addEventListener("click", (event) => event.target === dialog && close());
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
  dialog.querySelector("[open] summary")?.scrollIntoView({ block: "nearest" });
}
