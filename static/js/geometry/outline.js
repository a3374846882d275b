// The shell's outline: its girth, section and place at each station. Twin: orders/reckoning/outline.py, which
// draws the axes and tells the method. A station is {below_top_mm, girth_mm, breadth_mm, depth_mm, front_mm, rear_mm}.

import { BOTTOM_EDGE_T, FRONT_LINE, FRONT_LINE_GIRTH_MM, GIRTH_PROFILE, WIDEST_T } from "./constants.js";
import { curveThrough } from "./curve.js";
import { axesMm, depthInsideMm, insideGirthMm } from "./section.js";

const SAME_PLACE_T = 1e-9;
const column = (profile, at) => profile.map((row) => row[at]);
const frontLine = curveThrough(
  FRONT_LINE.map((row) => row[0]),
  FRONT_LINE.map((row) => row[1]),
);
const unitAxes = (profile) => profile.map((row) => axesMm(1, row[2]));
const COMMON_AXES = unitAxes(GIRTH_PROFILE);

const isLength = (value) => value > 0 && value < Infinity;

/** Where a place lies along the profile: 1 at the apex, 0.10 at the bottom edge. */
export const placeT = (belowTopMm, finishedLengthMm) => 1 - ((1 - BOTTOM_EDGE_T) * belowTopMm) / finishedLengthMm;

/** A workshop's own profile in the place of the common one: 19 shares and 19 depths over breadth, from the top down. */
export const houseProfile = (girthShares, depthOverBreadth) =>
  column(GIRTH_PROFILE, 0)
    .filter((t) => t >= BOTTOM_EDGE_T)
    .map((t, at, places) => [t, girthShares[places.length - 1 - at], depthOverBreadth[places.length - 1 - at]]);

/** The 19 stations of the outside, apex first. `extra` is a list of [below_top_mm, girth_mm]. */
export function stations(finishedLengthMm, girthMm, extra = [], frontAtApexMm = null, profile = GIRTH_PROFILE) {
  for (const [name, value] of [["finished_length_mm", finishedLengthMm], ["girth_mm", girthMm]])
    if (!isLength(value)) throw new RangeError(`${name} is ${value}; it must be above 0`);
  const ratio = ratioOf(finishedLengthMm, girthMm, extra, profile);
  const scale = girthMm / FRONT_LINE_GIRTH_MM;
  const shift = frontAtApexMm === null ? 0 : frontAtApexMm - FRONT_LINE[0][1] * scale;
  const axes = profile === GIRTH_PROFILE ? COMMON_AXES : unitAxes(profile);
  const made = [];
  for (let at = profile.length - 1; at >= 0; at -= 1) {
    const [t, share] = profile[at];
    if (t < BOTTOM_EDGE_T) continue;
    const down = (1 - t) / (1 - BOTTOM_EDGE_T);
    const here = girthMm * share * ratio(t);
    const [breadth, depth] = axes[at].map((axis) => here * axis);
    const front = frontLine(down) * scale + shift;
    made.push(station(finishedLengthMm * down, here, breadth, depth, front, front - depth));
  }
  return made;
}

const station = (below_top_mm, girth_mm, breadth_mm, depth_mm, front_mm, rear_mm) => ({
  below_top_mm,
  girth_mm,
  breadth_mm,
  depth_mm,
  front_mm,
  rear_mm,
});

/** Measured over profile along t: 1 at the widest place, flat beyond the outermost measured ones. */
function ratioOf(finishedLengthMm, girthMm, extra, profile) {
  const places = column(profile, 0);
  const shares = curveThrough(places, column(profile, 1));
  const knots = [];
  for (const [belowTopMm, measuredMm] of extra) {
    if (!isLength(measuredMm)) throw new RangeError(`extra girth is ${measuredMm}; it must be above 0`);
    const t = placeT(belowTopMm, finishedLengthMm);
    // a workshop's profile ends at the bottom edge, whose t isn't a double's difference
    const outside = t < places[0] - SAME_PLACE_T || t > places[places.length - 1] + SAME_PLACE_T;
    if (outside || Math.abs(t - WIDEST_T) <= SAME_PLACE_T) continue;
    let knot = knots.find((known) => Math.abs(known.t - t) <= SAME_PLACE_T);
    if (!knot) knots.push((knot = { t, ratios: [] }));
    knot.ratios.push(measuredMm / (girthMm * shares(t)));
  }
  knots.push({ t: WIDEST_T, ratios: [1] });
  knots.sort((a, b) => a.t - b.t);
  return curveThrough(
    knots.map((knot) => knot.t),
    knots.map((knot) => knot.ratios.reduce((sum, part) => sum + part, 0) / knot.ratios.length),
  );
}

/** The section at any place, on the straight line between its neighbours. */
export function stationAt(outline, belowTopMm) {
  const last = outline[outline.length - 1];
  if (!(belowTopMm >= outline[0].below_top_mm && belowTopMm <= last.below_top_mm)) {
    const allowed = `from ${outline[0].below_top_mm} to ${last.below_top_mm}`;
    throw new RangeError(`below_top_mm is ${belowTopMm}; it must be ${allowed}`);
  }
  const at = Math.max(
    1,
    outline.findIndex((here) => belowTopMm <= here.below_top_mm),
  );
  const [above, below] = [outline[at - 1], outline[at]];
  const share = (belowTopMm - above.below_top_mm) / (below.below_top_mm - above.below_top_mm);
  const names = ["girth_mm", "breadth_mm", "depth_mm", "front_mm", "rear_mm"];
  return station(belowTopMm, ...names.map((name) => above[name] + (below[name] - above[name]) * share));
}

/** Girth of the inside at each station. */
export const insideGirthsMm = (outline, wallMm) => outline.map((here) => insideGirthMm(here.girth_mm, wallMm));

/** How wide the inside is at a place. */
export const insideBreadthMm = (outline, wallMm, belowTopMm) =>
  stationAt(outline, belowTopMm).breadth_mm - 2 * wallMm;

/** The least room between a mechanism (width × depth, from … to below the top) and the inside of the shell. */
export function hardwareClearanceMm(outline, wallMm, widthMm, depthMm, fromMm, toMm, leanForwardDeg = 0, leanOutwardDeg = 0) {
  if (!(Math.min(widthMm, depthMm) >= 0 && fromMm <= toMm))
    throw new RangeError(`hardware is ${[widthMm, depthMm, fromMm, toMm]}; it must be 0 or more, and its end below its start`);
  const within = outline.filter((here) => fromMm < here.below_top_mm && here.below_top_mm < toMm);
  const sections = [stationAt(outline, fromMm), ...within, stationAt(outline, toMm)];
  const back = Math.tan((leanForwardDeg * Math.PI) / 180);
  const inward = Math.tan((leanOutwardDeg * Math.PI) / 180);
  return Math.min(...sections.map((section) => rectangleRoomMm(section, widthMm, depthMm, back, inward) - wallMm));
}

/** From the rectangle's nearest corner to the outside of the section. */
function rectangleRoomMm(section, widthMm, depthMm, back, inward) {
  const centre = (section.front_mm + section.rear_mm) / 2;
  const x = -back * section.below_top_mm - centre;
  const y = Math.abs(inward) * section.below_top_mm;
  const room = (way) =>
    depthInsideMm(x + (way * depthMm) / 2, y + widthMm / 2, section.breadth_mm, section.depth_mm);
  return Math.min(room(-1), room(1));
}

/** What an extension stop (below the top, in front of the pylon's axis) leaves inside the front of the shell. */
export const stopClearanceMm = (outline, wallMm, stopBelowApexMm, stopProjectionMm) =>
  stationAt(outline, stopBelowApexMm).front_mm - wallMm - stopProjectionMm;
