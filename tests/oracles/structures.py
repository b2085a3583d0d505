"""Answers JSON questions about beams and plates with PyNiteFEA, a general structural library.

{"strip": {"spans": [m], "ei": N·m², "loads": [{"span": i, "from": m, "to": m, "w": N/m}]}} answers the greatest deflection
of each span (looked for at 40 points) and the moments over the inner supports.
{"overhang": {"span": m, "reach": m, "ei": N·m², "p": N}} answers the tip's deflection.
{"plate": {"a": m, "b": m, "dx": N·m, "dy": N·m, "q": Pa, "mesh": n, "free_edge": bool, "patch": [m, m] or null}} answers the
deflection in the middle, or at the middle of the free edge y = 0 under a patch there.
"""

import json
import sys

from Pynite import FEModel3D


def beam_model(points, ei, rigid):
    model = FEModel3D()
    e = 1e9
    model.add_material("m", e, e / 2.6, 0.3, 0.0)
    model.add_section("s", 1.0, ei / e, ei / e, 1e-3)
    for i, x in enumerate(points):
        model.add_node(f"n{i}", x, 0, 0)
        support = i in rigid
        model.def_support(f"n{i}", i == 0, support, True, True, True, False)
    for i in range(len(points) - 1):
        model.add_member(f"b{i}", f"n{i}", f"n{i + 1}", "m", "s")
    return model


def strip(q):
    points = [0.0]
    for span in q["spans"]:
        points.append(points[-1] + span)
    model = beam_model(points, q["ei"], set(range(len(points))))
    for load in q["loads"]:
        name = f"b{load['span']}"
        model.add_member_dist_load(name, "Fy", -load["w"], -load["w"], load["from"], load["to"])
    model.analyze_linear()
    deflections, moments = [], []
    for i, span in enumerate(q["spans"]):
        member = model.members[f"b{i}"]
        at = [member.deflection("dy", span * k / 40) for k in range(41)]
        deflections.append(-min(at))
        if i > 0:
            moments.append(abs(member.moment("Mz", 0.0)))
    return {"deflections": deflections, "moments": moments}


def overhang(q):
    points = [0.0, q["span"], q["span"] + q["reach"]]
    model = beam_model(points, q["ei"], {0, 1})
    model.add_node_load("n2", "FY", -q["p"])
    model.analyze_linear()
    return {"tip": -model.nodes["n2"].DY["Combo 1"]}


def plate(q):
    a, b, n = q["a"], q["b"], q["mesh"]
    # An orthotropic plate without twist is two strips' stiffnesses as multiples of one isotropic plate's.
    thick, nu = 0.01, 0.0
    e = 12 * q["dx"] / thick**3
    model = FEModel3D()
    model.add_material("m", e, e / 2 if q.get("twist", True) else e * 1e-9, nu, 0.0)
    model.add_rectangle_mesh("p", a / n, a, b, thick, "m", 1.0, q["dy"] / q["dx"], [0, 0, 0], "XY", element_type="Rect")
    model.meshes["p"].generate()
    tol = 1e-6
    nodes = model.meshes["p"].nodes.values()
    for node in nodes:
        edge = node.X < tol or node.X > a - tol or node.Y > b - tol or (node.Y < tol and not q.get("free_edge"))
        model.def_support(node.name, True, True, edge, False, False, True)
    middle = min(nodes, key=lambda v: abs(v.X - a / 2) + abs(v.Y - (0 if q.get("free_edge") else b / 2)))
    for name, element in model.meshes["p"].elements.items():
        if q.get("patch") is None:
            model.add_plate_surface_pressure(name, -q["q"])
            continue
        i, k = element.i_node, element.m_node if hasattr(element, "m_node") else element.n_node
        x, y = (i.X + k.X) / 2, (i.Y + k.Y) / 2
        if abs(x - a / 2) < q["patch"][0] / 2 and y < q["patch"][1]:
            model.add_plate_surface_pressure(name, -q["q"])
    model.analyze_linear()
    return {"deflection": abs(middle.DZ["Combo 1"])}


def main():
    answers = []
    for question in json.load(sys.stdin):
        kind, q = next(iter(question.items()))
        answers.append({"strip": strip, "overhang": overhang, "plate": plate}[kind](q))
    json.dump(answers, sys.stdout)


main()
