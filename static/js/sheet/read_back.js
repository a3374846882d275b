/* Everything that stands, read back before sending: what was answered, what was taken as given. */

import { cardMark } from "./card.js";
import { el } from "./elements.js";
import { inWords } from "./in_words.js";
import { say, sheet } from "./words.js";

function row(standing, about, hrefOf) {
  const words = inWords(standing, about);
  const given = !standing.answered;
  return el(
    "div",
    { class: given ? "given" : "" },
    el("dt", {}, standing.field.label, given && words && el("span", { class: "small" }, ` ${say("as_given")}`)),
    el(
      "dd",
      {},
      el("span", {}, words || say("missing"), " ", cardMark(standing.field, about)),
      " ",
      el(
        "a",
        {
          class: "link",
          href: hrefOf(standing.field.key),
          "aria-label": say("change_what", { what: standing.field.label }),
        },
        say("change"),
      ),
    ),
  );
}

/* What the makers of the chosen components forbid, to be told before sending. */
function makersForbid({ cards }) {
  return Object.values(cards ?? {})
    .filter((card) => card?.allows_shell === "no")
    .map((card) => el("p", { class: "maker-forbids" }, el("strong", {}, card.label), ": ", say("maker_forbids")));
}

/* A list by parts. Optional fields that hold nothing are left to their folds. */
export function readBack(standings, about, hrefOf) {
  const shown = standings.filter(({ value, asked, field }) => value !== undefined || (asked && field.required));
  const part = ({ key, name }) => {
    const rows = shown.filter(({ field }) => field.part === key);
    return rows.length
      ? [
          el("h3", {}, name),
          el(
            "dl",
            {},
            rows.map((standing) => row(standing, about, hrefOf)),
          ),
        ]
      : [];
  };
  return el(
    "section",
    { class: "read-back", "aria-labelledby": "read-back-head" },
    el("h2", { id: "read-back-head" }, say("read_back")),
    el("p", { class: "second" }, say("read_back_how")),
    makersForbid(about.draft),
    sheet.parts.flatMap(part),
  );
}
