"""The most worth that lanes, bays and cells can hold, by a mixed integer program (HiGHS).

Reads {"problems": [{"items": [{"worth": v, "must": b, "lies": [[[w, l], ...] per hall]}], "halls": [[W, L], ...]}]},
all sizes grown by the divider, and answers {"best": [v or null, ...]}.

A bay is named after the first item in it, a lane after the first bay in it:
  x[i, j, h, o]  item i lies the way o in bay j of hall h, i >= j
  y[j, k, h]     bay j is in lane k of hall h, j >= k
A bay is as wide as its cells together and as long as the longest; a lane as wide as its widest bay.
"""

import json
import os
import sys

import highspy


def best(problem):
    items, halls = problem["items"], problem["halls"]
    n = len(items)
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5)
    solver.setOptionValue("threads", 1)
    x, y = {}, {}
    for h in range(len(halls)):
        for i in range(n):
            for j in range(i + 1):
                y[i, j, h] = solver.addBinary()
                for o, _ in enumerate(items[i]["lies"][h]):
                    x[i, j, h, o] = solver.addBinary()
    placed = [[] for _ in range(n)]
    for (i, _, _, _), var in x.items():
        placed[i].append(var)
    for i in range(n):
        if not placed[i]:
            if items[i]["must"]:
                return None
            continue
        total = solver.qsum(placed[i])
        solver.addConstr(total == 1 if items[i]["must"] else total <= 1)
    for h, (width, length) in enumerate(halls):
        lane_width = [solver.addVariable(0, width) for _ in range(n)]
        solver.addConstr(solver.qsum(lane_width) <= width)
        within = {(j, k): solver.addVariable(0, length) for j in range(n) for k in range(j + 1)}
        for j in range(n):
            open_bay = solver.qsum([y[j, k, h] for k in range(j + 1)])
            led = [x[j, j, h, o] for o, _ in enumerate(items[j]["lies"][h])]
            solver.addConstr((solver.qsum(led) if led else 0 * open_bay) == open_bay)
            cells = []
            bay_length = solver.addVariable(0, length)
            for i in range(j, n):
                here = [x[i, j, h, o] for o, _ in enumerate(items[i]["lies"][h])]
                if not here:
                    continue
                solver.addConstr(solver.qsum(here) <= open_bay)
                sizes = items[i]["lies"][h]
                cells += [w * var for (w, _), var in zip(sizes, here)]
                solver.addConstr(
                    bay_length >= solver.qsum([l * var for (_, l), var in zip(sizes, here)])
                )
            for k in range(j + 1):
                solver.addConstr(y[j, k, h] <= y[k, k, h])
                solver.addConstr(within[j, k] >= bay_length - length * (1 - y[j, k, h]))
                if cells:
                    solver.addConstr(
                        lane_width[k] >= solver.qsum(cells) - width * (1 - y[j, k, h])
                    )
        for k in range(n):
            solver.addConstr(solver.qsum([within[j, k] for j in range(k, n)]) <= length)
    solver.maximize(solver.qsum([items[i]["worth"] * v for i in range(n) for v in placed[i]]))
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(solver.getObjectiveValue())


question = json.load(sys.stdin)
# The solver's greeting goes to standard output whatever it is told: that is kept for the answer.
answer = os.fdopen(os.dup(1), "w")
os.dup2(2, 1)
json.dump({"best": [best(problem) for problem in question["problems"]]}, answer)
