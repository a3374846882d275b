// Draw a scene of the leg figure as SVG text, the same text as orders/figure/leg.py.
import FIGURE from "../../figures/leg.js";
import { language, withMark } from "../reading/language.js";
import { drawBar, drawDims, drawGirthLine, drawGrid, drawInside, insideTold } from "./dims.js";
import { columnOf, drawFlag, edgePath, letteredBeside, placeOf, spread } from "./flags.js";
import { pointOf } from "./form.js";
import { DEFAULTS, given, lengthsOf, stationsOf } from "./lengths.js";
import { drawGhostAndArrows, drawParts } from "./parts.js";
import { Pen, decimal, escapeText } from "./pen.js";
import { manyDims, planOf, viewsOf } from "./plan.js";
import { drawFrontStraps, drawSection, drawShell, drawSideStraps, frontOutline, sideOutline } from "./shell.js";
import { drawTape } from "./tape.js";

const PLAIN = {
  view: "side", side: "left", purpose: "guide", units: "mm",
  length_mm: null, gap_mm: null, girth_mm: null, level: "transfemoral", construction: "bare",
  other_leg: "sound", footwear: "low", posture: "standing", leg: "prosthesis", girth_over: "skin",
  swelling: "none", band: false, bare: false, close: false, floor: false, moves: false,
  axis: false, strong_edge: null, tape: null, dots: [], dims: [], flags: [], focus: [], shows: [], lean: null, title: "",
};

/** The scene with every key that drawing reads. */
function complete(scene) {
  return {
    ...PLAIN,
    frame: scene.purpose === "mark" ? "mark" : "whole",
    ...scene,
    knee: { pins: "one", ...scene.knee },
    foot: { profile: "low", ankle: null, ...scene.foot },
    shell: { state: "none", ...scene.shell },
  };
}

/** SVG text of a scene: classes only, no style attributes, with a title and a description.
 *  A scene without a title is a mark whose words stand beside it: hidden from who hears the page. */
export function draw(scene) {
  const full = complete(scene);
  const words = { ...FIGURE.words, ...language.figure, ...scene.words };
  const lengths = lengthsOf(full);
  const stations = stationsOf(full, lengths.f, given(full.girth_mm, DEFAULTS.girth_mm));
  const plan = planOf(full, lengths);
  const pen = new Pen(plan.scale, plan.width, full.side === "right");
  const outlines = {
    side: sideOutline(full.shell, lengths, stations),
    front: frontOutline(full.shell, lengths, stations),
  };
  if (full.purpose === "scale") {
    stand(pen, plan.panels[0], full);
    drawGrid(pen, plan.height);
  }
  for (const panel of plan.panels) {
    stand(pen, panel, full);
    drawView(pen, panel.view, full, lengths, outlines[panel.view]);
    drawStopEdges(pen, panel.view, full, lengths, outlines);
  }
  const pictured = pen.out.length;
  for (const panel of plan.panels) {
    stand(pen, panel, full);
    drawLettering(pen, panel.view, full, lengths, stations, words);
  }
  if (full.purpose === "scale") drawNotes(pen, plan, full, words);
  pen.out.splice(pictured, 0, ...drawFlags(pen, plan, full, lengths));
  return wrapped(pen, plan, full, words);
}

/** How a scene's picture lies, for whoever puts something on it: {scale} px to the mm, {width, height} in px, and
 *  `panels` with where each view's apex stands. The phone's only. */
export function layOut(scene) {
  const full = complete(scene);
  return planOf(full, lengthsOf(full));
}

function stand(pen, panel, scene) {
  pen.standAt(panel.x0, panel.y0, panel.way, scene.posture === "off_body");
}

// The leg, the gap, the shell and what belongs to them.
function drawView(pen, view, scene, lengths, outline) {
  if (scene.frame === "section") {
    drawSection(pen, given(scene.shell.wall_mm, DEFAULTS.wall_mm), 385 * lengths.g);
    return;
  }
  if (scene.floor) drawFloor(pen, lengths);
  if (scene.moves) drawGhostAndArrows(pen, scene, lengths);
  drawParts(pen, scene, view, lengths);
  if (scene.band) pen.box("fg-gap", [58, lengths.f], [-58, lengths.f + lengths.gap]);
  const shell = scene.shell;
  if (shell.state !== "none" && scene.leg !== "other") {
    drawShell(pen, outline, shell.state);
    if (scene.strong_edge in outline.edges) pen.path("fg-shell-edge", outline.edge(scene.strong_edge));
    drawStraps(pen, view, scene, lengths);
  }
  drawAxis(pen, view, scene, lengths);
}

function drawStraps(pen, view, scene, lengths) {
  const shell = scene.shell;
  if (shell.state !== "ink" || scene.purpose === "mark" || scene.bare) return;
  if (view === "side") drawSideStraps(pen, lengths, shell);
  else drawFrontStraps(pen, lengths, shell, scene.frame === "straps");
}

// Where the ankle turns: a pin where it was measured, a pencil cross where it is assumed.
function drawAxis(pen, view, scene, lengths) {
  const foot = scene.foot;
  const y = lengths.L - lengths.ax;
  if (view !== "side" || scene.bare || scene.leg === "other") return;
  const assumed = scene.purpose === "scale" && foot.profile === "high" && ["jointed", "wide"].includes(foot.ankle);
  if (given(foot.axis_above_rim_mm, null) !== null) {
    pen.circle("fg-hub", 0, y, 4.6);
    pen.circle("fg-pindot", 0, y, 1.3);
  } else if (scene.axis || assumed) {
    pen.path("fg-axis", [["M", [[-16, y]]], ["L", [[16, y]]], ["M", [[0, y - 16]]], ["L", [[0, y + 16]]]]);
  }
}

function drawFloor(pen, lengths) {
  const y = pen.lying ? pen.y0 + 70 * pen.scale : pen.at(0, lengths.L + 95)[1];
  pen.linePx("fg-floor", [[0, y], [pen.width, y]]);
}

function drawLettering(pen, view, scene, lengths, stations, words) {
  if (scene.band && scene.gap_mm !== null) nameGap(pen, scene.gap_mm, lengths, words);
  if (scene.tape) drawTape(pen, scene.tape.of, scene.units, lengths, words);
  for (const dot of scene.dots) pen.circlePx("fg-mark", pen.at(...pointOf(dot, lengths)), 4);
  if (view === "side") drawDims(pen, scene.dims, lengths, stations, words);
  else {
    for (const dim of scene.dims) {
      if (dim.of === "girth") drawGirthLine(pen, dim, lengths, words);
      else if (FIGURE.dims[dim.of].lane === "inside") drawInside(pen, dim, "front", lengths, words);
    }
  }
}

// How much is left open, in pencil, behind the gap.
function nameGap(pen, gapMm, lengths, words) {
  const [x, y] = pen.at(-58, lengths.f + lengths.gap / 2);
  pen.linePx("fg-pencil-line", [[x, y], [x + 12, y]]);
  pen.text("fg-pencil-name", [x + 16, y - 2], String(Math.floor(gapMm + 0.5)), "start");
  pen.text("fg-pencil-name", [x + 16, y + 14], words.open, "start");
}

// The views' names in the corners, and the bar that says how long 50 mm is.
function drawNotes(pen, plan, scene, words) {
  const outside = words.from_outside.replace("{side}", words[scene.side]);
  const names = { side: manyDims(scene) ? outside : words["view.side"], front: words["view.front"] };
  const views = viewsOf(scene);
  pen.text("fg-note", [14, 24], names[views[0]], "start");
  if (views.length > 1) pen.text("fg-note", [plan.width - 14, 24], names[views[1]], "end");
  if (scene.view === "both" && !manyDims(scene)) {
    drawBar(pen, [plan.panels[0].x0 + 69 * plan.scale + 8, plan.height - 14], words.bar);
  } else {
    drawBar(pen, [14, plan.height - 14], words["bar.long"]);
  }
}

// What the stops are about, under the lettering, so that no figure is covered.
function drawStopEdges(pen, view, scene, lengths, outlines) {
  const views = viewsOf(scene);
  for (const flag of scene.flags) {
    const found = placeOf(flag.at, views);
    const shown = (found ? found[0] : views[0]) === view;
    const edge = shown && flag.level === "stop" ? edgePath(flag.at, view, lengths, outlines) : [];
    if (edge.length) pen.path("fg-stop-edge", edge);
  }
}

// The shapes, column by column, each beside what is lettered; gives their leaders, which go under the lettering.
function drawFlags(pen, plan, scene, lengths) {
  const views = viewsOf(scene);
  const columns = { front: [], rear: [], outer: [] };
  for (const flag of scene.flags) {
    const found = placeOf(flag.at, views);
    const view = found ? found[0] : views[0];
    stand(pen, plan.panels.find((panel) => panel.view === view), scene);
    const place = found ? pen.at(...pointOf(found[1], lengths)) : null;
    columns[columnOf(flag.at, view, manyDims(scene), views)].push({ wanted: (place ? place[1] : 60) - 26, flag, place });
  }
  const leaders = new Pen(pen.scale, pen.width, pen.mirrored);
  for (const [column, rows] of Object.entries(columns)) {
    rows.sort((a, b) => a.wanted - b.wanted || a.flag.n - b.flag.n);
    const x = columnPx(plan, column, manyDims(scene));
    const heights = spread(rows.map((row) => row.wanted), 52, plan.height - 46, letteredBeside(pen, x));
    rows.forEach((row, i) => {
      if (row.place) leaders.linePx("fg-leader", [[x, heights[i]], row.place]);
      drawFlag(pen, row.flag, [x, heights[i]], row.place);
    });
  }
  return leaders.out;
}

function columnPx(plan, column, crowded) {
  const first = plan.panels[0];
  if (column === "front") {
    return Math.max(20, Math.min(first.x0 - 160 * plan.scale, first.x0 - 50 * plan.scale - (crowded ? 136 : 84)));
  }
  if (column === "rear" && plan.panels.length > 1) {
    return (first.x0 + 84 * plan.scale + plan.panels[1].x0 - 62 * plan.scale) / 2;
  }
  return plan.width - 26;
}

function wrapped(pen, plan, scene, words) {
  const width = decimal(plan.width, 10);
  const height = decimal(plan.height, 10);
  const described = description(scene, words);
  let notes = "";
  if (scene.title) notes = `<title>${escapeText(scene.title)}</title>`;
  if (scene.title && described) notes += `<desc>${escapeText(described)}</desc>`;
  const role = scene.title ? 'role="img"' : 'aria-hidden="true"';
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" class="fg fg-${scene.purpose}" ${role} viewBox="0 0 ${width} ${height}" ` +
    `width="${width}" height="${height}" data-px-per-mm="${decimal(plan.scale, 10000)}">${notes}${pen.out.join("")}</svg>`
  );
}

// The dimensions and flags in words, for who can't see them.
function description(scene, words) {
  const said = scene.dims.map((dim) => inWords(dim, words));
  let text = said.length ? `${said.join(", ")}.` : "";
  if (scene.flags.length) {
    const numbers = scene.flags.map((flag) => flag.n).join(", ");
    text += (text ? " " : "") + words["desc.flags"].replace("{numbers}", numbers);
  }
  return text;
}

// A dimension as its lettering has it: what overlaps isn't told as clear by less than nothing.
function inWords(dim, words) {
  const inside = insideTold(dim);
  const of = inside?.overlaps ? dim.of.replace("clear_", "overlap_") : dim.of;
  const value = inside ? String(inside.number) : withMark(decimal(dim.value_mm, 10));
  return words["desc.number"].replace("{name}", words[`dim.${of}`]).replace("{value}", value);
}
