// Two or three designs side by side: what differs is marked with a sign, the best of each aim with a star.

import { asking, lines } from "./ask.js";
import { figure } from "./designs.js";
import { capital, el, put } from "./dom.js";
import { change, on, state } from "./store.js";
import { length } from "./units.js";

/** The section's content. */
export function compare() {
  const place = el("div", { id: "beside" });
  on("beside list", () => draw(place));
  return place;
}

function draw(place) {
  const chosen = state.beside.map((id) => state.list?.designs.find((design) => design.id === id)).filter(Boolean);
  if (chosen.length < 2) {
    put(place, el("p", { class: "quiet no-print" }, chosen.length === 1 ? "Tick another design to compare it with this one." : "Tick two or three designs to see them side by side."));
    return;
  }
  const { units } = state.document;
  const words = (list) => list.join(" + ");
  const facts = [
    ["Drawers, from below", (design) => words(design.columns)], ["Heights", (design) => words(design.heights.map((mm) => length(mm, units)))], ["Stands", (design) => design.family],
    ["Members", (design) => words(design.boards)], ["Deck", (design) => design.deck], ["Drawers run on", (design) => design.runs], ["Checks beyond guide", (design) => String(design.beyond)], ["Left out", (design) => (design.left_out ? `${design.left_out} things` : "nothing")],
  ];
  const row = (title, texts, best = new Set()) => {
    const differs = new Set(texts).size > 1;
    return el("tr", {}, el("th", { scope: "row" }, title), texts.map((text, i) => el("td", { class: `${differs ? "differs" : ""}${best.has(i) ? " best" : ""}` }, text, best.has(i) ? el("span", { class: "only-read" }, " (best)") : null, differs ? el("span", { class: "only-read" }, " (differs)") : null)));
  };
  const aims = state.list.criteria.map((criterion) => {
    const values = chosen.map((design) => design.figures[criterion.key]).map((value) => (criterion.more_is_better ? value : -value));
    const top = Math.max(...values.filter(Number.isFinite));
    const best = new Set(values.some((value) => value !== top) ? values.flatMap((value, i) => (value === top ? [i] : [])) : []);
    return row(capital(criterion.name), chosen.map((design) => figure(design, criterion)), best);
  });
  put(place,
    el("h3", {}, "Side by side"), el("p", { class: "quiet" }, "≠ differs, ★ the best of these in one aim."),
    el("div", { class: "sheet-scroll", tabindex: 0, role: "region", "aria-label": "Designs side by side" }, el("table", { class: "compare" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "Design"), chosen.map((design) => el("th", { scope: "col" }, el("span", { class: "id" }, design.id), ` · rank ${design.rank} `, el("button", { type: "button", class: "plain no-print", onclick: () => change("beside", state.beside.filter((id) => id !== design.id)), "aria-label": `Take ${design.id} out of the comparison` }, "✕"))))),
      el("tbody", {}, row("Points", chosen.map((design) => design.score.toFixed(1)), new Set([chosen.map(({ score }) => score).indexOf(Math.max(...chosen.map(({ score }) => score)))])), aims, facts.map(([title, pick]) => row(title, chosen.map(pick))),
        el("tr", {}, el("th", { scope: "row" }, "From the front"), chosen.map((design) => el("td", {}, el("img", { src: `/api/designs/${design.id}/drawings/front-elevation.svg`, alt: `Front elevation of ${design.id}`, loading: "lazy" }))))))),
    asking("What is gained and lost, and what would turn it?", () => ({ kind: "compare", designs: chosen.map(({ id }) => id) }), (answer) => lines(answer.lines)),
    el("div", { class: "row no-print" }, el("a", { class: "button", href: `/api/share?ids=${chosen.map(({ id }) => id).join(",")}`, download: "" }, "This comparison as one page (HTML)")));
}
