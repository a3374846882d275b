/* A field's drawing, opened large: it grows and shrinks under one thumb, its words stand below it. Beside it the shell to
   scale, as far as it is known. */

import { decimalText } from "../book/follows.js";
import { drawn, el, fill } from "./elements.js";
import { pictures } from "./later.js";
import { say } from "./words.js";

const STEP = 1.5;
const MOST = 5;
/* The figures that a drawing to scale carries, and the clearances: [where they stand in the result, what they are called;
   of a clearance, what less than none is called]. */
const FIGURES = [
  ["finished_length_mm", "finished_length"],
  ["gap_mm", "gap_left"],
  ["margin_mm", "left_at_most"],
  ["girth_mm", "girth"],
];
/* Those that a workshop's catalogue decides. */
const OF_WORKSHOP = [
  ["inside_girth_mm", "inside_girth"],
  ["upper_strap_mm", "upper_strap"],
  ["strap_spacing_mm", "between_straps"],
  ["lower_strap_mm", "lower_strap"],
  ["rear_end_above_rim_mm", "rear_end"],
];
const CLEARANCES = [
  ["knee_mm", "clear_knee", "overlap_knee"],
  ["stop_mm", "clear_stop", "overlap_stop"],
  ["foot_mm", "clear_foot", "overlap_foot"],
];

function figureRow(name, mm, how) {
  const line = [el("span", { class: "name" }, say(name)), el("span", { class: "nowrap" }, el("strong", {}, decimalText(mm, 0)), " mm")];
  return how ? el("details", { class: "figure-row" }, el("summary", {}, line), el("p", { class: "second" }, how)) : el("div", { class: "figure-row" }, line);
}

/* Downwards, as on the drawing: what is clear is never told larger, an overlap never smaller than it is. */
function clearanceRow([key, clear, overlap], clearances) {
  const number = Math.floor(clearances[key]);
  return figureRow(number < 0 ? overlap : clear, Math.abs(number));
}

/* What the drawing to scale shows, in figures, each with how it came about. */
function figureRows({ result, workshop }) {
  const figures = [...FIGURES, ...(workshop ? OF_WORKSHOP : [])].filter(([key]) => typeof result[key] === "number");
  const clear = CLEARANCES.filter(([key]) => workshop && typeof result.clearances?.[key] === "number");
  return [
    ...figures.map(([key, name]) => figureRow(name, result[key], result.derivations[key])),
    ...clear.map((one) => clearanceRow(one, result.clearances)),
  ];
}

class Enlarged {
  /* `view` has field and situation. `of` is "guide" or "scale". */
  constructor(view, of) {
    Object.assign(this, { view, of, zoom: 1 });
    const button = (words, onclick, attributes = {}) =>
      el("button", { type: "button", class: "button", onclick, ...attributes }, words);
    this.stage = el("div", { class: "stage", tabindex: "0", role: "group", "aria-label": say("drawing") });
    this.smaller = button("−", () => this.zoomTo(this.zoom / STEP), { "aria-label": say("smaller"), class: "button zoom" });
    this.larger = button("+", () => this.zoomTo(this.zoom * STEP), { "aria-label": say("larger"), class: "button zoom" });
    this.words = el("div", { class: "enlarged-words" });
    this.dialog = el(
      "dialog",
      { class: "enlarged", "aria-label": view.field.label },
      this.tabs(),
      this.stage,
      this.words,
      el("div", { class: "enlarged-foot" }, this.smaller, this.larger, button(say("close"), () => this.dialog.close())),
    );
    this.stage.addEventListener("dblclick", (event) => this.zoomTo(this.zoom > 1 ? 1 : STEP ** 2, event));
    this.dialog.addEventListener("keydown", (event) => this.key(event));
    this.dialog.addEventListener("close", () => this.dialog.remove());
    document.body.append(this.dialog);
    this.dialog.showModal();
    this.watching = new ResizeObserver(() => this.draw());
    this.watching.observe(this.stage);
    this.show();
  }

  tabs() {
    const option = (of, words) =>
      el(
        "label",
        { class: "unit-option" },
        el("input", {
          type: "radio",
          name: "enlarged",
          class: "unseen",
          checked: of === this.of,
          onchange: () => this.showOf(of),
        }),
        el("span", {}, words),
      );
    const guide = this.view.field.drawing && option("guide", say("how_to_measure"));
    return el("fieldset", { class: "units" }, el("legend", { class: "unseen" }, say("drawing")), guide, option("scale", say("to_scale")));
  }

  showOf(of) {
    Object.assign(this, { of, zoom: 1 });
    this.show();
  }

  show() {
    this.draw();
    fill(this.words, ...(this.of === "guide" ? this.guideWords() : this.scaleWords()));
  }

  guideWords() {
    const { posture, where, easy_mistake, caution } = this.view.field;
    return [
      el("p", { class: "second" }, this.stage.querySelector("title")?.textContent ?? ""),
      [posture, where].filter(Boolean).map((words) => el("p", {}, words)),
      easy_mistake && el("div", { class: "mistake" }, el("p", { class: "label" }, say("easy_mistake")), el("p", {}, easy_mistake)),
      caution && el("p", { class: "second" }, caution),
    ];
  }

  scaleWords() {
    const { situation } = this.view;
    const notYet = !this.picture?.whole && el("p", { class: "second" }, say("not_to_draw_yet"));
    return [notYet, situation.result && figureRows(situation)];
  }

  /* Laid out anew at every size: lines and letters keep theirs. */
  draw() {
    const { stage, zoom, view } = this;
    const [width, height] = [stage.clientWidth * zoom, stage.clientHeight * zoom];
    if (!width) return;
    const { guidePicture, scalePicture } = pictures.here;
    this.picture =
      this.of === "guide"
        ? guidePicture(view.field, view.situation, [width, height])
        : scalePicture(view.situation, width, height, view.bears);
    fill(stage, this.picture && drawn(this.picture.svg));
    stage.classList.toggle("on-grid", this.of === "scale");
    this.smaller.disabled = zoom <= 1;
    this.larger.disabled = zoom * STEP > MOST;
  }

  /* Draws larger or smaller; what lay in the middle, or under the finger, stays there. */
  zoomTo(zoom, event = null) {
    const { stage } = this;
    const box = stage.getBoundingClientRect();
    const [x, y] = event ? [event.clientX - box.x, event.clientY - box.y] : [box.width / 2, box.height / 2];
    const [across, down] = [(stage.scrollLeft + x) / this.zoom, (stage.scrollTop + y) / this.zoom];
    this.zoom = Math.min(MOST, Math.max(1, zoom));
    this.draw();
    stage.scrollTo(across * this.zoom - x, down * this.zoom - y);
  }

  key(event) {
    const by = { "+": STEP, "=": STEP, "-": 1 / STEP }[event.key];
    if (!by || event.target.matches("input")) return;
    event.preventDefault();
    this.zoomTo(this.zoom * by);
  }
}

/* Opens a field's drawing, "guide" or "scale", over the whole screen until it is closed. */
export function enlarged(view, of = "guide") {
  return new Enlarged(view, of);
}
