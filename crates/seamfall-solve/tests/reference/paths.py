"""Fewest starts of quilting paths by a general-purpose graph library, to compare ours with.

In: nothing; figures are made here, from points and lines in ticks of 1/32 in, by a seeded chance. A figure is a list of straight lines between
points; ways are all pairs of points within a reach. Out: `paths.json`: for every figure its lines and ways, and

- `unaided`: sum over connected components of max(1, odd nodes / 2);
- `least`: sum over clusters (components of lines and ways together) of max(1, (odd nodes - 2 M) / 2), where M is the size of a maximum
  matching of the odd nodes along ways;
- `travelled`: the least total length of such a matching.

Components, and the matching (maximum cardinality, then minimum weight), are networkx's.

    python3 paths.py > paths.json        (networkx 3.6, Python 3.11)
"""

import json
import math
import random

import networkx as nx


def figure(name, segments, reach, ways_at=None):
    """Lines between numbered points; points that coincide are one."""
    numbers = {}
    number = lambda p: numbers.setdefault(p, len(numbers))
    lines = [(number(a), number(b), max(1, round(math.dist(a, b)))) for a, b in segments]
    points = list(numbers)
    ways = []
    for i, p in enumerate(points):
        for j in range(i):
            d = math.dist(p, points[j])
            if d <= reach and (ways_at is None or ways_at(p, points[j])):
                ways.append((j, i, max(1, round(d))))
    return name, len(points), lines, ways


def solve(nodes, lines, ways):
    graph = nx.MultiGraph()
    graph.add_edges_from((a, b) for a, b, _ in lines)
    odd = {n for n, d in graph.degree() if d % 2}
    unaided = sum(max(1, len(odd & part) // 2) for part in nx.connected_components(graph))
    pairs = nx.Graph()
    for a, b, length in ways:
        if a in odd and b in odd and a != b and length < pairs.get_edge_data(a, b, {"weight": 1 << 40})["weight"]:
            pairs.add_edge(a, b, weight=length)
    matching = nx.min_weight_matching(pairs)
    assert len(matching) == len(nx.max_weight_matching(pairs, maxcardinality=True))
    travelled = sum(pairs[a][b]["weight"] for a, b in matching)
    paired = {n for pair in matching for n in pair}
    clusters = nx.Graph(graph)
    clusters.add_edges_from((a, b) for a, b, _ in ways if a in graph and b in graph)
    least = sum(max(1, len((odd - paired) & part) // 2) for part in nx.connected_components(clusters))
    return unaided, least, travelled


def grid(n, step):
    across = [((0, i * step), (n * step, i * step)) for i in range(1, n)]
    return across + [((y, x), (b, a)) for (x, y), (a, b) in across]


def noded(n, step):
    """The same crossed lines, cut where they cross."""
    level = [((i * step, j * step), ((i + 1) * step, j * step)) for i in range(n) for j in range(1, n)]
    return level + [((b, a), (d, c)) for (a, b), (c, d) in level]


def star(spokes, radius, turns=0.0):
    at = lambda k: (round(radius * math.cos(2 * math.pi * (k + turns) / spokes)), round(radius * math.sin(2 * math.pi * (k + turns) / spokes)))
    return [((0, 0), at(k)) for k in range(spokes)]


def ring(middle, radius, corners):
    at = lambda k: (middle[0] + round(radius * math.cos(2 * math.pi * k / corners)), middle[1] + round(radius * math.sin(2 * math.pi * k / corners)))
    return [(at(k), at(k + 1)) for k in range(corners)]


def scattered(seed, count, size, longest):
    chance = random.Random(seed)
    segments = []
    for _ in range(count):
        a = (chance.randrange(size), chance.randrange(size))
        turn, length = chance.uniform(0, 2 * math.pi), chance.randrange(20, longest)
        segments.append((a, (a[0] + round(length * math.cos(turn)), a[1] + round(length * math.sin(turn)))))
    return segments


def snapped(seed, count, cells, step):
    chance = random.Random(seed)
    point = lambda: (chance.randrange(cells) * step, chance.randrange(cells) * step)
    segments = [(point(), point()) for _ in range(count)]
    return [(a, b) for a, b in segments if a != b]


INCH = 32
figures = [
    figure("parallel lines an inch apart", [((0, i * INCH), (12 * INCH, i * INCH)) for i in range(12)], INCH),
    figure("parallel lines two inches apart", [((0, i * 2 * INCH), (12 * INCH, i * 2 * INCH)) for i in range(6)], INCH),
    figure("crossed lines, reach a step", noded(6, 2 * INCH), 2 * INCH),
    figure("crossed lines, no reach", noded(6, 2 * INCH), 0),
    figure("crossed lines, ends along the edge only", noded(8, INCH), INCH, lambda p, q: 0 in p or 0 in q),
    figure("star of seven", star(7, 5 * INCH), 4 * INCH),
    figure("star of eight", star(8, 5 * INCH), 4 * INCH),
    figure("star of nine, reach to the second", star(9, 5 * INCH), 7 * INCH),
    figure("echoes", sum((ring((0, 0), r * INCH, 24) for r in range(1, 7)), []), INCH),
    figure("echoes too far apart", sum((ring((0, 0), r * INCH, 12) for r in range(1, 7)), []), INCH - 8),
    figure("rings beside lines", ring((64, 40), 16, 8) + [((0, 0), (128, 0)), ((0, 80), (128, 80))], 30),
    figure("three rings and a line", ring((0, 0), 20, 6) + ring((60, 0), 20, 6) + ring((120, 0), 20, 6) + [((-20, 40), (140, 40))], 24),
]
for seed in range(8):
    figures.append(figure(f"scattered lines {seed}", scattered(seed, 20 + 12 * seed, 12 * INCH, 4 * INCH), [16, 24, 32, 40][seed % 4]))
for seed in range(8):
    figures.append(figure(f"lines on a grid {seed}", snapped(100 + seed, 12 + 8 * seed, 6 + seed, 20), [20, 29, 41, 45][seed % 4]))
figures.append(figure("a crowded section", scattered(77, 220, 24 * INCH, 5 * INCH), 24))
figures.append(figure("crossed lines by chance", snapped(78, 160, 14, 30), 43))

out = []
for name, nodes, lines, ways in figures:
    unaided, least, travelled = solve(nodes, lines, ways)
    out.append({"name": name, "nodes": nodes, "lines": lines, "ways": ways, "unaided": unaided, "least": least, "travelled": travelled})
print("[\n" + ",\n".join(json.dumps(one, separators=(",", ":")) for one in out) + "\n]")
