/* The page of the design's parts: fills its places with the sheet's own components, each in the state that the place names. */

import { draw } from "../figure/leg.js";
import { guide, sceneOf } from "../figure/scene.js";
import { ChoiceControl } from "../sheet/choice.js";
import { comparedWords } from "../sheet/compared.js";
import { drawn, el, fill } from "../sheet/elements.js";
import { FieldFlags } from "../sheet/field_flags.js";
import { FlagRow } from "../sheet/flag_rows.js";
import { keypad } from "../sheet/keypad.js";
import { pictures } from "../sheet/later.js";
import { judged, ReadingBox } from "../sheet/reading_box.js";
import { ruler } from "../sheet/ruler.js";
import { Turns } from "../sheet/turns.js";
import { say, sheet } from "../sheet/words.js";

const COLOURS = [
  "paper", "sheet", "sunk", "ink", "ink-2", "ink-3", "edge", "line", "pencil", "tape", "tape-edge", "tape-ink", "mark", "mark-tint",
  "fig-limb", "fig-metal", "fig-tube", "fig-shoe", "fig-strap", "fig-shell",
];
const TYPE = ["reading", "handout-head", "title", "head", "handout", "body", "second", "desk", "small"];
const SPACES = 7;
const UNITS = ["mm", "cm", "in"];
const ENTRY = {
  reference: "NF-0147", side: "left", units: "in", level: "transfemoral", other_leg: "sound", construction: "bare", footwear: "low",
  knee: { pivots_seen: "several", named: "polycentric", hardware_length: "4 1/4" },
  foot: { profile: "high", ankle: "jointed", hardware_above_rim: "3" },
  shell: {},
};
const CATALOGUE = { rears: [{ key: "short", reach: 0.62, open_share: 0.32 }], tops: [], walls: [], strap_width_mm: 25 };
const FLAGS = JSON.parse(document.getElementById("design-flags").textContent);
const RESULT = {
  length_taken_mm: 420.7, gap_mm: 19.05, finished_length_mm: 401, girth_mm: 385, upper_strap_mm: 130.5, lower_strap_mm: 79.7,
  strap_spacing_mm: 190.9, stations: [], clearances: {}, derivations: {}, flags: FLAGS,
};
const DRAFT = { answers: {}, reasons: { "girth.unusual": { text: FLAGS[2].answer, says: FLAGS[2].says } }, skipped: {}, taken_up: {}, units: "in" };
const SITUATION = { entry: ENTRY, result: RESULT, catalogue: CATALOGUE, workshop: null };
const VIEW = {
  draft: DRAFT,
  situation: SITUATION,
  catalogue: CATALOGUE,
  phone: { workshops: [], book: null },
  about: { draft: DRAFT, phone: { workshops: [] }, catalogue: CATALOGUE, result: RESULT },
  hrefOf: () => "#design",
  turns: new Turns(new AbortController().signal),
  take() {},
  refresh() {},
  refreshSoon() {},
};
const nothing = () => {};
const fieldOf = (key) => sheet.fields.find((field) => field.key === key);

/* Relative luminance and contrast as WCAG 2.2 defines them, of colours as the browser computes them. */
function luminance(colour) {
  const [red, green, blue] = colour.match(/[\d.]+/g).map((part) => Number(part) / 255);
  const linear = (part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
  return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
}

function contrast(one, other) {
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

function computed(name) {
  const probe = el("span", {});
  probe.style.color = `var(--${name})`;
  document.body.append(probe);
  const { color } = getComputedStyle(probe);
  probe.remove();
  return color;
}

function swatch(name) {
  const square = drawn(`<svg viewBox="0 0 48 36" aria-hidden="true"><rect x=".5" y=".5" width="47" height="35" rx="4"/></svg>`);
  square.firstElementChild.style.fill = `var(--${name})`;
  const on = ["paper", "sheet"].map((ground) => contrast(computed(name), computed(ground)).toFixed(1));
  return el("li", {}, square, el("span", { class: "name" }, name), el("span", { class: "small" }, on.join(" · ")));
}

function specimen(name) {
  const text = el("span", {}, "16 1/2 in");
  text.style.font = `var(--${name})`;
  return el("li", {}, el("span", { class: "small" }, name), text);
}

function space(_, at) {
  const px = getComputedStyle(document.documentElement).getPropertyValue(`--s${at + 1}`).trim();
  const size = Number.parseFloat(px);
  return el("li", {}, drawn(`<svg width="${size}" height="${size}" aria-hidden="true"><rect width="${size}" height="${size}"/></svg>`), px);
}

let boxes = 0;

function reading({ text, unit }) {
  const box = new ReadingBox({
    id: `box-${(boxes += 1)}`, label: fieldOf("length").label, text, unit, quantity: "length", typed: nothing, offered: nothing, ownKeys: nothing,
  });
  box.show(judged(text, unit, "length"), text ? 7.5 : null);
  box.speak(true);
  return [box.element, box.says];
}

const compared = (...texts) => el("p", { class: "compare" }, comparedWords(texts.map((text) => judged(text, "mm", "length"))));

function unitSwitch() {
  const option = (unit) =>
    el(
      "label",
      { class: "unit-option" },
      el("input", { type: "radio", name: "units", value: unit, class: "unseen", checked: unit === "cm" }),
      el("span", {}, unit),
    );
  return el("fieldset", { class: "units" }, el("legend", { class: "unseen" }, say("units")), UNITS.map(option));
}

function choices({ field }) {
  const [first] = fieldOf(field).choices ?? [{ value: true }];
  const draft = { ...DRAFT, answers: { [field]: first.value } };
  return new ChoiceControl({ ...VIEW, draft, field: fieldOf(field), standing: () => ({}), startsAt: nothing }).element;
}

function fieldFlags() {
  const flags = new FieldFlags(VIEW);
  flags.show(FLAGS.slice(0, 3).map((flag, at) => ({ ...flag, n: at + 1 })));
  return flags.element;
}

function partsRuler({ part }) {
  const standings = sheet.fields.map((field) => ({ field, asked: true, answered: ["leg", "knee"].includes(field.part) }));
  return ruler(standings, part, nothing);
}

function guideOf({ field }, place) {
  return drawn(draw(guide(field, ENTRY, RESULT, CATALOGUE, { fit: [place.clientWidth, place.clientHeight] })));
}

function toScale(_, place) {
  const width = place.clientWidth;
  return drawn(draw(sceneOf(ENTRY, RESULT, CATALOGUE, { view: "both", dims: width < 360 ? "few" : "all", fit: [width, width] })));
}

const SHOWS = {
  colours: () => COLOURS.map(swatch),
  type: () => TYPE.map(specimen),
  space: () => Array.from({ length: SPACES }, space),
  reading,
  repeats: () => [compared("419", "421"), compared("419", "439", "421"), compared("419", "439")],
  keypad: ({ unit }) => keypad(unit, { insert: nothing, whole: nothing }),
  units: unitSwitch,
  choices,
  flags: () => FLAGS.map((flag, at) => new FlagRow(VIEW, flag, at + 1).element),
  "field-flags": fieldFlags,
  ruler: partsRuler,
  guide: guideOf,
  scale: toScale,
};

function show() {
  for (const place of document.querySelectorAll("[data-show]")) fill(place, SHOWS[place.dataset.show](place.dataset, place));
  document.body.dataset.shown = "";
}

await pictures.come();
show();
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", show);
