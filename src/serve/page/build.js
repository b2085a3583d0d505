// 5 Build: one design from every side, what it takes, whether it holds, why it ranks so, and its papers.

import { asking, lines } from "./ask.js";
import { cutaway } from "./cutaway.js";
import { figure } from "./designs.js";
import { capital, el, put, say } from "./dom.js";
import { score } from "./rank.js";
import { Refused, get, post } from "./room.js";
import { stowage } from "./stowage.js";
import { change, on, state } from "./store.js";

/** The section's content. */
export function build() {
  const none = el("p", {}, "Choose a design on the sheet before: from the list or in the scatter.");
  const place = el("div", { class: "view" });
  let shown = null; // the id and run that `place` shows
  let turn = 0;

  async function show() {
    const listed = state.list?.designs.find(({ id }) => id === state.chosen);
    none.hidden = Boolean(listed);
    place.hidden = !listed;
    if (!listed) {
      shown = null;
      return put(place);
    }
    const name = `${listed.id} of ${state.list.revision}`;
    if (name === shown) return undefined;
    turn += 1;
    const mine = turn;
    try {
      const [seen, solids] = await Promise.all([get(`/api/designs/${listed.id}`), get(`/api/designs/${listed.id}/solid`)]);
      if (mine !== turn) return undefined;
      shown = name;
      put(place, whole(listed, seen, solids));
    } catch (error) {
      if (mine === turn) put(place, el("p", { class: "fault" }, error.message));
    }
    return undefined;
  }

  on("chosen list", show);
  return el("div", {}, none, place);
}

function whole(listed, { design, tables, cautions, left_out, drawings }, solids) {
  const figures = drawings.map(({ name, title }) => ({ name, title, src: `/api/designs/${listed.id}/drawings/${name}.svg` }));
  const cutting = figures.filter(({ name }) => name.startsWith("cut"));
  const views = figures.filter(({ name }) => !name.startsWith("cut"));
  return [
    el("p", {}, el("strong", {}, listed.words)),
    el("p", { class: "quiet" }, `Design ${listed.id}, rank ${listed.rank} by the job’s aims, ${listed.score.toFixed(1)} points${listed.undominated ? ", undominated" : ""}.`),
    papers(listed),
    el("h3", {}, "In space"), cutaway(solids, { title: `Cutaway of design ${listed.id}` }),
    el("h3", {}, "What is in which drawer"), stowage(listed, design),
    left_out.length > 0 && el("ul", { class: "why-list" }, left_out.map(({ sentence }) => el("li", {}, sentence))),
    el("h3", {}, "Plans and views"), gallery(views),
    el("h3", {}, "Cutting diagrams"), gallery(cutting),
    el("h3", {}, "Shopping"), worded("Shopping list", tables.shopping),
    el("p", {}, el("strong", {}, `Together ${figure(listed, state.list.criteria.find(({ key }) => key === "cost"))}`)),
    el("h3", {}, "Parts"), el("details", {}, el("summary", {}, `${tables.parts.rows.length} kinds of part`), worded("Parts list", tables.parts)),
    el("h3", {}, "Will it hold"), el("p", { class: "quiet" }, "Computed from handbook formulas, not certified: local rules, licensed practice and the vehicle maker’s ratings decide."),
    worded("Checks", tables.checks, verdict),
    cautions.length > 0 && [el("h3", {}, "Cautions"), el("ul", { class: "why-list" }, cautions.map((caution) => el("li", {}, caution)))],
    el("h3", {}, "Why it ranks so"), why(listed),
  ];
}

/** The papers to take along, and the ways to pass the design on. */
function papers(listed) {
  const said = el("p", { role: "status", class: "quiet" });
  const at = (what) => `/api/designs/${listed.id}/${what}`;
  const file = (href, words, main) => el("a", { class: `button${main ? " main" : ""}`, href, download: "" }, words);
  const beside = el("button", { type: "button", onclick: () => change("beside", [...new Set([...state.beside, listed.id])].slice(-3)) }, "Compare it");
  const write = el("button", { type: "button", onclick: async () => {
    say(said, "Writing the set…");
    try {
      const answer = await post(at("into"), {});
      say(said, [`${answer.files.length} files written to ${answer.folder}.`, ...answer.warnings].join(" "));
    } catch (error) {
      say(said, error instanceof Refused && error.body?.cure ? `${error.message}: ${error.body.cure}` : error.message);
    }
  } }, "Write the set to the output folder");
  return el("div", {}, el("div", { class: "row no-print" },
    file(at("booklet.pdf?paper=letter"), "Booklet, Letter", state.document.units !== "mm"), file(at("booklet.pdf?paper=a4"), "Booklet, A4", state.document.units === "mm"), file(at("set.zip"), "The whole set (zip)"),
    file(`/api/share?ids=${listed.id}`, "One page to share (HTML)"), write, beside), said);
}

function gallery(list) {
  return el("div", { class: "plans" }, list.map(({ src, title }) => el("figure", {}, el("a", { href: src, target: "_blank", rel: "noopener", "aria-label": `${title}, alone and larger` }, el("img", { src, alt: title, loading: "lazy" })), el("figcaption", {}, title))));
}

function headed(caption, heads, rows) {
  const cell = (value, i) => el(i === 0 ? "th" : "td", i === 0 ? { scope: "row" } : { class: heads[i].num ? "num" : null }, value);
  return el("div", { class: "sheet-scroll", tabindex: 0, role: "region", "aria-label": caption }, el("table", { class: "checks" }, el("caption", { class: "only-read" }, caption),
    el("thead", {}, el("tr", {}, heads.map(({ title, num }) => el("th", { scope: "col", class: num ? "num" : null }, title)))), el("tbody", {}, rows.map((row) => el("tr", {}, row.map(cell))))));
}

/** A table of the program, worded in the scenario's units. */
function worded(caption, { columns, rows }, dress = (text) => text) {
  const heads = columns.map(({ heading, unit, number }) => ({ title: unit ? `${capital(heading)}, ${unit}` : capital(heading), num: number }));
  return headed(caption, heads, rows.map((row) => row.map((text, i) => dress(text, columns[i].heading))));
}

/** A check's verdict with a sign of its own, so that colour is not needed. */
function verdict(text) {
  const sign = { pass: ["yes", "✓"], yes: ["yes", "✓"], fail: ["no", "✕"], no: ["no", "△"] }[text];
  return sign ? el("span", { class: `verdict ${sign[0]}` }, `${sign[1]} ${text}`) : text;
}

function why(listed) {
  const keys = state.list.criteria.map(({ key }) => key);
  const { parts } = score(listed, state.list.weights, keys);
  const rows = state.list.criteria.map((criterion) => [capital(criterion.name), figure(listed, criterion), String(state.list.weights[criterion.key] ?? 0), `${Math.round(100 * (listed.shares[criterion.key] ?? 0))} %`, (parts[criterion.key] ?? 0).toFixed(1)]);
  return [
    headed("What each aim gave", [{ title: "Aim" }, { title: "Figure", num: true }, { title: "Weight", num: true }, { title: "How good", num: true }, { title: "Points", num: true }], rows),
    asking("What binds, what would let more in?", () => ({ kind: "why", design: listed.id }), (answer) => lines(answer.lines)),
  ];
}
