/* Both legs in one order: one draft holds two shells, one of them in hand. What is the same for both is asked once. */

import { changed } from "./drafts.js";

const OF_ONE_SHELL = ["answers", "skipped", "taken_up", "reasons", "base", "at", "cards", "raised"];
const OF_THE_ORDER = ["workshop", "need_by", "deliver_to"];
const NOTHING_YET = Object.fromEntries(OF_ONE_SHELL.map((key) => [key, null]));

/* The answers whose key `keep` says yes to. */
export function takenOver(answers, keep) {
  return Object.fromEntries(Object.entries(answers).filter(([key]) => keep(key)));
}

/* The shell that isn't in hand, as a draft to be read; null where there is one shell. */
export function otherShell(draft) {
  if (!draft.second) return null;
  const shared = takenOver(draft.answers, (key) => OF_THE_ORDER.includes(key));
  const own = takenOver(draft.second.answers, (key) => !OF_THE_ORDER.includes(key));
  return { ...draft, ...NOTHING_YET, ...draft.second, answers: { ...own, ...shared }, second: null };
}

/* Takes the other shell in hand. */
export function swap(draft) {
  const inHand = Object.fromEntries(OF_ONE_SHELL.map((key) => [key, draft[key] ?? null]));
  const other = otherShell(draft);
  for (const key of OF_ONE_SHELL) draft[key] = other[key];
  draft.second = inHand;
  changed(draft);
}
