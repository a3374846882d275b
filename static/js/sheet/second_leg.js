/* The second shell of an order: begun, given up again, and sent with the first. */

import { otherShell, swap, takenOver } from "./both_legs.js";
import { changed } from "./drafts.js";
import { reckoned } from "./reckoned.js";

/* Taken over when the second shell is begun: likely the same, and asked about like everything else. */
const LIKELY_SAME = /^(shell\.|person\.|construction$|taken$|footwear$|girth_from$|girth$|level$)/;

const OPPOSITE = { left: "right", right: "left" };

/* Whether this draft may get a second shell: the other leg is an above-knee prosthesis as well. */
export function mayHaveBoth(draft) {
  return !draft.second && draft.answers.other_leg === "above_knee" && Boolean(draft.answers.side);
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
