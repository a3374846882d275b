/* The parts of the sheet as a ruler: thick where a part is done, a pointer where the hand is. */

import { drawn, el } from "./elements.js";
import { say, sheet } from "./words.js";

const SMALL_TICKS = 4;

/* Whether all that a part asks is answered; a part that asks nothing yet isn't done. */
export function doneParts(standings) {
  const done = {};
  for (const part of sheet.parts) {
    const counts = ({ required, kind }) => required || kind === "photos";
    const asked = standings.filter(({ field, asked: is }) => is && field.part === part.key && counts(field));
    done[part.key] = asked.length > 0 && asked.every(({ answered }) => answered);
  }
  return done;
}

/* Its lines are one path for each weight: an element for each would take longer to lay out than all the words. */
function scale(done, here) {
  const width = sheet.parts.length * SMALL_TICKS;
  const all = Array.from({ length: width + 1 }, (_, x) => x);
  const ticks = (large) => all.filter((x) => !(x % SMALL_TICKS) === large).map((x) => `M${x} ${large ? 2 : 9}V15`);
  const thick = sheet.parts.map(({ key }, at) => (done[key] ? `M${at * SMALL_TICKS} 15h${SMALL_TICKS}` : ""));
  const paths = Object.entries({ rule: [`M0 15h${width}`], small: ticks(false), large: ticks(true), thick });
  const lines = paths.map(([weight, d]) => `<path class="${weight}" d="${d.join("")}"/>`).join("");
  const pointer =
    here < 0
      ? ""
      : `<svg x="${(100 * (here + 0.5)) / sheet.parts.length}%" y="0" overflow="visible"><path class="pointer" d="M-9 15 0 5l9 10z"/></svg>`;
  return drawn(
    `<svg class="ruler-scale" aria-hidden="true" focusable="false"><svg viewBox="0 0 ${width} 18" preserveAspectRatio="none" overflow="visible">${lines}</svg>${pointer}</svg>`,
  );
}

/* The ruler; `open(part)` is called when a part's name is tapped. `here` is the part's key, or null on no part. */
export function ruler(standings, here, open) {
  const done = doneParts(standings);
  const at = sheet.parts.findIndex((part) => part.key === here);
  const names = sheet.parts.map((part) =>
    el(
      "li",
      {},
      el(
        "button",
        {
          type: "button",
          "aria-haspopup": "dialog",
          "aria-current": part.key === here ? "step" : null,
          onclick: () => open(part.key),
        },
        part.name,
        done[part.key] && el("span", { class: "unseen" }, `, ${say("done")}`),
      ),
    ),
  );
  const list = el("ol", { class: "part-names" }, names);
  const count =
    at < 0
      ? null
      : el(
          "p",
          { class: "part-count", "aria-hidden": "true" },
          el("strong", {}, sheet.parts[at].name),
          ` ${say("part_of", { number: at + 1, count: sheet.parts.length })}`,
        );
  const element = el("nav", { class: "ruler", "aria-label": say("parts") }, list, count, scale(done, at));
  new ResizeObserver(() => fit(element, list)).observe(element);
  return element;
}

// Names that don't fit give way to the current one.
function fit(element, list) {
  element.classList.remove("narrow");
  const tooWide = [...list.children].some((item) => item.scrollWidth > item.clientWidth + 1);
  element.classList.toggle("narrow", tooWide);
}
