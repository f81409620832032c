"""Whether books can be read aloud: `python tagged.py BOOK.pdf ...` prints what is wrong, a line each, and fails if there is any.

Three readers, none of ours: page-validation holds a book to all of PDF/UA-1 (ISO 14289-1) that a machine can see; outloud looks for
what keeps those rules and is still no good to a listener; and below, with pikepdf, the structure is walked once more by itself.
"""

import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import page
import pikepdf

# Of outloud's rules these are wrong about a book: templates fill their sheet (TAG-030), cards in a grid are read one by one
# (TBL-014), every sheet has its test squares (PAG-001), and the header of a table is no content where its next page repeats it (TAG-002).
NOT_OURS = "TAG-030,TBL-014,PAG-001,TAG-002"


def by_the_standard(book):
    report = page.validate_pdf(book, profile="ua1")
    assert report.rules.total > 100, f"only {report.rules.total} rules were looked at"
    for failure in report.failures:
        yield f"{failure.rule_id}: {failure.message}"


def by_the_listener(book):
    tool = Path(sys.executable).with_name("outloud")
    asked = [tool, book, "--json", "-", "--skip", NOT_OURS, "--fail-on", "never", "--quiet"]
    text = subprocess.run(asked, capture_output=True, text=True, check=True).stdout
    (report,) = json.loads(text[text.index("{") : text.rindex("}") + 1])["results"]
    assert report["error"] is None and report["stats"]["pages"] > 0, report
    for found in report["findings"]:
        if found["severity"] in ("error", "warning"):
            yield f"{found['rule']}, page {found.get('page')}: {found['message']}"


def by_the_structure(book):
    with pikepdf.open(book) as pdf:
        root = pdf.Root
        if str(root.get("/Lang", "")) != "en":
            yield "the language is not said"
        if not root.get("/MarkInfo", {}).get("/Marked", False):
            yield "it is not marked as tagged"
        if not root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False):
            yield "its title is not shown"
        yield from elements(root.StructTreeRoot)
        for number, sheet in enumerate(pdf.pages, 1):
            if "/StructParents" not in sheet:
                yield f"page {number} has no way into the structure"
            yield from loose(number, sheet)


def elements(root):
    """Figures with words, headings in order, tables whose columns have names; counts, so that none of it is empty."""
    level, figures, tables = 0, 0, 0
    todo = [root]
    while todo:
        here = todo.pop()
        if isinstance(here, pikepdf.Array):
            todo.extend(reversed(list(here)))
            continue
        if not isinstance(here, pikepdf.Dictionary):
            continue
        kind = str(here.get("/S", ""))
        if kind == "/Figure":
            figures += 1
            if not str(here.get("/Alt", "")).strip():
                yield "a figure has no words"
        if heading := re.fullmatch(r"/H([1-6])", kind):
            now = int(heading[1])
            if now > level + 1:
                yield f"a heading of level {now} follows one of level {level}"
            level = now
        if kind == "/Table":
            tables += 1
            if not any(str(cell.get("/S", "")) == "/TH" for cell in below(here)):
                yield "a table has no header"
        if "/K" in here:
            todo.append(here["/K"])
    if level == 0 or figures == 0 or tables == 0:
        yield f"there should be headings, figures and tables; there are {figures} figures and {tables} tables"


def below(element):
    todo = [element]
    while todo:
        here = todo.pop()
        if isinstance(here, pikepdf.Array):
            todo.extend(here)
        elif isinstance(here, pikepdf.Dictionary):
            yield here
            if "/K" in here:
                todo.append(here["/K"])


PAINTS = {"f", "F", "f*", "B", "B*", "b", "b*", "s", "S", "sh", "Do", "Tj", "TJ", "'", '"', "EI"}


def loose(number, sheet):
    """What is painted outside of every tag and is no artifact either."""
    depth, marked = 0, []
    for operands, operator in pikepdf.parse_content_stream(sheet):
        sign = str(operator)
        if sign in ("BDC", "BMC"):
            known = str(operands[0]) == "/Artifact" or (sign == "BDC" and "/MCID" in properties(sheet, operands[1]))
            marked.append(known or bool(marked and marked[-1]))
        elif sign == "EMC":
            marked.pop()
        elif sign in PAINTS and not (marked and marked[-1]):
            yield f"page {number}: `{sign}` paints what has no tag"
            return
    if marked:
        yield f"page {number}: {len(marked)} tags are left open"


def properties(sheet, said):
    return sheet.Resources.Properties[str(said)] if isinstance(said, pikepdf.Name) else said


CHECKS = (by_the_standard, by_the_listener, by_the_structure)


def spoilt(book, folder):
    """Copies of a book, each with one thing wrong, and the checks that must see it."""

    def first(pdf, kind):
        return next(one for one in below(pdf.Root.StructTreeRoot) if str(one.get("/S", "")) == kind)

    def headers(pdf):
        for cell in below(first(pdf, "/Table")):
            if str(cell.get("/S", "")) == "/TH":
                cell.S = pikepdf.Name.TD

    def untagged(pdf):
        sheet = pdf.pages[0]
        plain = [one for one in pikepdf.parse_content_stream(sheet) if str(one.operator) not in ("BDC", "BMC", "EMC")]
        sheet.Contents = pdf.make_stream(pikepdf.unparse_content_stream(plain))

    ways = {
        "no words": (lambda pdf: first(pdf, "/Figure").__delitem__("/Alt"), CHECKS),
        "no language": (lambda pdf: pdf.Root.__delitem__("/Lang"), CHECKS),
        "no headers": (headers, (by_the_structure,)),
        "a level left out": (lambda pdf: setattr(first(pdf, "/H2"), "S", pikepdf.Name.H4), (by_the_standard, by_the_structure)),
        "not tagged": (untagged, (by_the_standard, by_the_structure)),
    }
    for name, (spoil, checks) in ways.items():
        with pikepdf.open(book) as pdf:
            spoil(pdf)
            pdf.save(Path(folder) / f"{name}.pdf")
        yield name, str(Path(folder) / f"{name}.pdf"), checks


def main(books):
    wrong = 0
    for book in books:
        for check in CHECKS:
            for line in check(book):
                print(f"{Path(book).name}: {line}")
                wrong += 1
    # And what is wrong is seen: the first book, spoilt.
    with tempfile.TemporaryDirectory() as folder:
        for name, copy, checks in spoilt(books[0], folder):
            for check in checks:
                if not any(True for _ in check(copy)):
                    print(f"{check.__name__} does not see `{name}`")
                    wrong += 1
    sys.exit(1 if wrong else 0)


main(sys.argv[1:])
