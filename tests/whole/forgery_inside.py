"""Altered reports by someone who holds the company's key: the seal is good, only the shape tells. Same triples as outside.

Against this forger `attest` protects one thing: that what a reader shows is what was sealed, always and for everyone.
A false number drawn on the page and sealed with the key is beyond any seal; the journal is what contradicts it."""
import io, re

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream, String

from forger import bare, remade, saved, sealed

LAYOUT, UNREADABLE = "added, hidden or rearranged", "cannot be read as a PDF of one piece"
KIND, ONE_FIELD = "An object is of the kind", "exactly one field"


def holds(key):
    return f"holds {key}, which ours never do"


def script(pdf):
    return pdf.make_indirect(Dictionary(S=Name.JavaScript, JS=String("app.alert(1)")))


def note(pdf, kind, **more):
    return pdf.make_indirect(Dictionary(Type=Name.Annot, Subtype=Name("/" + kind), Rect=Array([90, 90, 400, 400]), F=4, **more))


def add_note(kind, **more):
    return lambda pdf: pdf.pages[1].obj.__setitem__(Name.Annots, Array([note(pdf, kind, **more)]))


def put(where, key, value):
    """`value` builds the thing, so that it belongs to the file."""
    def change(pdf):
        where(pdf)[Name(key)] = value(pdf) if callable(value) else value
    return change


root = lambda pdf: pdf.Root
page = lambda pdf: pdf.pages[0].obj
form = lambda pdf: pdf.Root.AcroForm


def first(kind):
    def find(pdf):
        named = (o for o in pdf.objects if isinstance(o, (Dictionary, Stream)))
        return next(o for o in named if str(o.get("/Type", "")) + str(o.get("/Subtype", "")) == kind)
    return find


def drawn(pdf):
    return Stream(pdf, b"q Q", Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 300, 300]))


def actions(g, keys):
    for name, key, where, value in (
            ("script on opening", "/OpenAction", root, script), ("action on closing", "/AA", root, lambda p: Dictionary(WC=script(p))),
            ("action of a page", "/AA", page, lambda p: Dictionary(O=script(p))),
            ("names of scripts", "/Names", root, lambda p: Dictionary(JavaScript=Dictionary(Names=Array([String("a"), script(p)])))),
            ("program started", "/OpenAction", root, lambda p: Dictionary(S=Name.Launch, F=String("other"))),
            ("form sent away", "/OpenAction", root, lambda p: Dictionary(S=Name.SubmitForm, F=String("http://localhost"))),
            ("data fetched", "/OpenAction", root, lambda p: Dictionary(S=Name.ImportData, F=String("other.fdf"))),
            ("other file opened", "/OpenAction", root, lambda p: Dictionary(S=Name.GoToR, F=String("other.pdf"), D=Array([0, Name.Fit]))),
            ("form of the other language", "/XFA", form, lambda p: Stream(p, b"<xdp/>")),
            ("reckoning order", "/CO", form, lambda p: Array([]))):
        yield name, remade(g, put(where, key, value), keys), holds(key)
    link = lambda p: p.make_indirect(Dictionary(S=Name.URI, URI=String("http://localhost")))
    yield "link out of the file", remade(g, lambda p: p.pages[0].obj.Annots.append(note(p, "Link", A=link(p))), keys), holds("/A")
    yield "outline that acts", remade(g, lambda p: p.Root.Outlines.First.__setitem__(Name.A, script(p)), keys), holds("/A")


def layers(g, keys):
    group = lambda p: p.make_indirect(Dictionary(Type=Name.OCG, Name=String("a")))
    listed = lambda p: Dictionary(OCGs=Array([group(p)]), D=Dictionary(OFF=Array([])))
    yield "layers of the file", remade(g, put(root, "/OCProperties", listed), keys), holds("/OCProperties")
    yield "layer of a picture", remade(g, put(first("/XObject/Image"), "/OC", group), keys), holds("/OC")
    of_page = lambda p: p.pages[0].obj.Resources
    yield "layers of a page", remade(g, put(of_page, "/Properties", lambda p: Dictionary(MC0=group(p))), keys), holds("/Properties")
    yield "a layer that depends", remade(g, put(first("/XObject/Image"), "/OC", lambda p: Dictionary(Type=Name.OCMD)), keys), KIND


def files(g, keys):
    def spec(p):
        return p.make_indirect(Dictionary(Type=Name.Filespec, F=String("a.exe"), EF=Dictionary(F=Stream(p, b"MZ", Type=Name.EmbeddedFile))))
    named = lambda p: Dictionary(EmbeddedFiles=Dictionary(Names=Array([String("a"), spec(p)])))
    yield "attached by name", remade(g, put(root, "/Names", named), keys), holds("/Names")
    yield "attached to the file", remade(g, put(root, "/AF", lambda p: Array([spec(p)])), keys), holds("/AF")
    yield "a collection", remade(g, put(root, "/Collection", Dictionary()), keys), holds("/Collection")
    yield "pinned to a page", remade(g, lambda p: add_note("FileAttachment", FS=spec(p))(p), keys), KIND
    yield "a stream kept elsewhere", remade(g, put(first("/XObject/Image"), "/F", String("other.jpg")), keys), holds("/F")
    about = lambda p: Stream(p, b"<x/>", Type=Name.Metadata, Subtype=Name.XML)
    yield "described from outside", remade(g, put(root, "/Metadata", about), keys), "describes itself"


def shadow_prepared(g, keys):
    image = first("/XObject/Image")
    pictures = lambda p: next(q.obj.Resources.XObject for q in p.pages if "/XObject" in q.obj.Resources)
    yield "a drawing ready to be shown", remade(g, put(pictures, "/X90", drawn), keys), KIND
    for_print = Array([Dictionary(DefaultForPrinting=True)])
    yield "a picture for print only", remade(g, put(image, "/Alternates", for_print), keys), holds("/Alternates")
    yield "a mask over a picture", remade(g, put(image, "/SMask", drawn), keys), holds("/SMask")
    yield "a page cut smaller", remade(g, put(page, "/CropBox", Array([0, 300, 595, 842])), keys), holds("/CropBox")
    yield "a page turned", remade(g, put(page, "/Rotate", 180), keys), holds("/Rotate")
    yield "a page of another size unit", remade(g, put(page, "/UserUnit", 2), keys), holds("/UserUnit")
    yield "private notes", remade(g, put(page, "/PieceInfo", Dictionary()), keys), holds("/PieceInfo")
    yield "a small picture of the page", remade(g, put(page, "/Thumb", drawn), keys), holds("/Thumb")
    field = lambda p: p.make_indirect(Dictionary(FT=Name.Tx, T=String("reading"), V=String("18 N"), AP=Dictionary(N=drawn(p))))
    yield "a field whose value is not its looks", remade(g, lambda p: p.Root.AcroForm.Fields.append(field(p)), keys), holds("/FT")
    plain = bare(g)
    table = plain.rindex(b"xref\n", 0, plain.rindex(b"trailer"))
    for name, hidden in (("a hidden page tree", b"9000 0 obj\n<< /Type /Pages /Kids [ ] /Count 0 >>\nendobj\n"),
                         ("an object written twice", re.search(rb"1 0 obj\n.*?endobj\n", plain, re.S).group(0)),
                         ("words behind a comment sign", b"% kept for later\n"), ("blank room", b" " * 400 + b"\n")):
        moved = plain[:table] + hidden + plain[table:]
        yield name, sealed(re.sub(rb"startxref\n\d+", b"startxref\n%d" % (table + len(hidden)), moved), keys), LAYOUT


def notes_under_seal(g, keys):
    for kind, more in (("FreeText", dict(DA=String("/F1 12 Tf"), Contents=String("conforms"))), ("Stamp", {}), ("Ink", {}), ("Popup", {}),
                       ("Watermark", {}), ("Redact", {})):
        yield kind, remade(g, add_note(kind, **more), keys), KIND


def second_signature(g, keys):
    def second(p):
        p.Root.AcroForm.Fields.append(p.make_indirect(Dictionary(
            Type=Name.Annot, Subtype=Name.Widget, FT=Name.Sig, T=String("Second"), F=132, Rect=Array([0, 0, 0, 0]))))
    seal = lambda p: p.Root.AcroForm.Fields[0]
    yield "a second empty field", remade(g, second, keys), ONE_FIELD
    yield "the seal covers the page", remade(g, put(seal, "/Rect", Array([90, 90, 400, 400])), keys), "covers a part of the page"
    yield "the seal has looks", remade(g, put(seal, "/AP", lambda p: Dictionary(N=drawn(p))), keys), holds("/AP")
    certified = lambda p: Dictionary(DocMDP=p.Root.AcroForm.Fields[0].V)
    yield "permissions for later changes", remade(g, put(root, "/Perms", certified), keys), holds("/Perms")
    lock = Dictionary(Action=Name.Include, Fields=Array([]))
    yield "a lock that leaves fields open", remade(g, put(seal, "/Lock", lock), keys), holds("/Lock")
    yield "a reference to a method of change", remade(g, put(lambda p: seal(p).V, "/Reference", Array([])), keys), holds("/Reference")


def tables_and_streams(g, keys):
    plain = bare(g)
    size = int(re.search(rb"/Size (\d+)", plain).group(1))
    yield "objects in streams", remade(g, lambda p: None, keys, "--object-streams=generate"), LAYOUT
    yield "arranged for the web", remade(g, lambda p: None, keys, "--linearize"), "more than one revision"
    yield "locked with an empty word", remade(g, lambda p: None, keys, "--encrypt", "", "owner", "128", "--use-aes=y", "--"), "is encrypted"
    yield "another number in the head of the table", sealed(re.sub(rb"/Size \d+", b"/Size %d" % (size + 1), plain), keys), LAYOUT
    yield "a hybrid table", sealed(re.sub(rb"trailer <<", b"trailer << /XRefStm 9", plain), keys), UNREADABLE
    yield "a trailer that holds more", sealed(re.sub(rb"trailer <<", b"trailer << /More 9", plain), keys), holds("/More")
    yield "start of the table named wrongly", sealed(re.sub(rb"startxref\n\d+", b"startxref\n0", plain), keys), UNREADABLE
    shifted = re.sub(rb"(\n\d{9})(\d)( 00000 n )", lambda m: m[1] + (b"1" if m[2] != b"1" else b"2") + m[3], plain, count=1)
    yield "an entry shifted by one", sealed(shifted, keys), UNREADABLE
    yield "an entry called free", sealed(re.sub(rb" 00000 n ", b" 00000 f ", plain, count=1), keys), UNREADABLE
    other = re.sub(rb"/ID \[<[0-9a-f]{32}>", b"/ID [<" + b"0" * 32 + b">", plain)
    yield "another identity of the file", sealed(other, keys), "two identities"
    yield "a number written otherwise", sealed(plain.replace(b"/Count ", b"/Count +", 1), keys), LAYOUT
    yield "a name written otherwise", sealed(plain.replace(b"/Type /Page ", b"/Type /P#61ge ", 1), keys), UNREADABLE


def fonts(g, keys):
    font, inner = first("/Font/Type0"), first("/Font/CIDFontType2")
    lie = lambda p: Stream(p, font(p).ToUnicode.read_bytes().replace(b"<0000> <00ff> <0000>", b"<0000> <00ff> <0001>"))
    yield "letters copied are not those shown", remade(g, put(font, "/ToUnicode", lie), keys), "not the letters it shows"
    yield "no letters to copy", remade(g, lambda p: font(p).__delitem__("/ToUnicode"), keys), "not the letters it shows"
    yield "a font drawn by hand", remade(g, put(font, "/Subtype", Name.Type3), keys), KIND
    yield "a font without its letters inside", remade(g, put(inner, "/Subtype", Name.CIDFontType0), keys), KIND
    yield "a font in another form", remade(g, put(first("/FontDescriptor"), "/FontFile3", drawn), keys), holds("/FontFile3")
    yield "another style of the same name", remade(g, put(first("/FontDescriptor"), "/Style", Dictionary()), keys), holds("/Style")


CLASSES = [
    ("scripts and actions", "Mueller et al., Processing Dangerous Paths, NDSS 2021", actions),
    ("optional content", "ISO 32000-1:2008, 8.11; Mainka, Mladenov, Rohlmann, Shadow Attacks, NDSS 2021", layers),
    ("embedded and outside files", "Mueller et al., Processing Dangerous Paths, NDSS 2021", files),
    ("shadow content prepared before sealing", "Mainka, Mladenov, Rohlmann, Shadow Attacks, NDSS 2021", shadow_prepared),
    ("annotations under the seal", "Rohlmann et al., Breaking the Specification: PDF Certification, IEEE S&P 2021", notes_under_seal),
    ("signature fields under the seal", "Rohlmann et al., Breaking the Specification: PDF Certification, IEEE S&P 2021", second_signature),
    ("tables and object streams", "Carmony et al., Extract Me If You Can: Abusing PDF Parsers, NDSS 2016", tables_and_streams),
    ("font swap", "Markwood et al., Mirage: Content Masking Attack, USENIX Security 2017", fonts),
]
