// Ranking without solving again: every design brings its figures, the scenario its scale, the sliders the weights.

/**
 * Points by the weights, 0 to 100, and what each criterion gave of them. Summed from left to right in the order of `criteria`
 * (their keys), so that the scenario's own weights give the program's very figures.
 */
export function score(design, weights, criteria) {
  let total = 0;
  for (const key of criteria) total += weights[key] ?? 0;
  const parts = {};
  let points = 0;
  for (const key of criteria) {
    parts[key] = total > 0 ? (100 * (weights[key] ?? 0) * (design.shares[key] ?? 0)) / total : 0;
    points += parts[key];
  }
  return { points, parts };
}

/** The designs best first by the weights; ties go to the smaller id, as on the command line. */
export function rank(designs, weights, criteria) {
  return designs
    .map((design) => ({ design, ...score(design, weights, criteria) }))
    .sort((a, b) => b.points - a.points || (a.design.id < b.design.id ? -1 : 1));
}

/** What there is to choose from by a facet: its values in order with how many designs have each. */
export function facet(designs, pick) {
  const counts = new Map();
  for (const design of designs) {
    for (const value of new Set([pick(design)].flat())) counts.set(value, (counts.get(value) ?? 0) + 1);
  }
  return [...counts].sort(([a], [b]) => (typeof a === "number" && typeof b === "number" ? a - b : String(a) < String(b) ? -1 : 1));
}

/** The designs of which every facet has a value that is not in `hidden[name]`, the set of those ticked out (as text). */
export function filtered(designs, facets, hidden) {
  return designs.filter((design) =>
    facets.every(({ name, pick }) => [pick(design)].flat().some((value) => !hidden[name]?.has(String(value)))),
  );
}
