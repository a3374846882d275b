/* Answers in words: what a field holds, for the fold "taken as given" and for reading back before sending. */

import { judged } from "./reading_box.js";
import { inMm, say } from "./words.js";

const FIRST_OPTION = "@first";
const ADVISED = "@advised";

function readingInWords(text, units) {
  const { outcome, mm, unit_typed } = judged(text, units, "");
  const typed = unit_typed ? text.trim() : `${text.trim()} ${units}`;
  if (outcome !== "value") return text.trim();
  return typed.endsWith("mm") ? typed : `${typed} (${inMm(mm, 1)} mm)`;
}

function choiceInWords(field, value, { catalogue, phone }) {
  if (field.kind === "workshop") return phone.workshops.find(({ id }) => id === value)?.name ?? value;
  if (field.kind === "yes_no") return say(value === true || value === "yes" ? "yes" : "no");
  if (field.kind === "option") {
    const options = catalogue?.[field.options];
    const option = value === FIRST_OPTION ? options?.[0] : options?.find(({ key }) => key === value);
    return option?.label ?? (value === FIRST_OPTION ? say("first_of_catalogue") : value);
  }
  return field.choices.find((choice) => choice.value === value)?.label ?? value;
}

function rowsInWords({ columns, rows }, value, units) {
  const words = (texts) => columns.map(({ key }) => texts?.[key] && readingInWords(texts[key], units)).filter(Boolean).join(", ");
  const named = rows ? rows.map(({ key, label }) => [label, words(value[key])]) : value.map((texts) => ["", words(texts)]);
  return named.filter(([, told]) => told).map(([label, told]) => (label ? `${label}: ${told}` : told)).join("; ");
}

/* What stands in a field, in words; "" where nothing does. `about` has draft, phone, catalogue and result. */
export function inWords({ field, value }, about) {
  if (value === undefined || value === null || value === "") return "";
  if (value === ADVISED) {
    const advised = about.result?.gap_advised_mm;
    return advised ? say("advised_mm", { mm: inMm(advised, Number.isInteger(advised) ? 0 : 1) }) : say("as_advised");
  }
  if (field.kind === "readings") {
    return value
      .filter((text) => text.trim())
      .map((text) => readingInWords(text, about.draft.units))
      .join("; ");
  }
  if (field.kind === "reading") return readingInWords(value, about.draft.units);
  if (field.kind === "number") return `${value} ${say(`unit_${field.unit}`)}`;
  if (field.kind === "points") return value === "nothing" ? say("nothing_reachable") : value.map(({ what }) => what).join(", ");
  if (field.kind === "rows") return rowsInWords(field, value, about.draft.units);
  if (field.kind === "text") return value;
  if (field.kind === "photos") return value.length === 1 ? say("photo_one") : say("photos_count", { count: value.length });
  if (field.kind === "date")
    return new Intl.DateTimeFormat(document.documentElement.lang, { dateStyle: "medium" }).format(
      new Date(`${value}T12:00`),
    );
  return choiceInWords(field, value, about);
}
