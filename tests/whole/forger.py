"""What a forger has: the layout of our reports, a CMS writer of their own, and sometimes the company's key.

The seal made here is written by hand (X.690, RFC 5652, RFC 5035) and signed with python3-cryptography, so that a report
sealed by it and accepted also shows a second implementation agreeing with ours."""
import hashlib, io, json, pathlib, re, subprocess, tempfile

import pikepdf
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, utils

ROOM = 2 * 32 * 1024
WIDE = b"/ByteRange [ 0 9999999999 9999999999 9999999999 ]"
ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551  # of P-256: FIPS 186-4, D.1.2.3


def der(tag, *parts):
    content = b"".join(parts)
    length = bytes([min(len(content), 127)])
    if len(content) > 127:
        size = len(content).to_bytes((len(content).bit_length() + 7) // 8, "big")
        length = bytes([0x80 | len(size)]) + size
    return bytes([tag]) + length + content


def oid(dotted):
    arcs = [int(a) for a in dotted.split(".")]
    out = bytes([arcs[0] * 40 + arcs[1]])
    for arc in arcs[2:]:
        digits = [arc & 127]
        while arc := arc >> 7:
            digits.insert(0, 128 | arc & 127)
        out += bytes(digits)
    return der(6, out)


DATA, SIGNED = oid("1.2.840.113549.1.7.1"), oid("1.2.840.113549.1.7.2")
SHA256, SHA1 = oid("2.16.840.1.101.3.4.2.1"), oid("1.3.14.3.2.26")
ECDSA_SHA256 = oid("1.2.840.10045.4.3.2")
CONTENT_TYPE, MESSAGE_DIGEST = oid("1.2.840.113549.1.9.3"), oid("1.2.840.113549.1.9.4")
SIGNING_TIME, COUNTERSIGNATURE = oid("1.2.840.113549.1.9.5"), oid("1.2.840.113549.1.9.6")
SIGNING_CERTIFICATE, TIME_STAMP = oid("1.2.840.113549.1.9.16.2.47"), oid("1.2.840.113549.1.9.16.2.14")


def attribute(kind, value):
    return der(0x30, kind, der(0x31, value))


class Keys:
    """A company's root and signing pair, from its key file or made anew under any name."""

    def __init__(self, root_key, root, key, certificate):
        self.root_key, self.root, self.key, self.certificate = root_key, root, key, certificate

    @staticmethod
    def of_folder(folder):
        kept = {k: bytes.fromhex(v) for k, v in json.loads((pathlib.Path(folder) / "keys/company.key").read_text()).items()}
        private = lambda name: serialization.load_der_private_key(kept[name], None)
        return Keys(private("root_key"), kept["root_certificate"], private("signing_key"), kept["signing_certificate"])

    @property
    def fingerprint(self):
        return hashlib.sha256(self.root).hexdigest()


def certificate(like, public_key, issuer_key, issuer=None, authority=None):
    """A certificate with the names and dates of `like` for another key; `authority` overrides whether it may issue."""
    model = x509.load_der_x509_certificate(like)
    builder = (x509.CertificateBuilder().subject_name(model.subject).issuer_name(model.issuer if issuer is None else issuer)
               .not_valid_before(model.not_valid_before).not_valid_after(model.not_valid_after)
               .serial_number(model.serial_number).public_key(public_key))
    may_issue = model.extensions.get_extension_for_class(x509.BasicConstraints).value.ca if authority is None else authority
    builder = builder.add_extension(x509.BasicConstraints(may_issue, None), True)
    return builder.sign(issuer_key, hashes.SHA256()).public_bytes(serialization.Encoding.DER)


def lookalike(keys):
    """Another company's keys under the very names of this one."""
    root_key, key = ec.generate_private_key(ec.SECP256R1()), ec.generate_private_key(ec.SECP256R1())
    return Keys(root_key, certificate(keys.root, root_key.public_key(), root_key), key,
                certificate(keys.certificate, key.public_key(), root_key))


def low(signature):
    """Of the two values s and n - s that both verify, the lower: the one form our seals have."""
    r, s = utils.decode_dss_signature(signature)
    return utils.encode_dss_signature(r, min(s, ORDER - s))


def signed_attributes(digest, signer, content_type=DATA, more=()):
    model = x509.load_der_x509_certificate(signer)
    serial = der(2, model.serial_number.to_bytes(model.serial_number.bit_length() // 8 + 1, "big"))
    identity = der(0x30, der(0x30, der(0xA4, model.issuer.public_bytes())), serial)
    reference = der(0x30, der(0x30, der(0x30, der(4, hashlib.sha256(signer).digest()), identity)))
    return b"".join(sorted([attribute(CONTENT_TYPE, content_type), attribute(MESSAGE_DIGEST, der(4, digest)),
                            attribute(SIGNING_CERTIFICATE, reference), *more]))


def signer_info(keys, covered, **odd):
    """`odd` names what deviates from an honest seal; nothing named gives one that is accepted."""
    signer = odd.get("signer", keys.certificate)
    model = x509.load_der_x509_certificate(signer)
    serial = der(2, model.serial_number.to_bytes(model.serial_number.bit_length() // 8 + 1, "big"))
    digest = odd.get("digest", hashlib.sha256(covered).digest())
    attributes = odd.get("attributes", signed_attributes(digest, signer, odd.get("content_type", DATA), odd.get("more", ())))
    to_sign = der(0x31, attributes) if attributes is not None else covered
    signature = odd.get("signature") or odd.get("form", low)(odd.get("key", keys.key).sign(to_sign, ec.ECDSA(hashes.SHA256())))
    return der(0x30, b"\x02\x01\x01", der(0x30, model.issuer.public_bytes(), serial), der(0x30, odd.get("algorithm", SHA256)),
               der(0xA0, attributes) if attributes is not None else b"", der(0x30, ECDSA_SHA256), der(4, signature),
               odd.get("unsigned", b""))


def cms(keys, covered, **odd):
    certificates = odd.get("certificates", [odd.get("signer", keys.certificate), keys.root])
    infos = odd.get("infos") or [signer_info(keys, covered, **odd)]
    content = der(0x30, DATA, der(0xA0, der(4, odd["inside"]))) if "inside" in odd else der(0x30, DATA)
    return der(0x30, odd.get("outer", SIGNED),
               der(0xA0, der(0x30, odd.get("version", b"\x02\x01\x01"), der(0x31, der(0x30, odd.get("algorithm", SHA256))), content,
                             der(0xA0, *sorted(certificates)), der(0x31, *sorted(infos)))))


# --- the file --------------------------------------------------------------------------------------

def slot(file):
    """Where the signature stands: offsets of '<' and of the byte behind '>'."""
    found = re.search(rb"/Contents <[0-9a-fA-F]{%d}>" % ROOM, file)
    return found.start() + len(b"/Contents "), found.end()


def covered(file):
    begin, end = slot(file)
    return file[:begin] + file[end:]


def with_signature(file, signature, pad=b"0"):
    begin, end = slot(file)
    digits = signature.hex().encode() if isinstance(signature, bytes) else signature.encode()
    return file[:begin + 1] + digits.ljust(ROOM, pad) + file[end - 1:]


def bare(file):
    """As before it was sealed."""
    file = re.sub(rb"/ByteRange \[ 0 [0-9]+ [0-9]+ [0-9]+ +\]", WIDE, file, count=1)
    return with_signature(file, b"")


def sealed(file, keys, **odd):
    """A file with an empty place, sealed as the program does it but for what is odd."""
    begin, end = slot(file)
    ranged = b"/ByteRange [ 0 %d %d %d" % (begin, end, len(file) - end)
    file = file.replace(WIDE, ranged.ljust(len(WIDE) - 1) + b"]", 1)
    return with_signature(file, cms(keys, covered(file), **odd))


def saved(file, *words):
    """As the pass before sealing writes it, unless words say otherwise."""
    with tempfile.TemporaryDirectory() as folder:
        one, two = pathlib.Path(folder, "one.pdf"), pathlib.Path(folder, "two.pdf")
        one.write_bytes(file)
        identity = "--static-id" if "--encrypt" in words else "--deterministic-id"
        subprocess.run(["qpdf", identity, "--object-streams=disable", "--stream-data=preserve", "--force-version=1.7",
                        *words, one, two], check=True, capture_output=True)
        return two.read_bytes()


def remade(report, change, keys, *words):
    """The report changed before sealing and sealed with the company's own key: the strongest forger."""
    pdf = pikepdf.open(io.BytesIO(bare(report)))
    change(pdf)
    changed = io.BytesIO()
    pdf.save(changed, fix_metadata_version=False, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)
    return sealed(saved(saved(changed.getvalue()), *words), keys)


def updated(report, objects, trailer="", table=True, end=True):
    """The report with an incremental update: {number: text of the object}."""
    root = re.findall(rb"/Root (\d+) 0 R", report)[-1].decode()
    size = int(re.findall(rb"/Size (\d+)", report)[-1])
    before = int(re.findall(rb"startxref\n(\d+)", report)[-1])
    out, offsets = bytearray(report), {}
    for number, text in objects.items():
        offsets[number] = len(out)
        out += f"{number} 0 obj\n".encode() + (text if isinstance(text, bytes) else text.encode()) + b"\nendobj\n"
    begin = len(out)
    if table:
        out += b"xref\n"
        for number, at in offsets.items():
            out += f"{number} 1\n{at:010} 00000 n \n".encode()
    if end:
        top = max([size - 1, *objects]) + 1
        extra = trailer or f"/Root {root} 0 R"
        out += f"trailer\n<< /Size {top} /Prev {before} {extra} >>\nstartxref\n{begin if table else before}\n%%EOF\n".encode()
    return bytes(out)
