// Flags on the drawing: a numbered shape, a thin leader, a dot on the place; a stop re-inks its edge.
// Twin of orders/figure/flags.py.
import FIGURE from "../../figures/leg.js";
import { pathOf } from "./form.js";

const APART_PX = 34;
/** What a shape takes up to each side, the diamond's corners with a little air. [px] */
const HALF_PX = 18;
const LEVEL_CLASS = { stop: "stop", explain: "explain", note: "note-flag" };

/** Which view shows the place, and its point as a pair of forms; null for "none". */
export function placeOf(at, views) {
  const place = FIGURE.places[at];
  if (!place) throw new Error(`no such place on the figure: ${at}`);
  const view = views.includes(place.panel) ? place.panel : views[0];
  return place[view] ? [view, place[view]] : null;
}

/** The edge that a stop at this place re-inks; empty where the view has none. */
export function edgePath(at, view, lengths, outlines) {
  const form = FIGURE.edges[at][view];
  if (!form) return [];
  return form.startsWith("M") ? pathOf(form, lengths) : outlines[view].edge(form);
}

/** Where the shape of a flag stands: "front" over the toes, "rear" behind the leg, "outer" beside it. */
export function columnOf(at, view, crowded, views) {
  if (view === "front") return "outer";
  const column = FIGURE.places[at].column;
  if (column === "outer") return "rear";
  return crowded && column === "rear" && views.length > 1 ? "front" : column;
}

/** From where to where a shape at `x` would cover lettering, from the top down. [px] */
export function letteredBeside(pen, x) {
  return pen.lettered
    .filter(([left, , right]) => left < x + HALF_PX && right > x - HALF_PX)
    .map(([, top, , bottom]) => [top - HALF_PX, bottom + HALF_PX])
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
}

/** Heights of shapes in one column, in order, within the picture, apart and off what is taken if they can be, in px. */
export function spread(wanted, low, high, taken = []) {
  const apart = Math.min(APART_PX, (high - low) / Math.max(wanted.length - 1, 1));
  const heights = [];
  for (const y of wanted) heights.push(down(heights.length ? Math.max(y, heights[heights.length - 1] + apart) : Math.max(y, low), taken));
  let limit = high;
  for (let i = heights.length - 1; i >= 0; i--) {
    heights[i] = up(Math.min(heights[i], limit), taken);
    limit = heights[i] - apart;
  }
  return taken.length && heights[0] < low ? spread(wanted, low, high) : heights;
}

function down(y, taken) {
  for (const [top, bottom] of taken) if (top < y && y < bottom) y = bottom;
  return y;
}

function up(y, taken) {
  for (const [top, bottom] of [...taken].reverse()) if (top < y && y < bottom) y = top;
  return y;
}

/** One flag: its shape at a px point, a dot on the place's px point. */
export function drawFlag(pen, flag, shape, place) {
  pen.raw(`<g class="fg-flag fg-${LEVEL_CLASS[flag.level]}" data-n="${flag.n}" data-at="${flag.at}">`);
  if (place) pen.circlePx("fg-dot", place, 3.5);
  const [x, y] = shape;
  if (flag.level === "stop") pen.boxPx("fg-sign", [x - 12, y - 12], [x + 12, y + 12], 2);
  else if (flag.level === "explain") pen.linePx("fg-sign", [[x, y - 15], [x + 15, y], [x, y + 15], [x - 15, y]], true);
  else pen.circlePx("fg-sign", shape, 12);
  pen.text("fg-number", [x, y + 5], String(flag.n));
  pen.raw("</g>");
}
