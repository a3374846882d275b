/* The phone's one page: opens the store, shows the view that the address names, sends what waits. */

import { holdBuild, register, settled } from "../offline/app.js";
import { pace } from "../offline/calls.js";
import { noteAnew } from "../offline/held.js";
import { askToStay, onCleared, reserved } from "../offline/store.js";
import { firstOpen } from "./answers.js";
import { comingWords } from "./coming.js";
import { keepAnew as keepDraftAnew, openDraft } from "./drafts.js";
import { el, fill } from "./elements.js";
import { FieldView } from "./field_view.js";
import { bringRest, checkView, otherLanguage, outbox, replyDraft, signOutView } from "./later.js";
import { NewVisitView } from "./new_visit.js";
import { askServer, book, keepAnew as keepPhoneAnew, learnPhone, phone, takeKept } from "./phone_data.js";
import { learnReplies, placeOf, questionsOf } from "./replies.js";
import { VisitsView } from "./visits.js";
import { say, sheet } from "./words.js";

const root = document.getElementById("view");
let ending = new AbortController();
let notice = null;
const LONGEST_SILENCE_MS = 300; // before a view that isn't here yet says so

function go(hash) {
  if (location.hash === hash) show();
  else location.hash = hash;
}

function trouble(words) {
  fill(root, el("p", { class: "page notice", role: "alert" }, words));
}

/* Another tab has the visit in hand: two that write at once would undo each other. */
function openElsewhere(takeOver) {
  const page = el(
    "div",
    { class: "page" },
    el("h1", { tabindex: "-1" }, say("open_elsewhere")),
    el("p", {}, say("open_elsewhere_how")),
    el("p", {}, el("button", { type: "button", class: "button next", onclick: takeOver }, say("take_over"))),
    el("p", {}, el("a", { class: "link", href: "#visits" }, say("all_visits"))),
  );
  fill(root, page);
  Object.assign(root.dataset, { view: "elsewhere", field: "" });
  page.querySelector("h1").focus({ preventScroll: true });
}

function takenOver() {
  notice = say("taken_over");
  go("#visits");
}

/* Makes a view of what comes later; says so where that takes long, and then waits for it no more. Nothing is made once
   another view was asked for. */
async function brought(later, { signal }, make) {
  const made = later.come().then((thing) => (signal.aborted ? null : make(thing)));
  await Promise.race([made, new Promise((resolve) => setTimeout(resolve, LONGEST_SILENCE_MS))]);
  if (later.here || signal.aborted) return made;
  const back = el("a", { class: "link", href: "#visits" }, say("all_visits"));
  fill(root, el("div", { class: "page" }, comingWords(), el("p", {}, back)));
  return Object.assign(root.dataset, { view: "coming", field: "" });
}

async function draftView(id, key, more, view) {
  const [draft] = await Promise.all([openDraft(id, phone.member?.id, view.wants), learnReplies()]);
  if (view.signal.aborted) return null; // another view was asked for meanwhile
  if (!draft) return go("#visits");
  if (key === "check") return brought(checkView, view, (CheckView) => new CheckView({ ...view, draft, flag: more }));
  const field = sheet.fields.find((one) => one.key === key) ?? firstOpen(draft) ?? sheet.fields[0];
  return new FieldView({ ...view, draft, field });
}

/* Leads from a question to the field it is about, in the draft that will answer it. */
async function reply(orderId, queryId, view) {
  await learnReplies();
  const order = () => phone.orders.find(({ id }) => id === orderId);
  const asked = () => questionsOf(order()).find(({ id }) => id === queryId);
  if (!asked()) await askServer().catch(() => {});
  if (view.signal.aborted) return null;
  const question = asked();
  if (!question) {
    history.replaceState(null, "", "#visits");
    return new VisitsView({ ...view, notice: say(phone.no_signal_since ? "question_unknown" : "question_gone") });
  }
  return brought(replyDraft, view, async ({ draftToReply }) => {
    await book.asked().catch(() => {}); // what reasons were given for is told by it
    const draft = await draftToReply(order(), question, view.wants);
    if (!view.signal.aborted) location.replace(`#visit/${draft.id}/${placeOf(question, draft)}`);
  });
}

/* What was changed is being kept meanwhile: the draft in hand is the same for its next view, and one that is let go of is
   kept first. */
async function show() {
  ending.abort();
  ending = new AbortController();
  const { signal } = ending;
  const view = { root, go, signal, wants: { signal, elsewhere: openElsewhere, lost: takenOver } };
  const [place, id, key, more] = location.hash.slice(1).split("/");
  scrollTo(0, 0);
  if (place === "visit") await draftView(id, key, more, view);
  else if (place === "order" && key === "reply" && phone.member) await reply(id, more, view);
  else if (place === "new" && phone.member) new NewVisitView(view);
  else if (place === "sign-out" && phone.member) await brought(signOutView, view, (SignOutView) => new SignOutView(view));
  else {
    if (place && place !== "visits") history.replaceState(null, "", "#visits"); // or a link there would lead nowhere
    new VisitsView({ ...view, notice });
  }
  notice = null;
}

/* The browser has cleared the store under this page: what the page still knows is kept anew, and what is missing is
   told on Visits. */
async function cleared() {
  noteAnew();
  keepDraftAnew();
  await keepPhoneAnew();
  askServer().catch(() => {});
}

async function begin() {
  Object.assign(pace, sheet.pace);
  if (!globalThis.crypto?.subtle || !navigator.locks) return trouble(say("needs_https"));
  holdBuild(sheet.build);
  try {
    await takeKept();
    if (!phone.member) await learnPhone().catch(() => {});
  } catch (fault) {
    return trouble(say("no_store", { fault: fault.message }));
  }
  onCleared(cleared);
  addEventListener("hashchange", show);
  await show();
  settled.then(() => book.come());
  const registered = register(); // at once: the worker brings what this view does without
  await askServer().catch(() => {}); // who is signed in now, before anything is sent
  askToStay();
  await reserved().catch(() => {}); // what goes wrong here is told at the photo that finds no room
  await registered;
  await settled;
  outbox.come().then(({ keepFlushing }) => keepFlushing(askServer));
  bringRest();
  const wanted = phone.member?.language ?? sheet.language;
  if (wanted !== sheet.language) (await otherLanguage.come()).takeLanguage(sheet, wanted);
}

begin();
