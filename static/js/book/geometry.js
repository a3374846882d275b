// What isn't scalar, as quantities; mass and inertia are the server's only. Twin: orders/rulebook/geometry.py.

import { hardwareClearanceMm, houseProfile, insideBreadthMm, stations, stopClearanceMm } from "../geometry/outline.js";
import { motion } from "../geometry/mechanism.js";
import { rearTrimMm } from "../geometry/trim.js";
import { FUNCTIONS } from "./functions.js";

const rounded = (value) => Math.floor(value * 1000 + 0.5) / 1000;

/** The function's value; undefined where a measure lies outside what it holds for. */
function unlessOutOfRange(act) {
  try {
    return act() ?? undefined;
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** What `act` gives once all its values are known. */
const measured = (values, act) =>
  values.includes(undefined) ? undefined : unlessOutOfRange(() => act(...values));

/** Quantities for the checks, stations and clearances for the result. */
export function worked(known, read, catalogue) {
  const outline = unlessOutOfRange(() => outlineOf(known, read, catalogue.profile)) ?? [];
  const moved = motionOf(known);
  const found = { ...moved.found, ...(outline.length && foundIn(known, outline, read)) };
  const room = (name) => (found[name] === undefined ? null : rounded(found[name]));
  return {
    known: found,
    stations: outline.map((station) =>
      Object.fromEntries(Object.entries(station).map(([name, value]) => [name, rounded(value)])),
    ),
    clearances: {
      knee_mm: room("knee_clearance_mm"),
      foot_mm: room("foot_clearance_mm"),
      stop_mm: room("stop_clearance_mm"),
    },
    mechanism: moved.way,
  };
}

function outlineOf({ finished_length_mm: length, girth_mm: girth, apex_to_floor_mm: apex, ...rest }, read, house) {
  if (length === undefined || girth === undefined) return [];
  const extra = apex === undefined ? [] : read.extra_girths.map(([place, here]) => [apex - place, here]);
  const profile = house ? houseProfile(house.girth_shares, house.depth_over_breadth) : undefined;
  return stations(length, girth, extra, rest.behind_front_at_apex_mm ?? null, profile);
}

function foundIn(known, outline, read) {
  const end = outline[outline.length - 1].below_top_mm;
  const wall = known.wall_mm;
  const leans = [known.lean_forward_deg ?? 0, known.lean_outward_deg ?? 0];
  const { hardware_above_rim_mm: above, gap_mm: gap } = known;
  const found = {
    knee_clearance_mm: measured(
      [known.knee_width_mm, known.knee_depth_mm, known.hardware_length_mm, wall],
      (width, depth, reach) => hardwareClearanceMm(outline, wall, width, depth, 0, Math.min(reach, end), ...leans),
    ),
    foot_clearance_mm: FUNCTIONS.more(above ?? 0, gap ?? 0)
      ? measured([known.foot_width_mm, known.foot_depth_mm, gap, wall], (width, depth) =>
          hardwareClearanceMm(outline, wall, width, depth, Math.max(0, end + gap - above), end, ...leans),
        )
      : undefined,
    stop_clearance_mm: measured([wall, known.stop_below_apex_mm, known.stop_projection_mm], (...stop) =>
      stopClearanceMm(outline, ...stop),
    ),
    inside_front_at_top_mm: wall === undefined ? undefined : outline[0].front_mm - wall,
    inside_breadth_at_top_mm: measured([wall], () => insideBreadthMm(outline, wall, 0)),
    rear_trim_start_mm: rearTrim(known, outline),
  };
  found.rear_left = rearLeft(known, found.rear_trim_start_mm);
  return { ...found, ...service({ ...known, ...found }, read) };
}

const PIVOTS = ["front_lower", "rear_lower", "front_upper", "rear_upper"];
const TOLD_EVERY = 10;

/** How a knee whose four pivots are entered bends, and what the checks ask of it. */
function motionOf(known) {
  const pivots = PIVOTS.map((name) => [known[`${name}_forward_mm`], -known[`${name}_below_apex_mm`]]);
  const asked = known.flexion_used_deg;
  if ([asked, ...pivots.flat()].some((value) => !Number.isFinite(value)))
    return { found: { pivots_move: false }, way: [] };
  const steps = unlessOutOfRange(() => motion(pivots, asked)) ?? [];
  const last = steps[steps.length - 1];
  const found = { pivots_bend_deg: last?.angle ?? 0, pivots_move: Boolean(last) };
  if (!last) return { found, way: [] };
  const upper = steps.flatMap(({ stand }) => stand.slice(2));
  found.bent_has_centre = last.centre !== null;
  found.pivot_most_forward_mm = Math.max(...upper.map((pivot) => pivot[0]));
  found.pivots_below_apex_mm = -Math.min(...upper.map((pivot) => pivot[1]));
  for (const [when, { centre }] of [["straight", steps[0]], ["bent", last]])
    if (centre) [found[`centre_${when}_forward_mm`], found[`centre_${when}_above_apex_mm`]] = centre;
  return { found, way: steps.filter((step, at) => at % TOLD_EVERY === 0 || step === last).map(told) };
}

const place = (point) => point && { forward_mm: rounded(point[0]), below_apex_mm: rounded(-point[1]) };
const told = ({ angle, stand, centre }) => ({ flexion_deg: rounded(angle), front_pivot: place(stand[2]), centre: place(centre) });

function rearTrim(known, outline) {
  if (!known.thigh_behind_axis_given) return known.rear_trim_usual_mm;
  const { thigh_behind_axis_mm: thigh, flexion_used_deg: flexion, knee_axis_used_mm: axis } = known;
  return measured([thigh, flexion, axis], () => rearTrimMm(outline, thigh, flexion, axis));
}

/** Whether anything of the rear is left between its trim and its end; undefined where that can't be known yet. */
function rearLeft(known, starts) {
  const { reach, finished_length_mm: length, flexion_used_deg: flexion, knee_axis_used_mm: axis } = known;
  const thigh = known.thigh_behind_axis_given ? known.thigh_behind_axis_mm : 0;
  if ([reach, length, flexion, axis, thigh].includes(undefined)) return undefined;
  return starts !== undefined && FUNCTIONS.less(starts, reach * length);
}

function service(known, read) {
  const covered = read.service_points.filter((point) => point.stays_open && isCovered(point, known));
  return { service_covered: covered.length > 0, service_covered_what: covered.map((point) => point.what).join(", ") };
}

function isCovered({ side, below_apex_mm: place }, known) {
  const length = known.finished_length_mm;
  const starts = { front: known.relief_mm ?? 0, rear: known.rear_trim_start_mm ?? 0 }[side] ?? 0;
  const ends = side === "rear" ? length * (known.reach ?? 1) : length;
  return place !== undefined && FUNCTIONS.more(place, starts) && FUNCTIONS.less(place, ends);
}
