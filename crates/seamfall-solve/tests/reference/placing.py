"""Placings by a general-purpose exact solver, to compare ours with.

In: nothing; instances are made here by a seeded chance. An instance has `columns` x `rows` places, row by row from below, item `i` at home in place `i`;
four sides an item (lower, right, upper, left); kinds; items that stay. Out: `placing.json`: the instances, each with

- `least`: the least sum of |side - side| over all neighbours, items in places of their own kind, those that stay at home.

It is a whole-number programme: how many items of each sort (kind and sides) stand in each place, and a variable for every difference. CP-SAT
proves every `least` here; an instance that it does not prove within ten minutes stops the script.

    python3 placing.py > placing.json        (ortools 9.15, Python 3.11)
"""

import json
import random
import sys

from ortools.sat.python import cp_model


def meetings(columns, rows):
    at = lambda x, y: y * columns + x
    level = [((at(x - 1, y), 1), (at(x, y), 3)) for y in range(rows) for x in range(1, columns)]
    return level + [((at(x, y - 1), 2), (at(x, y), 0)) for y in range(1, rows) for x in range(columns)]


def solve(columns, rows, sides, kinds, fixed):
    model, places = cp_model.CpModel(), range(columns * rows)
    free = [p for p in places if not fixed[p]]
    sorts = sorted({(kinds[i], tuple(sides[i])) for i in free})
    number = {sort: sum((kinds[i], tuple(sides[i])) == sort for i in free) for sort in sorts}
    stands = {(p, sort): model.new_bool_var("") for p in free for sort in sorts if sort[0] == kinds[p]}
    for p in free:
        model.add_exactly_one(stands[p, sort] for sort in sorts if (p, sort) in stands)
    for sort in sorts:
        model.add(sum(stands[p, sort] for p in free if (p, sort) in stands) == number[sort])

    def side(p, s):
        return sides[p][s] if fixed[p] else sum(sort[1][s] * stands[p, sort] for sort in sorts if (p, sort) in stands)

    values = [v for one in sides for v in one]
    spread, differences = max(values) - min(values), []
    for (a, s), (b, t) in meetings(columns, rows):
        d = model.new_int_var(0, spread, "")
        model.add(d >= side(a, s) - side(b, t))
        model.add(d >= side(b, t) - side(a, s))
        differences.append(d)
    model.minimize(sum(differences))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 600
    assert solver.solve(model) == cp_model.OPTIMAL, "not proven in time"
    return round(solver.objective_value)


def instance(seed, columns, rows, ways, spread, rare=1, kinds="one", stay=0):
    """`ways`: 1, 2 or 4 values an item; of `rare` items one is short by up to `spread`, the others by nothing."""
    chance, places = random.Random(seed), range(columns * rows)
    short = lambda: -chance.randint(0, spread)
    sides = []
    for _ in places:
        a, b, c, d = (short(), short(), short(), short()) if chance.randrange(rare) == 0 else (0, 0, 0, 0)
        sides.append({1: [a, a, a, a], 2: [a, b, a, b], 4: [a, b, c, d]}[ways])
    of = {
        "one": lambda p: 0,
        "turns": lambda p: (p % columns + p // columns) % 2,
        "edge": lambda p: int(p % columns in (0, columns - 1)) + 2 * int(p // columns in (0, rows - 1)),
    }[kinds]
    staying = set(chance.sample(list(places), stay))
    name = f"{columns} x {rows}, {ways} values to {spread}, one of {rare}, {kinds} kinds, {stay} stay"
    return name, columns, rows, sides, [of(p) for p in places], [p in staying for p in places]


instances = [
    instance(1, 3, 2, 1, 9),
    instance(2, 3, 2, 4, 9),
    instance(3, 3, 3, 1, 20),
    instance(4, 3, 3, 2, 6),
    instance(5, 3, 3, 4, 6),
    instance(6, 4, 3, 1, 12),
    instance(7, 4, 3, 2, 3),
    instance(8, 4, 3, 4, 2),
    instance(9, 4, 3, 1, 8, stay=3),
    instance(10, 4, 4, 1, 4),
    instance(11, 4, 4, 2, 3, rare=2),
    instance(12, 4, 4, 4, 3, rare=3),
    instance(13, 4, 4, 1, 5, kinds="turns"),
    instance(14, 4, 4, 2, 3, rare=2, kinds="edge"),
    instance(15, 4, 4, 1, 6, stay=4),
    instance(16, 5, 4, 1, 2, rare=3),
    instance(17, 5, 5, 1, 4, rare=6),
    instance(18, 5, 5, 2, 3, rare=5),
    instance(19, 5, 5, 4, 3, rare=5),
    instance(20, 5, 5, 1, 3, rare=5, kinds="turns"),
    instance(21, 5, 5, 1, 3, rare=3, kinds="edge", stay=2),
    instance(22, 6, 5, 1, 3, rare=7),
]

out = []
for name, columns, rows, sides, kinds, fixed in instances:
    least = solve(columns, rows, sides, kinds, fixed)
    print(name, least, file=sys.stderr)
    out.append({"name": name, "columns": columns, "rows": rows, "sides": sides, "kinds": kinds, "fixed": fixed, "least": least})
print("[\n" + ",\n".join(json.dumps(one, separators=(",", ":")) for one in out) + "\n]")
