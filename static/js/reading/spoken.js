// Spoken lengths, as a phone's keyboard writes them down: "41 point 9", "16 and a half". Twin:
// orders/reckoning/typed_spoken.py. What isn't understood whole stays as it was, and the grammar refuses it.

const POINTS = { point: ".", punkt: ".", punto: ".", comma: ",", komma: ",", coma: ",", virgule: "," };
const ANDS = ["and", "und", "y", "et"];

const byWord = (table) =>
  new Map(Object.entries(table).flatMap(([number, words]) => words.split(" ").map((word) => [word, number])));

const NUMERATORS = byWord({
  1: "a an one ein eine un una une uno",
  3: "three drei tres trois",
  5: "five funf cinco cinq",
  7: "seven sieben siete sept",
  9: "nine neun nueve neuf",
  11: "eleven elf once onze",
  13: "thirteen dreizehn trece treize",
  15: "fifteen funfzehn quince quinze",
});
const DENOMINATORS = byWord({
  2: "half halb medio media demi demie",
  4: "quarter quarters fourth fourths viertel cuarto cuartos quart quarts",
  8: "eighth eighths achtel octavo octavos huitieme huitiemes",
  16: "sixteenth sixteenths sechzehntel dieciseisavo dieciseisavos seizieme seiziemes",
});
// German writes them as one word: "dreiviertel".
const WHOLE_WORD = /^(ein|drei|funf|sieben|neun|elf|dreizehn|funfzehn)(halb|viertel|achtel|sechzehntel)$/;

const wordAt = (tokens, at) => (tokens[at]?.kind === "word" ? tokens[at].text : "");
const digitsAt = (tokens, at) =>
  tokens[at]?.kind === "number" && /^[0-9]+$/.test(tokens[at].text) ? tokens[at].text : "";

/** "41 point 9" at `at` as "41.9", or null. */
function decimalAt(tokens, at) {
  const mark = Object.hasOwn(POINTS, wordAt(tokens, at + 1)) && POINTS[wordAt(tokens, at + 1)];
  const [whole, decimals] = [digitsAt(tokens, at), digitsAt(tokens, at + 2)];
  return whole && mark && decimals ? `${whole}${mark}${decimals}` : null;
}

/** A fraction in words, and where it ends: [text or null, after]. `bare` takes a "half" without its "a". */
function fractionAt(tokens, at, bare) {
  const word = wordAt(tokens, at);
  const [, first, second] = word.match(WHOLE_WORD) ?? [];
  if (first) return [`${NUMERATORS.get(first)}/${DENOMINATORS.get(second)}`, at + 1];
  const upper = digitsAt(tokens, at) || NUMERATORS.get(word);
  const lower = DENOMINATORS.get(wordAt(tokens, at + 1));
  if (upper && lower) return [`${upper}/${lower}`, at + 2];
  if (bare && DENOMINATORS.has(word)) return [`1/${DENOMINATORS.get(word)}`, at + 1];
  return [null, at];
}

const beginsFraction = (tokens, at) =>
  tokens[at]?.kind === "vulgar" || (tokens[at]?.kind === "number" && tokens[at + 1]?.kind === "slash");

/** The pieces with spoken decimals and fractions as typed ones. */
export function respelled(tokens) {
  const out = [];
  let at = 0;
  while (at < tokens.length) {
    const token = tokens[at];
    const decimal = decimalAt(tokens, at);
    if (decimal) {
      out.push({ ...token, text: decimal });
      at += 3;
      continue;
    }
    const joined = out.at(-1)?.kind === "number" && ANDS.includes(wordAt(tokens, at));
    const [fraction, after] = fractionAt(tokens, joined ? at + 1 : at, joined);
    if (fraction) {
      out.push({ ...token, kind: "vulgar", text: fraction });
      at = after;
    } else if (joined && beginsFraction(tokens, at + 1)) at += 1;
    else {
      out.push(token);
      at += 1;
    }
  }
  return out;
}
