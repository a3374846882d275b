// How a picture is laid out: its scale, its size, and where each view stands. Twin of orders/figure/plan.py.
import FIGURE from "../../figures/leg.js";
import { language } from "../reading/language.js";
import { valueOf } from "./form.js";
import { lettersPx } from "./pen.js";

const FIT = { guide: [214, 336], scale: [412, 372], mark: [40, 60], choice: [112, 112] };
/** Room in front of the leg for the tape's names, where the foot doesn't make it, in px. */
const TAPE_ROOM = { "knee.hardware_length": 74, length: 34, "second_route.apex_to_floor": 34, gap: 42, "foot.axis_above_rim": 30 };
/** In a narrower guide the names stand above and under a tape that runs along the leg, in so much room there. */
const NARROW_PX = 190;
const NARROW_ROOM = { left: 22, top: 18, bottom: 18 };
export const viewsOf = (scene) => (scene.view === "both" ? ["side", "front"] : [scene.view]);

/** Whether the dimensions take the room between the two views. */
export const manyDims = (scene) => scene.dims.some((dim) => FIGURE.dims[dim.of].lane.startsWith("rear"));

// Room for dimensions, names and flags, in px.
function roomOf(scene) {
  if (scene.purpose === "scale") return roomToScale(scene);
  if (scene.purpose !== "guide") return { left: 3, right: 3, top: 3, bottom: 3, between: 8 };
  const tape = scene.tape ? scene.tape.of : "";
  const room = {
    left: (TAPE_ROOM[tape] || 4) + moreThan(scene, FIGURE.tapes[tape]?.names ?? []),
    right: scene.band ? 44 + moreThan(scene, ["open"]) : tape === "foot.rim_depth" ? 20 : 4,
    top: scene.frame === "tall" ? 4 : 0,
    bottom: tape.startsWith("second_route") ? 22 : 4,
    between: 24,
  };
  return isNarrow(scene) ? { ...room, ...NARROW_ROOM, bottom: Math.max(room.bottom, NARROW_ROOM.bottom) } : room;
}

const isNarrow = ({ fit, tape }) => fit && fit[0] < NARROW_PX && tape && ["up", "down"].includes(FIGURE.tapes[tape.of].way);

// By how much names in the page's language are wider than their English keys, for which there is room, in px.
function moreThan(scene, names) {
  const words = { ...FIGURE.words, ...language.figure, ...scene.words };
  const widest = (texts) => Math.max(0, ...texts.map((text) => lettersPx(text)));
  return Math.max(0, widest(names.map((name) => words[name])) - widest(names));
}

function roomToScale(scene) {
  const right = scene.view === "side" ? 50 : 44;
  if (manyDims(scene)) return { left: 24, right, top: 0, bottom: 32, between: 46 };
  return { left: 26, right, top: 0, bottom: scene.view === "both" ? 8 : 32, between: 92 };
}

/** Scale and places so that the frame and its lettering fit into the scene's `fit`:
 *  {scale, width, height, panels: [{view, x0, y0, way}]}, places on the unmirrored picture. */
export function planOf(scene, lengths) {
  const views = viewsOf(scene);
  const room = roomOf(scene);
  const windows = views.map((view) => FIGURE.frames[scene.frame][view].map((form) => valueOf(form, lengths)));
  let wide = 0;
  for (const [low, high] of windows) wide += Math.abs(high - low);
  const tall = windows[0][3] - windows[0][2];
  let [width, height] = scene.fit || FIT[scene.purpose];
  const across = room.left + room.right + room.between * (views.length - 1);
  const scale = scene.px_per_mm || Math.min((width - across) / wide, (height - room.top - room.bottom) / tall);
  const content = scale * wide + across;
  if (scene.purpose !== "scale" || scene.px_per_mm) [width, height] = [content, scale * tall + room.top + room.bottom];
  let x = room.left + (width - content) / 2;
  const y0 = height - room.bottom - scale * windows[0][3];
  const panels = views.map((view, i) => {
    const [low, high] = windows[i];
    const way = wayOf(scene, view);
    const panel = { view, x0: x + scale * (way < 0 ? high : -low), y0, way };
    x += scale * (high - low) + room.between;
    return panel;
  });
  return { scale, width, height, panels };
}

// On a left leg x runs left from the outside, and outward is right as the person faces you.
const wayOf = (scene, view) => (view === "side" || scene.leg === "other" ? -1 : 1);
