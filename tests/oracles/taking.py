"""The most worth of parts that limited boards yield: a multiple knapsack, by OR-tools CP-SAT. Kerf is folded into lengths: parts
of l fill a bar L if their l + k sum to no more than L + k."""

import json
import sys

from ortools.sat.python import cp_model

q = json.load(sys.stdin)
kerf = q["kerf"]
boards = [length + kerf for length, count in q["boards"] for _ in range(count)]
model = cp_model.CpModel()
taken = [[model.new_int_var(0, count, "") for _ in boards] for _, count, _ in q["parts"]]
for (_, count, _), of in zip(q["parts"], taken):
    model.add(sum(of) <= count)
for b, room in enumerate(boards):
    model.add(sum((length + kerf) * of[b] for (length, _, _), of in zip(q["parts"], taken)) <= room)
model.maximize(sum(worth * x for (_, _, worth), of in zip(q["parts"], taken) for x in of))
solver = cp_model.CpSolver()
solver.parameters.num_workers = 1
solver.parameters.max_time_in_seconds = 120
status = solver.solve(model)
assert status == cp_model.OPTIMAL, solver.status_name(status)
json.dump({"worth": round(solver.objective_value)}, sys.stdout)
