/* One field to a view: ruler, words left and leg right, the thumb's half below. */

import { askedOf, noteRaised, standingsOf } from "./answers.js";
import { cardMark, cardPlace } from "./card.js";
import { ChoiceControl } from "./choice.js";
import { answer, changed } from "./drafts.js";
import { drawn, el, fill, write } from "./elements.js";
import { FieldFlags, flagsAt, toldOf } from "./field_flags.js";
import { head } from "./frame.js";
import { givenFold } from "./given.js";
import { controls, enlarging, pictures, reckoning, sheetParts, whenCome, withLater } from "./later.js";
import { line } from "./lines.js";
import { book, phone } from "./phone_data.js";
import { ComingControl } from "./coming.js";
import { PlainControl } from "./plain_input.js";
import { ReadingControl } from "./reading.js";
import { reckoned } from "./reckoned.js";
import { questionBox } from "./question_box.js";
import { doneParts, ruler } from "./ruler.js";
import { Turns } from "./turns.js";
import { say, sheet } from "./words.js";

const SHORT = matchMedia("(max-height: 779.98px)");
const WIDE = matchMedia("(min-width: 75rem) and (min-height: 40rem)");
const CONTROLS = {
  reading: ReadingControl,
  readings: ReadingControl,
  number: PlainControl,
  text: PlainControl,
  date: PlainControl,
};

export class FieldView {
  /* `root` is the page's main element, `go(hash)` opens another view, `signal` ends this one. */
  constructor({ root, draft, field, go, signal }) {
    Object.assign(this, { root, draft, field, go, signal, phone });
    this.turns = new Turns(signal);
    SHORT.addEventListener("change", () => this.refresh(), { signal });
    draft.at = field.key;
    changed(draft);
    this.build();
    whenCome([reckoning, pictures, book], signal, () => this.completed());
  }

  hrefOf(key) {
    return `#visit/${this.draft.id}/${key}`;
  }

  get standings() {
    return standingsOf(this.draft, { short: SHORT.matches });
  }

  standing() {
    return this.standings.find(({ field }) => field === this.field) ?? { asked: false, answered: false };
  }

  startsAt() {
    const { starts_at } = this.field;
    return starts_at === "@first" ? this.catalogue?.[this.field.options]?.[0]?.key : starts_at;
  }

  /* Makes the whole view anew. */
  build() {
    this.situation = reckoned(this.draft);
    this.catalogue = this.situation.workshop?.catalogue ?? null;
    const Control = this.controlClass();
    this.heading = el("h1", { tabindex: "-1" }, this.field.label);
    this.flags = new FieldFlags(this);
    this.control = new Control(this);
    this.ruler = el("div", { class: "ruler-place" });
    this.drawing = el("div", { class: "drawing" });
    this.fold = el("div", { class: "fold" });
    this.nextButton = el("button", { type: "submit", class: "button next" });
    fill(this.root, this.sheet());
    this.headShows = this.rulerShows = this.drawingShows = null;
    Object.assign(this.root.dataset, { view: "field", field: this.field.key });
    document.title = `${this.field.label} · ${this.draft.visit.reference}`;
    this.pending = null;
    this.showWhatFollows();
    this.watchRoom();
    this.focusSoon();
  }

  // The focus has the page laid out: with its frame that is done once. A key that is sooner has it at once, and goes there;
  // what a hand has taken meanwhile keeps it.
  focusSoon() {
    let isDue = true;
    const now = () => {
      if (isDue && !this.signal.aborted && !this.root.contains(document.activeElement)) this.control.focus();
      isDue = false;
    };
    addEventListener("keydown", now, { capture: true, once: true });
    requestAnimationFrame(now);
  }

  // A control that hasn't come yet is waited for in its place.
  controlClass() {
    const later = controls[this.field.kind];
    if (!later) return CONTROLS[this.field.kind] ?? ChoiceControl;
    if (!later.here) later.come().then(() => this.signal.aborted || this.build());
    return later.here ?? ComingControl;
  }

  // The drawing is laid out for its place: first when that is known and the words are painted, then whenever it changes.
  watchRoom() {
    this.watching?.disconnect();
    this.watching = new ResizeObserver(() => (this.drawingShows ? this.draw() : this.turns.take("drawing", () => this.draw())));
    this.watching.observe(this.drawing);
    this.watching.observe(this.scale);
    this.signal.addEventListener("abort", () => this.watching.disconnect());
  }

  sheet() {
    this.headPlace = el("div", { class: "head-place" });
    const hand = el(
      "form",
      {
        class: "hand",
        novalidate: true,
        onsubmit: (event) => {
          event.preventDefault();
          this.next();
        },
      },
      this.draft.cards?.[this.field.part] ? [cardPlace(this), this.control.element] : [this.control.element, cardPlace(this)],
      !this.control.showsFlags && this.flags.element,
      el("div", { class: "foot" }, this.control.units, this.nextButton),
    );
    const question = questionBox(this.draft, this.field);
    const kinds = `sheet kind-${this.field.kind}${question ? " asked-here" : ""}${this.field.drawing ? "" : " undrawn"}`;
    this.scale = el("aside", { class: "to-scale beside-sheet", "aria-label": say("to_scale") });
    return el("div", { class: kinds }, this.headPlace, this.ruler, this.guide(question), hand, this.scale);
  }

  guide(question) {
    const { posture, where, easy_mistake, caution } = this.field;
    this.caption = el("p", { class: "small caption" });
    this.cardLine = el("p", { class: "card-line" });
    const words = el(
      "div",
      { class: "words" },
      this.heading,
      this.cardLine,
      posture && el("p", { class: "posture" }, posture),
      where && el("p", { class: "where" }, where),
      easy_mistake &&
        el("div", { class: "mistake" }, el("p", { class: "label" }, say("easy_mistake")), el("p", {}, easy_mistake)),
      caution && el("p", { class: "caution-line" }, caution),
    );
    const enlarge = el(
      "button",
      {
        type: "button",
        class: "enlarge",
        "aria-label": say("enlarge"),
        onclick: () => withLater(enlarging, ({ enlarged }) => enlarged(this)),
      },
      line("enlarge"),
    );
    return el(
      "section",
      { class: "guide", "aria-label": say("how_to_measure") },
      el("div", { class: "words-and-leg" }, question, words, el("div", { class: "drawing-place" }, this.drawing, enlarge)),
      el("div", { class: "fold-and-caption" }, this.fold, this.caption),
    );
  }

  /* Shows all that follows from the answers as they stand. */
  refresh() {
    this.pending = null;
    this.showWhatFollows();
    this.draw();
  }

  /* The same after a key: what was typed is painted first, then what follows from it, then the drawing. */
  refreshSoon() {
    this.afterFrame(() => {
      this.showWhatFollows();
      this.afterFrame(() => this.draw());
    });
  }

  /* Acts once the next frame is painted, unless something newer is to be shown by then. */
  afterFrame(act) {
    const turn = (this.pending = {});
    const now = () => this.pending === turn && !this.signal.aborted && act();
    requestAnimationFrame(() => setTimeout(now));
  }

  showWhatFollows() {
    this.situation = reckoned(this.draft);
    if (noteRaised(this.draft, this.situation.result?.flags ?? [])) changed(this.draft);
    const { standings } = this;
    const at = askedOf(standings);
    this.following = this.followingOf(at);
    this.showHead(this.precedingOf(at));
    this.showRuler(standings);
    this.showFold();
    this.showNext();
    fill(this.cardLine, cardMark(this.field, this.about));
    this.control.show(this.situation);
    const flags = this.flagsHere();
    this.flags.show(flags);
    this.root.firstElementChild.classList.toggle("flagged", flags.length > 0);
  }

  showHead(before) {
    const about = `${before?.key} ${this.draft.answers.side}`;
    if (this.headShows === about) return;
    this.headShows = about;
    this.headEnd?.abort();
    this.headEnd = new AbortController();
    fill(
      this.headPlace,
      head({
        back: before ? this.hrefOf(before.key) : "#visits",
        backLabel: before ? say("back_to", { what: before.brief }) : say("back_to_visits"),
        draft: this.draft,
        signal: AbortSignal.any([this.signal, this.headEnd.signal]),
      }),
    );
  }

  showRuler(standings) {
    const about = JSON.stringify(doneParts(standings));
    if (this.rulerShows === about) return;
    this.rulerShows = about;
    fill(this.ruler, ruler(standings, this.field.part, (part) => this.showParts(part)));
  }

  showParts(part) {
    return withLater(sheetParts, ({ partsPanel }) => partsPanel(this, part));
  }

  get about() {
    return { draft: this.draft, phone, catalogue: this.catalogue, result: this.situation.result };
  }

  showFold() {
    const fold = givenFold(this, this.fold.querySelector("details")?.open);
    if (!fold?.isEqualNode(this.fold.firstChild)) fill(this.fold, fold);
  }

  showNext() {
    const words = this.following ? say("next", { what: this.following.brief }) : say("next", { what: say("check") });
    if (this.nextButton.textContent !== words) fill(this.nextButton, el("span", {}, words), line("on"));
  }

  /* What is said of this field. Of what is only begun nothing is, nor of what isn't answered. */
  flagsHere() {
    return this.standing().answered && !this.isBegun ? flagsAt(this.field, this.situation) : [];
  }

  get isBegun() {
    return this.control.isBegun?.();
  }

  /* Says of a flag whether the drawing to scale bears it: what a field tells. Of what is only begun nothing new is. */
  get bears() {
    if (!this.isBegun) this.told = toldOf(this.standings, this.situation);
    return ({ id, fields }) => this.told?.has(id) && !(this.isBegun && fields.includes(this.field.key));
  }

  // What is needed next: after this field's place in the sheet, else before it. Once all is answered, the check is.
  followingOf(asked) {
    const here = sheet.fields.indexOf(this.field);
    const { base, skipped } = this.draft;
    const passed = ({ key, required }) => !required && (base || skipped[key]); // of what was sent before, all was passed
    const waits = ({ field, answered }) => !answered && !passed(field) && field !== this.field;
    const needed = asked.filter(waits).map(({ field }) => field);
    return needed.find((field) => sheet.fields.indexOf(field) > here) ?? needed[0];
  }

  precedingOf(asked) {
    const here = sheet.fields.indexOf(this.field);
    return asked.findLast(({ field }) => sheet.fields.indexOf(field) < here)?.field;
  }

  draw() {
    if (!pictures.here) return;
    const { guidePicture, roomOf } = pictures.here;
    const picture = guidePicture(this.field, this.situation, roomOf(this.drawing));
    this.root.firstElementChild.classList.toggle("undrawn", !picture);
    this.root.firstElementChild.classList.toggle("right", this.draft.answers.side === "right");
    this.root.firstElementChild.classList.toggle("repeating", this.control.texts?.length > 1);
    if (picture && picture.svg !== this.drawingShows) fill(this.drawing, drawn(picture.svg));
    this.drawingShows = picture?.svg;
    write(this.caption, picture?.caption ?? "");
    this.drawScale();
  }

  // Where there is room beside the sheet, the shell stands there to scale, as the figures come in.
  drawScale() {
    if (!WIDE.matches) return this.scale.replaceChildren();
    const { roomOf, scalePicture } = pictures.here;
    const [width, height] = roomOf(this.scale);
    return fill(this.scale, drawn(scalePicture(this.situation, width, height, this.bears).svg));
  }

  // Drawings or checks have come while this was on the screen.
  completed() {
    this.control.nowDrawn?.();
    this.refresh();
  }

  next() {
    if (this.pending) this.showWhatFollows();
    if (!this.control.ready()) return;
    if (!this.standing().answered) this.draft.skipped[this.field.key] = true;
    changed(this.draft);
    this.go(this.following ? this.hrefOf(this.following.key) : `#visit/${this.draft.id}/check`);
  }

  /* Takes a flag's way out, here or at the field that it is about. */
  take(field, value) {
    answer(this.draft, field, value);
    this.build();
  }

  /* Opens a field that is offered beside this one. */
  takeUp(field) {
    for (const other of sheet.fields)
      if (other.offered && other.part === field.part) this.draft.taken_up[other.key] = true;
    changed(this.draft);
    this.go(this.hrefOf(field.key));
  }
}
