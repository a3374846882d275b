// What isn't scalar, as quantities; mass and inertia are the server's only. Twin: orders/rulebook/geometry.py.

import { KNEE_AXIS_BELOW_APEX_MM, KNEE_FLEXION_DEG } from "../geometry/constants.js";
import { hardwareClearanceMm, insideBreadthMm, stations, stopClearanceMm } from "../geometry/outline.js";
import { rearTrimMm } from "../geometry/trim.js";
import { FUNCTIONS } from "./functions.js";

const REAR_TRIM_SHARE = 0.19;

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
export function worked(known, read) {
  const outline = unlessOutOfRange(() => outlineOf(known, read)) ?? [];
  const found = outline.length ? foundIn(known, outline, read) : {};
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
  };
}

function outlineOf({ finished_length_mm: length, girth_mm: girth, apex_to_floor_mm: apex, ...rest }, read) {
  if (length === undefined || girth === undefined) return [];
  const extra = apex === undefined ? [] : read.extra_girths.map(([place, here]) => [apex - place, here]);
  return stations(length, girth, extra, rest.behind_front_at_apex_mm ?? null);
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
    inside_breadth_at_top_mm: measured([wall], () => insideBreadthMm(outline, wall, 0)),
    rear_trim_start_mm: rearTrim(known, outline, end),
  };
  return { ...found, ...service({ ...known, ...found }, read) };
}

function rearTrim(known, outline, end) {
  if (!known.thigh_behind_axis_given) return REAR_TRIM_SHARE * end;
  const flexion = known.max_flexion_deg ?? KNEE_FLEXION_DEG;
  const axis = known.axis_below_apex_mm ?? KNEE_AXIS_BELOW_APEX_MM;
  return measured([known.thigh_behind_axis_mm], (thigh) => rearTrimMm(outline, thigh, flexion, axis));
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
