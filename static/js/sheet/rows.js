/* Lengths in rows: a few named rows that are always there, or as many as are wanted of one kind. */

import { answer } from "./drafts.js";
import { el, fill } from "./elements.js";
import { judged } from "./reading_box.js";
import { say } from "./words.js";

export class RowsControl {
  constructor(view) {
    this.view = view;
    this.says = el("p", { class: "says", role: "alert", id: "rows-says" });
    this.list = el("ol", { class: "points" });
    this.ways = el("p", { class: "ways" });
    this.element = el("div", { class: "points-hand" }, this.says, this.list, this.ways);
    this.build();
  }

  /* [key, label, texts] of each row. */
  get rows() {
    const { rows, label } = this.view.field;
    const value = this.view.draft.answers[this.view.field.key];
    if (rows) return rows.map((row) => [row.key, row.label, value?.[row.key] ?? {}]);
    return (Array.isArray(value) ? value : []).map((texts, at) => [at, `${label} ${at + 1}`, texts]);
  }

  build() {
    const { field } = this.view;
    fill(
      this.list,
      this.rows.map(([key, label, texts]) => this.row(key, label, texts)),
    );
    const more = field.most_rows > this.rows.length;
    fill(
      this.ways,
      more && el("button", { type: "button", class: "button", onclick: () => this.add() }, say("add_row", { what: field.brief })),
    );
  }

  set(rows) {
    const { draft, field } = this.view;
    const some = rows.some(([, , texts]) => Object.values(texts).some((text) => text.trim()));
    const value = field.rows
      ? Object.fromEntries(rows.map(([key, , texts]) => [key, texts]))
      : rows.map(([, , texts]) => texts);
    answer(draft, field, some || (!field.rows && rows.length) ? value : "");
    this.says.textContent = "";
    this.view.refresh();
  }

  add() {
    this.set([...this.rows, [this.rows.length, "", {}]]);
    this.build();
    this.list.lastElementChild.querySelector("input").focus();
  }

  remove(key) {
    this.set(this.rows.filter(([here]) => here !== key));
    this.build();
  }

  typed(key, column, text) {
    this.set(this.rows.map(([here, label, texts]) => [here, label, here === key ? { ...texts, [column]: text } : texts]));
  }

  verdict(column, text) {
    return judged(text ?? "", this.view.draft.units, "", column.signed);
  }

  row(key, label, texts) {
    const { columns, rows } = this.view.field;
    return el(
      "li",
      { class: "point" },
      el("p", { class: "label" }, label),
      el("div", { class: "row-columns" }, columns.map((column) => this.cell(key, column, texts[column.key]))),
      !rows && el("button", { type: "button", class: "button quiet", onclick: () => this.remove(key) }, say("remove_point", { what: label })),
    );
  }

  cell(key, column, text = "") {
    const id = `row-${key}-${column.key}`;
    const understood = el("p", { class: "help", id: `${id}-understood` });
    const show = (typed) => {
      const { outcome, says } = this.verdict(column, typed);
      understood.className = outcome === "refuse" ? "says" : "help";
      understood.textContent = outcome === "empty" ? "" : says;
    };
    const input = el("input", {
      id,
      class: "input",
      type: "text",
      autocomplete: "off",
      maxlength: 64,
      "aria-describedby": `${id}-understood`,
      oninput: () => {
        show(input.value);
        this.typed(key, column.key, input.value);
      },
    });
    input.value = text;
    show(text);
    const label = say("label_with_unit", { label: column.label, unit: this.view.draft.units });
    return el("div", { class: "field" }, el("label", { for: id }, label), input, understood);
  }

  show() {}

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  /* Whether every row that was begun is whole, in lengths that can be read. */
  ready() {
    const { columns } = this.view.field;
    for (const [key, label, texts] of this.rows) {
      const begun = columns.some((column) => texts[column.key]?.trim());
      for (const column of columns) {
        const { outcome, says } = this.verdict(column, texts[column.key]);
        if (outcome === "refuse") return this.tell(says, key, column);
        if (outcome === "empty" && begun) return this.tell(say("row_wants", { row: label, what: column.label }), key, column);
      }
    }
    return true;
  }

  tell(words, key, column) {
    this.says.textContent = words;
    this.element.querySelector(`#row-${key}-${column.key}`).focus();
    return false;
  }
}
