/* The reckoning of a draft as it stands: its entry, and what the rule book makes of it with no signal. */

import { reckon } from "../book/reckon.js";
import { entryOf, workshopOf } from "./answers.js";
import { besideOf } from "./beside.js";
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

/* {entry, result, catalogue, workshop}; result is null while no book or no catalogue is on the phone. */
export function reckoned(draft) {
  const workshop = workshopOf(draft, phone);
  // Until a workshop is chosen, lengths and gap are reckoned with the first one's catalogue.
  const catalogue = (workshop ?? phone.workshops[0])?.catalogue ?? null;
  const bare = entryOf(draft, phone);
  if (!phone.book || !catalogue) return { entry: bare, result: null, catalogue, workshop };
  const beside = besideOf(draft.answers.photos);
  const unanswered = reckon(bare, catalogue, phone.book, beside);
  const reasons = standingReasons(draft, unanswered.flags);
  const entry = entryOf(draft, phone, reasons);
  const result = Object.keys(reasons).length ? reckon(entry, catalogue, phone.book, beside) : unanswered;
  return { entry, result, catalogue, workshop };
}
