// What makes a drawing one to scale: dimensions, the grid and its bar. Arrows mean movement, so none here.
// Twin of orders/figure/dims.py.
import FIGURE from "../../figures/leg.js";
import { withMark } from "../reading/language.js";
import { pointOf, valueOf } from "./form.js";
import { frontAt, rearAt } from "./lengths.js";
import { decimal, lettersPx, tenths } from "./pen.js";

/** Where each lane of dimensions runs, on a side view that the pen stands at, in px. */
export function lanesPx(pen, keys, lengths) {
  const front = pen.at(50 * lengths.g, 0)[0] - 34;
  const rear = pen.at(-84 * lengths.g, 0)[0] + 18;
  return { front2: front, front: keys.includes("hardware_length") ? front - 44 : front, rear, rear2: rear - 30 };
}

/** The upright dimensions of a side view, each value beside its line. */
export function drawDims(pen, dims, lengths, stations, words) {
  const lanes = lanesPx(pen, dims.map((dim) => dim.of), lengths);
  for (const dim of dims) {
    const form = FIGURE.dims[dim.of];
    if (form.lane === "inside") drawInside(pen, dim, "side", lengths, words);
    else if (form.lane in lanes) drawUpright(pen, dim, form, lanes[form.lane], lengths, stations, words);
  }
}

function drawUpright(pen, dim, form, lane, lengths, stations, words) {
  const ends = [valueOf(form.from, lengths), valueOf(form.to, lengths)].sort((a, b) => a - b);
  const strong = dim.strong ? " fg-strong" : "";
  const main = dim.of === "finished_length" ? " fg-main" : "";
  pen.raw(`<g class="fg-dimension${strong}${main}" data-of="${dim.of}">`);
  for (const y of ends) drawWitness(pen, form, lane, y, lengths, stations);
  const [a, b] = ends.map((y) => pen.at(0, y)[1]);
  pen.linePx("fg-dim", [[lane, a], [lane, b]]);
  for (const y of [a, b]) pen.linePx("fg-slash", [[lane - 5.5, y + 5.5], [lane + 5.5, y - 5.5]]);
  const number = withMark(decimal(dim.value_mm, dim.parts || 1));
  const label = "word" in form ? `${number} ${words[form.word]}` : number;
  valueBeside(pen, lettersPx(label) + 14 <= b - a ? label : number, lane, a, b);
  pen.raw("</g>");
}

function drawWitness(pen, form, lane, y, lengths, stations) {
  const inFront = form.lane.startsWith("front");
  let to = y <= 0 ? 0 : rearAt(stations, y) * 0.4;
  if ("witness" in form && 0 < y && y < lengths.L && Math.abs(y - lengths.f) > 0.1) to = valueOf(form.witness, lengths);
  else if (y >= lengths.L) to = inFront ? 50 : -50;
  else if (inFront) to = frontAt(stations, y) + 2;
  const [x, level] = pen.at(to, y);
  pen.linePx("fg-witness", [[lane + (lane < x ? -7 : 7), level], [x + (lane > x ? 1 : -1) * 1.5, level]]);
}

// Along the line where it fits, else level and beside it.
function valueBeside(pen, label, lane, a, b) {
  if (b - a >= lettersPx(label) + 14) {
    pen.text("fg-value", [lane - (pen.mirrored ? 18 : 8), (a + b) / 2], label, "middle", true);
  } else {
    pen.text("fg-value", [lane - 11, (a + b) / 2 + 5], label, "end");
  }
}

/** Whether it overlaps, and by how much or how much is clear, in whole mm; null for what isn't inside the shell.
 *  Downwards: what is clear is never told larger, an overlap never smaller than it is. */
export function insideTold(dim) {
  if (FIGURE.dims[dim.of].lane !== "inside") return null;
  const number = Math.floor(dim.value_mm);
  return { overlaps: number < 0, number: Math.abs(number) };
}

/** What is left clear inside, or overlaps, over what it is clear of; nothing on the other view. */
export function drawInside(pen, dim, view, lengths, words) {
  const form = FIGURE.dims[dim.of];
  if (form.view !== view) return;
  pen.raw(`<g class="fg-dimension${dim.strong ? " fg-strong" : ""}" data-of="${dim.of}">`);
  const { overlaps, number } = insideTold(dim);
  const word = words[overlaps ? "overlap" : "clear"];
  pen.text("fg-value", pen.at(...pointOf(form.at, lengths)), `${number} ${word}`);
  pen.raw("</g>");
}

/** The widest place, level across a front view, with its girth under it. */
export function drawGirthLine(pen, dim, lengths, words) {
  pen.raw(`<g class="fg-dimension${dim.strong ? " fg-strong" : ""}" data-of="girth">`);
  const [ax, y] = pen.at(-lengths.ci, lengths.cy);
  const bx = pen.at(lengths.cx, lengths.cy)[0];
  pen.linePx("fg-axis", [[ax - 8, y], [bx + 8, y]]);
  pen.text("fg-value", [(ax + bx) / 2, y + 18], `${words.girth} ${Math.floor(dim.value_mm + 0.5)}`);
  pen.raw("</g>");
}

/** Every 10 mm, heavier every 50, counted from the apex and the pylon's axis. */
export function drawGrid(pen, height) {
  for (const [kind, step, skip] of [["fg-grid", 10, 5], ["fg-grid fg-heavy", 50, 0]]) {
    const d = gridLines(pen, pen.width, pen.x0, step, skip, "V", height) + gridLines(pen, height, pen.y0, step, skip, "H", pen.width);
    pen.raw(`<path class="${kind}" d="${d}"/>`);
  }
}

function gridLines(pen, size, origin, step, skip, letter, across) {
  const pitch = step * pen.scale;
  const last = Math.floor((size - origin) / pitch);
  let text = "";
  for (let n = Math.ceil(-origin / pitch); n <= last; n++) {
    if (skip && n % skip === 0) continue;
    const at = origin + n * pitch;
    text += letter === "V" ? `M${tenths(pen.across(at))} 0V${tenths(across)}` : `M0 ${tenths(at)}H${tenths(across)}`;
  }
  return text;
}

/** A bar of 50 mm with its name, from a px point rightwards. */
export function drawBar(pen, [x, y], label) {
  const long = 50 * pen.scale;
  pen.raw('<g class="fg-scale-bar">');
  pen.linePx("fg-bar", [[x, y], [x + long, y]]);
  pen.text("fg-note", [x + long + 6, y + 5], label, "start");
  pen.raw("</g>");
}
