/* What must stay reachable: a row for each port, button, light, vent, valve or screw; or, said as such, nothing. */

import { answer } from "./drafts.js";
import { el, fill } from "./elements.js";
import { FACES, PointsFigure } from "./points_figure.js";
import { judged } from "./reading_box.js";
import { say } from "./words.js";

const UNSETTLED = ["ask", "refuse"];

export class PointsControl {
  constructor(view) {
    this.view = view;
    this.says = el("p", { class: "says", role: "alert", id: "points-says" });
    this.rows = el("ol", { class: "points" });
    this.ways = el("p", { class: "ways" });
    this.figure = new PointsFigure(this);
    this.element = el("div", { class: "points-hand" }, this.says, this.figure.element, this.rows, this.ways);
    this.build();
  }

  get value() {
    return this.view.draft.answers[this.view.field.key];
  }

  get points() {
    return Array.isArray(this.value) ? this.value : [];
  }

  build() {
    const nothing = this.value === "nothing";
    fill(
      this.rows,
      this.points.map((point, number) => this.row(point, number)),
    );
    fill(
      this.ways,
      el("button", { type: "button", class: "button", onclick: () => this.add() }, say("add_point")),
      !this.points.length &&
        el(
          "button",
          {
            type: "button",
            class: nothing ? "button next" : "button quiet",
            "aria-pressed": String(nothing),
            onclick: () => this.set("nothing"),
          },
          say("nothing_reachable"),
        ),
    );
  }

  set(value) {
    answer(this.view.draft, this.view.field, value);
    this.says.textContent = "";
    this.build();
    this.view.refresh();
  }

  add(side = this.figure.face, below_apex = "") {
    this.set([...this.points, { what: "", side, below_apex, stays_open: true }]);
    this.rows.lastElementChild.querySelector("input").focus();
  }

  /* A new one, put onto the figure. */
  put(side, mm) {
    this.add(side, `${mm} mm`);
  }

  /* Moves one on the figure, by its row's own field. */
  place(number, mm) {
    const input = this.element.querySelector(`#point-${number}-below`);
    input.value = `${mm} mm`;
    input.dispatchEvent(new Event("input"));
  }

  change(number, key, value) {
    const points = this.points.map((point, at) => (at === number ? { ...point, [key]: value } : point));
    answer(this.view.draft, this.view.field, points);
    this.view.refresh();
  }

  row(point, number) {
    const id = `point-${number}`;
    const below = el("p", { class: "help", id: `${id}-understood` });
    const { units } = this.view.draft;
    const understood = (text) => {
      const { outcome, says } = this.judged(text);
      below.className = UNSETTLED.includes(outcome) ? "says" : "help";
      below.textContent = outcome === "empty" ? "" : says;
    };
    understood(point.below_apex);
    return el(
      "li",
      { class: "point", "aria-label": String(number + 1) },
      el("span", { class: "point-number", "aria-hidden": "true" }, String(number + 1)),
      this.input(id, "what", say("point_what"), point.what, { maxlength: 80 }, (text) => this.change(number, "what", text)),
      this.sides(id, point.side, (side) => this.change(number, "side", side)),
      this.input(`${id}-below`, "below_apex", say("point_below", { unit: units }), point.below_apex ?? "", { maxlength: 64 }, (text) => {
        understood(text);
        this.change(number, "below_apex", text);
      }),
      below,
      el(
        "label",
        { class: "open" },
        el("input", {
          type: "checkbox",
          checked: point.stays_open,
          onchange: ({ target }) => this.change(number, "stays_open", target.checked),
        }),
        el("span", {}, say("point_open")),
      ),
      el("button", { type: "button", class: "button quiet", onclick: () => this.remove(number) }, say("remove_point", { what: point.what })),
    );
  }

  /* The focus goes on to the row that takes its place, else to what adds one. */
  remove(number) {
    const left = this.points.filter((_one, at) => at !== number);
    this.set(left.length ? left : "");
    const next = this.rows.children[number] ?? this.ways;
    next.querySelector("input, button").focus();
  }

  input(id, name, label, value, more, typed) {
    const input = el("input", { id, name, class: "input", type: "text", autocomplete: "off", ...more });
    input.value = value;
    input.addEventListener("input", () => typed(input.value));
    return el("p", { class: "field" }, el("label", { for: id }, label), input);
  }

  sides(id, chosen, taken) {
    const select = el(
      "select",
      { id: `${id}-side`, class: "input" },
      FACES.map((side) => el("option", { value: side, selected: side === chosen }, say(`side_${side}`))),
    );
    select.addEventListener("change", () => taken(select.value));
    return el("p", { class: "field" }, el("label", { for: `${id}-side` }, say("point_side")), select);
  }

  show(situation) {
    this.figure.show(situation);
  }

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  /* How far below the apex a text says that one lies. */
  judged(text) {
    return judged(text ?? "", this.view.draft.units, "below_apex");
  }

  /* Whether every row says what it is and where, in a length that can be read. Where isn't asked of what is reached with
     the shell off: only what must stay open is held against the shell. */
  ready() {
    const unnamed = this.points.findIndex(({ what }) => !what.trim());
    const unread = this.points.findIndex(({ below_apex }) => UNSETTLED.includes(this.judged(below_apex).outcome));
    const unplaced = this.points.findIndex(({ below_apex, stays_open }) => stays_open && !below_apex?.trim());
    if (unnamed >= 0) return this.tell(say("point_needs_what"), `#point-${unnamed}`);
    if (unread >= 0) return this.tell(this.judged(this.points[unread].below_apex).says, `#point-${unread}-below`);
    if (unplaced >= 0) return this.tell(say("point_needs_place"), `#point-${unplaced}-below`);
    const asked = this.view.standing().asked;
    if (asked && !this.points.length && this.value !== "nothing") return this.tell(say("points_or_nothing"), "button");
    return true;
  }

  tell(words, place) {
    this.says.textContent = words;
    this.element.querySelector(place)?.focus();
    return false;
  }
}
