/* Check and send: the shell to scale, four figures, what the checks say, everything read back, and the docked foot. */

import { onOutbox } from "../offline/outbox_signal.js";
import { sealsOf, tryAgain } from "../offline/seal.js";
import { sealed } from "../offline/sealing.js";
import { drop, keep } from "../offline/store.js";
import { firstOpen, standingsOf } from "./answers.js";
import { otherShell } from "./both_legs.js";
import { answer, changed, keepNow, throwAway } from "./drafts.js";
import { drawn, el, fill } from "./elements.js";
import { FlagRow, inOrder } from "./flag_rows.js";
import { head } from "./frame.js";
import { flush, pictures, whenCome } from "./later.js";
import { askServer, book, phone } from "./phone_data.js";
import { readBack } from "./read_back.js";
import { reckoned } from "./reckoned.js";
import { QuestionsPlace } from "./questions.js";
import { isReplied } from "./replied.js";
import { learnReplies, orderOf, questionsOf } from "./replies.js";
import { saveButton, unsentOf } from "./save_file.js";
import { sameAsSealed, sealOf, settle } from "./seal_content.js";
import { addOther, dropOther, mayHaveBoth } from "./second_leg.js";
import { stateOf } from "./state.js";
import { Turns } from "./turns.js";
import { inMm, say } from "./words.js";

const FIGURES = [
  ["finished_length_mm", "finished_length"],
  ["girth_mm", "girth"],
  ["upper_strap_mm", "upper_strap"],
  ["lower_strap_mm", "lower_strap"],
];

/* Offers what gives up measurements for good: done only on the second tap, and not by Enter twice. */
function onSecondTap(place, words, kind, act) {
  const button = (name, more, onclick) => el("button", { type: "button", class: more, onclick }, name);
  const offer = () => fill(place, button(words, kind, () => turn(sure)));
  const sure = () =>
    fill(place, el("span", {}, say("throw_away_sure")), button(words, "button", act), button(say("keep_it"), "button quiet", () => turn(offer)));
  const turn = (show) => show().lastElementChild.focus();
  offer();
}

export class CheckView {
  /* `flag` is the id of the one to begin with, if any. */
  constructor({ root, draft, go, signal, flag = null }) {
    Object.assign(this, { root, draft, go, signal, turns: new Turns(signal) });
    draft.at = "check";
    changed(draft);
    signal.addEventListener(
      "abort",
      onOutbox(() => this.takeSeals()),
    );
    this.build();
    this.showByPieces(flag);
  }

  beginWith(id) {
    const at = this.numbered.findIndex((flag) => flag.id === id);
    const row = this.flags.children[at];
    row?.querySelector("textarea, .button")?.focus();
    row?.scrollIntoView({ block: "center" });
  }

  hrefOf(key) {
    return `#visit/${this.draft.id}/${key}`;
  }

  build() {
    this.drawing = el("div", { class: "to-scale" });
    this.figures = el("dl", { class: "title-block figures" });
    this.flags = el("ol", { class: "flags", "aria-label": say("checks") });
    this.questions = new QuestionsPlace(this);
    this.stands = el("div", {});
    this.foot = el("footer", { class: "docked" });
    this.heading = el("h1", { class: "unseen", tabindex: "-1" }, say("check_and_send"));
    fill(
      this.root,
      el(
        "div",
        { class: "check" },
        head({
          back: this.hrefOf(this.lastField()),
          backLabel: say("back_to_sheet"),
          draft: this.draft,
          title: say("check_and_send"),
          signal: null,
        }),
        this.heading,
        el("div", { class: "board" }, this.drawing, this.figures),
        this.questions.element,
        this.flags,
        this.stands,
        el("p", { class: "caution" }, say("caution")),
        this.foot,
      ),
    );
    Object.assign(this.root.dataset, { view: "check", field: "check" });
    document.title = `${say("check_and_send")} · ${this.draft.visit.reference}`;
    this.learn();
    requestAnimationFrame(() => this.signal.aborted || this.root.contains(document.activeElement) || this.heading.focus({ preventScroll: true }));
    this.takeSeals();
    whenCome([book], this.signal, () => this.refresh());
  }

  lastField() {
    const asked = standingsOf(this.draft).filter((standing) => standing.asked);
    return asked[asked.length - 1].field.key;
  }

  async takeSeals() {
    await learnReplies();
    this.seals = await sealsOf(this.draft.id, this.draft.member);
    this.showFoot();
  }

  learn() {
    this.situation = reckoned(this.draft);
    const { result, workshop } = this.situation;
    this.about = { draft: this.draft, phone, catalogue: workshop?.catalogue, result };
    this.numbered = inOrder(result?.flags ?? []).map((flag, at) => ({ ...flag, n: at + 1 }));
  }

  /* What shows each part of the view, from the top down. */
  parts() {
    return {
      board: () => this.draw(),
      figures: () => this.showFigures(),
      flags: () => this.showFlags(),
      stands: () => this.showStands(),
      foot: () => this.showFoot(),
    };
  }

  /* Each part in its turn; what is read back stands below the screen and has a frame of its own. */
  showByPieces(flag) {
    const { stands, foot, ...above } = this.parts();
    const inTurn = (parts) => Object.entries(parts).forEach(([name, show]) => this.turns.afterFrame(name, show));
    const begin = () => flag && this.beginWith(flag);
    inTurn({ ...above, below: () => inTurn({ stands, foot, begin }) });
  }

  refresh() {
    const at = [...this.flags.children].findIndex((row) => row.contains(document.activeElement));
    const inHand = this.numbered[at]?.id;
    this.learn();
    for (const show of Object.values(this.parts())) show();
    if (inHand) this.goOnAt(inHand);
  }

  // Its flags are made anew: the focus stays with the one in hand; once that is settled, it begins with the first.
  goOnAt(id) {
    const at = this.numbered.findIndex((flag) => flag.id === id);
    const row = this.flags.children[Math.max(at, 0)];
    (row?.querySelector("textarea, .button") ?? this.heading).focus({ preventScroll: true });
  }

  showFlags() {
    fill(
      this.flags,
      this.numbered.map((flag) => new FlagRow(this, flag, flag.n).element),
    );
  }

  showStands() {
    fill(
      this.stands,
      this.bothPlace(),
      readBack(standingsOf(this.draft), this.about, (key) => this.hrefOf(key)),
      this.throwAwayPlace(),
    );
  }

  draw() {
    const picture = pictures.here.scalePicture(this.situation, this.drawing.clientWidth);
    fill(this.drawing, drawn(picture.svg), !picture.whole && el("p", { class: "second" }, say("not_to_draw_yet")));
  }

  showFigures() {
    const { result } = this.situation;
    fill(
      this.figures,
      FIGURES.map(([key, words]) =>
        el(
          "div",
          {},
          el("dt", {}, say(words)),
          el(
            "dd",
            { class: "nowrap" },
            typeof result?.[key] === "number"
              ? [inMm(Math.round(result[key])), el("span", { class: "unit" }, " mm")]
              : "–",
          ),
        ),
      ),
    );
  }

  /* Takes a flag's way out. */
  take(field, value) {
    answer(this.draft, field, value);
    this.refresh();
  }

  missing(draft = this.draft) {
    return standingsOf(draft).filter(({ asked, answered, field }) => asked && field.required && !answered);
  }

  /* Offers the other leg's shell where it is a prosthesis too, and the way back from it. */
  bothPlace() {
    const { draft } = this;
    if (mayHaveBoth(draft)) {
      const begin = () => {
        addOther(draft);
        this.go(`#visit/${draft.id}/${firstOpen(draft)?.key ?? "check"}`);
      };
      return el("p", { class: "both" }, el("button", { type: "button", class: "button", onclick: begin }, say("add_other_leg")));
    }
    if (!draft.second) return null;
    const side = say(draft.second.answers.side);
    const drop = () => {
      dropOther(draft);
      dispatchEvent(new HashChangeEvent("hashchange"));
    };
    const place = el("p", { class: "throw-away" });
    onSecondTap(place, say("drop_other_leg", { side }), "button quiet", drop);
    return [el("p", { class: "both" }, el("span", { class: "second" }, say("both_in_one"))), place];
  }

  /* Why it can't be sent yet, in words; "" when it can. With two shells, of the one in hand first. */
  notYet() {
    const own = this.notYetOf(this.draft, this.situation);
    const other = own ? null : otherShell(this.draft);
    const words = other && this.notYetOf(other, reckoned(other));
    return words ? `${say(other.answers.side)}: ${words}` : own;
  }

  notYetOf(draft, { entry, result }) {
    if (!phone.book || !result) return say("needs_signal_once");
    const missing = this.missing(draft);
    if (missing.length)
      return say(missing.length === 1 ? "one_missing" : "some_missing", {
        what: missing[0].field.brief,
        count: missing.length,
      });
    const stops = result.flags.filter(({ level }) => level === "stop").length;
    const reasons = result.flags.filter(
      ({ id, level }) => level === "explain" && !entry.answers?.[id],
    ).length;
    const unreplied = questionsOf(orderOf(this.draft), this.draft).filter((one) => !isReplied(this.draft, one)).length;
    const parts = [
      unreplied && say(unreplied === 1 ? "one_question" : "some_questions", { count: unreplied }),
      stops && say(stops === 1 ? "one_stop" : "some_stops", { count: stops }),
      reasons && say(reasons === 1 ? "one_reason" : "some_reasons", { count: reasons }),
    ].filter(Boolean);
    return parts.join(", ");
  }

  showFoot() {
    if (!this.seals) return;
    this.situation = reckoned(this.draft);
    this.questions.show();
    if (!this.draft.changing && this.seals.length > 0) {
      this.footShows = null;
      fill(this.foot, this.sentFoot());
    } else this.showSending();
  }

  sentFoot() {
    const state = stateOf(this.draft, this.seals, phone);
    const change = el(
      "button",
      { type: "button", class: "button", onclick: () => this.changeAgain() },
      say("change_and_send"),
    );
    const again =
      state.seal &&
      state.state === "attention" &&
      el("button", { type: "button", class: "button", onclick: () => this.again(state.seal) }, say("send_again"));
    const seen =
      state.told && el("button", { type: "button", class: "button", onclick: () => this.seen(state.told) }, say("seen"));
    const unsent = ["attention", "waiting"].includes(state.state) ? unsentOf(this.seals) : [];
    const save = unsent.length > 0 && saveButton(unsent, this.draft.visit.reference);
    return [el("p", { role: "status" }, el("strong", {}, state.word), el("br"), state.says), again, seen, change, save];
  }

  /* As long as it says the same, Send stays the very button that a thumb or the focus may be on. */
  showSending() {
    const notYet = this.notYet() || (sameAsSealed(this.draft, this.situation) ? say("nothing_changed") : "");
    const words = notYet || say("ready", { workshop: this.situation.workshop.name });
    if (words === this.footShows) return;
    this.footShows = words;
    fill(this.foot, this.sendFoot(notYet, notYet ? [el("strong", {}, say("not_yet")), ` ${notYet}`] : words));
  }

  sendFoot(notYet, words) {
    const button = el(
      "button",
      {
        type: "button",
        class: notYet ? "button not-yet" : "button next",
        onclick: () => (notYet ? this.tellWhy(notYet) : this.send()),
      },
      say("send"),
    );
    this.footWords = el("p", { role: "status" }, words);
    return [this.footWords, button];
  }

  /* Send was tapped too early: says why, and leads to the first thing in the way. */
  tellWhy(words) {
    this.footWords.classList.add("told");
    this.footShows = null;
    document.getElementById("announcer").textContent = `${say("not_yet")} ${words}`;
    const [missing] = this.missing();
    const place = missing
      ? this.stands.querySelector(`a[href="${this.hrefOf(missing.field.key)}"]`)
      : this.flags.querySelector(".flag.stop .button, .flag.explain textarea");
    place?.focus();
    place?.scrollIntoView({ block: "center" });
  }

  async send() {
    if (this.sending) return;
    this.sending = true;
    try {
      await keepNow();
      const content = sealOf(this.draft, this.situation, this.seals);
      const asSealed = structuredClone({ ...this.draft, changing: false, sealed_content: content });
      await sealed(content, this.draft.member, [asSealed]);
      await settle(this.draft, asSealed);
      await this.takeSeals();
      flush(askServer);
    } catch (fault) {
      this.footWords.textContent = say("not_sealed", { fault: fault.message });
      this.footShows = null;
    } finally {
      this.sending = false;
    }
  }

  changeAgain() {
    this.draft.changing = true;
    changed(this.draft);
    this.showFoot();
    this.stands.querySelector("h2").scrollIntoView();
    this.stands.querySelector("a")?.focus();
  }

  // Only what was never sent, or was deleted at the office, can be thrown away.
  throwAwayPlace() {
    const place = el("p", { class: "throw-away" });
    const isGone = ({ state, problem }) => state === "refused" && problem?.status === 410;
    const offer = () => onSecondTap(place, say("throw_away"), "link", () => this.throwAway());
    sealsOf(this.draft.id, this.draft.member).then((seals) => seals.every(isGone) && offer());
    return place;
  }

  async throwAway() {
    await throwAway(this.draft);
    await drop(...this.seals.map(({ key }) => key));
    this.go("#visits");
  }

  async seen(seal) {
    await keep({ ...seal, seen: true });
    await this.takeSeals();
  }

  async again(seal) {
    await tryAgain(seal);
    await this.takeSeals();
    flush(askServer);
  }
}
