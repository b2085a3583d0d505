// 4 Designs: what the explorer has found so far, ranked by the sliders, on two aims, one by one.

import { capital, el, fresh, keep, put, say, set } from "./dom.js";
import { mending } from "./mending.js";
import { facet, filtered, rank } from "./rank.js";
import { scatter } from "./scatter.js";
import { change, edit, on, state, tell } from "./store.js";
import { shown } from "./units.js";

/** So many are listed before one asks for more. */
const PAGE = 24;
/** So many reasons are shown without being asked for. */
const FEW = 3;

/** What designs are told apart by. */
const FACETS = [
  { name: "tiers", title: "Tiers", pick: (design) => design.columns.length },
  { name: "columns", title: "Drawers across", pick: (design) => design.columns },
  { name: "board", title: "Members of", pick: (design) => design.boards },
];

/** A design's figure as it is shown. */
export function figure(design, criterion) {
  return shown(design.figures[criterion.key], criterion.unit);
}

/** The section's content; `open(id)` is called when a design is chosen. */
export function designs({ open }) {
  const criteria = () => state.list?.criteria ?? [];
  const status = el("p", { class: "status" });
  const reasons = el("div");
  const axes = { x: "cost", y: "value" };
  const plot = scatter({ near: (id) => change("near", id), choose });
  const selects = ["x", "y"].map((name) => {
    const select = el("select", { id: fresh("axis"), onchange: () => {
      axes[name] = select.value;
      draw();
    } });
    return { name, select };
  });
  const [weighing, telling] = [el("fieldset"), el("div")];
  const levers = el("div", { class: "levers no-print" }, weighing, telling);
  const list = el("ol", { class: "designs", "aria-label": "Designs, best first" });
  const more = el("button", { type: "button", onclick: () => {
    listed += PAGE;
    order();
  } });
  const count = el("p", { class: "quiet", role: "status" });
  const inOrder = el("p", { class: "quiet why-order" });
  let listed = PAGE;
  let ranked = [];

  const root = el(
    "div", {}, status, reasons, mending(),
    el("div", { class: "board" }, levers,
      el("div", { class: "list-place" }, count, inOrder, list, more),
      el("div", { class: "stay" },
        el("div", { class: "row no-print" }, selects.map(({ name, select }) => el("span", { class: "pair" }, el("label", { for: select.id }, name === "x" ? "Across" : "Upward"), select))),
        plot.root,
        el("p", { class: "quiet" }, "◆ undominated: no design found is as good in everything and better in something.  ○ any other. A ring marks the one chosen or pointed at. Arrow keys go from one to the next."))),
  );

  function choose(id) {
    state.replaced = false;
    change("chosen", id);
    open(id);
  }

  /** Sliders, drawn anew only for other weights of the job: one that is being moved stays. */
  function drawSliders() {
    const now = JSON.stringify([state.list?.weights, criteria().map(({ name }) => name)]);
    if (weighing.dataset.shows === now) return;
    weighing.dataset.shows = now;
    const sliders = criteria().map(({ key, name }) => {
      const out = el("output", {}, String(state.weights[key] ?? 0));
      const id = fresh("weight");
      const slider = el("input", { type: "range", id, min: 0, max: 10, step: 0.5, "data-weight": key, oninput: () => {
        state.weights[key] = Number(slider.value);
        say(out, slider.value);
        tell("weights");
      } });
      slider.value = state.weights[key] ?? 0;
      return el("div", { class: "lever" }, el("label", { for: id }, capital(name)), slider, out);
    });
    const asJob = el("button", { type: "button", onclick: () => edit(criteria().map(({ key }) => ({ at: ["aims", key], set: state.weights[key] ?? 0 }))) }, "Keep as the job’s aims");
    const back = el("button", { type: "button", class: "plain", onclick: () => {
      state.weights = { ...state.list.weights };
      weighing.dataset.shows = "";
      drawSliders();
      tell("weights");
    } }, "As in the job");
    put(weighing, el("legend", {}, "What counts"), el("div", { class: "sliders" }, sliders), el("div", { class: "row" }, asJob, back));
  }

  /** What designs are told apart by; drawn anew only when there is another value or count. */
  function drawFacets() {
    const values = FACETS.map(({ pick }) => facet(state.list?.designs ?? [], pick));
    const now = JSON.stringify(values);
    if (telling.dataset.shows === now) return;
    telling.dataset.shows = now;
    const ticked = telling.contains(document.activeElement) ? document.activeElement.dataset.facet : null;
    put(telling, FACETS.map((one, i) => el("fieldset", {}, el("legend", {}, one.title), values[i].map(([value, times]) => {
      const box = el("input", { type: "checkbox", "data-facet": `${one.name} ${value}`, onchange: () => {
        state.hidden[one.name][box.checked ? "delete" : "add"](String(value));
        listed = PAGE;
        draw();
      } });
      box.checked = !state.hidden[one.name].has(String(value));
      return el("label", { class: "tick" }, box, `${value} (${times})`);
    }))));
    if (ticked) telling.querySelector(`[data-facet="${CSS.escape(ticked)}"]`)?.focus();
  }

  /** Ranks by the sliders and shows the list: no request, no search. */
  function order() {
    const all = filtered(state.list?.designs ?? [], FACETS, state.hidden);
    ranked = rank(all, state.weights, criteria().map(({ key }) => key));
    keep(list, ranked.slice(0, listed), ({ design }) => design.id, item);
    const rest = ranked.length - listed;
    set(more, "hidden", rest <= 0);
    say(more, `Show ${Math.min(PAGE, rest)} more of ${rest}`);
    const hidden = (state.list?.designs.length ?? 0) - ranked.length;
    say(count, state.list?.designs.length ? `${ranked.length} ${ranked.length === 1 ? "design" : "designs"}${hidden ? `, ${hidden} hidden by the ticks` : ""}` : "");
    say(inOrder, sequence(ranked.map(({ design, points }) => ({ beyond: design.beyond, points })), state.list?.is_final));
    mark();
  }

  function item() {
    const [place, words, figures, bar] = [el("span", { class: "place" }), el("span", { class: "design-words" }), el("span", { class: "figures" }), el("span")];
    const button = el("button", { type: "button", class: "choose", onclick: () => choose(li.dataset.key) }, place, el("span", {}, words, figures, el("span", { class: "bar", "aria-hidden": "true" }, bar)));
    const box = el("input", { type: "checkbox", onchange: () => beside(li.dataset.key, box) });
    const li = el("li", {}, button, el("label", { class: "tick no-print" }, box, el("span", {}, "compare")));
    li.addEventListener("pointerenter", () => change("near", li.dataset.key));
    li.addEventListener("pointerleave", () => change("near", null));
    button.addEventListener("focus", () => change("near", li.dataset.key));
    button.addEventListener("blur", () => change("near", null));
    li.update = ({ design, points }, index) => {
      say(place, `${index + 1}`);
      say(words, design.words);
      const best = criteria().filter(({ key }) => ["value", "cost", "mass"].includes(key)).map((one) => `${one.name.toLowerCase()} ${figure(design, one)}`);
      const told = [`${points.toFixed(1)} points`, ...best, design.undominated ? "◆ undominated" : null, design.beyond ? beyondGuide(design.beyond) : null, design.left_out ? `${design.left_out} left out` : null, design.id].filter(Boolean);
      if (figures.textContent !== told.join(" · ")) put(figures, told.flatMap((text, i) => [i ? " · " : null, el("span", {}, text)]));
      bar.style.width = `${Math.max(0, Math.min(100, points)).toFixed(1)}%`;
      set(box, "aria-label", `compare ${design.id}`);
      box.checked = state.beside.includes(design.id);
    };
    return li;
  }

  function beside(id, box) {
    const others = state.beside.filter((one) => one !== id);
    if (box.checked && others.length >= 3) box.checked = false;
    change("beside", box.checked ? [...others, id] : others);
  }

  function mark() {
    for (const li of list.children) {
      const mine = li.dataset.key === state.chosen;
      li.classList.toggle("chosen", mine);
      li.classList.toggle("near", li.dataset.key === state.near);
      set(li.firstChild, "aria-current", mine ? "true" : null);
      const box = li.querySelector("input");
      box.checked = state.beside.includes(li.dataset.key);
      box.disabled = !box.checked && state.beside.length >= 3;
    }
    plot.mark(state.chosen, state.near);
  }

  /** Everything anew, for another list of designs. */
  function draw() {
    for (const { name, select } of selects) {
      if (select.options.length !== criteria().length) put(select, criteria().map(({ key, name: title }) => el("option", { value: key }, capital(title))));
      select.value = axes[name];
    }
    order();
    const by = (key) => criteria().find((one) => one.key === key);
    const all = filtered(state.list?.designs ?? [], FACETS, state.hidden);
    if (by(axes.x)) plot.draw(all, { ax: by(axes.x), ay: by(axes.y), words: (design, key) => figure(design, by(key)), chosen: state.chosen, nearby: state.near });
    set(plot.root, "hidden", all.length === 0);
  }

  function heard() {
    say(status, statusLine(state));
  }

  /** Why there is no design; or what the one chosen leaves out, or else the best by the job. */
  function drawReasons() {
    const { left, list: found, chosen, document } = state;
    const first = found?.designs[0];
    const ofChosen = left && left.id === chosen && left.revision === found?.revision;
    const told = (document?.sound && (ofChosen ? left.reasons : found?.reasons)) || [];
    const rest = (document?.sound && found?.is_final && found.considered) || [];
    const now = JSON.stringify([told, rest, first === undefined, ofChosen]);
    if (reasons.dataset.shows === now) return;
    reasons.dataset.shows = now;
    const folded = (title, lines, open) => lines.length > 0 && el("details", { open }, el("summary", {}, title), el("ul", { class: "why-list" }, lines.map((line) => el("li", {}, line))));
    const title = first === undefined ? "Why there is no design" : `What the ${ofChosen ? "chosen" : "first"} design leaves out, and why`;
    put(reasons, folded(title, told.map(({ sentence }) => sentence), first === undefined || told.length <= FEW),
      folded("What became of the other structures looked at", rest.map(([why, times]) => `${times} ${why}`), false));
  }

  on("list", () => {
    drawSliders();
    drawFacets();
    draw();
    drawReasons();
    heard();
  });
  on("run document", heard);
  on("document left chosen", () => state.list && drawReasons());
  on("weights", order);
  on("near chosen beside", mark);
  return root;
}

/** How many checks are beyond a guide value, in words. */
function beyondGuide(beyond) {
  return `△ ${beyond} ${beyond === 1 ? "check" : "checks"} beyond guide`;
}

/** Why the list stands so, where the points alone would order it otherwise or what is first will not stay. */
export function sequence(ranked, isFinal) {
  if (ranked.length === 0) return "";
  if (!isFinal && ranked[0].beyond > 0) return "The first found are quick ones. What has fewer checks beyond guide takes their place, even with fewer points.";
  const leads = ranked.slice(1).some(({ beyond, points }) => beyond > ranked[0].beyond && points > ranked[0].points);
  return leads ? "What has fewer checks beyond guide comes first, whatever it scores." : "";
}

/** The run in one sentence: what it is doing, how good the best is, how much better any could be. */
export function statusLine({ document, run, list }) {
  if (!document) return "Waiting for Bedwright…";
  const faults = document.faults.filter(({ refusing }) => refusing).length;
  if (!document.sound) return faults === 1 ? "One fault to mend before designs can be explored." : `${faults} faults to mend before designs can be explored.`;
  if (!run) return "Not begun yet.";
  const beyond = list?.run === run.run ? list.designs[0]?.beyond : 0;
  const best = Number.isFinite(run.best) ? `best ${run.best.toFixed(1)} points${beyond ? ` with ${beyondGuide(beyond).slice(2)}` : ""}` : null;
  const gap = Number.isFinite(run.best) && Number.isFinite(run.bound) ? run.bound - run.best : null;
  const bound = gap === null ? null : gap <= 1e-9 ? "proved best" : `none can score more than ${run.bound.toFixed(1)} (gap ${gap.toFixed(1)})`;
  const found = list?.revision === document.revision ? list.designs.length : run.found;
  const many = `${found} ${found === 1 ? "design" : "designs"}`;
  const doing = { dimensions: "taking measures", bounding: "ruling structures out", stowing: "stowing", sketching: "sketching", finishing: "finishing", refining: "refining", chasing: "looking further", proving: "proving" }[run.stage] ?? run.stage;
  const words = {
    idle: ["Waiting"],
    running: [`Exploring${doing ? `, ${doing}` : ""}${run.of ? ` ${run.done} of ${run.of}` : ""}`, found ? many : "no design yet", best, bound],
    done: [found === 0 ? "No design satisfies the job" : `Done: ${many}`, found ? best : null, found ? bound : null, list?.stopped_by ? `stopped by ${list.stopped_by}` : null],
    cancelled: ["Given up", many],
    failed: [`The explorer failed: ${run.what ?? "no reason given"}`],
  }[run.state];
  return `${words.filter(Boolean).join(" · ")}.`;
}
