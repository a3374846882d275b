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

/* Gives the results of entries; of the same one as before, which every view asks for anew, the same. */
function keeping() {
  let latest = {};
  return (entry, catalogue, beside) => {
    const about = JSON.stringify([entry, beside]);
    const { book } = phone;
    if (latest.about !== about || latest.catalogue !== catalogue || latest.book !== book)
      latest = { about, catalogue, book, result: reckoning.here.reckon(entry, catalogue, book, beside) };
    return latest.result;
  };
}

const ofBare = keeping();
const ofAnswered = keeping();

/* {entry, result, catalogue, workshop}; result is null while what reckons, the book or a catalogue hasn't come to the phone. */
export function reckoned(draft) {
  const workshop = workshopOf(draft, phone);
  // Until a workshop is chosen, lengths and gap are reckoned with the first one's catalogue.
  const catalogue = (workshop ?? phone.workshops[0])?.catalogue ?? null;
  const bare = entryOf(draft, phone);
  if (!phone.book || !catalogue || !reckoning.here) return { entry: bare, result: null, catalogue, workshop };
  const beside = reckoning.here.besideOf(draft.answers.photos);
  const unanswered = ofBare(bare, catalogue, beside);
  const reasons = standingReasons(draft, unanswered.flags);
  const entry = entryOf(draft, phone, reasons);
  const result = Object.keys(reasons).length ? ofAnswered(entry, catalogue, beside) : unanswered;
  return { entry, result, catalogue, workshop };
}
