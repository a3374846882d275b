/* What must stay reachable, put onto the leg: the drawing of one face of the shank, with each place on it. A tap puts a
   new one, a drag or the arrow keys move one, to the nearest 5 mm. The list below it says the same in words. */

import { drawn, el, fill } from "./elements.js";
import { pictures } from "./later.js";
import { say } from "./words.js";

export const FACES = ["rear", "front", "inner", "outer"];
const STEP_MM = 5;
const FIT = [340, 320];
const KEYS = { ArrowUp: -STEP_MM, ArrowDown: STEP_MM, PageUp: -10 * STEP_MM, PageDown: 10 * STEP_MM };

export class PointsFigure {
  /* `control` has points, view, judged(text), put(face, mm) for a new one and place(number, mm) for one that is there. */
  constructor(control) {
    this.control = control;
    this.face = control.points[0]?.side ?? "rear";
    this.picture = el("div", { class: "face", onclick: (event) => this.tapped(event) });
    this.faces = el("div", { class: "units faces", role: "radiogroup", "aria-label": say("point_face") }, FACES.map((face) => this.option(face)));
    this.element = el("div", { class: "points-figure" }, this.faces, this.picture, el("p", { class: "small" }, say("point_tap")));
  }

  option(face) {
    const input = el("input", { type: "radio", name: "point-face", class: "unseen", value: face, checked: face === this.face });
    input.addEventListener("change", () => this.turnTo(face));
    return el("label", { class: "unit-option" }, input, el("span", {}, say(`side_${face}`)));
  }

  turnTo(face) {
    this.face = face;
    for (const input of this.faces.querySelectorAll("input")) input.checked = input.value === face;
    this.show(this.control.view.situation);
  }

  /* The places on the face that is drawn, with their numbers in the list. */
  get here() {
    return this.control.points
      .map((point, number) => ({ ...point, number, mm: this.control.judged(point.below_apex).mm }))
      .filter(({ side, mm }) => side === this.face && typeof mm === "number" && mm <= this.most);
  }

  show(situation) {
    this.drawn = pictures.here.facePicture(this.face, situation, FIT);
    const { svg } = this.drawn;
    const marks = this.here;
    const drawing = `${svg} ${marks.map(({ number }) => number)}`;
    if (drawing !== this.shows) fill(this.picture, drawn(svg), marks.map((mark) => this.mark(mark)));
    this.shows = drawing;
    marks.forEach((mark) => this.setMark(mark));
  }

  mark({ number }) {
    const mark = el("button", { type: "button", class: "point-mark", role: "slider", "aria-orientation": "vertical", "data-number": number }, String(number + 1));
    mark.addEventListener("click", (event) => event.stopPropagation());
    mark.addEventListener("keydown", (event) => this.key(event, number));
    mark.addEventListener("pointerdown", (event) => this.drag(event, mark, number));
    return mark;
  }

  setMark({ number, mm, what }) {
    const mark = this.picture.querySelector(`[data-number="${number}"]`);
    const [left, top] = this.drawn.place(mm);
    Object.assign(mark.style, { left: `${left}%`, top: `${top}%` });
    const words = { "aria-label": what.trim() || say("point_unnamed", { number: number + 1 }), "aria-valuetext": say("point_at", { mm: Math.round(mm) }) };
    const range = { "aria-valuemin": 0, "aria-valuemax": this.most, "aria-valuenow": Math.round(mm) };
    for (const [name, value] of Object.entries({ ...words, ...range })) mark.setAttribute(name, value);
  }

  /* The lowest place that the drawing shows, down to the floor. [mm] */
  get most() {
    const { height, scale, apex } = this.drawn;
    return STEP_MM * Math.floor((height - apex) / scale / STEP_MM);
  }

  /* How far below the apex a height on the screen lies, to the nearest 5 mm. */
  mmAt(clientY) {
    const { top, height } = this.picture.querySelector("svg").getBoundingClientRect();
    return this.within((((clientY - top) / height) * this.drawn.height - this.drawn.apex) / this.drawn.scale);
  }

  within(mm) {
    return Math.min(this.most, Math.max(0, STEP_MM * Math.round(mm / STEP_MM)));
  }

  tapped({ clientY }) {
    this.control.put(this.face, this.mmAt(clientY));
  }

  key(event, number) {
    const step = KEYS[event.key];
    const mark = step && this.here.find((one) => one.number === number);
    if (!mark) return;
    event.preventDefault();
    this.control.place(number, this.within(mark.mm + step));
  }

  drag(down, mark, number) {
    down.preventDefault();
    mark.focus();
    mark.setPointerCapture(down.pointerId);
    const box = mark.getBoundingClientRect();
    const off = down.clientY - (box.top + box.height / 2);
    const move = ({ clientY }) => this.control.place(number, this.mmAt(clientY - off));
    const end = () => mark.removeEventListener("pointermove", move);
    mark.addEventListener("pointermove", move);
    for (const name of ["pointerup", "pointercancel"]) mark.addEventListener(name, end, { once: true });
  }
}
