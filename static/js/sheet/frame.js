/* What every view of one draft has around it: whose leg, when it was kept, the way back. */

import { swap } from "./both_legs.js";
import { onKept } from "./drafts.js";
import { el, fill } from "./elements.js";
import { line } from "./lines.js";
import { say, timeOfDay } from "./words.js";

/* When the draft was last kept on this phone, or that it couldn't be. Ends with `signal`. */
export function keptMark(draft, signal) {
  const mark = el("p", { class: "kept" });
  const show = (fault) => {
    mark.classList.toggle("fault", Boolean(fault));
    const words = fault
      ? say("not_kept")
      : draft.kept_at
        ? say("kept", { time: timeOfDay(new Date(draft.kept_at)) })
        : say("new");
    if (mark.textContent !== words) fill(mark, line("phone"), el("span", { class: "nowrap" }, words));
  };
  show(null);
  signal.addEventListener("abort", onKept(show));
  return mark;
}

/* Reference and side; it leads back to all visits. */
export function whose(draft, before = null) {
  const { side } = draft.answers;
  return el(
    "p",
    { class: "whose" },
    before,
    el("a", { href: "#visits", title: say("all_visits") }, el("strong", {}, draft.visit.reference)),
    side && ` · ${say(side)}`,
    draft.second && otherLeg(draft),
  );
}

/* The way to the other shell of the order; the view is then shown anew, with that one in hand. */
function otherLeg(draft) {
  const take = () => {
    swap(draft);
    dispatchEvent(new HashChangeEvent("hashchange"));
  };
  const side = say(draft.second.answers.side);
  return el("button", { type: "button", class: "button quiet other-leg", onclick: take }, say("to_other_leg", { side }));
}

/* The head of a view: back, whose, kept. */
export function head({ back, backLabel, draft, title = null, signal }) {
  return el(
    "header",
    { class: "sheet-head" },
    el("a", { class: "back", href: back, "aria-label": backLabel }, line("back")),
    whose(draft, title && [el("strong", {}, title), " · "]),
    signal && keptMark(draft, signal),
  );
}
