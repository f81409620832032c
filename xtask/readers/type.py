"""How large the type of a book is: `python type.py POINTS BOOK.pdf ...` prints every text outside of drawings and template sheets that is smaller,
and every word that leaves its page. Read by pikepdf from the content of each page, and by PyMuPDF for where words lie.
"""

import sys

import pikepdf
import pymupdf

SHEET = "print at 100 %"


def figures(pdf):
    """By page and number, the marked contents that belong to drawings."""
    inside = set()

    def walk(here, page, drawn):
        if isinstance(here, pikepdf.Array):
            for one in here:
                walk(one, page, drawn)
        elif isinstance(here, int):
            if drawn:
                inside.add((page, here))
        elif isinstance(here, pikepdf.Dictionary):
            page = here["/Pg"].objgen if "/Pg" in here else page
            if "/MCID" in here:
                if drawn:
                    inside.add((page, int(here["/MCID"])))
            elif "/K" in here:
                walk(here["/K"], page, drawn or str(here.get("/S", "")) == "/Figure")

    walk(pdf.Root.StructTreeRoot["/K"], None, False)
    return inside


def sizes(pdf, sheet, drawn):
    """The size of every text outside of drawings."""
    ctm, stack, marks = pikepdf.Matrix(), [], []
    size, placed = 0, pikepdf.Matrix()
    for operands, operator in pikepdf.parse_content_stream(sheet):
        sign = str(operator)
        if sign == "q":
            stack.append((ctm, size))
        elif sign == "Q":
            ctm, size = stack.pop()
        elif sign == "cm":
            ctm = pikepdf.Matrix(*[float(one) for one in operands]) @ ctm
        elif sign in ("BDC", "BMC"):
            said = operands[1] if len(operands) > 1 else None
            said = sheet.Resources.Properties[str(said)] if isinstance(said, pikepdf.Name) else said
            number = int(said["/MCID"]) if isinstance(said, pikepdf.Dictionary) and "/MCID" in said else None
            # Artifacts without words of their own, such as the hatching of a cloth, hold no text.
            marks.append((sheet.obj.objgen, number) in drawn or bool(marks and marks[-1]))
        elif sign == "EMC":
            marks.pop()
        elif sign == "BT":
            placed = pikepdf.Matrix()
        elif sign == "Tf":
            size = float(operands[1])
        elif sign == "Tm":
            placed = pikepdf.Matrix(*[float(one) for one in operands])
        elif sign in ("Tj", "TJ") and not (marks and marks[-1]):
            whole = placed @ ctm
            yield size * abs(whole.a * whole.d - whole.b * whole.c) ** 0.5


def main(least, books):
    wrong = texts = 0
    for book in books:
        with pikepdf.open(book) as pdf, pymupdf.open(book) as read:
            drawn = figures(pdf)
            for number, sheet in enumerate(pdf.pages, 1):
                page = read[number - 1]
                for x0, y0, x1, y1, word, *_ in page.get_text("words", clip=pymupdf.INFINITE_RECT()):
                    if not (18 <= x0 and x1 <= page.rect.width - 18 and 18 <= y0 and y1 <= page.rect.height - 18):
                        print(f"page {number}: `{word}` leaves the page at {x0:.0f} {y0:.0f} {x1:.0f} {y1:.0f}")
                        wrong += 1
                if SHEET in page.get_text():
                    continue
                for size in sizes(pdf, sheet, drawn):
                    texts += 1
                    if size < least - 0.01:
                        print(f"page {number}: a text of {size:.1f} points")
                        wrong += 1
    assert texts > 100, f"only {texts} texts were found"
    sys.exit(1 if wrong else 0)


main(float(sys.argv[1]), sys.argv[2:])
