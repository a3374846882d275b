/* A new visit: the clinic's own reference and initials, no more. It works with no signal. */

import { keep, read } from "../offline/store.js";
import { hasUnseen } from "../reading/names.js";
import { newDraft } from "./drafts.js";
import { flush } from "./later.js";
import { askServer, phone } from "./phone_data.js";
import { reckoned } from "./reckoned.js";
import { unitsOf } from "./visits.js";
import { say, sheet } from "./words.js";

const TYPED = "new visit";
// What the server takes (capture/seal.py).
const LONGEST = { reference: 40, initials: 12 };

/* The form stands in the page: one can type in it before this script is there. */
const form = document.getElementById("new");

function textField(name) {
  return { name, input: form.querySelector(`#${name}`), says: form.querySelector(`#${name}-says`) };
}

export class NewVisitView {
  constructor({ root, go, signal }) {
    Object.assign(this, { root, go, signal });
    this.fields = [textField("reference"), textField("initials")];
    this.put();
    Object.assign(root.dataset, { view: "new", field: "" });
    document.title = say("new_visit");
    form.addEventListener("input", () => this.typed(), { signal });
    form.addEventListener("submit", (event) => this.submitted(event), { signal });
    this.takeTyped();
  }

  // In place of everything else; where it stands already it stays, and with it the cursor and the phone's keyboard.
  put() {
    for (const field of this.fields) this.mark(field, "");
    form.classList.add("in-hand");
    form.querySelector("button").type = "submit";
    for (const other of [...this.root.childNodes]) if (other !== form) other.remove();
    if (!form.isConnected) this.root.append(form);
  }

  // What was typed before a reload is there still. What was typed before this script was there is kept, and said of it
  // what can't be taken.
  async takeTyped() {
    const kept = await read(TYPED);
    const typed = this.fields.filter(({ input }) => input.value);
    for (const { name, input } of this.fields) if (!input.value) input.value = kept?.[name] ?? "";
    if (typed.length) this.typed();
    for (const field of typed) this.mark(field, this.wrong(field));
    if (!form.contains(document.activeElement)) this.fields[0].input.focus({ preventScroll: true });
  }

  submitted(event) {
    event.preventDefault();
    this.begin();
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
    if (hasUnseen(text)) return say("unseen");
    if (text.length > LONGEST[name]) return say("too_long", { count: text.length, most: LONGEST[name] });
    return "";
  }

  /* Marks every field that can't be taken; gives whether all can. */
  judge() {
    const faults = this.fields.map((field) => [field, this.wrong(field)]);
    for (const [field, words] of faults) this.mark(field, words);
    faults.find(([, words]) => words)?.[0].input.focus();
    return faults.every(([, words]) => !words);
  }

  mark({ input, says }, words) {
    says.textContent = words;
    if (words) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  }

  async begin() {
    if (this.begun || !this.judge() || !phone.member) return;
    this.begun = true; // a second tap begins no second visit
    const member = phone.member.id;
    const visit = { id: crypto.randomUUID(), ...this.values() };
    const draft = newDraft(visit, member, await unitsOf(member));
    const waiting = { key: `visit/${visit.id}`, member, state: "waiting", problem: null, tries: 0, ...visit };
    try {
      const kept = keep(waiting, draft, { key: TYPED });
      reckoned(draft); // for the first field, while the disk writes
      await kept;
    } catch {
      this.begun = false;
      this.fields.at(-1).says.textContent = say("not_kept");
      return;
    }
    for (const { input } of this.fields) input.value = ""; // the next visit's
    flush(askServer);
    this.go(`#visit/${draft.id}/${sheet.fields[0].key}`);
  }
}
