"""Whether mats hold what the plan says: `python mats.py EXPECTED.json`, which names a folder of DXF and what should be in it.

Read by ezdxf, measured by shapely. Every piece is closed and lies on the mat, no two are nearer than the gap, seams lie inside of cuts, and over all
mats, each as often as it is cut, every cloth has its pieces by number and area. A folder cut face down is the mirror image of another.
"""

import json
import sys
from collections import Counter
from pathlib import Path

import ezdxf
from ezdxf import path as ways
from shapely.geometry import Polygon, box

HAIR = 1e-6


def polygons(drawing, layer):
    for entity in drawing.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'):
        assert entity.closed, f"an outline on {layer} is open"
        corners = [(point.x, point.y) for point in ways.make_path(entity).flattening(1e-5)]
        rough = Polygon(corners)
        # Two lines of one arc may cross by a millionth of a hair where they meet.
        clean = rough.buffer(0)
        assert clean.geom_type == "Polygon" and abs(clean.area - rough.area) < HAIR, f"an outline on {layer} crosses itself"
        yield clean


def main(expected):
    said = json.loads(Path(expected).read_text())
    folder = Path(said["folder"])
    wide, long = said["mat"]
    mat = box(-HAIR, -HAIR, wide + HAIR, long + HAIR)
    found = {cloth: [] for cloth in said["cloths"]}
    assert {file.stem for file in folder.glob("*.dxf")} == set(said["times"]), "other mats than were told"
    for file in sorted(folder.glob("*.dxf")):
        drawing = ezdxf.readfile(file)
        assert not drawing.audit().errors, f"{file.name}: {drawing.audit().errors}"
        assert drawing.header["$INSUNITS"] == said["unit"], file.name
        (edge,) = polygons(drawing, "MAT")
        assert abs(edge.area - wide * long) < HAIR, file.name
        cuts, seams = list(polygons(drawing, "CUT")), list(polygons(drawing, "SEW"))
        labels = drawing.modelspace().query('TEXT[layer=="LABEL"]')
        assert cuts and len(labels) == len(cuts), f"{file.name}: {len(cuts)} pieces, {len(labels)} labels"
        for at, cut in enumerate(cuts):
            assert mat.contains(cut), f"{file.name}: piece {at} is not on the mat"
            for other in cuts[at + 1 :]:
                assert cut.distance(other) > said["gap"] - 1e-3, f"{file.name}: two pieces are {cut.distance(other)} apart"
        for seam in seams:
            assert any(cut.buffer(HAIR).contains(seam) for cut in cuts), f"{file.name}: a seam is not inside a piece"
        found[file.stem.rsplit("-", 1)[0]] += [cut.area for cut in cuts] * said["times"][file.stem]
        if mirrored := said.get("mirror_of"):
            other = ezdxf.readfile(Path(mirrored) / file.name)
            ours = Counter((round(wide - cut.centroid.x, 4), round(cut.centroid.y, 4)) for cut in cuts)
            assert ours == Counter((round(cut.centroid.x, 4), round(cut.centroid.y, 4)) for cut in polygons(other, "CUT")), file.name
    for cloth, pieces in said["cloths"].items():
        wanted = sorted(area for area, count in pieces for _ in range(count))
        assert len(found[cloth]) == len(wanted), f"{cloth}: {len(found[cloth])} pieces for {len(wanted)}"
        for cut, area in zip(sorted(found[cloth]), wanted):
            assert abs(cut - area) < 1e-3 * area, f"{cloth}: {cut} for {area}"


main(sys.argv[1])
