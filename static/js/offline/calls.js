/* Calls of the server's API, each with a time-out. Nothing but the JSON that was promised counts as an answer: a
   sign-in page with status 200, a redirect and a cut body are all "no answer". */

const TIMEOUT_MS = 20_000;

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

async function answerTo(path, { timeout_ms = TIMEOUT_MS, ...options }) {
  try {
    return await fetch(path, {
      redirect: "error",
      cache: "no-store",
      credentials: "same-origin",
      signal: AbortSignal.timeout(timeout_ms),
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

/* Asks and gives the JSON of a success; `timeout_ms` for what takes longer than most. Throws NoAnswer, SignedOut or
   Refused. */
export async function asked(path, options = {}) {
  const response = await answerTo(path, { ...options, headers: { Accept: "application/json", ...options.headers } });
  if (response.status === 401) throw new SignedOut();
  const { type, body } = await jsonOf(response);
  if (response.ok && type === "application/json") return body;
  // 408, 425, 429 and all of 5xx pass by themselves: the same call may succeed later (RFC 9110, 15.5 and 15.6).
  if (response.status >= 500 || [408, 425, 429].includes(response.status)) {
    throw new NoAnswer(`status ${response.status}`);
  }
  throw new Refused(response.status, body);
}
