// The one yellow thing on a drawing: the tape of the field in hand, with its marks. Twin of orders/figure/tape.py.
import FIGURE from "../../figures/leg.js";
import { pointOf, valueOf } from "./form.js";
import { lettersPx } from "./pen.js";

/** Between two ticks in mm, and how many of these make a long one: every 5 cm or 5 in. */
const TICKS_MM = { mm: [10, 5], cm: [10, 5], in: [12.7, 10] };
/** Where the tape overlaps itself round a limb, as a share of half the width, towards the inner side. */
const OVERLAP_SHARE = 0.43;
const REACH_PX = [5.5, 10, 16];

/** Tape, black ends, dots and their names for the measurement of one field, in the unit typed. */
export function drawTape(pen, of, units, lengths, words) {
  const tape = FIGURE.tapes[of];
  if (!tape) throw new Error(`no tape for ${of}`);
  pen.raw(`<g class="fg-measure" data-of="${of}">`);
  if (tape.way === "round") drawRound(pen, units, lengths);
  else if (tape.way === "across") drawAcross(pen, tape, units, lengths, words);
  else drawUpright(pen, tape, units, lengths, words);
  pen.raw("</g>");
}

// Where the ticks lie from the tape's start, and their kind: 2 long, 1 middling, 0 short.
function ticksOf(lengthMm, units, scale) {
  let [step, long] = TICKS_MM[units];
  if (step * scale < 4) {
    step *= 2;
    if (units === "in") long = Math.floor(long / 2);
  }
  const ticks = [];
  const count = Math.floor(lengthMm / step + 1e-6);
  for (let n = 1; n <= count; n++) {
    const at = n * step;
    if (lengthMm - at > 1.5 / scale) ticks.push([at, tickKind(n, long, units)]);
  }
  return ticks;
}

function tickKind(n, long, units) {
  if (n % long === 0) return 2;
  return units !== "in" || long !== 10 || n % 2 === 0 ? 1 : 0;
}

const tickClass = (kind) => `fg-tick${kind === 2 ? " fg-long" : ""}`;

function drawUpright(pen, tape, units, lengths, words) {
  const top = valueOf(tape.from, lengths);
  const bottom = valueOf(tape.to, lengths);
  const [start, end] = tape.way === "up" ? [bottom, top] : [top, bottom];
  const x = pen.at(50 * Math.max(lengths.g, 1), 0)[0] - Math.max(36 * pen.scale, 30);
  const half = 8;
  const a = pen.at(0, Math.min(start, end))[1];
  const b = pen.at(0, Math.max(start, end))[1];
  drawWitnesses(pen, tape, x + half, lengths);
  pen.boxPx("fg-tape", [x - half, a], [x + half, b]);
  const way = end > start ? 1 : -1;
  for (const [at, kind] of ticksOf(Math.abs(end - start), units, pen.scale)) {
    const y = pen.at(0, start + way * at)[1];
    pen.linePx(tickClass(kind), [[x + half - REACH_PX[kind], y], [x + half, y]]);
  }
  for (const y of [a, b]) pen.linePx("fg-tape-end", [[x - half - 1.5, y], [x + half + 1.5, y]]);
  nameEnds(pen, tape, [x - half - 8, start, end], words);
}

function drawWitnesses(pen, tape, edge, lengths) {
  for (const mark of tape.marks) {
    if (!mark) continue;
    const [x, y] = pen.at(...pointOf(mark, lengths));
    pen.linePx("fg-witness", [[edge, y], [x, y]]);
    pen.circlePx("fg-mark", [x, y], 5);
  }
}

// Beside the tape's ends; where a narrow picture has no room for that, above the upper and under the lower one.
function nameEnds(pen, tape, [x, start, end], words) {
  let ends = [pen.at(0, start)[1], pen.at(0, end)[1]];
  if (tape.way === "up") ends = ends.reverse();
  const upper = Math.min(...ends);
  const spread = Math.max(0, 17 - (Math.max(...ends) - upper)) / 2;
  const wides = tape.names.map((name) => (name === "floor" ? 0 : lettersPx(words[name])));
  const beside = Math.max(...wides) <= x;
  tape.names.forEach((name, i) => {
    const way = ends[i] === upper ? -1 : 1;
    if (name === "floor") pen.text("fg-end", [x + 16, ends[i] + 18], words[name]);
    else if (beside) pen.text("fg-end", [x, ends[i] + 5 + way * spread], words[name], "end");
    else pen.text("fg-end", [Math.max(x + 16, wides[i] / 2 + 1), ends[i] + 5 + way * 12], words[name]);
  });
}

function drawAcross(pen, tape, units, lengths, words) {
  const [ax, y] = pen.at(valueOf(tape.from, lengths), valueOf(tape.y, lengths));
  const [bx] = pen.at(valueOf(tape.to, lengths), valueOf(tape.y, lengths));
  const low = y - 18;
  const high = y - 34;
  for (const x of [ax, bx]) pen.linePx("fg-witness", [[x, low], [x, y]]);
  pen.boxPx("fg-tape", [ax, high], [bx, low]);
  for (const [at, kind] of ticksOf((bx - ax) / pen.scale, units, pen.scale)) {
    const x = ax + at * pen.scale;
    pen.linePx(tickClass(kind), [[x, low - REACH_PX[kind]], [x, low]]);
  }
  for (const x of [ax, bx]) {
    pen.linePx("fg-tape-end", [[x, high - 1.5], [x, low + 1.5]]);
    pen.circlePx("fg-mark", [x, y], 5);
  }
  nameSides(pen, tape, [ax, bx, high], words);
}

// Beside the tape's ends; where a narrow picture has no room for that, above them.
function nameSides(pen, tape, [ax, bx, high], words) {
  const [left, right] = tape.names.map((name) => words[name]);
  const [wide, other] = [left, right].map((word) => lettersPx(word));
  if (wide <= ax - 8 && bx + 8 + other <= pen.width) {
    pen.text("fg-end", [ax - 8, high + 13], left, "end");
    pen.text("fg-end", [bx + 8, high + 13], right, "start");
  } else {
    const middle = (ax + bx) / 2;
    pen.text("fg-end", [Math.max(Math.min(ax + wide, middle - 3), wide + 1), high - 6], left, "end");
    pen.text("fg-end", [Math.min(Math.max(bx - other, middle + 3), pen.width - other - 1), high - 6], right, "start");
  }
}

// Round the limb at its widest: it sags 5 mm, its ticks crowd at the edges, its end hangs.
function drawRound(pen, units, lengths) {
  const half = 61.8 * lengths.g;
  const y = lengths.L * 0.324;
  const sag = 5;
  const wide = Math.max(15, Math.min(12 / pen.scale, 20));
  const band = [];
  for (let i = 0; i <= 16; i++) band.push([-half + (half * i) / 8, y - wide / 2 + sagAt(i / 8 - 1, sag)]);
  drawHangingEnd(pen, half, y, sag, wide);
  const low = band.map(([x, v]) => [x, v + wide]).reverse();
  pen.linePx("fg-tape", [...band, ...low].map(([x, v]) => pen.at(x, v)), true);
  drawRoundTicks(pen, units, half, y - wide / 2, sag, wide);
  const x = -half * OVERLAP_SHARE;
  const v = y - wide / 2 + sagAt(x / half, sag);
  pen.linePx("fg-overlap", [pen.at(x, v - 1), pen.at(x, v + wide + 1)]);
}

function drawRoundTicks(pen, units, half, top, sag, wide) {
  let [step, long] = TICKS_MM[units];
  while (step * pen.scale < 4) step *= 2;
  const start = Math.asin(-OVERLAP_SHARE);
  const around = (half * Math.PI) / 2;
  const first = Math.ceil((-around - start * half) / step);
  const last = Math.floor((around - start * half) / step);
  for (let n = first; n <= last; n++) {
    const angle = start + (n * step) / half;
    const x = half * Math.sin(angle);
    const v = top + sag * Math.cos(angle);
    const kind = tickKind(Math.abs(n), long, units);
    const reach = wide * [0.4, 0.6, 1][kind];
    pen.linePx(tickClass(kind), [pen.at(x, v), pen.at(x, v + reach)]);
  }
}

const sagAt = (share, sag) => sag * Math.sqrt(Math.max(0, 1 - share * share));

function drawHangingEnd(pen, half, y, sag, wide) {
  const x = -half * OVERLAP_SHARE;
  const top = y + wide / 2 + sagAt(OVERLAP_SHARE, sag) - 1;
  const points = [[x + 10, top], [x - 5, top], [x - 8, top + 1.45 * wide], [x + 7, top + 1.6 * wide]];
  pen.linePx("fg-tape", points.map(([px, py]) => pen.at(px, py)), true);
}
