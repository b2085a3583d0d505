// The way to the program: requests, and the stream of what happens there.

/** The program does not answer. */
export class Gone extends Error {}

/** The program refused: its `status`, and the `body` that says why. */
export class Refused extends Error {
  constructor(status, body) {
    super(body?.what ?? `refused (${status})`);
    this.status = status;
    this.body = body;
  }
}

/** A request; its answer's JSON or text. */
export async function ask(path, init) {
  let answer;
  try {
    answer = await fetch(path, { credentials: "same-origin", cache: "no-store", ...init });
  } catch (cause) {
    if (cause.name === "AbortError") throw cause;
    throw new Gone("Bedwright does not answer", { cause });
  }
  const json = (answer.headers.get("content-type") ?? "").includes("json");
  const body = json ? await answer.json() : await answer.text();
  if (!answer.ok) throw new Refused(answer.status, json ? body : { what: body });
  return body;
}

/** Asks for something. */
export function get(path, init = {}) {
  return ask(path, init);
}

/** Sends something and gives the answer. */
export function post(path, body = {}, init = {}) {
  return ask(path, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body), ...init });
}

/**
 * Listens to what happens: `heard(name, data)` for each event, `state("open" | "gone" | "strange")` when the line is there, is
 * not, or leads to a program that does not know this page any more (it was started anew). Tries again by itself, ever slower.
 */
export function listen(names, heard, state) {
  let wait = 250;
  let source;
  const open = () => {
    source = new EventSource("/api/events");
    source.onopen = () => {
      wait = 250;
      state("open");
    };
    source.onerror = async () => {
      source.close();
      state(await whether());
      setTimeout(open, wait);
      wait = Math.min(4000, wait * 1.6);
    };
    for (const name of names) source.addEventListener(name, (event) => heard(name, JSON.parse(event.data)));
  };
  open();
  // A browser that goes to another page should not hold the line.
  addEventListener("pagehide", () => source?.close());
  addEventListener("pageshow", (event) => event.persisted && open());
}

async function whether() {
  try {
    await get("/api/document");
    return "gone";
  } catch (error) {
    return error instanceof Refused && [401, 403].includes(error.status) ? "strange" : "gone";
  }
}
