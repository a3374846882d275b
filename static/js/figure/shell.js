// The shank shell's outline, from its sections and the catalogue's reach, open share and relief, and its straps.
// Twin of orders/figure/shell.py.
import { spline } from "./form.js";
import { DEFAULTS, SHELL, frontAt, given, halfBreadthAt, rearAt } from "./lengths.js";

const CORNER = 5;

/** A closed line as points, and which of them make up each edge: name -> [first, last]. */
class Outline {
  constructor(points, edges) {
    Object.assign(this, { points, edges });
  }

  path() {
    return [["M", [this.points[0]]], ...spline(this.points).map((piece) => ["C", piece]), ["Z", []]];
  }

  edge(name) {
    const [first, last] = this.edges[name];
    const pieces = spline(this.points).slice(first, last);
    return [["M", [this.points[first]]], ...pieces.map((piece) => ["C", piece])];
  }
}

/** The shell from the outside: bottom edge, front line upwards, top, rear downwards, in mm. */
export function sideOutline(shell, lengths, stations) {
  const { f, q: end, rt: trim, bx } = lengths;
  const relief = given(shell.relief_mm, 0);
  const front = frontPoints(stations, f, relief);
  const top = topPoints(stations, trim, relief);
  const rear = rearPoints(stations, trim, end, f);
  const low = lowPoints(stations, end, f, given(shell.open_share, DEFAULTS.open_share));
  const start = [0, f];
  const bottomFront = [[bx - CORNER, f], [bx - 1, f - 1.3]];
  const lowest = low[low.length - 1][0];
  const bottomRear = [[lowest + 1, f - 1.3], [lowest + CORNER, f]];
  const groups = [[start], bottomFront, front, top, rear, low, bottomRear, [start]];
  const marks = [0];
  for (const group of groups) marks.push(marks[marks.length - 1] + group.length);
  const points = groups.flat();
  return new Outline(points, {
    bottom: [0, 2],
    front: [marks[2], marks[3] - 1],
    top: [marks[3], marks[4]],
    rear: [marks[4], marks[5]],
    rear_end: nearEnd(points, marks[4], marks[6], end),
  });
}

// The points of the rear within 56 mm above its end.
function nearEnd(points, first, last, end) {
  const near = [];
  for (let i = first; i < last; i++) if (end - 56 <= points[i][1] && points[i][1] <= end) near.push(i);
  return near.length > 1 ? [near[0], near[near.length - 1]] : [first, last - 1];
}

function frontPoints(stations, f, relief) {
  const low = f - CORNER;
  const high = relief + CORNER + 2;
  const shares = SHELL.front_share.filter((share) => high + 6 < share * f && share * f < low - 6);
  const middle = shares.map((share) => [frontAt(stations, share * f), share * f]);
  return [[frontAt(stations, high), high], ...middle, [frontAt(stations, low), low]].reverse();
}

function topPoints(stations, trim, relief) {
  const x = frontAt(stations, relief);
  const corner = [[x - 1.2, relief + 1.5], [x - CORNER, relief]];
  let level = Math.min(40, x - 8);
  if (relief > 0) {
    level = x - 28;
    corner.push([x - 14, relief * 0.72], [x - 22, relief * 0.16]);
  }
  const rear = rearAt(stations, trim);
  const curve = SHELL.top_s.map(([u, v]) => [level + u * (rear - level), v * trim]);
  return [...corner, [level, 0], ...curve];
}

// From the shoulder under the trim down to where the rear ends.
function rearPoints(stations, trim, end, f) {
  const shoulder = [[rearAt(stations, trim + 5) + 1.2, trim + 5], [rearAt(stations, trim + 15), trim + 15]];
  const stop = Math.min(end - 7, f - 16);
  const middle = stations
    .filter((s, i) => i % 2 === 0 && trim + 30 < s.y && s.y < stop - 60)
    .map((s) => [s.front - s.depth, s.y]);
  const near = [stop - 46, stop - 22].filter((y) => y > trim + 30).map((y) => [rearAt(stations, y), y]);
  return [...shoulder, ...middle, ...near, [rearAt(stations, stop), stop]];
}

// From the rear's end in a sweep to the side edge and on to the bottom corner.
function lowPoints(stations, end, f, openShare) {
  if (end > f - 8) return [[rearAt(stations, f - CORNER), f - CORNER]];
  const sweep = Math.min(SHELL.sweep_mm, 0.72 * (f - end));
  const ax = rearAt(stations, end);
  const bx = sideEdge(stations, end + sweep, openShare);
  const by = end + sweep;
  const points = SHELL.sweep.map(([u, v]) => [ax + u * (bx - ax), end + v * (by - end)]);
  const rows = [0.4, 0.7, 1].map((share) => by + (f - CORNER - by) * share);
  return [...points, ...rows.filter((y) => y > by + 3).map((y) => [sideEdge(stations, y, openShare), y])];
}

function sideEdge(stations, y, openShare) {
  const front = frontAt(stations, y);
  const rear = rearAt(stations, y);
  return (front + rear) / 2 - ((front - rear) / 2) * Math.cos(Math.PI * openShare);
}

/** The shell as the person faces you; x runs outward, in mm. */
export function frontOutline(shell, lengths, stations) {
  const f = lengths.f;
  const outer = flank(stations, f, SHELL.fullest.outer);
  const inner = flank(stations, f, SHELL.fullest.inner).map(([x, y]) => [-x, y]).reverse();
  const top = frontTop(outer[outer.length - 1][0] - 7, given(shell.relief_mm, 0));
  const points = [[[0, f]], outer, top, inner, [[0, f]]].flat();
  const b = outer.length;
  const c = b + top.length;
  return new Outline(points, { bottom: [0, 1], outer: [6, b - 4], top: [b, c + 1], inner: [c + 5, c + inner.length - 4] });
}

// One side from the bottom edge up to the top corner.
function flank(stations, f, fullest) {
  const shares = [0.95, 0.86, 0.76, 0.66, 0.54, 0.42, 0.33, 0.24, 0.15, 0.07];
  const low = halfBreadthAt(stations, f, fullest);
  const high = halfBreadthAt(stations, 0, fullest);
  return [
    [low - CORNER, f], [low - 1, f - 1.3], [low, f - CORNER],
    ...shares.map((share) => [halfBreadthAt(stations, share * f, fullest), share * f]),
    [high - 0.6, 9], [high - 2.6, 3.4], [high - 7, 1],
  ];
}

// The top edge from the outer to the inner corner, the middle third lower by the relief.
function frontTop(half, relief) {
  if (relief <= 0) return [[half - 7, 0], [7 - half, 0]];
  const third = half / 3;
  const dip = [[third + 6, 0], [third + 2, relief * 0.2], [third - 2, relief * 0.8], [third - 6, relief]];
  return [[half - 7, 0], ...dip, ...dip.map(([x, y]) => [-x, y]).reverse(), [7 - half, 0]];
}

/** The shell over everything, in ink, or in pencil while it isn't made yet. */
export function drawShell(pen, outline, state) {
  pen.path(state === "ink" ? "fg-shell" : "fg-shell fg-pencilled", outline.path());
}

/** Both straps from the outside: slot, strap, buckle; a buckle on the inner side is dashed. */
export function drawSideStraps(pen, lengths, shell) {
  const far = shell.buckle_side === "inner" ? " fg-far" : "";
  const x = SHELL.slot_x_mm;
  const half = lengths.sw;
  for (const name of ["u", "w"]) {
    const y = lengths[name];
    pen.raw(`<g class="fg-strap" data-strap="${name === "u" ? "upper" : "lower"}">`);
    pen.box("fg-band", [x, y - half], [-19.5, y + half], 3.5);
    pen.box("fg-slot", [x - 2, y - half - 3.5], [x + 2, y + half + 3.5], 1.5);
    pen.box("fg-buckle" + far, [-5, y - half - 3], [9, y + half + 3], 2.5);
    if (!far) pen.box("fg-tongue", [-1, y - 10], [5, y + 10], 0.8);
    pen.raw("</g>");
  }
}

/** Both straps from slot to slot, behind the shell's front and so dashed; the buckle if wanted close. */
export function drawFrontStraps(pen, lengths, shell, close) {
  const half = lengths.sw;
  for (const [name, across] of [["u", lengths.ux], ["w", lengths.wx]]) {
    const y = lengths[name];
    pen.raw(`<g class="fg-strap" data-strap="${name === "u" ? "upper" : "lower"}">`);
    pen.box("fg-behind", [-across, y - half], [across, y + half]);
    for (const x of [-across, across]) pen.box("fg-slot", [x - 2, y - half - 3.5], [x + 2, y + half + 3.5], 1.5);
    if (close) {
      const out = shell.buckle_side === "inner" ? -1 : 1;
      pen.box("fg-buckle", [out * (across + 4), y - half - 3], [out * (across + 15), y + half + 3], 2.5);
    }
    pen.raw("</g>");
  }
}

/** The shell cut through at its widest, the wall to scale. */
export function drawSection(pen, wallMm, girth) {
  const breadth = (SHELL.breadth[6] * girth) / 2;
  const depth = (SHELL.depth[6] * girth) / 2;
  pen.path("fg-wall", [...ring(breadth, depth), ...ring(breadth - wallMm, depth - wallMm)]);
}

function ring(a, b) {
  const c = 0.5523;
  const quarters = [
    [[a, b * c], [a * c, b], [0, b]],
    [[-a * c, b], [-a, b * c], [-a, 0]],
    [[-a, -b * c], [-a * c, -b], [0, -b]],
    [[a * c, -b], [a, -b * c], [a, 0]],
  ];
  return [["M", [[a, 0]]], ...quarters.map((quarter) => ["C", quarter]), ["Z", []]];
}
