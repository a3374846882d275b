// The leg's own parts: which are there, how they are drawn, what of them moves. Twin of orders/figure/parts.py.
import FIGURE from "../../figures/leg.js";
import { pathOf, pointOf, turned, valueOf } from "./form.js";
import { given } from "./lengths.js";

/** How each ankle moves about its axis: the arrow before the toe and the foot's other place, in degrees below forward. */
const SWINGS = {
  spring: { from: 19, to: 7, both: false, ghost: 7 },
  jointed: { from: 33, to: 4, both: true, ghost: 11 },
  wide: { from: 38, to: -4, both: true, ghost: 20 },
};
const ARROW_R_MM = 224;

const yesOrNo = (isThere) => (isThere ? "yes" : "no");

/** The answers that decide which parts are drawn. */
export function stateOf(scene) {
  return {
    pins: scene.knee.pins,
    control: scene.knee.control || "mechanical",
    profile: scene.foot.profile,
    level: scene.level,
    construction: scene.leg !== "other" ? scene.construction : "bare",
    footwear: scene.footwear,
    socket: "on",
    close: scene.close ? "yes" : "no",
    moving: yesOrNo(scene.moving || scene.shows.includes("moving")),
    stop: yesOrNo(given(scene.knee.stop_mm, null) !== null || scene.shows.includes("stop")),
    thigh_side: yesOrNo(scene.knee.thigh_side_mm || scene.shows.includes("thigh_side")),
    lean: scene.lean || "no",
    posture: scene.posture,
    other_leg: scene.other_leg,
    girth_over: scene.girth_over,
    swelling: scene.swelling,
  };
}

/** The parts of one view, in the order in which they are drawn. */
export function partsOf(scene, view) {
  if (scene.purpose === "mark") return scene.frame === "mark" ? FIGURE.mark_parts : [];
  if (scene.bare) return [];
  const other = scene.leg === "other" && scene.other_leg !== "above_knee";
  const state = stateOf(scene);
  const holds = (part) => Object.entries(part.when).every(([key, values]) => values.includes(state[key]));
  return FIGURE[other ? "other" : "parts"].filter((part) => part.view === view && holds(part));
}

export function drawParts(pen, scene, view, lengths) {
  for (const part of partsOf(scene, view)) drawPart(pen, part, kindOf(part, scene), scene, lengths);
}

function kindOf(part, scene) {
  let kind = `fg-${part.class}`;
  if (scene.focus.some((focus) => part.id.startsWith(focus))) kind += " fg-focus";
  const above = scene.foot.hardware_above_rim_mm;
  const assumed = scene.foot.profile === "high" && (above === null || above === undefined);
  if (scene.purpose === "scale" && assumed && part.id.startsWith("foot.")) kind += " fg-assumed";
  return kind;
}

function drawPart(pen, part, kind, scene, lengths) {
  const down = part.at === "@" ? lengths.L : 0;
  if (part.c) {
    const [x, y] = pointOf(part.c, lengths);
    pen.circle(kind, x, y + down, valueOf(part.r, lengths));
  } else if (part.box) {
    const [[ax, ay], [bx, by]] = part.box.split(" ").map((corner) => pointOf(corner, lengths));
    pen.box(kind, [ax, ay + down], [bx, by + down], part.round);
  } else {
    pen.path(kind, placed(part, scene, lengths, down));
  }
}

// Where the knee turns by a right angle: about its pin, or, with four pins, about the point that leaves both links as long
// as they are.
const bendsAbout = (scene, lengths) => (scene.knee.pins === "several" ? [29.7, -32.5] : [-6, 35 * lengths.k]);

function placed(part, scene, lengths, down) {
  let path = pathOf(part.d, lengths);
  if (down) path = path.map(([letter, points]) => [letter, points.map(([x, y]) => [x, y + down])]);
  if (part.turns === "thigh" && scene.posture === "seated") path = turned(path, bendsAbout(scene, lengths), 90);
  return path;
}

/** What the ankle moves: the foot again at the end of its way, and arrows round the axis. */
export function drawGhostAndArrows(pen, scene, lengths) {
  const swing = SWINGS[scene.foot.ankle || ""];
  if (!swing) return;
  const axis = [0, lengths.L - lengths.ax];
  drawGhost(pen, scene, lengths, axis, swing.ghost);
  drawArrow(pen, arc(axis, ARROW_R_MM, swing.from, swing.to), swing.both);
}

function drawGhost(pen, scene, lengths, axis, degrees) {
  for (const part of FIGURE.parts) {
    const worn = part.when.footwear || [scene.footwear];
    if (part.turns === "foot" && ["shoe", "sole"].includes(part.class) && worn.includes(scene.footwear)) {
      pen.path("fg-ghost", turned(placed(part, scene, lengths, lengths.L), axis, degrees));
    }
  }
}

function arc(centre, r, start, end) {
  const points = [];
  for (let i = 0; i <= 8; i++) {
    const angle = ((start + ((end - start) * i) / 8) * Math.PI) / 180;
    points.push([centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle)]);
  }
  return points;
}

/** An arrow along points in mm: something moves this way, or to and fro. */
export function drawArrow(pen, points, bothEnds = false) {
  const line = points.map(([x, y]) => pen.at(x, y));
  pen.linePx("fg-arrow", line);
  drawHead(pen, line[line.length - 2], line[line.length - 1]);
  if (bothEnds) drawHead(pen, line[1], line[0]);
}

function drawHead(pen, before, tip) {
  let x = tip[0] - before[0];
  let y = tip[1] - before[1];
  const size = Math.sqrt(x * x + y * y);
  [x, y] = [x / size, y / size];
  const back = 8;
  const out = 5.5;
  const left = [tip[0] - x * back - y * out, tip[1] - y * back + x * out];
  const right = [tip[0] - x * back + y * out, tip[1] - y * back - x * out];
  pen.linePx("fg-arrow", [left, tip, right]);
}
