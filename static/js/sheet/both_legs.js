/* Both legs in one order: one draft holds two shells, one of them in hand. What is the same for both is asked once. */

import { changed } from "./drafts.js";
import { reckoned } from "./reckoned.js";

const OF_ONE_SHELL = ["answers", "skipped", "taken_up", "reasons", "base", "at", "cards"];
const OF_THE_ORDER = ["workshop", "need_by", "deliver_to"];
/* Taken over when the second shell is begun: likely the same, and asked about like everything else. */
const LIKELY_SAME = /^(shell\.|person\.|construction$|taken$|footwear$|girth_from$|girth$|level$)/;

const OPPOSITE = { left: "right", right: "left" };

function takenOver(answers, keep) {
  return Object.fromEntries(Object.entries(answers).filter(([key]) => keep(key)));
}

/* Whether this draft may get a second shell: the other leg is an above-knee prosthesis as well. */
export function mayHaveBoth(draft) {
  return !draft.second && draft.answers.other_leg === "above_knee" && Boolean(draft.answers.side);
}

/* The shell that isn't in hand, as a draft to be read; null where there is one shell. */
export function otherShell(draft) {
  if (!draft.second) return null;
  const shared = takenOver(draft.answers, (key) => OF_THE_ORDER.includes(key));
  const own = takenOver(draft.second.answers, (key) => !OF_THE_ORDER.includes(key));
  return { ...draft, base: null, ...draft.second, answers: { ...own, ...shared }, second: null };
}

/* Takes the other shell in hand. */
export function swap(draft) {
  const inHand = Object.fromEntries(OF_ONE_SHELL.map((key) => [key, draft[key] ?? null]));
  const other = otherShell(draft);
  for (const key of OF_ONE_SHELL) draft[key] = other[key] ?? null;
  draft.second = inHand;
  changed(draft);
}

/* Begins the second shell and takes it in hand. */
export function addOther(draft) {
  const same = takenOver(draft.answers, (key) => LIKELY_SAME.test(key));
  draft.second = {
    answers: { ...same, side: OPPOSITE[draft.answers.side], other_leg: "above_knee" },
    skipped: {},
    taken_up: {},
    reasons: {},
    base: null,
    at: null,
  };
  draft.changing = true;
  swap(draft);
}

/* Gives the shell that isn't in hand up again. */
export function dropOther(draft) {
  draft.second = null;
  draft.changing = true;
  changed(draft);
}

/* {entry, photos} of each shell, left before right; `entry` is the one in hand, as it was reckoned. */
export function shellsOf(draft, entry) {
  const other = otherShell(draft);
  const shells = [{ entry, photos: draft.answers.photos ?? [] }];
  if (other) shells.push({ entry: reckoned(other).entry, photos: other.answers.photos ?? [] });
  return shells.sort((one, two) => String(one.entry.side).localeCompare(String(two.entry.side)));
}
