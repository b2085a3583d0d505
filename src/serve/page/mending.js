// No design satisfies the job: the program is asked at once, without being told to, what stands in the way and what would do.

import { ask, lines } from "./ask.js";
import { el, put, set } from "./dom.js";
import { change, on, state } from "./store.js";

let asked = null; // the revision that is asked about
let stop = null;

/** Whether the job as it is now has been explored to the end, and has no design. */
export function stuck() {
  return state.run?.state === "done" && state.list?.is_final === true && state.list.revision === state.document?.revision && state.list.designs.length === 0;
}

on("document run list", () => {
  const revision = stuck() ? state.list.revision : null;
  if (revision === asked) return;
  stop?.abort();
  asked = revision;
  change("mending", null);
  if (revision !== null) inquire(revision);
});

async function inquire(revision) {
  stop = new AbortController();
  let told;
  try {
    told = lines((await ask({ kind: "why" }, { signal: stop.signal })).lines);
  } catch (error) {
    if (error.name === "AbortError") return;
    told = el("p", { class: "fault" }, error.message);
  }
  if (asked === revision) change("mending", told);
}

/** Where the answer is shown; hidden while there are designs. */
export function mending() {
  const place = el("div", { class: "mending", "aria-live": "polite", hidden: true });
  on("mending", () => {
    set(place, "hidden", asked === null);
    set(place, "aria-busy", asked !== null && state.mending === null ? "true" : null);
    // Each sheet shows a copy of its own.
    put(place, asked !== null && (state.mending?.cloneNode(true) ?? el("p", { class: "quiet" }, "Exploring what would do…")));
  });
  return place;
}
