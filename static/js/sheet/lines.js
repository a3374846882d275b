/* The small line drawings beside words. What they are drawn with comes with the page: capture/line_marks.py. */

import { drawn } from "./elements.js";
import { sheet } from "./words.js";

/* One of them, hidden from screen readers: a word always stands beside it or in its label. */
export function line(name) {
  return drawn(
    `<svg class="line-mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d="${sheet.lines[name]}"/></svg>`,
  );
}
