"""What a stranger who knows only the description asks with: numbers of quilts that there are, and the state they stand at, so that it gets further than
the door. Loaded by schemathesis (SCHEMATHESIS_HOOKS); a quarter of all is left as it was made up."""

import os
import random
import urllib.request

import schemathesis

chance = random.Random(7)
FILES = ["1.svg", "0.svg", "A.svg", "lines.svg", "way.json", "colours.jpg", "night-1.dxf", "half.dxf", "3.toml", "lamplight.svg", "churn-dash.svg", "cable.svg"]
KNOWN = {
    "id": [1, 2, 3],
    "version": [1, 2],
    "own": [1, 2, "1.svg", "1.toml"],
    "member": [1, 2, 3, 4],
    "invitation": [1, 2, 12],
    "key": ["night", "day", "half", "backing", "batting"],
    "block": ["half", "plain", "half.dxf"],
    "element": ["A1", "B2", "S1", "band-1"],
    "name": ["findings", "fit", "cut", "falls", "S1", "S2", "workroom.js", "workroom.css", "words.js"],
    "demo": ["lamplight", "tide-pool"],
    "file": FILES,
}


# In a guild: the cookies of its keeper, of one who may be signed out, and of members who take turns, so that none asks too often.
KEEPER, LEAVER, *MEMBERS = os.environ.get("SEAMFALL_COOKIES", "  ").split(" ")
KEEPS = "/members/invit"


def cookie(method, path):
    if path.startswith(KEEPS):
        return KEEPER
    return LEAVER if method == "POST" and path.startswith("/sign-out") else chance.choice(MEMBERS)


def revision(base, quilt):
    asked = urllib.request.Request(f"{base}/q/{quilt}/revision", headers={"cookie": cookie("GET", "")} if KEEPER else {})
    try:
        with urllib.request.urlopen(asked, timeout=30) as answer:
            return int(answer.read())
    except (OSError, ValueError):
        return 1


@schemathesis.hook
def map_path_parameters(context, path_parameters):
    for name in path_parameters or {}:
        if name in KNOWN and chance.random() < 0.75:
            path_parameters[name] = chance.choice(KNOWN[name])
    return path_parameters


@schemathesis.hook
def before_call(context, case, kwargs):
    if KEEPER:
        case.cookies = {}
        case.headers = {**(case.headers or {}), "Cookie": cookie(case.method.upper(), case.operation.path)}
    body = case.body
    if isinstance(body, dict) and isinstance(body.get("revision"), int) and chance.random() < 0.75:
        base = case.operation.base_url
        body["revision"] = revision(base, (case.path_parameters or {}).get("id", 1))
