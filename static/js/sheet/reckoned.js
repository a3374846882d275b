/* The reckoning of a draft as it stands: its entry, and what the rule book makes of it with no signal. */

import { entryOf, workshopOf } from "./answers.js";
import { reckoning } from "./later.js";
import { phone } from "./phone_data.js";

/* The reasons that still stand: each was given for what its flag said at the time. */
function standingReasons(draft, flags) {
  const reasons = {};
  for (const { id, level, says } of flags) {
    const given = draft.reasons[id];
    if (level === "explain" && given?.text.trim() && given.says === says) reasons[id] = given.text.trim();
  }
  return reasons;
}

/* {entry, result, catalogue, workshop}; result is null while what reckons, the book or a catalogue hasn't come to the phone. */
export function reckoned(draft) {
  const workshop = workshopOf(draft, phone);
  // Until a workshop is chosen, lengths and gap are reckoned with the first one's catalogue.
  const catalogue = (workshop ?? phone.workshops[0])?.catalogue ?? null;
  const bare = entryOf(draft, phone);
  if (!phone.book || !catalogue || !reckoning.here) return { entry: bare, result: null, catalogue, workshop };
  const { besideOf, reckon } = reckoning.here;
  const beside = besideOf(draft.answers.photos);
  const unanswered = reckon(bare, catalogue, phone.book, beside);
  const reasons = standingReasons(draft, unanswered.flags);
  const entry = entryOf(draft, phone, reasons);
  const result = Object.keys(reasons).length ? reckon(entry, catalogue, phone.book, beside) : unanswered;
  return { entry, result, catalogue, workshop };
}
