"""Answers JSON questions about orthotropic plates by finite elements with numpy: our own, as the general libraries at hand
know isotropic plates only, and sharing nothing with the series that it is asked about.

Bogner-Fox-Schmit rectangles: cubic Hermite polynomials both ways, so that the stiffness of a rectangular plate is a sum of
Kronecker products of one-dimensional matrices,
K = Dx·(K2 x M0) + Dy·(M0 x K2) + 2H·(K1 x K1), K_i = integral of the i-th derivatives' products,
from the energy 1/2 integral (Dx w_xx^2 + Dy w_yy^2 + 2H w_xy^2). Free edges need nothing; a beam along y = 0 adds E·I·K2
there.

{"a": m, "b": m, "dx": N·m, "dy": N·m, "h": N·m, "beam": N·m², "free": bool, "load": {"p": N, "x": m, "y": m, "w": m,
"d": m}} answers the deflection and dx·w_xx at the load's middle; a free edge is y = 0, and with "d": 0 the load lies on it.
"""

import json
import sys

import numpy as np

ELEMENTS = 12


def shapes(t, length, derivative):
    """The four Hermite cubics of an element of `length` at 0 <= t <= 1: deflection and slope at either end."""
    if derivative == 0:
        return np.array([1 - 3 * t**2 + 2 * t**3, length * (t - 2 * t**2 + t**3),
                         3 * t**2 - 2 * t**3, length * (t**3 - t**2)])
    if derivative == 1:
        return np.array([-6 * t + 6 * t**2, length * (1 - 4 * t + 3 * t**2),
                         6 * t - 6 * t**2, length * (3 * t**2 - 2 * t)]) / length
    return np.array([-6 + 12 * t, length * (-4 + 6 * t), 6 - 12 * t, length * (6 * t - 2)]) / length**2


def line(marks, derivative):
    """The matrix of one direction."""
    matrix = np.zeros((2 * len(marks), 2 * len(marks)))
    points, weights = np.polynomial.legendre.leggauss(4)
    for i, length in enumerate(np.diff(marks)):
        for point, weight in zip((points + 1) / 2, weights / 2):
            s = shapes(point, length, derivative)
            matrix[2 * i:2 * i + 4, 2 * i:2 * i + 4] += np.outer(s, s) * weight * length
    return matrix


def at(marks, x, derivative=0):
    """Row that reads a value or a derivative at x."""
    i = min(max(np.searchsorted(marks, x, side="right") - 1, 0), len(marks) - 2)
    length = marks[i + 1] - marks[i]
    row = np.zeros(2 * len(marks))
    row[2 * i:2 * i + 4] = shapes((x - marks[i]) / length, length, derivative)
    return row


def spread(marks, low, high):
    """An evenly spread unit load from low to high; a point load where they meet."""
    if high <= low:
        return at(marks, low)
    points, weights = np.polynomial.legendre.leggauss(4)
    cuts = np.unique(np.clip(np.concatenate([marks, [low, high]]), low, high))
    row = np.zeros(2 * len(marks))
    for begin, end in zip(cuts[:-1], cuts[1:]):
        for point, weight in zip((points + 1) / 2, weights / 2):
            row += at(marks, begin + point * (end - begin)) * weight * (end - begin)
    return row / (high - low)


def graded(length, around, width):
    """Marks of elements, closer together around a place."""
    marks = np.linspace(0, length, ELEMENTS + 1)
    near = around + width * np.array([-1.5, -1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0, 1.5])
    return np.unique(np.round(np.concatenate([marks, near[(near > 0) & (near < length)]]), 9))


def plate(q):
    load = q["load"]
    x = graded(q["a"], load["x"], load["w"])
    y = graded(q["b"], load["y"], max(load["d"], load["w"]))
    free = q.get("free", False)
    held_x = [i for i in range(2 * len(x)) if i not in (0, 2 * len(x) - 2)]
    held_y = [i for i in range(2 * len(y)) if (free or i != 0) and i != 2 * len(y) - 2]
    mx = [line(x, k)[np.ix_(held_x, held_x)] for k in range(3)]
    my = [line(y, k)[np.ix_(held_y, held_y)] for k in range(3)]
    stiffness = q["dx"] * np.kron(mx[2], my[0]) + q["dy"] * np.kron(mx[0], my[2]) + 2 * q["h"] * np.kron(mx[1], my[1])
    if free and q.get("beam"):
        edge = at(y, 0.0)[held_y]
        stiffness += q["beam"] * np.kron(mx[2], np.outer(edge, edge))
    across = spread(x, load["x"] - load["w"] / 2, load["x"] + load["w"] / 2)[held_x]
    back = spread(y, load["y"] - load["d"] / 2, load["y"] + load["d"] / 2)[held_y]
    w = np.linalg.solve(stiffness, load["p"] * np.kron(across, back))
    here = at(y, load["y"])[held_y]
    deflection = np.kron(at(x, load["x"])[held_x], here) @ w
    curvature = np.kron(at(x, load["x"], 2)[held_x], here) @ w
    return {"deflection": float(deflection), "moment": float(-q["dx"] * curvature)}


json.dump([plate(q) for q in json.load(sys.stdin)], sys.stdout)
