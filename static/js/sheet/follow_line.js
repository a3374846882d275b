/* What follows from a reading, in words: {before, made}, of which `made` is set in bold; or null. */

import { decimalText, follows as lengthFollows } from "../book/follows.js";
import { judged } from "./reading_box.js";
import { inTenths, say } from "./words.js";

const SETTLED = 10; // [mm] the two routes may differ by so much (reckoning: length.routes_differ)

function ofLength(_entry, result) {
  const words = lengthFollows(result);
  if (!words) return null;
  const at = words.indexOf(":") + 1;
  return { before: words.slice(0, at), made: words.slice(at).trim() };
}

function ofGirth(_entry, { girth_mm, inside_girth_mm }) {
  if (girth_mm === null || inside_girth_mm === null) return null;
  return { before: say("follows_girth"), made: say("follows_inside", { mm: decimalText(inside_girth_mm, 0) }) };
}

/* "525 to the floor, less 106: 419, as taken" or how far the two routes lie apart. */
function ofSecondRoute({ second_route, units }, { length_taken_mm }) {
  const [apex, rim] = ["apex_to_floor", "rim_to_floor"].map((key) => judged(second_route?.[key] ?? "", units, key).mm);
  if (typeof apex !== "number" || typeof rim !== "number" || typeof length_taken_mm !== "number") return null;
  const apart = Math.abs(apex - rim - length_taken_mm);
  const before = say("follows_route", { apex: inTenths(apex), rim: inTenths(rim), length: inTenths(apex - rim) });
  const key = apart <= SETTLED ? "follows_agree" : "follows_apart";
  return { before, made: say(key, { mm: inTenths(apart), length: inTenths(length_taken_mm) }) };
}

function ofStrap(quantity, words) {
  return (_entry, result) =>
    typeof result[quantity] === "number"
      ? { before: say(words), made: say("follows_place", { mm: decimalText(result[quantity], 0) }) }
      : null;
}

/* What could be chosen where nothing can be measured: "383 mm, nine in ten 355 to 410 mm". */
export function suggested({ key }, { result }) {
  const girth = key === "girth" && result?.suggestions?.girth;
  if (!girth) return null;
  const [least, most, mm] = [girth.least_mm, girth.most_mm, girth.girth_mm].map((number) => decimalText(number, 0));
  return { before: say("suggested_girth", { mm }), made: say("suggested_range", { least, most }) };
}

const FOLLOWS = {
  length: ofLength,
  gap: ofLength,
  girth: ofGirth,
  "second_route.apex_to_floor": ofSecondRoute,
  "second_route.rim_to_floor": ofSecondRoute,
  "knee.hardware_length": ofStrap("upper_strap_mm", "follows_upper"),
  "foot.hardware_above_rim": ofStrap("lower_strap_mm", "follows_lower"),
};

/* Of the situation as it stands. Where a strap lies is the workshop's to say: nothing is told before one is chosen. */
export function follows(field, { entry, result, workshop }) {
  const ofTheWorkshop = field.key.includes("hardware");
  if (!result || (ofTheWorkshop && !workshop)) return null;
  return FOLLOWS[field.key]?.(entry, result) ?? null;
}
