"""Altered reports by someone without the company's key. Each yields (name, bytes, words of the reason it must be refused for)."""
import hashlib, io, re, zipfile

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, utils

from forger import (CONTENT_TYPE, COUNTERSIGNATURE, DATA, MESSAGE_DIGEST, ORDER, SHA1, SIGNING_TIME, TIME_STAMP, attribute, bare,
                    certificate, cms, covered, der, lookalike, oid, sealed, signed_attributes, signer_info, slot, updated,
                    with_signature)

COVER, NO_SEAL, NO_SIGNATURE = "does not cover the whole file", "no seal of ours", "holds no signature"
REVISION, AFTER, BEGIN = "more than one revision", "something after the end", "does not begin as our reports do"
OTHER_BYTES, ONE_FORM, ONE_SIGNER = "not the ones that were sealed", "one form that leaves no room", "not a signature of one signer"
ROOT, KEY, CERTIFICATES = "does not lead to the root", "not made with the key", "does not carry the signer's certificate"
STRANGER = "by another company"


def swapped(file, old, new):
    """In place: nothing moves, so every offset stays right."""
    assert file.count(old) == 1, (file.count(old), old)
    return file.replace(old, new.ljust(len(old)))


def number_of(report, pattern):
    """The object number of the one that holds these words."""
    at = re.search(pattern, report).start()
    return int(re.findall(rb"\n(\d+) 0 obj\n", report[:at])[-1])


def object_text(report, number):
    return re.search(rb"\n%d 0 obj\n(.*?)\nendobj" % number, report, re.S).group(1)


def universal_forgery(g, keys):
    begin, end = slot(g)
    ranged = re.search(rb"/ByteRange \[[^]]*\]", g).group(0)
    gap = g[begin:end]
    yield "no contents", swapped(g, b"/Contents " + gap, b"/Nothing  " + gap), NO_SEAL
    yield "contents null", swapped(g, gap, b"null"), NO_SEAL
    yield "contents empty", swapped(g, gap, b"<>"), NO_SEAL
    yield "contents one zero byte", swapped(g, gap, b"<00>"), NO_SEAL
    yield "contents all zeros", with_signature(g, b""), NO_SIGNATURE
    yield "contents an empty sequence", with_signature(g, b"\x30\x00"), ONE_SIGNER
    yield "contents as plain words", swapped(g, gap, b"(\x30\x00)"), NO_SEAL
    yield "no byte range", swapped(g, ranged, b"/ByteSpan" + ranged[10:]), COVER
    yield "byte range null", swapped(g, ranged, b"/ByteRange null"), COVER
    yield "byte range of nothing", swapped(g, ranged, b"/ByteRange [ 0 0 0 0 ]"), COVER
    yield "byte range negative", swapped(g, ranged, b"/ByteRange [ 0 %d -%d %d ]" % (begin, end, len(g) - end)), COVER
    yield "byte range beyond the end", swapped(g, ranged, b"/ByteRange [ 0 %d %d 99999999 ]" % (begin, end)), COVER
    yield "byte range by reference", swapped(g, ranged, b"/ByteRange 9 0 R"), COVER
    yield "another method", swapped(g, b"/SubFilter /ETSI.CAdES.detached", b"/SubFilter /adbe.x509.rsa_sha1"), OTHER_BYTES


def incremental_saving(g, keys):
    page = number_of(g, rb"/Type /Page\b")
    text = object_text(g, page)
    lie = {page: re.sub(rb"/Contents \d+ 0 R", b"/Contents 900 0 R", text), 900: "<< /Length 0 >>\nstream\n\nendstream"}
    signature = number_of(g, rb"/Type /Sig\b")
    catalog = number_of(g, rb"/Type /Catalog\b")
    yield "whole update", updated(g, lie), REVISION
    yield "without table", updated(g, lie, table=False), REVISION
    yield "without trailer", updated(g, lie, end=False), AFTER
    yield "objects alone", updated(g, lie, table=False, end=False), AFTER
    yield "with a copy of the seal", updated(g, {**lie, signature: object_text(g, signature)}), REVISION
    yield "catalog replaced", updated(g, {catalog: object_text(g, catalog).replace(b"/Lang", b"/Tongue"), **lie}), REVISION
    yield "empty update", updated(g, {}), REVISION
    yield "page removed", updated(g, {page: "null"}), REVISION
    yield "ended as ours end", updated(g, lie, end=False) + b"%%EOF\n", REVISION


def wrapping(g, keys):
    begin, end = slot(g)
    ranged = re.search(rb"/ByteRange \[[^]]*\]", g).group(0)
    evil = b"\n900 0 obj\n<< /Length 0 >>\nstream\n\nendstream\nendobj\n"
    moved = lambda gap: g[:end] + gap + g[end:]
    far = b"/ByteRange [ 0 %d %d %d ]" % (begin, end + len(evil), len(g) - end)
    yield "second part moved, range as it was", moved(evil), COVER
    yield "second part moved, range follows", swapped(moved(evil), ranged, far), COVER
    yield "a second range behind the first", g[:end] + far + evil + g[end:], COVER
    yield "gap of blanks", moved(b" " * 64), COVER
    yield "gap inside the digits", g[:end - 1] + b"0" * 64 + g[end - 1:], NO_SEAL
    yield "two places of our size", g[:end] + b" /Contents " + g[begin:end] + g[end:], NO_SEAL
    yield "a whole report around another", g[:end] + bare(g) + g[end:], NO_SEAL
    yield "a table in the gap", moved(b"\nxref\n0 1\n0000000000 65535 f \ntrailer\n<< >>\n"), COVER


def shadow_hide(g, keys):
    image = number_of(g, rb"/Subtype /Image\b") if b"/Subtype /Image" in g else number_of(g, rb"/Type /FontDescriptor")
    out = updated(g, {})
    free = out.replace(b"xref\ntrailer", b"xref\n%d 1\n0000000000 00001 f \ntrailer" % image)
    yield "overlay freed by a later table", free, REVISION
    yield "overlay replaced by null", updated(g, {image: "null"}), REVISION
    nothing = "<< /Type /XObject /Subtype /Form /BBox [ 0 0 0 0 ] /Length 0 >>\nstream\n\nendstream"
    yield "overlay made invisible", updated(g, {image: nothing}), REVISION
    yield "overlay's layer switched off", updated(g, {901: "<< /Type /OCG /Name (a) >>"}), REVISION


def shadow_replace(g, keys):
    descriptor = number_of(g, rb"/Type /FontDescriptor\b")
    font = number_of(g, rb"/Subtype /CIDFontType2\b")
    about = number_of(g, rb"/WitnessmarkHead")
    field = number_of(g, rb"/Subtype /Widget\b")
    yield "font description replaced", updated(g, {descriptor: object_text(g, descriptor)}), REVISION
    yield "font replaced", updated(g, {font: object_text(g, font)}), REVISION
    yield "what the file says of itself", updated(g, {about: object_text(g, about)}), REVISION
    yield "form value and looks", updated(g, {field: object_text(g, field).replace(b"/F 132", b"/F 4 /MK << >>")}), REVISION


def hide_and_replace(g, keys):
    pages = number_of(g, rb"/Type /Pages\b")
    catalog = number_of(g, rb"/Type /Catalog\b")
    out = updated(g, {})
    place = re.search(rb"\n%d 0 obj" % pages, g).start() + 1
    pointing = b"xref\n%d 1\n%010d 00000 n \ntrailer" % (catalog, place)
    yield "table points to other objects", out.replace(b"xref\ntrailer", pointing), REVISION
    yield "another root", updated(g, {902: object_text(g, catalog)}, trailer="/Root 902 0 R"), REVISION
    yield "two tables by prev", re.sub(rb"/Prev \d+", b"/Prev 9", out), REVISION
    number = re.search(rb"startxref\n(\d+)", g).group(1)
    yield "start of the table moved", swapped(g, b"startxref\n" + number, b"startxref\n" + b"9" * len(number)), OTHER_BYTES


def annotations(g, keys):
    page = number_of(g, rb"/Type /Page\b")
    for kind, more in (("FreeText", "/DA (/F1 12 Tf) /Contents (conforms)"), ("Stamp", "/Name /Approved"),
                       ("Square", "/IC [ 1 1 1 ]"), ("Redact", "/IC [ 0 0 0 ]"), ("Text", "/Contents (see office)"),
                       ("Highlight", "/QuadPoints [ 0 0 9 0 0 9 9 9 ]")):
        note = f"<< /Type /Annot /Subtype /{kind} /Rect [ 90 90 400 400 ] /F 4 {more} >>"
        held = re.sub(rb"/Annots \[[^]]*\]", b"", object_text(g, page)).rstrip()[:-2] + b"/Annots [ 903 0 R ] >>"
        yield kind, updated(g, {903: note, page: held}), REVISION


def sneaky(g, keys):
    form = number_of(g, rb"/SigFlags\b")
    second = ("<< /Type /Annot /Subtype /Widget /FT /Sig /T (Second) /F 4 /Rect [ 90 90 400 400 ] /AP << /N 905 0 R >> "
              "/V << /Type /Sig /Filter /Adobe.PPKLite /ByteRange [ 0 0 0 0 ] /Contents <00> >> >>")
    fields = re.sub(rb"/Fields \[", b"/Fields [ 904 0 R", object_text(g, form))
    looks = "<< /Type /XObject /Subtype /Form /BBox [ 0 0 310 310 ] /Length 0 >>\nstream\n\nendstream"
    yield "a second signature with looks", updated(g, {904: second, 905: looks, form: fields}), REVISION
    field = number_of(g, rb"/Subtype /Widget\b")
    yield "the seal's field given looks", updated(g, {field: second.replace("Second", "Seal"), 905: looks}), REVISION
    yield "the form forgets the seal", updated(g, {form: "<< /Fields [ ] >>"}), REVISION


def appended(g, keys):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as z:
        z.writestr("other.txt", "other")
    for name, more in (("a line end", b"\n"), ("a blank", b" "), ("a zero byte", b"\0"), ("a second end", b"%%EOF\n"),
                       ("an archive", packed.getvalue()), ("a page of the web", b"<html><script>1</script></html>"),
                       ("a whole report", g), ("a report that ends as ours do", b"% more\n%%EOF\n")):
        yield name, g + more, REVISION if b"%%EOF" in more else AFTER
    yield "a script in front", b"#!/bin/sh\n" + g, BEGIN
    yield "an archive in front", packed.getvalue() + g, BEGIN
    yield "a mark in front", b"\xef\xbb\xbf" + g, BEGIN
    yield "the last byte cut", g[:-1], AFTER
    yield "the end cut", g[:-6], AFTER
    yield "an older version in the head", b"%PDF-1.4" + g[8:], BEGIN


def certificates(g, keys):
    other = lookalike(keys)
    body = covered(g)
    yield "sealed anew under the same names", sealed(bare(g), other), STRANGER
    yield "certificates of another beside the signature", with_signature(g, cms(other, body, key=keys.key)), KEY
    reissued = certificate(keys.certificate, keys.key.public_key(), other.root_key)
    yield "same key, certified by another", with_signature(g, cms(keys, body, signer=reissued)), ROOT
    root = certificate(keys.root, keys.key.public_key(), keys.key)
    yield "another root of the same name", with_signature(g, cms(keys, body, certificates=[keys.certificate, root])), ROOT
    yield "a third certificate", with_signature(g, cms(keys, body, certificates=[keys.certificate, keys.root, other.root])), CERTIFICATES
    yield "no root", with_signature(g, cms(keys, body, certificates=[keys.certificate])), CERTIFICATES
    yield "no certificate", with_signature(g, cms(keys, body, certificates=[])), CERTIFICATES
    authority = certificate(keys.certificate, keys.key.public_key(), keys.root_key, authority=True)
    yield "a signer that may issue", with_signature(g, cms(keys, body, signer=authority)), ROOT
    own = certificate(keys.root, keys.root_key.public_key(), keys.root_key, authority=False)
    yield "a root that may not issue", with_signature(g, cms(keys, body, certificates=[keys.certificate, own])), ROOT


def higher(signature):
    r, s = utils.decode_dss_signature(signature)
    return utils.encode_dss_signature(r, max(s, ORDER - s))


def attributes(g, keys):
    body = covered(g)
    digest = hashlib.sha256(body).digest()
    honest = signed_attributes(digest, keys.certificate)
    put = lambda **odd: with_signature(g, cms(keys, body, **odd))
    yield "a time among the signed", put(more=[attribute(SIGNING_TIME, der(0x17, b"261127000000Z"))]), ONE_FORM
    yield "nothing signed but the content", put(attributes=None), OTHER_BYTES
    borrowed = keys.key.sign(der(0x31, honest), ec.ECDSA(hashes.SHA256()))
    yield "attributes passed off as content", put(attributes=None, signature=borrowed), OTHER_BYTES
    yield "the digest of another text", put(digest=hashlib.sha256(b"other").digest()), OTHER_BYTES
    yield "two digests", put(more=[attribute(MESSAGE_DIGEST, der(4, b"\0" * 32))]), OTHER_BYTES
    yield "content inside the signature", put(inside=body[:1000]), ONE_FORM
    yield "another kind of content", put(content_type=oid("1.2.840.113549.1.7.3")), ONE_FORM
    first = attribute(CONTENT_TYPE, DATA)
    yield "no mark of the certificate", put(attributes=first + attribute(MESSAGE_DIGEST, der(4, digest))), ONE_FORM
    yield "attributes out of order", put(attributes=honest[len(first):] + first), ONE_FORM
    yield "a weaker digest named", put(algorithm=SHA1), ONE_FORM
    yield "a countersignature", put(unsigned=der(0xA1, attribute(COUNTERSIGNATURE, der(0x30)))), ONE_FORM
    yield "free words unsigned", put(unsigned=der(0xA1, attribute(oid("1.3.6.1.4.1.99999.1"), der(12, b"conforms")))), ONE_FORM
    stamp, other = attribute(TIME_STAMP, der(0x30)), attribute(oid("1.3.6.1.4.1.99999.1"), der(5))
    yield "a stamp and something else", put(unsigned=der(0xA1, stamp, other)), ONE_FORM
    yield "a stamp that is none", put(unsigned=der(0xA1, attribute(TIME_STAMP, der(0x30)))), "time stamp is none of one authority"
    yield "two signers", put(infos=[signer_info(keys, body), signer_info(lookalike(keys), body)]), ONE_SIGNER
    yield "no signer", put(infos=[b""]), ONE_SIGNER
    yield "another version number", put(version=b"\x02\x01\x03"), ONE_FORM
    yield "another envelope", put(outer=oid("1.2.840.113549.1.7.3")), ONE_SIGNER
    yield "the other of the two values of s", put(form=higher), ONE_FORM
    honest_seal = cms(keys, body)
    yield "digits in capitals", with_signature(g, honest_seal.hex().upper()), NO_SEAL
    yield "padding filled", with_signature(g, honest_seal, pad=b"1"), NO_SIGNATURE
    yield "something hidden in the padding", with_signature(g, honest_seal.hex() + "00" * 64 + "deadbeef"), NO_SIGNATURE
    yield "length without end", with_signature(g, b"\x30\x80" + honest_seal[4:] + b"\0\0"), NO_SIGNATURE
    yield "length in more bytes than needed", with_signature(g, b"\x30\x83\x00" + honest_seal[2:]), ONE_FORM


# Class, where it was published, and how it is done. Titles and venues from memory but for the ones marked "read".
CLASSES = [
    ("universal signature forgery", "Mladenov et al., 1 Trillion Dollar Refund, ACM CCS 2019", universal_forgery),
    ("incremental saving attack", "Mladenov et al., 1 Trillion Dollar Refund, ACM CCS 2019", incremental_saving),
    ("signature wrapping attack", "Mladenov et al., 1 Trillion Dollar Refund, ACM CCS 2019", wrapping),
    ("shadow attack, hide", "Mainka, Mladenov, Rohlmann, Shadow Attacks, NDSS 2021", shadow_hide),
    ("shadow attack, replace", "Mainka, Mladenov, Rohlmann, Shadow Attacks, NDSS 2021", shadow_replace),
    ("shadow attack, hide and replace", "Mainka, Mladenov, Rohlmann, Shadow Attacks, NDSS 2021", hide_and_replace),
    ("evil annotation attack", "Rohlmann et al., Breaking the Specification: PDF Certification, IEEE S&P 2021", annotations),
    ("sneaky signature attack", "Rohlmann et al., Breaking the Specification: PDF Certification, IEEE S&P 2021", sneaky),
    ("appended and prepended bytes", "Magazinius, Rios, Sabelfeld, Polyglots, ACM CCS 2013", appended),
    ("certificate swap", "RFC 5035 (2007), section 8: substitution of the signing certificate", certificates),
    ("tricks with attributes of the signature",
     "Van Geest, Strenzke, Best Practices for Signed Attributes in CMS SignedData, draft-ietf-lamps-cms-euf-cma-signeddata-02 "
     "(2026-02-27; read: abstract); RFC 5652 (2009), section 5; X.690 (2021), section 10; SEC 1 v2.0, B.3", attributes),
]
