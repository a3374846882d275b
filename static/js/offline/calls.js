/* Calls of the server's API, each with a time-out. Nothing but the JSON that was promised counts as an answer: a
   sign-in page with status 200, a redirect and a cut body are all "no answer". */

/* How patient this phone is; the page brings the site's own figures. A body gets the time that it needs at the slowest
   link besides. */
export const pace = { timeout_ms: 20_000, slowest_bytes_per_ms: 2, first_wait_ms: 5_000, longest_wait_ms: 300_000 };

/* The server's answer could not be had or can't be believed. `reached` tells whether anything answered at all. */
export class NoAnswer extends Error {
  constructor(says, reached = true) {
    super(says);
    this.reached = reached;
  }
}

/* The server asks to sign in first. */
export class SignedOut extends Error {}

/* The server understood and refuses. `problem` is its application/problem+json. */
export class Refused extends Error {
  constructor(status, problem) {
    super(problem.detail || problem.title || `status ${status}`);
    this.status = status;
    this.problem = problem;
  }
}

/* What shows who asks: a send key, which goes without any cookie, or the session with its CSRF token. */
function shown({ key, csrf }) {
  if (key) return { credentials: "omit", header: { Authorization: `Bearer ${key}` } };
  return { credentials: "same-origin", header: csrf ? { "X-CSRFToken": csrf } : {} };
}

async function answerTo(path, { by = {}, headers = {}, ...options }) {
  const { credentials, header } = shown(by);
  const patience_ms = pace.timeout_ms + (options.body?.byteLength ?? 0) / pace.slowest_bytes_per_ms;
  try {
    return await fetch(path, {
      redirect: "manual",
      cache: "no-store",
      credentials,
      signal: AbortSignal.timeout(patience_ms),
      headers: { Accept: "application/json", ...header, ...headers },
      ...options,
    });
  } catch (fault) {
    throw new NoAnswer(fault.message, false);
  }
}

async function jsonOf(response) {
  const type = (response.headers.get("content-type") || "").split(";")[0].trim();
  if (type !== "application/json" && type !== "application/problem+json") {
    throw new NoAnswer(`answered with ${type || "nothing"}`);
  }
  try {
    return { type, body: await response.json() };
  } catch (fault) {
    throw new NoAnswer(fault.message);
  }
}

/* Asks and gives the JSON of a success; `by` {key} or {csrf} says who asks. Throws NoAnswer, SignedOut or Refused. */
export async function asked(path, options = {}) {
  const response = await answerTo(path, options);
  const { type, body } = await jsonOf(response);
  if (response.ok && type === "application/json") return body;
  if (response.status === 401) throw new SignedOut();
  // 408, 425, 429 and all of 5xx pass by themselves: the same call may succeed later (RFC 9110, 15.5 and 15.6). A
  // portal on the way may answer in JSON too, but in no problem.
  const passes = response.status >= 500 || [408, 425, 429].includes(response.status) || body?.again;
  if (passes || type !== "application/problem+json") throw new NoAnswer(`status ${response.status}`);
  throw new Refused(response.status, body);
}
