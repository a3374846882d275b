/* The shape of a flag with its number: a square for a stop, a diamond to explain, a circle for a note. */

import { drawn } from "./elements.js";

const SHAPES = {
  stop: '<rect x="3" y="3" width="28" height="28" rx="3"/>',
  explain: '<path d="M17 2 32 17 17 32 2 17z"/>',
  note: '<circle cx="17" cy="17" r="15"/>',
};

/* Answered, a tick stands in place of the number. Hidden from screen readers: the level's word stands beside it. */
export function flagShape(level, number, answered = false) {
  const inside = answered
    ? '<path class="answered" d="m11 17.5 4.5 4.5L23.5 13"/>'
    : `<text x="17" y="22.5">${number}</text>`;
  return drawn(
    `<svg class="flag-shape ${level}" viewBox="0 0 34 34" aria-hidden="true" focusable="false">${SHAPES[level]}${inside}</svg>`,
  );
}
