// What the page knows: the document, the run, the designs. Sections listen; only this file changes it.

import { Gone, Refused, get, listen, post } from "./room.js";

export const state = {
  document: null, // what GET /api/document gives
  line: "open", // "open", "gone" or "strange"
  run: null, // the latest run event
  list: null, // what GET /api/designs gives
  weights: {}, // the sliders
  hidden: { columns: new Set(), tiers: new Set(), board: new Set() }, // values that are ticked out, as text
  chosen: null, // the id of the design shown
  near: null, // the id pointed at
  beside: [], // the ids compared
  left: null, // what a design that was looked at leaves out: `{id, revision, reasons}`
  replaced: false, // whether the chosen design is another, as the one before is not found any more
  status: null, // what GET /api/status gives
  mending: null, // what would give a job without a design one, as an element
  trouble: null, // words of the last request that failed
};

const listeners = new Map();

/** Calls `act` whenever one of the named things changed; now too. */
export function on(names, act) {
  for (const name of names.split(" ")) listeners.set(name, [...(listeners.get(name) ?? []), act]);
}

/** Tells those who listen. */
export function tell(...names) {
  for (const act of new Set(names.flatMap((name) => listeners.get(name) ?? []))) act();
}

/** Changes something and tells. */
export function change(name, value) {
  state[name] = value;
  tell(name);
}

/** What stands in the document at a path, as typed; `undefined` if nothing does. */
export function at(path, root = state.document?.fields) {
  return path.reduce((value, step) => (value === null || typeof value !== "object" ? undefined : value[step]), root ?? undefined);
}

/** The faults at a path and below it. */
export function faultsAt(path, exact = false) {
  const list = state.document?.faults ?? [];
  return list.filter((fault) => path.every((step, i) => fault.path?.[i] === step) && (!exact || fault.path.length === path.length));
}

/** The paths at a path and below it whose values are typical ones, still to be measured. */
export function toMeasure(path) {
  return (state.document?.to_measure ?? []).filter((way) => path.every((step, i) => way[i] === step));
}

/** Takes a document that the program gave; an older one than is known is dropped, unless the program began anew. */
function take(document, anew = false) {
  if (!document || (!anew && state.document && document.revision < state.document.revision)) return;
  state.document = document;
  tell("document");
}

let queue = Promise.resolve();

/** One after the other: each request is made against the revision that the one before it gave. */
function inTurn(act) {
  const turn = queue.then(act);
  queue = turn.catch(() => {});
  return turn;
}

/** Does something; what fails is told. `asked`: whether the person wants it, and so wants no more to hear of what failed before. */
async function attempt(act, asked = true) {
  try {
    const answer = await act();
    if (asked) change("trouble", null);
    return answer;
  } catch (error) {
    if (error instanceof Gone) change("line", "gone");
    else if (error instanceof Refused && [401, 403].includes(error.status)) change("line", "strange");
    else change("trouble", error.body?.cure ? `${error.message}: ${error.body.cure}` : error.message);
    return null;
  }
}

/** Posts to where the document changes; if another page was faster, takes its document and tries once more. */
async function alter(path, body) {
  return attempt(async () => {
    try {
      take(await post(path, { revision: state.document.revision, ...body() }));
    } catch (error) {
      if (!(error instanceof Refused) || error.body?.code !== "stale") throw error;
      take(error.body.document);
      take(await post(path, { revision: state.document.revision, ...body() }));
    }
    return state.document;
  });
}

/** Edits the scenario; `edits` are `{at, typed | set | remove | insert | move_to}`, together one step of undo. */
export function edit(edits) {
  return inTurn(() => alter("/api/edit", () => ({ edits })));
}

/** Replaces the whole text. */
export function replace(text) {
  return inTurn(() => alter("/api/document", () => ({ text })));
}

export function undo() {
  return inTurn(() => alter("/api/undo", () => ({})));
}

export function redo() {
  return inTurn(() => alter("/api/redo", () => ({})));
}

/** Saves to the file; `over` also if it changed outside. Gives the document, `"outside"` or `null`. */
export function save(over = false) {
  return inTurn(() =>
    attempt(async () => {
      try {
        take(await post("/api/save", { revision: state.document.revision, over }));
        return state.document;
      } catch (error) {
        if (!(error instanceof Refused) || error.body?.code !== "changed_outside") throw error;
        take(error.body.document);
        return "outside";
      }
    }),
  );
}

/** Fetches the document, and the designs. */
export async function refresh(anew = false) {
  await inTurn(() => attempt(async () => {
    state.status = await get("/api/status");
    take(await get("/api/document"), anew);
  }, false));
  await designs();
}

let before = null; // the chosen design as it was listed last

/** How alike two designs are built: drawers beside one another and where, then heights, then what of. */
function alike(one, other) {
  const same = (...keys) => keys.every((key) => JSON.stringify(one[key]) === JSON.stringify(other[key]));
  return (same("columns", "family") ? 4 : 0) + (same("columns", "heights") ? 2 : 0) + (same("boards", "deck", "runs") ? 1 : 0);
}

/** The chosen design, if a finished run has not found it again, gives way to the one that is built most like it; of these the best. */
function settle(list, earlier) {
  if (!state.chosen) return;
  const listed = (designs) => designs?.find(({ id }) => id === state.chosen);
  before = listed(list.designs) ?? listed(earlier?.designs) ?? before;
  if (listed(list.designs) || !list.is_final) return;
  state.replaced = list.designs.length > 0;
  if (!state.replaced) return;
  const likeness = list.designs.map((design) => (before ? alike(design, before) : 0));
  before = list.designs[likeness.indexOf(Math.max(...likeness))];
  state.chosen = before.id;
}

let fetching = null;
let again = false;

/** Fetches the list of designs; asked while a fetch is going, it fetches once more. */
export function designs() {
  if (fetching) {
    again = true;
    return fetching;
  }
  fetching = attempt(async () => {
    const list = await get("/api/designs");
    const fresh = JSON.stringify(list.weights) !== JSON.stringify(state.list?.weights);
    const earlier = state.list;
    state.list = list;
    if (fresh) state.weights = { ...list.weights };
    settle(list, earlier);
    state.beside = state.beside.filter((id) => list.designs.some((design) => design.id === id));
    tell("list", ...(fresh ? ["weights"] : []));
  }, false).finally(() => {
    fetching = null;
    if (again) {
      again = false;
      designs();
    }
  });
  return fetching;
}

/** Starts to listen; after the line was lost, everything is fetched anew. */
export function start() {
  listen(
    ["document", "run", "designs"],
    (name, data) => {
      if (name === "document") refresh();
      if (name === "run") {
        change("run", data);
        if (data.designs !== state.list?.version || data.run !== state.list?.run) designs();
      }
      if (name === "designs") designs();
    },
    heardLine,
  );
  return refresh();
}

/** The line was lost or is back: then everything is fetched, whatever was known. */
async function heardLine(line) {
  if (line === state.line) return;
  if (line === "open") await refresh(true);
  change("line", line);
}
