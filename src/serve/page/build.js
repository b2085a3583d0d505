// 5 Build: one design from every side, what it takes, whether it holds, why it ranks so, and its papers.

import { asking, lines } from "./ask.js";
import { cutaway } from "./cutaway.js";
import { figure } from "./designs.js";
import { sentence, typed } from "./field.js";
import { capital, el, keep, put, say, set } from "./dom.js";
import { mending, stuck } from "./mending.js";
import { score } from "./rank.js";
import { Refused, get, post } from "./room.js";
import { settled } from "./pins.js";
import { stowage } from "./stowage.js";
import { at, change, on, state } from "./store.js";

/** The section's content. */
export function build() {
  const none = el("p", {}, "Choose a design on the sheet before: from the list or in the scatter.");
  const kept = el("div", { class: "no-print", hidden: true }, el("h3", {}, "Settled already"), el("ul", { class: "row settled" }));
  const lost = el("p", { class: "fault", role: "status" });
  const place = el("div", { class: "view" });
  let shown = null; // the id and run that `place` shows
  let turn = 0;
  let fetching = false; // whether a design's sheets are on their way

  /** What is settled, each with a way to free it; and why nothing can be built so, if nothing can. */
  function drawKept() {
    const list = settled();
    set(kept, "hidden", list.length === 0);
    keep(kept.lastChild, list, ({ words }) => words, ({ words, free }) => el("li", {}, words, " ", el("button", { type: "button", onclick: free, "aria-label": `Free it: ${words}` }, "Free it")));
    const faults = state.document.faults.filter(({ refusing }) => refusing).map((fault) => [rowOf(fault), sentence(fault)].filter(Boolean).join(": "));
    say(lost, faults.length ? ["Nothing can be explored until this is mended.", ...faults.slice(0, 3)].join(" ") : stuck() ? "No design satisfies the job as it is settled now." : state.replaced ? "The design shown before is not among those found now: this is the one built most like it." : "");
    lost.className = faults.length || stuck() ? "fault" : "quiet";
    busy();
  }

  /** Whether what is shown is about to be another. */
  function busy() {
    set(place, "aria-busy", fetching || state.run?.state === "running" ? "true" : null);
  }

  async function show() {
    const listed = state.list?.designs.find(({ id }) => id === state.chosen);
    // While a run has not found it again, the design stays as it was.
    if (!listed && shown && state.chosen && !state.list?.is_final) return undefined;
    none.hidden = Boolean(listed) || stuck();
    place.hidden = !listed;
    if (!listed) {
      shown = null;
      return put(place);
    }
    const name = `${listed.id} of ${state.list.revision}`;
    if (name === shown) return undefined;
    turn += 1;
    const mine = turn;
    fetching = true;
    busy();
    try {
      const [seen, solids] = await Promise.all([get(`/api/designs/${listed.id}`), get(`/api/designs/${listed.id}/solid`)]);
      if (mine !== turn) return undefined;
      shown = name;
      put(place, whole(listed, seen, solids));
      change("left", { id: listed.id, revision: state.list.revision, reasons: seen.left_out });
    } catch (error) {
      if (mine === turn) put(place, el("p", { class: "fault" }, error.message));
    }
    if (mine === turn) {
      fetching = false;
      busy();
    }
    return undefined;
  }

  on("chosen list", show);
  on("document run list", () => state.document && drawKept());
  return el("div", {}, kept, lost, mending(), none, place);
}

/** The name of the row that a fault is in, if it is in one. */
function rowOf({ path = [] }) {
  return typeof path[1] === "number" ? typed(at([path[0], path[1], "name"])) : "";
}

function whole(listed, { design, tables, verdicts, cautions, left_out, drawings }, solids) {
  const figures = drawings.map(({ name, title }) => ({ name, title, src: `/api/designs/${listed.id}/drawings/${name}.svg` }));
  const cutting = figures.filter(({ name }) => name.startsWith("cut"));
  const views = figures.filter(({ name }) => !name.startsWith("cut"));
  return [
    el("p", {}, el("strong", {}, listed.words)),
    el("p", { class: "quiet" }, `Design ${listed.id}, rank ${listed.rank} by the job’s aims, ${listed.score.toFixed(1)} points${listed.undominated ? ", undominated" : ""}.`),
    papers(listed),
    el("div", { class: "spread" },
      el("div", {}, el("h3", {}, "In space"), cutaway(solids, { title: `Cutaway of design ${listed.id}` })),
      el("div", {}, el("h3", {}, "What is in which drawer"), stowage(design),
        left_out.length > 0 && el("ul", { class: "why-list" }, left_out.map(({ sentence }) => el("li", {}, sentence))))),
    el("h3", {}, "Plans and views"), gallery(views),
    el("h3", {}, "Cutting diagrams"), gallery(cutting),
    el("h3", {}, "Shopping"), worded("Shopping list", tables.shopping),
    el("p", {}, el("strong", {}, `Together ${figure(listed, state.list.criteria.find(({ key }) => key === "cost"))}`)),
    el("h3", {}, "Parts"), el("details", {}, el("summary", {}, `${tables.parts.rows.length} kinds of part`), worded("Parts list", tables.parts)),
    el("h3", {}, "Will it hold"), el("p", { class: "quiet" }, "Computed from handbook formulas, not certified: local rules, licensed practice and the vehicle maker’s ratings decide."),
    checks(tables.checks, design.checks),
    el("p", { class: "quiet" }, verdicts),
    cautions.length > 0 && [el("h3", {}, "Cautions"), el("ul", { class: "why-list long" }, cautions.map((caution) => el("li", {}, caution)))],
    el("h3", {}, "Why it ranks so"), why(listed),
  ];
}

/** The papers to take along, and the ways to pass the design on. */
function papers(listed) {
  const said = el("p", { role: "status", class: "quiet" });
  const at = (what) => `/api/designs/${listed.id}/${what}`;
  const file = (href, words, main) => el("a", { class: `button${main ? " main" : ""}`, href, download: "" }, words);
  const beside = el("button", { type: "button", onclick: () => change("beside", [...new Set([...state.beside, listed.id])].slice(-3)) }, "Compare it");
  const writeSet = async (over) => {
    say(said, "Writing the set…");
    try {
      const answer = await post(at(over ? "into?over=true" : "into"), {});
      say(said, [`${answer.files.length} files written to ${answer.folder}.`, ...answer.warnings].join(" "));
    } catch (error) {
      const inTheWay = error instanceof Refused && error.body?.code === "in_the_way";
      if (inTheWay && !over) put(said, `${error.message}. `, el("button", { type: "button", onclick: () => writeSet(true) }, "Write over it"));
      else say(said, error instanceof Refused && error.body?.cure ? `${error.message}: ${error.body.cure}` : error.message);
    }
  };
  const write = el("button", { type: "button", onclick: () => writeSet(false) }, `Write the set to ${state.status?.into ?? "the output folder"}`);
  return el("div", {}, el("div", { class: "row no-print" },
    file(at("booklet.pdf?paper=letter"), "Booklet, Letter", state.document.units !== "mm"), file(at("booklet.pdf?paper=a4"), "Booklet, A4", state.document.units === "mm"), file(at("set.zip"), "The whole set (zip)"),
    file(`/api/share?ids=${listed.id}`, "One page to share (HTML)"), state.status?.into && write, beside), said);
}

function gallery(list) {
  return el("div", { class: "plans" }, list.map(({ src, title }) => el("figure", {}, el("a", { href: src, target: "_blank", rel: "noopener", "aria-label": `${title}, alone and larger` }, el("img", { src, alt: title, loading: "lazy" })), el("figcaption", {}, title))));
}

function headed(caption, heads, rows, slim = false) {
  const cell = (value, i) => el(i === 0 ? "th" : "td", i === 0 ? { scope: "row" } : { class: heads[i].num ? "num" : heads[i].long ? "long span" : null, "data-name": heads[i].title }, value);
  return el("div", { class: "sheet-scroll", tabindex: 0, role: "region", "aria-label": caption }, el("table", { class: `checks cards${slim ? " slim" : ""}` }, el("caption", { class: "only-read" }, caption),
    el("thead", {}, el("tr", {}, heads.map(({ title, num }) => el("th", { scope: "col", class: num ? "num" : null }, title)))), el("tbody", {}, rows.map((row) => el("tr", {}, row.map(cell))))));
}

/** A table of the program, worded in the scenario's units. */
function worded(caption, { columns, rows }) {
  const heads = columns.map(({ heading, unit, number }) => ({ title: unit ? `${capital(heading)}, ${unit}` : capital(heading), num: number }));
  return headed(caption, heads, rows);
}

/** Signs beside the program's words for how a check came out, so that colour is not needed. */
const SIGNS = { holds: "✓", to_know: "△", beyond_guide: "△", fails: "✕" };

/** The checks, the tightest first, each with its verdict in words and a sign, so that colour is not needed. */
function checks(table, list) {
  const rows = table.rows.map((row, i) => ({ row, check: list[i] })).sort((a, b) => (a.check.margin ?? Infinity) - (b.check.margin ?? Infinity));
  const heads = [{ title: "Check" }, { title: "Verdict" }, { title: "Figure", num: true }, { title: "Limit", num: true }, { title: "Margin", num: true }, { title: "What it assumes", long: true }];
  return headed("Checks, the tightest first", heads, rows.map(({ row: [name, verdict, found, limit, margin, remark, source], check }) =>
    [capital(name), el("span", { class: `verdict ${check.pass ? "yes" : "no"}` }, `${SIGNS[check.verdict]} ${verdict}`), found, limit, margin && `${margin} ×`, [remark, source && el("span", { class: "quiet" }, ` ${source}`)]]));
}

function why(listed) {
  const keys = state.list.criteria.map(({ key }) => key);
  const { parts } = score(listed, state.list.weights, keys);
  const rows = state.list.criteria.map((criterion) => [capital(criterion.name), figure(listed, criterion), String(state.list.weights[criterion.key] ?? 0), `${Math.round(100 * (listed.shares[criterion.key] ?? 0))} %`, (parts[criterion.key] ?? 0).toFixed(1)]);
  return [
    headed("What each aim gave", [{ title: "Aim" }, { title: "Figure", num: true }, { title: "Weight", num: true }, { title: "How good", num: true }, { title: "Points", num: true }], rows, true),
    asking("What binds, what would let more in?", () => ({ kind: "why", design: listed.id }), (answer) => lines(answer.lines)),
  ];
}
