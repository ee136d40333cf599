"""A checker for points of PDF/UA that a machine can decide. It claims these points and nothing more.

Numbers are those of the Matterhorn Protocol 1.1 (PDF Association, 2021), from memory; the rules behind them stand in
ISO 14289-1:2014 and ISO 32000-1:2008, 14.6 to 14.8. Each point is a function that yields what is wrong."""
import re

import pikepdf
from pikepdf import Array, Dictionary, Name

TYPES = {"Document", "H1", "H2", "H3", "P", "Table", "TR", "TH", "TD", "Figure", "Form"}


class Report:
    """The file once read: its elements in reading order, and the marked content of each page."""

    def __init__(self, file):
        self.pdf = pikepdf.open(file)
        self.root = self.pdf.Root.get("/StructTreeRoot")
        self.elements = []  # (element, parent)
        if self.root is not None:
            self.walk(self.root.K, None)
        self.pages = [list(self.content_of(page)) for page in self.pdf.pages]

    def walk(self, element, parent):
        self.elements.append((element, parent))
        for kid in self.kids(element):
            if isinstance(kid, Dictionary) and kid.get("/Type") == Name.StructElem:
                self.walk(kid, element)

    @staticmethod
    def kids(element):
        held = element.get("/K")
        return [] if held is None else list(held) if isinstance(held, Array) else [held]

    @staticmethod
    def content_of(page):
        """(depth, tag, number or None, painted operators inside) of each run, and (0, None, …) for what is outside any."""
        depth, tag, number, painted, outside = 0, None, None, 0, 0
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name in ("BMC", "BDC"):
                depth += 1
                if depth > 1:
                    yield depth, str(operands[0]), None, 0
                tag = str(operands[0])[1:]
                number = int(operands[1].MCID) if name == "BDC" and "/MCID" in operands[1] else None
                painted = 0
            elif name == "EMC":
                yield depth, tag, number, painted
                depth -= 1
            elif name in ("Tj", "TJ", "'", '"', "Do", "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "INLINE IMAGE"):
                painted += 1
                outside += depth == 0
        yield 0, None, None, outside
        if depth:
            yield depth, "not ended", None, 0

    def named(self, *names):
        return [(e, p) for e, p in self.elements if str(e.S)[1:] in names]


def p01_003(r):
    """Marked content inside marked content (an artifact in real content or the other way round)."""
    yield from (f"page {i + 1}" for i, runs in enumerate(r.pages) for run in runs if run[0] > 1)


def p01_005(r):
    """Something is drawn that is neither real content nor an artifact."""
    yield from (f"page {i + 1}: {run[3]} operators" for i, runs in enumerate(r.pages) for run in runs if run[0] == 0 and run[3])


def p01_006(r):
    """A type of element that is not one of the standard's."""
    yield from (str(e.S) for e, _ in r.elements if str(e.S)[1:] not in TYPES)


def p01_007(r):
    """The file does not say that it is marked."""
    if r.root is None or not r.pdf.Root.get("/MarkInfo", {}).get("/Marked", False):
        yield "no /MarkInfo with /Marked true, or no structure tree"


def p06_003(r):
    """No title in the description for machines."""
    about = r.pdf.Root.get("/Metadata")
    if about is None or not re.search(rb"<dc:title>.*<rdf:li[^>]*>[^<]+</rdf:li>", about.read_bytes(), re.S):
        yield "no dc:title"


def p07_001(r):
    """The window does not show the title."""
    if not r.pdf.Root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False):
        yield "no /DisplayDocTitle true"


def p09_004(r):
    """Parts of tables elsewhere than tables are made of; rows of different length."""
    places = {"TR": "/Table", "TH": "/TR", "TD": "/TR"}
    holds = {"/Table": {"TR"}, "/TR": {"TH", "TD"}}
    for element, parent in r.elements:
        kind = str(element.S)[1:]
        over = str(parent.S) if parent is not None else ""
        if over != places.get(kind, over) or kind not in holds.get(over, {kind}):
            yield f"{kind} in {over}"
    for table, _ in r.named("Table"):
        widths = {sum(int(c.get("/A", {}).get("/ColSpan", 1)) for c in Report.kids(row)) for row in Report.kids(table)}
        if len(widths) != 1:
            yield f"a table with rows of {sorted(widths)} cells"


def p11_001(r):
    """The language of the text is not said."""
    if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]+)*", str(r.pdf.Root.get("/Lang", ""))):
        yield "no /Lang"


def p13_004(r):
    """A figure without words for it."""
    yield from ("a figure" for e, _ in r.named("Figure") if not str(e.get("/Alt", "")).strip())


def p14_002(r):
    """Headings that do not begin with the first, or leave out a level."""
    level = 0
    for element, _ in r.named("H1", "H2", "H3"):
        now = int(str(element.S)[2:])
        if now > level + 1:
            yield f"{element.S} after level {level}"
        level = now


def p15_003(r):
    """A head cell that does not say what it heads."""
    yield from ("a head cell" for e, _ in r.named("TH") if "/Scope" not in e.get("/A", {}))


def p19_003(r):
    """A run that no element holds, or an element that holds a run that is not there; a wrong way back to the element."""
    held = {}
    for element, _ in r.elements:
        for kid in r.kids(element):
            if isinstance(kid, int):
                held[element.Pg.objgen, kid] = element
            elif isinstance(kid, Dictionary) and kid.get("/Type") == Name.MCR:
                held[kid.Pg.objgen, int(kid.MCID)] = element
    back = {int(n): v for n, v in zip(list(r.root.ParentTree.Nums)[::2], list(r.root.ParentTree.Nums)[1::2])} if r.root is not None else {}
    drawn = set()
    for page, runs in zip(r.pdf.pages, r.pages):
        for _, tag, number, _ in runs:
            if number is None:
                continue
            key = (page.obj.objgen, number)
            drawn.add(key)
            if key not in held:
                yield f"run {number} of {key} is in no element"
            elif back[int(page.obj.StructParents)][number].objgen != held[key].objgen or str(held[key].S)[1:] != tag:
                yield f"run {number} leads to another element"
    if set(held) - drawn:
        yield f"{len(set(held) - drawn)} runs are held and not drawn"


def p26_001(r):
    """Encrypted."""
    if r.pdf.is_encrypted:
        yield "encrypted"


def p28_004(r):
    """A field without words for it, outside a form element, or a page whose order of tabs is not that of the structure."""
    forms = {kid.Obj.objgen for e, _ in r.named("Form") for kid in r.kids(e) if isinstance(kid, Dictionary)}
    for number, page in enumerate(r.pdf.pages, 1):
        notes = page.obj.get("/Annots", [])
        if len(notes) and page.obj.get("/Tabs") != Name.S:
            yield f"page {number}: no /Tabs /S"
        for note in notes:
            if note.objgen not in forms or not str(note.get("/TU", "")).strip():
                yield f"page {number}: an annotation outside the structure, or without words"


def p31_009(r):
    """A font that is not inside the file."""
    for font in (o for o in r.pdf.objects if isinstance(o, Dictionary) and o.get("/Type") == Name.FontDescriptor):
        if "/FontFile2" not in font:
            yield str(font.FontName)


def p10_001(r):
    """A font whose codes lead to no letters."""
    for font in (o for o in r.pdf.objects if isinstance(o, Dictionary) and o.get("/Subtype") == Name.Type0):
        if "/ToUnicode" not in font:
            yield str(font.BaseFont)


POINTS = [p01_003, p01_005, p01_006, p01_007, p06_003, p07_001, p09_004, p10_001, p11_001, p13_004, p14_002, p15_003, p19_003, p26_001,
          p28_004, p31_009]


def findings(file):
    report = Report(file)
    return {point.__name__[1:].replace("_", "-"): list(point(report)) for point in POINTS}
