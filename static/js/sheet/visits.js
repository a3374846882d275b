/* Visits: what needs attention, what is on this phone, what is planned. */

import { onApp, takeNewer } from "../offline/app.js";
import { heldOf, strike } from "../offline/held.js";
import { onOutbox, signal as outbox } from "../offline/outbox_signal.js";
import { tryAgain } from "../offline/seal.js";
import { keyOf } from "../offline/send_key.js";
import { keep, readAll } from "../offline/store.js";
import { firstOpen, standingsOf, workshopOf } from "./answers.js";
import { draftStates } from "./draft_states.js";
import { closeDraft, draftsOf, isAllKept, newDraft } from "./drafts.js";
import { drawn, el, fill } from "./elements.js";
import { flush, pictures, readying, reckoning, saving, whenKept } from "./later.js";
import { line } from "./lines.js";
import { askServer, book, learnPhone, phone } from "./phone_data.js";
import { reckoned } from "./reckoned.js";
import { aboutWords, learnReplies, questionsOf } from "./replies.js";
import { RowLegs } from "./row_legs.js";
import { doneParts } from "./ruler.js";
import { refill, Steady } from "./steady.js";
import { ago, dayAndTime, say, sheet, timeOfDay } from "./words.js";

const RANK = { attention: 0, sending: 1, waiting: 1, draft: 2, received: 3 };

const ATTENTION =
  '<svg class="state-mark attention" viewBox="0 0 34 34" aria-hidden="true"><path d="M17 2 32 17 17 32 2 17z"/><path d="M17 10v9m0 4v1"/></svg>';
const MOST_BOXES = 8;
const PAUSE_MS = 250; // between two showings while much is sent: each photo is a change

/* For the order of drafts; one that was only just begun comes before all that were changed. */
function turnOf(draft) {
  return draft.turn ?? Number.MAX_SAFE_INTEGER;
}

/* A box for each thing to be sent, filled once the server has it; one that says how far where they are many. */
function sendingMark({ done, count }) {
  const boxes = Math.min(Math.max(count, 2), MOST_BOXES);
  const filled = count > 1 ? Math.floor((done / count) * boxes) : 1;
  const drawBox = (_, at) =>
    `<rect class="${at < filled ? "" : "to-go"}" x="${at * 16 + 1}" y="2" width="13" height="10" rx="2"/>`;
  const markup = Array.from({ length: boxes }, drawBox).join("");
  return drawn(`<svg class="state-mark sending" viewBox="0 0 ${boxes * 16} 14" aria-hidden="true">${markup}</svg>`);
}

function mark(row) {
  const { state } = row;
  if (state === "attention") return drawn(ATTENTION);
  if (state === "sending") return sendingMark(row);
  return line(state === "received" ? "tick" : "phone");
}

function smallRuler(draft) {
  const done = doneParts(standingsOf(draft));
  const count = sheet.parts.length;
  const thick = sheet.parts.map(({ key }, at) => (done[key] ? `M${at * 20 + 1} 10h20` : ""));
  const ticks = Array.from({ length: count + 1 }, (_, at) => `M${at * 20 + 1} 2v8`);
  return drawn(
    `<svg class="small-ruler" viewBox="0 0 ${count * 20 + 2} 12" aria-hidden="true"><path d="M1 10h${count * 20}${ticks.join("")}"/><path class="thick" d="${thick.join("")}"/></svg>`,
  );
}

function draftWords(draft) {
  const next = firstOpen(draft);
  return el(
    "span",
    { class: "progress second" },
    smallRuler(draft),
    el("span", {}, say(next ? "goes_on_with" : "to_check", { what: next?.brief })),
  );
}

/* The small leg of a row; nothing in its place until the drawings have come. */
function picture(of) {
  return pictures.here && drawn(of(pictures.here));
}

function agoAsked({ asked_at }) {
  return say("asked_ago", { ago: ago(new Date(asked_at)) });
}

function questionRow(order, question, leg) {
  const { reference, initials, workshop } = order;
  return el(
    "li",
    { class: "asked" },
    leg,
    el(
      "div",
      { class: "asked-words" },
      el(
        "p",
        { class: "asked-of" },
        el("span", {}, el("strong", {}, reference), ` ${initials ?? ""} · ${say(question.side)}`),
        el("span", { class: "second" }, agoAsked(question)),
      ),
      el("p", { class: "second" }, say("asks_about", { workshop, what: aboutWords(question, order) })),
      el("p", {}, question.text),
      el("a", { class: "button next wide", href: `#order/${order.id}/reply/${question.id}` }, say("reply")),
    ),
  );
}

/* A row of words: the reference with `more` to it, and how it stands. */
function plainRow(tag, attributes, reference, more, state) {
  const words = el("span", {}, el("strong", {}, reference), more);
  const standing = el("span", { class: "row-state" }, el("span", {}, state));
  return el("li", {}, el(tag, attributes, el("span", { class: "row-words" }, words), standing));
}

/* Runs `act` one at a time; asked meanwhile, once more after that. What it gives settles once nothing was asked since. */
function oneAtATime(act) {
  let underWay = null;
  let again = false;
  const orAgain = (fault) => {
    if (!again) throw fault; // otherwise what was asked meanwhile is done all the same
  };
  const run = async () => {
    try {
      do {
        again = false;
        await act().catch(orAgain);
      } while (again);
    } finally {
      underWay = null;
    }
  };
  return () => {
    again = true;
    underWay ??= run();
    return underWay;
  };
}

export class VisitsView {
  /* `notice`, if any, is said above the lists. */
  constructor({ root, go, signal, notice = null }) {
    Object.assign(this, { root, go, signal, notice });
    this.steady = new Steady();
    this.legs = new RowLegs(signal);
    this.show = oneAtATime(() => this.showNow());
    const changed = [onOutbox(() => this.showSoon()), onApp(() => this.otherVersion()), onApp(() => this.show())];
    for (const end of changed) signal.addEventListener("abort", end);
    this.lists = el("div", { class: "lists" });
    this.heading = el("h1", { tabindex: "-1" }, say("visits"));
    this.clinic = el("p", { class: "second" });
    this.top = el("header", { class: "visits-head" }, el("div", {}, this.heading, this.clinic));
    fill(
      root,
      el(
        "div",
        { class: "visits" },
        this.top,
        this.lists,
        el("footer", { class: "docked" }, el("a", { class: "button next wide", href: "#new" }, say("new_visit"))),
      ),
    );
    Object.assign(root.dataset, { view: "visits", field: "" });
    document.title = say("visits");
    closeDraft()
      .then(() => this.otherVersion())
      .then(() => this.show())
      .then(() => this.heading.focus({ preventScroll: true }));
    const ask = () =>
      learnPhone()
        .catch(() => {})
        .then(() => this.show());
    ask();
    document.addEventListener("visibilitychange", () => document.hidden || ask(), { signal });
    whenKept([pictures, readying, reckoning, saving, book], signal, () => this.show());
  }

  showSoon() {
    this.soon ??= setTimeout(() => {
      this.soon = null;
      this.show();
    }, PAUSE_MS);
  }

  // Here no visit is in hand: the moment for another version, and for its page in place of this one.
  otherVersion() {
    if (isAllKept()) takeNewer();
  }

  tryNow() {
    askServer()
      .then(
        () => flush(askServer),
        () => {},
      )
      .then(() => this.show());
  }

  async showNow() {
    const member = phone.member?.id;
    const held = member ? heldOf(member) : [];
    await learnReplies();
    const [withStates, planned] = member ? await Promise.all([draftStates(member), readAll("visit/")]) : [[], []];
    const drafts = withStates.map(({ draft }) => draft);
    this.mayStillSend = Boolean(member && (await keyOf(member)));
    const fresh = await readying.here?.readinessNow(() => this.show(), this.lists.querySelector(".ready"));
    if (this.signal.aborted) return;
    strike(member, withStates.filter(({ state }) => state === "received").map(({ draft }) => draft.id));
    const { steady } = this;
    const ready = steady.like("ready", fresh);
    const isMissing = ready?.dataset.words === "ready_not";
    const rows = withStates.sort((a, b) => RANK[a.state] - RANK[b.state] || turnOf(b.draft) - turnOf(a.draft));
    const missing = held.filter(({ id }) => !drafts.some((draft) => draft.id === id));
    const own = planned.filter((visit) => visit.member === member);
    const parts = [
      this.notice && el("p", { class: "notice", role: "status" }, this.notice),
      readying.here?.newerVersion(),
      readying.here?.gone(missing, () => this.show()),
      this.group("waiting_for_reply", this.questionRows()),
      this.group("pick_one", this.contestedRows()),
      isMissing && ready,
      this.group(
        "on_this_phone_head",
        rows.map((row) => steady.of(row.draft.id, [row, this.here], () => this.draftRow(row))),
      ),
      this.group("planned", this.plannedRows(drafts, own)),
      this.group("elsewhere", this.elsewhereRows(drafts)),
      member && !rows.length && !phone.visits.length && el("p", { class: "nothing-yet" }, say("nothing_yet")),
      !isMissing && ready,
      el("p", { class: "caution" }, say("caution")),
      member && this.signOut(rows.filter(({ state }) => state !== "received").length),
    ];
    this.showTop();
    refill(this.lists, parts);
    steady.shown();
  }

  /* What the rows are drawn with, as far as it has come. */
  get here() {
    const versions = phone.workshops.map(({ catalogue_version }) => catalogue_version);
    return [pictures, reckoning, saving].map(({ here }) => Boolean(here)).concat(phone.book?.sha256, versions);
  }

  // What isn't sent stays on this phone; who signs out is told how much that is.
  signOut(unsent) {
    return el(
      "p",
      { class: "sign-out" },
      el("a", { class: "link", href: sheet.orders }, say("all_orders")),
      el("a", { class: "link", href: sheet.settings }, say("settings")),
      el("a", { class: "link", href: "#sign-out" }, say("sign_out")),
      unsent > 0 && el("span", { class: "small" }, say(unsent === 1 ? "one_unsent" : "some_unsent", { count: unsent })),
    );
  }

  showTop() {
    this.clinic.textContent = phone.organisation?.name ?? "";
    refill(this.top, this.top.firstChild, this.steady.like("signal", this.signalWords()));
  }

  signalWords() {
    if (phone.signed_out) {
      return el(
        "p",
        { class: "second signal", role: "status" },
        say("signed_out"),
        el("br"),
        this.mayStillSend && [say("still_sends"), el("br")],
        el("a", { href: sheet.sign_in, class: "link" }, say("sign_in")),
      );
    }
    if (!phone.member) return el("p", { class: "second signal", role: "status" }, say("needs_signal_first"));
    const since = phone.no_signal_since ?? (outbox.state === "waits" ? outbox.since : null);
    if (!since) return el("p", { class: "second signal" });
    return el(
      "p",
      { class: "second signal", role: "status" },
      say("no_signal", { time: timeOfDay(since) }),
      el("br"),
      [say("nothing_is_lost"), outbox.next && say("next_try", { time: timeOfDay(outbox.next) })].filter(Boolean).join("; "),
      el("br"),
      el("button", { type: "button", class: "link", onclick: () => this.tryNow() }, say("try_now")),
    );
  }

  group(words, rows) {
    if (!rows.length) return null;
    const id = `group-${words}`;
    const make = () => el("section", { "aria-labelledby": id }, el("h2", { id }, say(words)), el("ul", { class: "rows" }));
    const section = this.steady.of(id, "", make);
    refill(section.lastChild, rows);
    return section;
  }

  draftRow(row) {
    const { draft, state, word, says, seal } = row;
    const { side } = draft.answers;
    const href = `#visit/${draft.id}/${state === "draft" ? (draft.at ?? firstOpen(draft)?.key ?? "check") : "check"}`;
    const again =
      state === "attention" &&
      seal &&
      el("button", { type: "button", class: "button", onclick: () => this.again(seal) }, say("send_again"));
    const unsent = saving.here?.unsentOf(row.seals) ?? [];
    return el(
      "li",
      {},
      el(
        "a",
        { class: "row", href },
        this.leg(draft, state),
        el(
          "span",
          { class: "row-words" },
          el(
            "span",
            {},
            el("strong", {}, draft.visit.reference),
            ` ${draft.visit.initials}`,
            side && ` · ${say(side)}`,
            draft.second && `, ${say(draft.second.answers.side)}`,
          ),
          state === "draft" ? draftWords(draft) : el("span", { class: "second" }, says),
        ),
        el("span", { class: `row-state ${state}` }, mark(row), el("span", {}, word)),
      ),
      again && el("p", { class: "beside" }, again, unsent.length > 0 && saving.here.saveButton(unsent, draft.visit.reference)),
    );
  }

  leg(draft, state) {
    return this.legs.place(draft.id, [draft, state === "draft", this.here], () => picture((here) => here.rowPicture(reckoned(draft), state)));
  }

  async again(seal) {
    await tryAgain(seal);
    flush(askServer);
    this.show();
  }

  plannedRows(drafts, own) {
    const known = new Map([...own, ...phone.visits].map((visit) => [visit.id, visit]));
    const begun = new Set([...drafts.map((draft) => draft.visit.id), ...phone.orders.map((order) => order.visit)]);
    const visits = [...known.values()].filter(({ id }) => !begun.has(id));
    visits.sort((a, b) => String(a.planned_for).localeCompare(String(b.planned_for)));
    return visits.map((visit) => this.steady.like(`planned ${visit.id}`, this.plannedRow(visit)));
  }

  plannedRow(visit) {
    const when = visit.planned_for ? dayAndTime(new Date(visit.planned_for)) : say("any_time");
    const attributes = { type: "button", class: "row planned", onclick: () => this.begin(visit) };
    return plainRow("button", attributes, visit.reference, ` ${visit.initials}`, when);
  }

  // Once for each visit: a second tap, here or in another tab, opens the draft that the first one made.
  async begin(visit) {
    try {
      const draft = await navigator.locks.request("begin a visit", () => begunOnce(visit, phone.member.id));
      this.go(`#visit/${draft.id}/${draft.at ?? sheet.fields[0].key}`);
    } catch {
      this.notice = say("not_kept");
      this.show();
    }
  }

  // The question itself comes first, framed, with the way to its answer.
  questionRows() {
    const leg = (order, { id, side }) =>
      this.legs.place(id, [order, this.here], () => picture((here) => here.orderPicture(order, side)));
    const row = (order, question) =>
      this.steady.of(question.id, [order, question, agoAsked(question), this.here], () =>
        questionRow(order, question, leg(order, question)),
      );
    return phone.orders.flatMap((order) => questionsOf(order).map((question) => row(order, question)));
  }

  contestedRows() {
    const row = ({ id, reference }) =>
      plainRow("a", { class: "row", href: `/orders/${id}/` }, reference, "", say("two_versions"));
    return phone.orders
      .filter(({ contested }) => contested)
      .map((order) => this.steady.like(`contested ${order.id}`, row(order)));
  }

  // What the server has of this clinic's people that was sent from elsewhere.
  elsewhereRows(drafts) {
    const here = new Set(drafts.map(({ id }) => id));
    const row = ({ reference, sides, state }) =>
      plainRow("div", { class: "row" }, reference, ` · ${sides.map((side) => say(side)).join(", ")}`, say(`state_${state}`));
    return phone.orders
      .filter(({ id }) => !here.has(id))
      .map((order) => this.steady.like(`elsewhere ${order.id}`, row(order)));
  }
}

async function begunOnce({ id, reference, initials }, member) {
  const there = (await draftsOf(member)).find(({ visit }) => visit.id === id);
  if (there) return there;
  const draft = newDraft({ id, reference, initials }, member, await unitsOf(member));
  await keep(draft);
  return draft;
}

/* What a bare number is in, in a new visit: the member's own setting, else as in the draft that was changed last. */
export async function unitsOf(member) {
  if (phone.member.units) return phone.member.units;
  const drafts = (await draftsOf(member)).filter(({ turn }) => turn);
  drafts.sort((a, b) => a.turn - b.turn);
  return drafts.at(-1)?.units ?? "cm";
}
