// Scenes from an entry and its result: to scale, as a list's mark, and the guide of each field of the sheet.
// Twin of orders/figure/scene.py.
import FIGURE from "../../figures/leg.js";
import { language } from "../reading/language.js";
import { drawable, fieldOf, measuredMm, pinsOf, shellNumbers, typedOf } from "./given.js";
import { given } from "./lengths.js";


/** Each dimension's figure in the result, or its field in the entry. */
const DIM_FIELDS = {
  finished_length: "finished_length_mm",
  gap: "gap_mm",
  hardware_length: "knee.hardware_length",
  upper_strap: "upper_strap_mm",
  strap_spacing: "strap_spacing_mm",
  lower_strap: "lower_strap_mm",
  hardware_above_rim: "foot.hardware_above_rim",
  girth: "girth_mm",
};
/** What is left clear inside the shell, by its key among the result's clearances. */
const CLEARANCES = { clear_knee: "knee_mm", clear_foot: "foot_mm", clear_stop: "stop_mm" };
const FEW = ["finished_length", "gap"];

/**
 * The scene of one shell. `entry` may be still in the making, `result` null or partial, `catalogue` null.
 * purpose "scale", "mark" or "guide"; view "side", "front" or "both"; dims "few" (finished length and gap), "all" or
 * "none"; strong: the dimension in hand; words: the figure's words in another language; fit: [width, height] in px.
 */
export function sceneOf(entry, result, catalogue, options = {}) {
  const { purpose = "scale", view = "both", dims = "few", strong = null, words = null, fit = null } = options;
  const known = result || {};
  const scene = {
    view,
    purpose,
    frame: purpose === "mark" ? "mark" : "whole",
    side: entry.side || "left",
    units: entry.units || "mm",
    length_mm: given(drawable(known.length_taken_mm, "length"), measuredMm(entry, "length")),
    gap_mm: drawable(known.gap_mm, "gap"),
    girth_mm: given(drawable(known.girth_mm, "girth"), measuredMm(entry, "girth")),
    ...legOf(entry),
    shell: shellOf(entry, known, catalogue, purpose),
    dims: dimsOf(entry, known, purpose === "scale" ? dims : "none", strong),
    flags: purpose === "scale" ? flagsOf(known) : [],
  };
  if (words) scene.words = { ...words };
  if (fit) scene.fit = [...fit];
  return titled(scene, purpose === "scale" ? "scale" : "mark");
}

// What the entry says about knee, foot, shoe and the other leg.
function legOf(entry) {
  return {
    level: entry.level || "transfemoral",
    construction: entry.construction || "bare",
    other_leg: entry.other_leg || "sound",
    footwear: entry.footwear || "low",
    collar_mm: measuredMm(entry, "collar_above_rim"),
    girth_over: entry.girth_over || "skin",
    swelling: entry.swelling || "none",
    knee: {
      pins: pinsOf(entry),
      hardware_mm: measuredMm(entry, "knee.hardware_length"),
      control: fieldOf(entry, "knee.control"),
      stop_mm: measuredMm(entry, "knee.stop_projection"),
      stop_below_mm: measuredMm(entry, "knee.stop_below_apex"),
      thigh_side_mm: measuredMm(entry, "knee.thigh_side_below_apex"),
      thigh_side_width_mm: measuredMm(entry, "knee.thigh_side_width"),
    },
    foot: {
      profile: fieldOf(entry, "foot.profile") || "low",
      ankle: fieldOf(entry, "foot.ankle"),
      hardware_above_rim_mm: measuredMm(entry, "foot.hardware_above_rim"),
      axis_above_rim_mm: measuredMm(entry, "foot.axis_above_rim"),
    },
    moving: movingOf(entry),
    service_mm: serviceMm(entry),
  };
}

function movingOf(entry) {
  const low = measuredMm(entry, "moving_part.from_above_rim");
  const high = measuredMm(entry, "moving_part.to_above_rim");
  return low === null || high === null || high <= low ? null : { from_above_rim_mm: low, to_above_rim_mm: high };
}

// How far below the apex the first service point lies that says so.
function serviceMm(entry) {
  for (const point of entry.service_points || []) {
    const below = measuredMm({ units: entry.units, service: point }, "service.below_apex");
    if (below !== null) return below;
  }
  return null;
}

// The shell; in pencil where it is to be to scale and its length isn't known yet.
function shellOf(entry, result, catalogue, purpose) {
  const finished = given(result.finished_length_mm, null);
  const known = finished !== null && 60 <= finished && finished <= 700;
  return {
    state: purpose === "scale" && !known ? "pencil" : "ink",
    finished_mm: known ? finished : null,
    stations: (known && result.stations) || [],
    upper_mm: given(result.upper_strap_mm, null),
    lower_mm: given(result.lower_strap_mm, null),
    rear_trim_mm: result.rear_trim_mm || null,
    pad: Boolean(result.foam_pad),
    ...shellNumbers(entry, catalogue),
  };
}

// The dimensions whose values are known; a foot without a mechanism has no height of one.
function dimsOf(entry, result, which, strong) {
  if (which === "none") return [];
  const dims = [];
  for (const [of, source] of Object.entries(DIM_FIELDS)) {
    const value = source.endsWith("_mm") ? given(result[source], null) : measuredMm(entry, source);
    const absent = of === "hardware_above_rim" && fieldOf(entry, "foot.profile") !== "high";
    if (value !== null && !absent && (which === "all" || FEW.includes(of))) {
      dims.push({ of, value_mm: value, strong: of === strong });
    }
  }
  for (const [of, key] of Object.entries(which === "all" ? CLEARANCES : {})) {
    const value = given(result.clearances?.[key], null);
    if (value !== null) dims.push({ of, value_mm: value, strong: of === strong });
  }
  return dims;
}

// Numbered in the result's order, as the list beside the drawing is.
const flagsOf = (result) => (result.flags || []).map((flag, i) => ({ n: i + 1, level: flag.level, at: flag.at }));

function titled(scene, title) {
  const words = { ...FIGURE.words, ...language.figure, ...scene.words };
  const side = words[scene.side];
  const text = words[`title.${title}`].replace("{Side}", side.slice(0, 1).toUpperCase() + side.slice(1));
  scene.title = text.replace("{side}", side);
  return scene;
}

/** The guide scene of a field: the leg with that measurement on it; null for a field without one. */
export function guide(fieldKey, entry, result, catalogue = null, { words = null, fit = null } = {}) {
  const row = FIGURE.guides[fieldKey];
  if (!row) return null;
  const scene = overlaid(sceneOf(entry, result, catalogue, { purpose: "guide", view: row.view, words, fit }), row);
  if (scene.tape === true) scene.tape = fieldKey;
  let title = row.title;
  if (fieldKey === "girth" && (scene.other_leg !== "sound" || entry.girth_from === "chosen")) {
    measureTheShell(scene);
    title = "girth_chosen";
  }
  if (fieldKey === "taken") takePosture(scene, entry.taken || "standing");
  if (scene.tape) {
    scene.units = typedOf(entry, scene.tape).unit;
    scene.tape = { of: scene.tape };
  }
  scene.axis = scene.axis || (scene.moves && ["jointed", "wide"].includes(scene.foot.ankle));
  return titled(scene, title);
}

/** The scene with what a row of the figure's guides or choices asks for. */
export function overlaid(scene, row) {
  for (const key of ["axis", "band", "bare", "close", "floor", "moves"]) scene[key] = Boolean(row[key]);
  scene.frame = row.frame;
  scene.leg = row.leg || "prosthesis";
  scene.tape = row.tape || null;
  scene.dots = [...(row.dots || [])];
  scene.focus = [...(row.focus || [])];
  scene.strong_edge = row.strong_edge || null;
  scene.footwear = row.footwear || scene.footwear;
  scene.foot.profile = row.profile || scene.foot.profile;
  scene.shell.state = row.shell || "none";
  scene.shows = [...(row.shows || [])];
  scene.lean = row.lean || null;
  scene.knee.pins = row.pins || scene.knee.pins;
  if (row.posture) scene.posture = row.posture;
  return scene;
}

// Without a sound leg to go by, the girth is the shell's own.
function measureTheShell(scene) {
  Object.assign(scene, { leg: "prosthesis", frame: "whole" });
  scene.shell.state = "pencil";
}

function takePosture(scene, posture) {
  scene.posture = posture;
  scene.frame = { seated: "seated", off_body: "lying" }[posture] || scene.frame;
}
