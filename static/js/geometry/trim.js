// How low the shell's rear edge must start for the knee to bend. Twin: orders/reckoning/trim.py, which draws it.

import { KNEE_AXIS_X_MM } from "./constants.js";
import { stationAt } from "./outline.js";

const RADIANS = Math.PI / 180;

function check(thighBehindMm, edgeBehindMm, flexionDeg = 90) {
  for (const [name, value] of [["thigh_behind_mm", thighBehindMm], ["edge_behind_mm", edgeBehindMm]])
    if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} is ${value}; it must be above 0`);
  if (!(flexionDeg > 0 && flexionDeg < 180))
    throw new RangeError(`flexion_deg is ${flexionDeg}; it must be above 0 and less than 180`);
}

/** Flexion at which the thigh's rear surface meets an edge below and behind the knee's axis. */
export function flexionAtContactDeg(belowAxisMm, thighBehindMm, edgeBehindMm) {
  check(thighBehindMm, edgeBehindMm);
  const reach = Math.hypot(belowAxisMm, edgeBehindMm);
  return (Math.atan2(belowAxisMm, edgeBehindMm) + Math.acos(Math.min(1, thighBehindMm / reach))) / RADIANS;
}

/** The least depth of an edge below the axis that lets the knee bend so far; never above the axis. */
export function leastBelowAxisMm(thighBehindMm, edgeBehindMm, flexionDeg) {
  check(thighBehindMm, edgeBehindMm, flexionDeg);
  const turned = flexionDeg * RADIANS;
  let below = (thighBehindMm - edgeBehindMm * Math.cos(turned)) / Math.sin(turned);
  if (flexionDeg < 90) below = Math.min(below, edgeBehindMm * Math.tan(turned));
  return Math.max(0, below);
}

/** How far below the top the rear edge must start; null where even the bottom edge would be met. */
export function rearTrimMm(outline, thighBehindAxisMm, flexionDeg, axisBelowApexMm, axisXMm = KNEE_AXIS_X_MM) {
  const line = [
    stationAt(outline, axisBelowApexMm),
    ...outline.filter((here) => here.below_top_mm > axisBelowApexMm),
  ];
  const edges = line.map((here) => [here.below_top_mm - axisBelowApexMm, axisXMm - here.rear_mm]);
  for (const [, behind] of edges) check(thighBehindAxisMm, behind, flexionDeg);
  for (let lower = edges.length - 1; lower > 0; lower -= 1) {
    const share = metUntil(edges[lower - 1], edges[lower], thighBehindAxisMm, flexionDeg * RADIANS);
    if (share === null) continue;
    if (lower === edges.length - 1 && share === 1) return null;
    const [above, below] = [edges[lower - 1][0], edges[lower][0]];
    return axisBelowApexMm + above + (below - above) * share;
  }
  return axisBelowApexMm;
}

/** How far down the line from one edge to the next the thigh still meets it, as a share; null if nowhere. */
function metUntil(above, below, thighBehindMm, turned) {
  const beyond = ([s, b]) => s * Math.sin(turned) + b * Math.cos(turned) - thighBehindMm;
  const ahead = ([s, b]) => s * Math.cos(turned) - b * Math.sin(turned);
  let [start, end] = [0, 1];
  for (const clear of [beyond, ahead]) {
    const [first, last] = [clear(above), clear(below)];
    if (first >= 0 && last >= 0) return null;
    if (first < 0 && last >= 0) end = Math.min(end, first / (first - last));
    else if (last < 0 && first >= 0) start = Math.max(start, first / (first - last));
  }
  return start < end ? end : null;
}
