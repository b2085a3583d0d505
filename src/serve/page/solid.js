// Boxes in space, seen from any side with hidden surfaces right.
//
// A tree of planes (each along a face of some box) parts the boxes; whatever lies on the viewer's side of a plane cannot be
// hidden by what lies beyond it, so a walk over the tree, far side first, draws every box before those that may hide it. A box
// that a plane goes through is cut in two; the cut faces and their edges are not drawn. The tree holds for every direction: only
// the walk changes when the view turns, so turning costs nothing but drawing.

const EPS = 1e-6;

/**
 * @typedef {{low: number[], high: number[], cut: boolean[], of: object}} Piece  A box or part of one; `cut[2 * axis + side]`
 *   tells that this face is no face of the box. Sides: 0 low, 1 high.
 */

/** A piece for a whole box `[x0, y0, z0, x1, y1, z1]`. */
export function piece(box, of) {
  return { low: box.slice(0, 3), high: box.slice(3, 6), cut: [false, false, false, false, false, false], of };
}

/** The tree over pieces: `{axis, at, below, above}`, or `{pieces}` where no plane parts them. */
export function tree(pieces) {
  if (pieces.length <= 1) return { pieces };
  const plane = best(pieces);
  if (!plane) return { pieces };
  const below = [];
  const above = [];
  for (const one of pieces) {
    if (one.high[plane.axis] <= plane.at + EPS) below.push(one);
    else if (one.low[plane.axis] >= plane.at - EPS) above.push(one);
    else {
      const [lower, upper] = split(one, plane);
      below.push(lower);
      above.push(upper);
    }
  }
  return { axis: plane.axis, at: plane.at, below: tree(below), above: tree(above) };
}

function split(one, { axis, at }) {
  const lower = { ...one, high: [...one.high], cut: [...one.cut] };
  const upper = { ...one, low: [...one.low], cut: [...one.cut] };
  lower.high[axis] = at;
  lower.cut[2 * axis + 1] = true;
  upper.low[axis] = at;
  upper.cut[2 * axis] = true;
  return [lower, upper];
}

/** The plane that cuts the fewest boxes, and of these the one that parts them most evenly; none if nothing is parted. */
function best(pieces) {
  let found = null;
  let least = Infinity;
  for (let axis = 0; axis < 3; axis += 1) {
    const lows = pieces.map((one) => one.low[axis]).sort((a, b) => a - b);
    const highs = pieces.map((one) => one.high[axis]).sort((a, b) => a - b);
    for (const at of new Set([...lows, ...highs])) {
      const below = count(highs, at + EPS); // wholly below
      const above = pieces.length - count(lows, at - EPS); // wholly above
      const across = pieces.length - below - above;
      if (below + across === 0 || above + across === 0) continue;
      if (below + across === pieces.length && above + across === pieces.length) continue;
      const price = 8 * across + Math.abs(below - above);
      if (price < least) {
        least = price;
        found = { axis, at };
      }
    }
  }
  return found;
}

/** How many of the sorted numbers are at most `at`. */
function count(sorted, at) {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (sorted[mid] <= at) low = mid + 1;
    else high = mid;
  }
  return low;
}

/** Calls `draw(piece)` for every piece, farthest first; `toward` points from the boxes to the viewer (a view without perspective). */
export function walk(node, toward, draw) {
  if (node.pieces) {
    node.pieces.forEach((one) => draw(one));
    return;
  }
  const [far, near] = toward[node.axis] > 0 ? [node.below, node.above] : [node.above, node.below];
  walk(far, toward, draw);
  walk(near, toward, draw);
}

/**
 * A view without perspective, turned by `turn` about the upright axis and tilted down by `tilt` (radians). Turn 0 looks from the
 * tailgate toward the cab. Gives `toward`, and `flat([x, y, z])` = `[right, down]` on the paper.
 */
export function view(turn, tilt) {
  const [s, c, u, v] = [Math.sin(turn), Math.cos(turn), Math.sin(tilt), Math.cos(tilt)];
  return {
    toward: [-s * v, -c * v, u],
    flat: ([x, y, z]) => [c * x - s * y, -(z * v + (s * x + c * y) * u)],
  };
}

/** The faces of a piece that this view sees: `{axis, side, corners: [[x, y, z] × 4], edges: [drawn × 4]}`. */
export function faces(one, toward) {
  const seen = [];
  for (let axis = 0; axis < 3; axis += 1) {
    if (Math.abs(toward[axis]) < 1e-9) continue;
    const side = toward[axis] > 0 ? 1 : 0;
    if (one.cut[2 * axis + side]) continue;
    const [p, q] = [(axis + 1) % 3, (axis + 2) % 3];
    const at = side ? one.high[axis] : one.low[axis];
    const corner = (onP, onQ) => {
      const point = [0, 0, 0];
      point[axis] = at;
      point[p] = onP ? one.high[p] : one.low[p];
      point[q] = onQ ? one.high[q] : one.low[q];
      return point;
    };
    seen.push({
      axis,
      side,
      corners: [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)],
      // The edge from a corner to the next lies on the neighbour face low q, high p, high q, low p.
      edges: [!one.cut[2 * q], !one.cut[2 * p + 1], !one.cut[2 * q + 1], !one.cut[2 * p]],
    });
  }
  return seen;
}

/** Where on the paper everything is: `[left, top, right, bottom]`. */
export function extent(boxes, flat) {
  const around = [Infinity, Infinity, -Infinity, -Infinity];
  for (const box of boxes) {
    for (let i = 0; i < 8; i += 1) {
      const [x, y] = flat([box[i & 1 ? 3 : 0], box[i & 2 ? 4 : 1], box[i & 4 ? 5 : 2]]);
      around[0] = Math.min(around[0], x);
      around[1] = Math.min(around[1], y);
      around[2] = Math.max(around[2], x);
      around[3] = Math.max(around[3], y);
    }
  }
  return around;
}

/** The nearest box that the point `[right, down]` of the paper shows, or none: a ray along the line of sight against every box. */
export function hit(boxes, { turn, tilt }, point) {
  const { toward } = view(turn, tilt);
  const [s, c, u, v] = [Math.sin(turn), Math.cos(turn), Math.sin(tilt), Math.cos(tilt)];
  // A point that the view shows there: the paper's right and up axes in space.
  const right = [c, -s, 0];
  const up = [s * u, c * u, v];
  const start = [0, 1, 2].map((k) => right[k] * point[0] - up[k] * point[1]);
  let [nearest, depth] = [null, -Infinity];
  boxes.forEach((box, index) => {
    let [enter, leave] = [-Infinity, Infinity];
    for (let k = 0; k < 3; k += 1) {
      if (Math.abs(toward[k]) < 1e-12) {
        if (start[k] < box[k] || start[k] > box[k + 3]) return;
        continue;
      }
      const [a, b] = [(box[k] - start[k]) / toward[k], (box[k + 3] - start[k]) / toward[k]];
      enter = Math.max(enter, Math.min(a, b));
      leave = Math.min(leave, Math.max(a, b));
    }
    if (enter < leave && leave > depth) [nearest, depth] = [index, leave];
  });
  return nearest;
}
