"""Least weight of stacks by an independent solver, to compare ours with.

In: sewing orders as `cargo run -p seamfall-plan --example sewing_orders` writes them: joins and the courses of seams. Everything else
is worked out here anew, from the definitions in words: which seam ends lie on top, where two meet, which ways round they nest.
A meeting stacks when both falls, projected on the seam they meet in, point the same way. Falls and orders are chosen together by
CP-SAT (OR-Tools), which proves each result optimal.

Out: `least.json`: name, least weight with one pressing a block, least weight with every copy by itself.

    python3 least.py < orders.json > least.json        (OR-Tools 9, Python 3.11)
"""

import json
import math
import sys

from ortools.sat.python import cp_model

NEAR = 1e-4


def near(p, q):
    return math.hypot(p[0] - q[0], p[1] - q[1]) < NEAR


def direction(edge, p):
    """Direction of travel beside a point of the edge."""
    if "centre" not in edge:
        d = (edge["to"][0] - edge["from"][0], edge["to"][1] - edge["from"][1])
    else:
        r = (p[0] - edge["centre"][0], p[1] - edge["centre"][1])
        d = (-r[1], r[0]) if edge["left"] else (r[1], -r[0])
    n = math.hypot(*d)
    return (d[0] / n, d[1] / n)


def on_edge(edge, p):
    a, b = edge["from"], edge["to"]
    if near(a, p) or near(b, p):
        return True
    if "centre" not in edge:
        d = (b[0] - a[0], b[1] - a[1])
        v = (p[0] - a[0], p[1] - a[1])
        t = (v[0] * d[0] + v[1] * d[1]) / (d[0] ** 2 + d[1] ** 2)
        off = abs(v[0] * d[1] - v[1] * d[0]) / math.hypot(*d)
        return 0 < t < 1 and off < NEAR
    c = edge["centre"]
    if abs(math.hypot(p[0] - c[0], p[1] - c[1]) - math.hypot(a[0] - c[0], a[1] - c[1])) > NEAR:
        return False
    angle = lambda q: math.atan2(q[1] - c[1], q[0] - c[0])
    turn = 1 if edge["left"] else -1
    so_far = (turn * (angle(p) - angle(a))) % (2 * math.pi)
    whole = (turn * (angle(b) - angle(a))) % (2 * math.pi)
    return so_far < whole


class End:
    """An end of a seam that lies on top at a point of a unit's edge: who it is, the way out of the point, seams that end there."""

    def __init__(self, at, key, out, count):
        self.at, self.key, self.out, self.count = at, key, out, count


def sew(order, ends_of_piece):
    """Meetings (seam's direction, the two ends, weight), seams that are one, and the ends on the edge of the whole."""
    units, meetings, same = [], [], []
    seams = order["seams"]
    start = lambda s: seams[s][0]["from"]
    stop = lambda s: seams[s][-1]["to"]

    def take(part):
        return ends_of_piece(part[1]) if part[0] == "piece" else units[part[1]]

    for join in order["joins"]:
        sides = [list(take(join["left"])), list(take(join["right"]))]
        bent = lambda p: any(near(p, b) for b in join["bends"])
        fresh = []
        for s in join["seams"]:
            points = []
            for side in (0, 1):
                kept = []
                for end in sides[side]:
                    edge = next((e for e in seams[s] if on_edge(e, end.at)), None)
                    if edge is None or bent(end.at):
                        kept.append(end)
                        continue
                    slot = next((x for x in points if near(x[0], end.at)), None)
                    if slot is None:
                        slot = (end.at, direction(edge, end.at), [None, None])
                        points.append(slot)
                    slot[2][side] = end
                sides[side] = kept
            for at, along, (a, b) in points:
                if a and b:
                    meetings.append((along, a, b, a.count + b.count - 1))
            if near(start(s), stop(s)) and not bent(start(s)):
                continue
            for at, at_start in ((start(s), True), (stop(s), False)):
                if not bent(at):
                    under = sum(e.count for x in points if near(x[0], at) for e in x[2] if e)
                    fresh.append(End(at, (s, at_start), outward(seams[s], at_start), under + 1))
        for bend in join["bends"]:
            ended = [e for side in sides for e in side if near(e.at, bend)]
            for e in ended:
                for s in join["seams"]:
                    for at, at_start in ((start(s), True), (stop(s), False)):
                        if near(at, bend):
                            out = outward(seams[s], at_start)
                            in_line = abs(out[0] + e.out[0]) < 1e-6 and abs(out[1] + e.out[1]) < 1e-6
                            if in_line and circle(seams[s], at_start) == circle(seams[e.key[0]], e.key[1]):
                                same.append((s, e.key[0], at_start != e.key[1]))
            sides = [[e for e in side if not near(e.at, bend)] for side in sides]
        units.append(sides[0] + sides[1] + fresh)
    rim = units[-1] if units else ends_of_piece(0)
    return meetings, same, rim


def outward(course, at_start):
    if at_start:
        return direction(course[0], course[0]["from"])
    d = direction(course[-1], course[-1]["to"])
    return (-d[0], -d[1])


def circle(course, at_start):
    """The centre of a curved seam's end, or nothing: two curves in line at a point are one seam only on one circle."""
    centre = course[0 if at_start else -1].get("centre")
    return centre and [round(v, 4) for v in centre]


def solve(instance, own):
    model = cp_model.CpModel()
    places = instance["places"]
    choose, falls, rims, cost = [], {}, {}, []

    def chosen(options):
        literals = [model.new_bool_var("") for _ in options]
        model.add_exactly_one(literals)
        return literals

    def equal(a, b, same, only_if):
        model.add(a == b if same else a != b).only_enforce_if(only_if)

    def stack(a, b, weight, active):
        """A stack where a and b (literals: falls along the seam) agree while all of `active` hold."""
        bad = model.new_bool_var("")
        model.add_bool_or([bad, a.negated(), b.negated()] + [x.negated() for x in active])
        model.add_bool_or([bad, a, b] + [x.negated() for x in active])
        cost.append(weight * bad)

    def along(literal, left, seam):
        """Whether a fall to `left` (when the literal holds) points forward along the seam."""
        forward = left[0] * seam[0] + left[1] * seam[1]
        assert abs(forward) > 1e-6, "a seam meets itself"
        return literal if forward > 0 else literal.negated()

    left_of = lambda d: (-d[1], d[0])
    copies = {}
    for number, place in enumerate(places):
        copies.setdefault(place["design"], {}).setdefault(number if own else 0, []).append(number)
    rim_points = []
    for d, design in enumerate(instance["designs"]):
        literals = chosen(design["orders"])
        choose.append(literals)
        points = None
        for o, order in enumerate(design["orders"]):
            meetings, same, rim = sew(order, lambda piece: [])
            if points is None:
                points = [(e.at, e.out, e.count) for e in rim]
            for c, members in copies.get(d, {}).items():
                x = [model.new_bool_var("") for _ in order["seams"]]
                for a, b, turned in same:
                    equal(x[a], x[b], turned, literals[o])
                for seam, a, b, weight in meetings:
                    at_left = lambda e: along(x[e.key[0]], left_of(e.out) if e.key[1] else left_of((-e.out[0], -e.out[1])), seam)
                    stack(at_left(a), at_left(b), weight * len(members), [literals[o]])
                for p, (at, _, count) in enumerate(points):
                    end = next(e for e in rim if near(e.at, at))
                    assert end.count == count
                    # True: it falls to the left, looking out from the point.
                    r = rims.setdefault((d, c, p), model.new_bool_var(""))
                    equal(r, x[end.key[0]], end.key[1], literals[o])
        rim_points.append(points)

    def ends_of(piece):
        place = instance["top_pieces"][piece]
        if place is None:
            return []
        d, (a, b, c, e, f, g) = places[place]["design"], places[place]["matrix"]
        turn = lambda v: (a * v[0] + c * v[1], b * v[0] + e * v[1])
        found = []
        for p, (at, out, count) in enumerate(rim_points[d]):
            moved = turn(at)
            end = End((moved[0] + f, moved[1] + g), ("rim", d, place if own else 0, p), turn(out), count)
            end.left = turn(left_of(out))
            found.append(end)
        return found

    top = chosen(instance["top"])
    for t, order in enumerate(instance["top"]):
        meetings, same, _ = sew(order, ends_of)
        y = [model.new_bool_var("") for _ in order["seams"]]
        for a, b, turned in same:
            equal(y[a], y[b], turned, top[t])
        for seam, a, b, weight in meetings:

            def falls_along(e):
                if e.key[0] == "rim":
                    return along(rims[e.key[1:]], e.left, seam)
                return along(y[e.key[0]], left_of(e.out) if e.key[1] else left_of((-e.out[0], -e.out[1])), seam)

            stack(falls_along(a), falls_along(b), weight, [top[t]])
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = 600
    status = solver.solve(model)
    assert status == cp_model.OPTIMAL, (instance["name"], own, solver.status_name(status))
    return round(solver.objective_value)


def main():
    results = []
    for instance in json.load(sys.stdin):
        results.append({"name": instance["name"], "one": solve(instance, False), "own": solve(instance, True)})
        print(results[-1], file=sys.stderr, flush=True)
    print("[\n" + ",\n".join(json.dumps(r) for r in results) + "\n]")


main()
