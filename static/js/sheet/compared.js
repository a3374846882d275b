/* Readings of one length held against each other, in words. */

import { inTenths, say } from "./words.js";

const USUAL_MM = 8; // reckoning: reading.repeats_differ, which speaks once length and girth are both read

/* How far the readings lie apart, and which counts; "" while fewer than two can be read. */
export function comparedWords(verdicts) {
  const read = verdicts.filter(({ outcome }) => outcome === "value").map(({ mm }) => mm);
  if (read.length < 2) return "";
  const apart = Math.max(...read) - Math.min(...read);
  const mm = inTenths(apart);
  if (read.length > 2) return say("middle_counts", { mm });
  return say(apart > USUAL_MM + 1e-6 ? "read_a_third" : "mean_counts", { mm, usual: USUAL_MM });
}
