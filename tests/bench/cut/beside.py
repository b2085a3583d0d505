"""Packs parts into bins by CP-SAT and by HiGHS; reads a question on standard input, answers on standard output.

Bars: arc-free assignment models, symmetry broken by the order of the bins. Sheets: two-stage shelves with a trimming cut
(Lodi, Martello & Vigo, Math. Program. 94:257-278, 2003), the compact model that general solvers do best with; guillotine
plans of more stages may need fewer sheets.
"""

import json
import os
import sys
import time

import highspy
from ortools.sat.python import cp_model

# The solver greets on standard output, where only the answer belongs.
out = os.fdopen(os.dup(1), "w")
os.dup2(2, 1)


def bars_cpsat(q):
    lengths, cap = sorted(q["lengths"], reverse=True), q["capacity"]
    most = first_fit(lengths, cap)
    m = cp_model.CpModel()
    used = [m.new_bool_var("") for _ in range(most)]
    x = [[m.new_bool_var("") for _ in range(min(i + 1, most))] for i in range(len(lengths))]
    for row in x:
        m.add_exactly_one(row)
    for b in range(most):
        m.add(sum(n * x[i][b] for i, n in enumerate(lengths) if b < len(x[i])) <= cap * used[b])
        if b:
            m.add_implication(used[b], used[b - 1])
    m.minimize(sum(used))
    return solve_cpsat(m, q)


def bars_highs(q):
    lengths, cap = sorted(q["lengths"], reverse=True), q["capacity"]
    most = first_fit(lengths, cap)
    h = highspy.Highs()
    h.silent()
    used = [h.addBinary() for _ in range(most)]
    x = [[h.addBinary() for _ in range(min(i + 1, most))] for i in range(len(lengths))]
    for row in x:
        h.addConstr(sum(row) == 1)
    for b in range(most):
        h.addConstr(sum(n * x[i][b] for i, n in enumerate(lengths) if b < len(x[i])) <= cap * used[b])
        if b:
            h.addConstr(used[b] <= used[b - 1])
    return solve_highs(h, sum(used), q)


def first_fit(lengths, cap):
    bins = []
    for n in lengths:
        for b, left in enumerate(bins):
            if left >= n:
                bins[b] -= n
                break
        else:
            bins.append(cap - n)
    return len(bins)


def shelves(q):
    """Parts in both ways that they may lie, highest first."""
    parts = []
    for k, (w, h) in enumerate(q["parts"]):
        ways = {(w, h), (h, w)} if q["turn"] else {(w, h)}
        parts += [(h, w, k) for w, h in ways if w <= q["sheet"][0] and h <= q["sheet"][1]]
    return sorted(parts, reverse=True)


def sheets(q, boolean, add, total):
    """Part j lies on the shelf that part i opens; shelf k on the sheet that shelf i opens."""
    parts, (width, height) = shelves(q), q["sheet"]
    n = len(parts)
    on_shelf = {(i, j): boolean() for i in range(n) for j in range(i, n)}
    on_sheet = {(i, k): boolean() for i in range(n) for k in range(i, n)}
    for part in range(len(q["parts"])):
        add(total(on_shelf[i, j] for j in range(n) if parts[j][2] == part for i in range(j + 1)) == 1)
    for i in range(n):
        inside = [parts[j][1] * on_shelf[i, j] for j in range(i + 1, n)]
        if inside:
            add(total(inside) <= (width - parts[i][1]) * on_shelf[i, i])
        add(total(on_sheet[l, i] for l in range(i + 1)) == on_shelf[i, i])
        stacked = [parts[k][0] * on_sheet[i, k] for k in range(i + 1, n)]
        if stacked:
            add(total(stacked) <= (height - parts[i][0]) * on_sheet[i, i])
    return total(on_sheet[i, i] for i in range(n))


def sheets_cpsat(q):
    m = cp_model.CpModel()
    m.minimize(sheets(q, lambda: m.new_bool_var(""), m.add, sum))
    return solve_cpsat(m, q)


def sheets_highs(q):
    h = highspy.Highs()
    h.silent()
    total = lambda terms: h.qsum(list(terms))
    return solve_highs(h, sheets(q, h.addBinary, h.addConstr, total), q)


def solve_cpsat(m, q):
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = q["seconds"]
    solver.parameters.num_workers = 1
    status = solver.solve(m)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return round(solver.objective_value) if found else None


def solve_highs(h, objective, q):
    h.setOptionValue("time_limit", float(q["seconds"]))
    h.setOptionValue("threads", 1)
    h.minimize(objective)
    found = h.getInfo().primal_solution_status == 2
    return round(h.getObjectiveValue()) if found else None


def timed(solve, q):
    begun = time.time()
    cost = solve(q)
    return {"cost": cost, "seconds": time.time() - begun}


q = json.load(sys.stdin)
if "lengths" in q:
    answer = {"cpsat": timed(bars_cpsat, q), "highs": timed(bars_highs, q)}
else:
    answer = {"cpsat": timed(sheets_cpsat, q), "highs": timed(sheets_highs, q)}
json.dump(answer, out)
