// From a scene to the named lengths that the figure's paths are written in. Twin of orders/figure/lengths.py.
// A station is {y, front, depth, breadth} in mm, y below the shell's top edge.
import FIGURE from "../../figures/leg.js";

export const DEFAULTS = FIGURE.defaults;
export const SHELL = FIGURE.shell;

/** The value, or what is drawn where none is given. */
export const given = (value, otherwise) => (value === null || value === undefined ? otherwise : value);

/** Straight-line interpolation in rows of [x, value], rising in x; flat beyond the ends. */
export function between(rows, x) {
  if (x <= rows[0][0]) return rows[0][1];
  for (let i = 1; i < rows.length; i++) {
    const [ax, av] = rows[i - 1];
    const [bx, bv] = rows[i];
    if (x <= bx) return av + ((bv - av) * (x - ax)) / (bx - ax);
  }
  return rows[rows.length - 1][1];
}

/** The shell's sections: the scene's own, or the ordinary leg's, scaled to length and girth. */
export function stationsOf(scene, finished, girth) {
  const rows = scene.shell.stations;
  if (rows && rows.length) {
    return rows.map((row) => ({ y: row.below_top_mm, front: row.front_mm, depth: row.depth_mm, breadth: row.breadth_mm }));
  }
  const front = SHELL.front_share.map((share, i) => [share, SHELL.front_mm[i]]);
  const breadths = smoothed(SHELL.breadth);
  const depths = smoothed(SHELL.depth);
  return SHELL.t.map((t, i) => {
    const share = (1 - t) / 0.9;
    const eased = scene.purpose === "guide" && t > 0.82;
    const depth = eased ? Math.min(depths[i], SHELL.eased_depth) : depths[i];
    return { y: share * finished, front: (between(front, share) * girth) / 385, depth: depth * girth, breadth: breadths[i] * girth };
  });
}

// Each value drawn a quarter of the way to either neighbour: the profile is of one leg, bumps and all. The widest
// place keeps its own.
function smoothed(values) {
  const kept = [0, SHELL.t.indexOf(SHELL.widest_t), values.length - 1];
  return values.map((value, i) => (kept.includes(i) ? value : (values[i - 1] + 2 * value + values[i + 1]) / 4));
}

export const frontAt = (stations, y) => between(stations.map((s) => [s.y, s.front]), y);
export const rearAt = (stations, y) => between(stations.map((s) => [s.y, s.front - s.depth]), y);

const widestOf = (stations) => stations.reduce((best, s) => (s.breadth > best.breadth ? s : best)).y;

/** Half the width at y, with the fullest place moved to `fullestShare` of the length, in mm. */
export function halfBreadthAt(stations, y, fullestShare) {
  const rows = stations.map((s) => [s.y, s.breadth]);
  const whole = stations[stations.length - 1].y;
  const plain = widestOf(stations) / whole;
  const share = y / whole;
  let moved = (share * plain) / fullestShare;
  if (share > fullestShare) moved = plain + ((share - fullestShare) * (1 - plain)) / (1 - fullestShare);
  return between(rows, moved * whole) / 2;
}

/** Every named length of the figure, in mm; what isn't given stands at its usual place. */
export function lengthsOf(scene) {
  const length = given(scene.length_mm, DEFAULTS.length_mm);
  const gap = given(scene.gap_mm, DEFAULTS.gap_mm);
  const girth = given(scene.girth_mm, DEFAULTS.girth_mm);
  const finished = given(scene.shell.finished_mm, length - gap);
  const lengths = { L: length, gap, g: girth / 385, f: finished };
  Object.assign(lengths, kneeLengths(scene), footLengths(scene), strapLengths(scene, finished));
  Object.assign(lengths, shellLengths(scene, lengths, stationsOf(scene, finished, girth)));
  return Object.assign(lengths, extraLengths(scene, lengths));
}

function kneeLengths(scene) {
  const pins = scene.knee.pins === "several" ? "several" : "one";
  const hw = given(scene.knee.hardware_mm, DEFAULTS.hardware_mm[pins]);
  const kb = hw - Math.min(24, 0.3 * hw);
  const knee = scene.knee;
  return {
    hw,
    kb,
    k: Math.min(1, kb / DEFAULTS.knee_drawn_mm[pins]),
    sp: given(knee.stop_mm, DEFAULTS.stop_mm),
    sb: given(knee.stop_below_mm, DEFAULTS.stop_below_mm),
    tb: given(knee.thigh_side_mm, DEFAULTS.thigh_side_mm),
    tw: given(knee.thigh_side_width_mm, DEFAULTS.thigh_side_width_mm) / 2,
  };
}

function footLengths(scene) {
  const foot = scene.foot;
  const usual = foot.profile === "high" ? DEFAULTS.hardware_above_rim_mm : 0;
  const har = given(foot.hardware_above_rim_mm, usual);
  return {
    har,
    hb: har - Math.min(24, 0.4 * har),
    ax: given(foot.axis_above_rim_mm, DEFAULTS.axis_above_rim_mm),
    col: given(scene.collar_mm, DEFAULTS.collar_mm),
  };
}

function strapLengths(scene, finished) {
  const shell = scene.shell;
  return {
    u: given(shell.upper_mm, DEFAULTS.strap_mm),
    w: finished - given(shell.lower_mm, DEFAULTS.strap_mm),
    sw: given(shell.strap_width_mm, DEFAULTS.strap_width_mm) / 2,
  };
}

function shellLengths(scene, lengths, stations) {
  const end = given(scene.shell.reach, DEFAULTS.reach) * lengths.f;
  const trim = Math.min(given(scene.shell.rear_trim_mm, DEFAULTS.rear_trim_share * lengths.f), 0.5 * end);
  const widest = widestOf(stations);
  const { plain, outer, inner } = SHELL.fullest;
  return {
    q: end,
    qx: rearAt(stations, end - 16),
    rt: trim,
    rx: rearAt(stations, trim),
    cy: widest,
    cx: halfBreadthAt(stations, widest, outer),
    ci: halfBreadthAt(stations, widest, inner),
    cr: rearAt(stations, widest),
    fx: frontAt(stations, 0.34 * lengths.f),
    lx: frontAt(stations, 0.72 * lengths.f),
    tx: stations[0].front,
    bx: stations[stations.length - 1].front,
    ux: SHELL.slot_share * halfBreadthAt(stations, lengths.u, plain),
    wx: SHELL.slot_share * halfBreadthAt(stations, lengths.w, plain),
  };
}

function extraLengths(scene, lengths) {
  const moving = scene.moving || {};
  const low = given(moving.from_above_rim_mm, 0.3 * lengths.L);
  const high = given(moving.to_above_rim_mm, low + 40);
  return { m1: lengths.L - high, m2: lengths.L - low, sv: given(scene.service_mm, lengths.hw + 16) };
}
