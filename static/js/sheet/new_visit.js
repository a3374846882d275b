/* A new visit: the clinic's own reference and initials, no more. It works with no signal. */

import { keep, read } from "../offline/store.js";
import { newDraft } from "./drafts.js";
import { el, fill, line } from "./elements.js";
import { flush } from "./later.js";
import { askServer, phone } from "./phone_data.js";
import { unitsLastUsed } from "./visits.js";
import { say, sheet } from "./words.js";

const TYPED = "new visit";
// What the server takes (capture/seal.py).
const LONGEST = { reference: 40, initials: 12 };

function textField(name, help) {
  const says = el("p", { class: "says", id: `${name}-says` });
  const input = el("input", {
    class: "input",
    id: name,
    name,
    autocomplete: "off",
    autocapitalize: "characters",
    spellcheck: "false",
    "aria-describedby": `${name}-help ${name}-says`,
  });
  const element = el(
    "div",
    { class: "field" },
    el("label", { for: name }, say(name)),
    input,
    el("p", { class: "help", id: `${name}-help` }, help),
    says,
  );
  return { name, input, says, element };
}

export class NewVisitView {
  constructor({ root, go, signal }) {
    Object.assign(this, { root, go, signal });
    this.fields = [textField("reference", say("reference_help")), textField("initials", say("initials_help"))];
    const form = el(
      "form",
      {
        class: "new-visit",
        novalidate: true,
        onsubmit: (event) => {
          event.preventDefault();
          this.begin();
        },
      },
      el(
        "header",
        { class: "sheet-head" },
        el("a", { class: "back", href: "#visits", "aria-label": say("back_to_visits") }, line("back")),
        el("h1", {}, say("new_visit")),
      ),
      el(
        "div",
        { class: "page" },
        this.fields.map(({ element }) => element),
      ),
      el(
        "footer",
        { class: "docked" },
        el(
          "button",
          { type: "submit", class: "button next wide" },
          el("span", {}, say("next", { what: sheet.fields[0].brief })),
          line("on"),
        ),
      ),
    );
    fill(root, form);
    Object.assign(root.dataset, { view: "new", field: "" });
    document.title = say("new_visit");
    form.addEventListener("input", () => this.typed());
    this.takeTyped();
  }

  // What was typed before a reload is still there.
  async takeTyped() {
    const kept = await read(TYPED);
    for (const { name, input } of this.fields) if (!input.value) input.value = kept?.[name] ?? "";
    this.fields[0].input.focus({ preventScroll: true });
  }

  typed() {
    keep({ key: TYPED, ...this.values() }).catch(() => {}); // told when the visit itself can't be kept
  }

  values() {
    return Object.fromEntries(this.fields.map(({ name, input }) => [name, input.value.trim()]));
  }

  wrong({ name, input }) {
    const text = input.value.trim();
    if (!text) return say(`needs_${name}`);
    if (text.length > LONGEST[name]) return say("too_long", { count: text.length, most: LONGEST[name] });
    return "";
  }

  /* Marks every field that can't be taken; gives whether all can. */
  judge() {
    const faults = this.fields.map((field) => [field, this.wrong(field)]);
    for (const [{ input, says }, words] of faults) {
      says.textContent = words;
      if (words) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
    faults.find(([, words]) => words)?.[0].input.focus();
    return faults.every(([, words]) => !words);
  }

  async begin() {
    if (this.begun || !this.judge() || !phone.member) return;
    this.begun = true; // a second tap begins no second visit
    const member = phone.member.id;
    const visit = { id: crypto.randomUUID(), ...this.values() };
    const draft = newDraft(visit, member, (await unitsLastUsed(member)) ?? "cm");
    const waiting = { key: `visit/${visit.id}`, member, state: "waiting", problem: null, tries: 0, ...visit };
    try {
      await keep(waiting, draft, { key: TYPED });
    } catch {
      this.begun = false;
      this.fields.at(-1).says.textContent = say("not_kept");
      return;
    }
    flush(askServer);
    this.go(`#visit/${draft.id}/${sheet.fields[0].key}`);
  }
}
