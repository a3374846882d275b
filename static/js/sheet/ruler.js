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

function ticks(count) {
  const lines = [];
  for (let at = 0; at <= count * SMALL_TICKS; at += 1) {
    const x = `${(100 * at) / (count * SMALL_TICKS)}%`;
    lines.push(
      `<line class="${at % SMALL_TICKS ? "small" : "large"}" x1="${x}" x2="${x}" y1="${at % SMALL_TICKS ? 9 : 2}" y2="15"/>`,
    );
  }
  return lines.join("");
}

function scale(done, here) {
  const count = sheet.parts.length;
  const share = 100 / count;
  const thick = sheet.parts
    .map((part, at) =>
      done[part.key] ? `<line class="thick" x1="${at * share}%" x2="${(at + 1) * share}%" y1="15" y2="15"/>` : "",
    )
    .join("");
  const pointer =
    here < 0
      ? ""
      : `<svg x="${(here + 0.5) * share}%" y="0" overflow="visible"><path class="pointer" d="M-9 15 0 5l9 10z"/></svg>`;
  return drawn(
    `<svg class="ruler-scale" aria-hidden="true" focusable="false"><line class="rule" x1="0" x2="100%" y1="15" y2="15"/>${ticks(count)}${thick}${pointer}</svg>`,
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
