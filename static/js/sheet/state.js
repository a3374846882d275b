/* The state of one order on this phone, computed from what is kept and never from hope. */

import { signal } from "../offline/outbox_signal.js";
import { say, timeOfDay } from "./words.js";

function workshopName(seal, phone) {
  return phone.workshops.find(({ id }) => id === seal.workshop)?.name ?? say("the_workshop");
}

function problemInWords(problem) {
  if (problem.lost) return say(problem.lost === "photo" ? "photo_lost" : "bytes_lost");
  const errors = (problem.errors ?? []).map(({ says }) => says);
  return [problem.detail || problem.title, ...errors].filter(Boolean).join(" ") || say("refused");
}

/* What the server has to tell about a seal that it took, "" where there is nothing: why it made no order of it, what
   it could not use. */
function toldOf({ receipt }) {
  const aside = (receipt.photos ?? []).filter(({ state }) => state === "set_aside").length;
  const words = [
    receipt.outcome === "kept" ? (receipt.says ?? say("kept_not_ordered")) : receipt.says,
    aside > 0 && (aside === 1 ? say("photo_set_aside") : say("photos_set_aside", { count: aside })),
  ];
  return words.filter(Boolean).join(" ");
}

function received(seal, phone) {
  const { receipt } = seal;
  const kept = receipt.outcome === "kept";
  const told = toldOf(seal);
  if (told && (kept || !seal.seen))
    return { state: "attention", seal: null, word: say("attention"), says: told, told: kept ? null : seal };
  const onServer = phone.orders.find(({ id }) => id === seal.order);
  const moved =
    onServer && onServer.seal_sha256 === seal.sha256 && onServer.state !== "sent"
      ? `, ${say(`state_${onServer.state}`)}`
      : "";
  return {
    state: "received",
    seal: null,
    word: say("received", { time: timeOfDay(new Date(receipt.received_at)) }),
    says: say("with_workshop", { workshop: workshopName(seal, phone) }) + moved,
  };
}

/* When it goes, in words. */
function goesWhen() {
  if (signal.state === "signed_out") return say("waits_for_sign_in");
  if (signal.state !== "waits") return say("sending_now");
  const next = signal.next && say("next_try", { time: timeOfDay(signal.next) });
  return [say("waits_for_signal"), next].filter(Boolean).join("; ");
}

/* What is sealed lies on this phone until some of it is there or on its way. */
function waiting(seal) {
  const { done = 0, count = 1 } = seal;
  const says = goesWhen();
  if (signal.state !== "sending" && !done) return { state: "waiting", seal, word: say("on_this_phone"), says };
  const word = count > 1 ? say("sending_of", { done, count }) : say("sending");
  return { state: "sending", seal, word, says, done, count };
}

function refused(item) {
  return { state: "attention", seal: item, word: say("attention"), says: problemInWords(item.problem) };
}

/* {state: "draft" | "waiting" | "sending" | "received" | "attention", word, says, seal: what may be tried again; `told`, a seal
   whose news may be put away once seen; while sending `done` of `count`}. `visit` is the visit that was made on this
   phone, if it was. */
export function stateOf(draft, seals, phone, visit = null) {
  const seal = seals[seals.length - 1];
  if (seal?.state === "refused") return refused(seal);
  if (visit?.state === "refused" && seal?.state !== "received") return refused(visit);
  if (seal?.state === "waiting") return waiting(seal);
  if (!seal || draft.changing) return { state: "draft", seal: null, word: say("on_this_phone"), says: "" };
  return received(seal, phone);
}
