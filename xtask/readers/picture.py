"""Whether a picture shows what it should: `python picture.py EXPECTED.json`, its size and colours at known places. Read by Pillow."""

import json
import sys
from pathlib import Path

from PIL import Image

said = json.loads(Path(sys.argv[1]).read_text())
with Image.open(said["file"]) as picture:
    assert picture.format == "PNG" and list(picture.size) == said["size"], f"{picture.format} of {picture.size}"
    pixels = picture.convert("RGB")
    for x, y, colour in said["pixels"]:
        found = "#{:02x}{:02x}{:02x}".format(*pixels.getpixel((x, y)))
        assert found == colour, f"at {x}, {y} it is {found}, not {colour}"
    # The longest dark run in any row, where one is told.
    if run := said.get("run"):
        longest = 0
        for y in range(pixels.height):
            now = 0
            for x in range(pixels.width):
                now = now + 1 if max(pixels.getpixel((x, y))) < 100 else 0
                longest = max(longest, now)
        assert abs(longest - run) <= 3, f"{longest} for {run}"
