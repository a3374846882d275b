// Small pictures of answers. The words beside them say what they show, so they carry no title of their own.
// Twin of orders/figure/choices.py.
import FIGURE from "../../figures/leg.js";
import { optionOf } from "./given.js";
import { overlaid, sceneOf } from "./scene.js";

const OPTION_LISTS = { rear: "rears", top: "tops", wall: "walls" };
const NUMBERS = ["reach", "open_share", "relief_mm", "wall_mm"];

const SETTERS = {
  side: (scene, value) => { scene.side = value; },
  level: (scene, value) => { scene.level = value; },
  other_leg: (scene, value) => { scene.other_leg = value; },
  construction: (scene, value) => { scene.construction = value; },
  posture: (scene, value) => { scene.posture = value; },
  footwear: (scene, value) => { scene.footwear = value; },
  pins: (scene, value) => { scene.knee.pins = value; },
  named: (scene, value) => { scene.knee.pins = value === "polycentric" ? "several" : "one"; },
  control: (scene, value) => { scene.knee.control = value; },
  at_knee: (scene, value) => {
    Object.assign(scene.knee, { stop_mm: null, thigh_side_mm: null });
    scene.shows = { both: ["stop", "thigh_side"], nothing: [] }[value] || [value];
  },
  pylon: (scene, value) => Object.assign(scene, { moving: null, shows: value === "moves" ? ["moving"] : [] }),
  profile: (scene, value) => Object.assign(scene.foot, { profile: value, hardware_above_rim_mm: 76 }),
  ankle: (scene, value) => {
    scene.foot.ankle = value;
    scene.axis = ["jointed", "wide"].includes(value);
  },
  girth_from: (scene, value) => {
    if (value !== "chosen") {
      scene.other_leg = "sound";
      return;
    }
    Object.assign(scene, { leg: "prosthesis", frame: "whole" });
    scene.shell.state = "pencil";
  },
  girth_over: (scene, value) => { scene.girth_over = value; },
  swelling: (scene, value) => { scene.swelling = value; },
  // Well below the knee, so that nothing but the strap is seen.
  buckle_side: (scene, value) => Object.assign(scene.shell, { buckle_side: value, upper_mm: 190 }),
};

/**
 * The scene of one answer to a field, drawn with the other answers as they stand; null without a picture.
 * Options of a catalogue are drawn from its numbers; colours and finishes aren't drawn.
 */
export function choice(fieldKey, value, entry, catalogue = null, { fit = null } = {}) {
  const row = FIGURE.choices[fieldKey];
  if (!row) return null;
  const scene = overlaid(sceneOf(entry, null, catalogue, { purpose: "choice", view: row.view, fit }), row);
  Object.assign(scene, { length_mm: null, girth_mm: null, gap_mm: null });
  if (row.set in OPTION_LISTS) {
    const option = optionOf(catalogue, OPTION_LISTS[row.set], value);
    for (const name of NUMBERS) if (name in option) scene.shell[name] = option[name];
  } else {
    SETTERS[row.set](scene, value);
  }
  scene.frame = (row.frames || {})[value] || scene.frame;
  if (scene.tape) scene.tape = { of: scene.tape };
  scene.title = "";
  return scene;
}
