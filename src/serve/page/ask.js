// Questions that take the program a while: asked, followed, called off.

import { el, put, say } from "./dom.js";
import { Refused, ask as send, get, post } from "./room.js";

const PACE = 300;

/** Asks (`{kind: "why" | "compare" | …}`); `news(job)` is told how it goes. Aborting `signal` calls it off. Gives the answer. */
export async function ask(question, { signal, news = () => {} } = {}) {
  let job = await post("/api/jobs", question);
  const call = () => send(`/api/jobs/${job.job}`, { method: "DELETE" }).catch(() => {});
  signal?.addEventListener("abort", call, { once: true });
  while (job.state === "running") {
    news(job);
    await new Promise((resolve) => setTimeout(resolve, PACE));
    if (signal?.aborted) throw new DOMException("called off", "AbortError");
    job = await get(`/api/jobs/${job.job}`);
  }
  if (job.state === "failed") throw new Refused(500, { what: job.what });
  if (job.state !== "done") throw new DOMException("called off", "AbortError");
  return job.answer;
}

/** A button that asks and stops asking, and the place where the answer is put by `show(answer)`. */
export function asking(words, question, show) {
  const place = el("div", { "aria-live": "polite" });
  let stop = null;
  const button = el("button", { type: "button", onclick: async () => {
    if (stop) return stop.abort();
    stop = new AbortController();
    say(button, "Stop");
    const going = el("p", { class: "quiet" }, "Exploring changed scenarios…");
    put(place, going);
    try {
      put(place, show(await ask(question(), { signal: stop.signal, news: (job) => say(going, `Exploring changed scenarios… ${job.of ? `${job.done} of ${job.of}` : ""}`) })));
    } catch (error) {
      put(place, el("p", { class: error.name === "AbortError" ? "quiet" : "fault" }, error.name === "AbortError" ? "Stopped." : error.message));
    }
    stop = null;
    say(button, words);
    return undefined;
  } }, words);
  return el("div", {}, el("div", { class: "row no-print" }, button), place);
}

/** Lines as the command line shows them: headings, paragraphs, what is indented as it stands. A table's rows are not broken. */
export function lines(list) {
  const kind = (text) => (/^\s*[─-]{8,}\s*$|\S {2,}\S/.test(text) ? "unbroken" : "");
  return el("div", { class: "words", tabindex: 0, role: "region", "aria-label": "The answer" }, list.map(({ style, text }) => el(style === "heading" ? "strong" : "span", { class: `line ${style} ${kind(text)}`.trim() }, `${text}\n`)));
}
