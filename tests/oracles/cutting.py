"""Least cost of cutting boards by arc flow (Valerio de Carvalho, Ann. Oper. Res. 86:629-659, 1999), and fewest sheets of two
stages and a trim by the shelf model of Lodi, Martello & Vigo (Math. Program. 94:257-278, 2003); both by HiGHS. Kerf is folded
into lengths: n parts of l fill a bar L if n (l + k) <= L + k."""

import json
import os
import sys

import highspy

# The solver greets on standard output, where only the answer belongs.
answer = os.fdopen(os.dup(1), "w")
os.dup2(2, 1)


def solved(h, objective):
    h.setOptionValue("time_limit", 300.0)
    h.setOptionValue("mip_rel_gap", 0.0)
    h.minimize(objective)
    assert h.getModelStatus() == highspy.HighsModelStatus.kOptimal, h.getModelStatus()
    return h.getObjectiveValue()


def boards(q):
    k = q["kerf"]
    caps = [(length + k, price) for length, price in q["bars"]]
    parts = [(length + k, count) for length, count in q["parts"]]
    top = max(cap for cap, _ in caps)
    # Places that sums of parts, longest first, can reach.
    reach, arcs = {0}, set()
    for length, count in sorted(parts, reverse=True):
        new = set()
        for start in reach:
            for n in range(count):
                a, b = start + n * length, start + (n + 1) * length
                if b > top:
                    break
                arcs.add((a, b, length))
                new.add(b)
        reach |= new
    ends = sorted(reach | {cap for cap, _ in caps})
    h = highspy.Highs()
    h.silent()
    into, out, of = {p: [] for p in ends}, {p: [] for p in ends}, {}
    for a, b, length in sorted(arcs):
        x = h.addIntegral(lb=0)
        out[a].append(x)
        into[b].append(x)
        of.setdefault(length, []).append(x)
    for a, b in zip(ends, ends[1:]):
        x = h.addVariable(lb=0)
        out[a].append(x)
        into[b].append(x)
    bars = []
    for cap, price in caps:
        x = h.addIntegral(lb=0)
        into[0].append(x)
        out[cap].append(x)
        bars.append(price * x)
    for p in ends:
        h.addConstr(h.qsum(into[p]) - h.qsum(out[p]) == 0)
    need = {}
    for length, count in parts:
        need[length] = need.get(length, 0) + count
    for length, count in need.items():
        h.addConstr(h.qsum(of[length]) >= count)
    return solved(h, h.qsum(bars))


def sheets(q):
    k = q["kerf"]
    width, height = (side + k for side in q["sheet"])
    best = None
    # Shelves along either side of the sheet.
    for across in (False, True):
        w, h = (height, width) if across else (width, height)
        parts = []
        for n, (a, b) in enumerate(q["sheet_parts"]):
            a, b = a + k, b + k
            a, b = (b, a) if across else (a, b)
            ways = {(a, b), (b, a)} if q["turn"] else {(a, b)}
            parts += [(y, x, n) for x, y in ways if x <= w and y <= h]
        cost = shelves(sorted(parts, reverse=True), w, h, len(q["sheet_parts"]))
        best = cost if best is None else min(best, cost)
    return best


def shelves(parts, width, height, count):
    """Part j lies on the shelf that part i opens, shelf j on the sheet that shelf i opens."""
    m = highspy.Highs()
    m.silent()
    n = len(parts)
    shelf = {(i, j): m.addBinary() for i in range(n) for j in range(i, n)}
    sheet = {(i, j): m.addBinary() for i in range(n) for j in range(i, n)}
    for part in range(count):
        m.addConstr(m.qsum([shelf[i, j] for j in range(n) if parts[j][2] == part for i in range(j + 1)]) == 1)
    for i in range(n):
        if i + 1 < n:
            m.addConstr(m.qsum([parts[j][1] * shelf[i, j] for j in range(i + 1, n)]) <= (width - parts[i][1]) * shelf[i, i])
            m.addConstr(m.qsum([parts[j][0] * sheet[i, j] for j in range(i + 1, n)]) <= (height - parts[i][0]) * sheet[i, i])
        m.addConstr(m.qsum([sheet[l, i] for l in range(i + 1)]) - shelf[i, i] == 0)
    return solved(m, m.qsum([sheet[i, i] for i in range(n)]))


q = json.load(sys.stdin)
cost = boards(q) if "bars" in q else sheets(q)
json.dump({"cost": cost}, answer)
