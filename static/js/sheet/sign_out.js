/* Signing out: says what isn't received yet and asks. That stays on this phone, for nobody but its member. */

import { asked, NoAnswer, SignedOut } from "../offline/calls.js";
import { dropReceived } from "../offline/have_list.js";
import { onOutbox } from "../offline/outbox_signal.js";
import { dropKey, keyOf } from "../offline/send_key.js";
import { drop } from "../offline/store.js";
import { tidy } from "../offline/tidy.js";
import { draftStates } from "./draft_states.js";
import { closeDraft } from "./drafts.js";
import { el, fill, write } from "./elements.js";
import { flush } from "./later.js";
import { line } from "./lines.js";
import { askServer, phone } from "./phone_data.js";
import { saveButton, unsentOf } from "./save_file.js";
import { refill, Steady } from "./steady.js";
import { say, sheet } from "./words.js";

export class SignOutView {
  constructor({ root, signal }) {
    Object.assign(this, { root, signal });
    signal.addEventListener(
      "abort",
      onOutbox(() => this.show()),
    );
    this.steady = new Steady();
    this.heading = el("h1", { tabindex: "-1" }, say("sign_out"));
    this.body = el("div", { class: "page" });
    this.says = el("p", { role: "status" });
    this.stay = el("a", { class: "button next", href: "#visits" }, say("stay_signed_in"));
    this.out = el("button", { type: "button", class: "button", onclick: () => this.leave() });
    this.foot = el("footer", { class: "docked", hidden: true }, this.says, this.stay, this.out);
    const back = el("a", { class: "back", href: "#visits", "aria-label": say("back_to_visits") }, line("back"));
    fill(root, el("div", { class: "sign-out-view" }, el("header", { class: "sheet-head" }, back), this.body, this.foot));
    Object.assign(root.dataset, { view: "sign-out", field: "" });
    document.title = say("sign_out");
    closeDraft()
      .then(() => this.show())
      .then(() => this.heading.focus({ preventScroll: true }));
  }

  /* Shown anew at every change of what waits, which comes when it likes: nothing that is being pressed or was just said
     is replaced. */
  async show() {
    const rows = (await draftStates(phone.member.id)).filter(({ state }) => state !== "received");
    if (this.signal.aborted || this.leaving) return;
    const some = rows.length > 0;
    refill(
      this.body,
      this.heading,
      this.steady.of("unsent", rows, () => el("div", {}, some ? this.unsent(rows) : el("p", {}, say("all_received")))),
    );
    this.steady.shown();
    this.stay.classList.toggle("next", some);
    this.out.classList.toggle("next", !some);
    write(this.out, say(some ? "sign_out_anyway" : "sign_out"));
    this.foot.hidden = false;
  }

  unsent(rows) {
    const seals = rows.flatMap((row) => unsentOf(row.seals));
    return [
      el("p", {}, el("strong", {}, say(rows.length === 1 ? "one_unsent" : "some_unsent", { count: rows.length }))),
      el("ul", { class: "rows" }, rows.map(unsentRow)),
      el("p", { class: "second" }, say("unsent_stays")),
      seals.length > 0 &&
        el(
          "p",
          { class: "beside" },
          el("button", { type: "button", class: "button", onclick: () => flush(askServer) }, say("send_now")),
          saveButton(seals, phone.organisation?.name ?? ""),
        ),
    ];
  }

  /* Out at the server first: until it has answered, nothing here changes. */
  async leave() {
    const { id } = phone.member;
    try {
      await signedOutAtServer(id);
    } catch (fault) {
      if (!(fault instanceof NoAnswer)) throw fault;
      this.says.textContent = say("sign_out_needs_signal");
      return;
    }
    this.leaving = true;
    await dropReceived(id);
    await dropKey();
    await drop("phone");
    await tidy();
    location.assign(sheet.sign_in);
  }
}

function unsentRow({ draft, word, says }) {
  const { reference, initials } = draft.visit;
  return el(
    "li",
    { class: "row" },
    el("span", { class: "row-words" }, el("span", {}, el("strong", {}, reference), ` ${initials}`), says && el("span", { class: "second" }, says)),
    el("span", { class: "row-state" }, word),
  );
}

/* Ends the session and this phone's key. Where the session has ended, the key is ended by itself. */
async function signedOutAtServer(member) {
  const out = (by) => asked("/api/sign-out", { method: "POST", by });
  try {
    const { csrf } = await askServer();
    return await out({ csrf });
  } catch (fault) {
    if (!(fault instanceof SignedOut)) throw fault;
  }
  const key = await keyOf(member);
  return key && out({ key }).catch((fault) => {
    if (!(fault instanceof SignedOut)) throw fault;
  });
}
