"""A mail server on the loopback address for the tests, with a certificate authority made on the spot."""
import logging, socket, ssl, threading

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult

from program import must, run

# Handshakes that are meant to fail need no words.
logging.getLogger("mail.log").setLevel(logging.CRITICAL + 1)


class Box:
    """What reaches the server, and what it answers."""

    def __init__(self, rcpt=None, data="250 kept"):
        self.rcpt, self.data, self.kept, self.seen = rcpt, data, [], []

    async def handle_RCPT(self, server, session, envelope, address, options):
        self.seen.append(address)
        if self.rcpt:
            return self.rcpt
        envelope.rcpt_tos.append(address)
        return "250 fine"

    async def handle_DATA(self, server, session, envelope):
        self.seen.append("data")
        if self.data.startswith("250"):
            self.kept.append(bytes(envelope.content))
        return self.data


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


def authority(folder, name, host="IP:127.0.0.1"):
    """A certificate authority made here, and a server certificate under it."""
    at = lambda suffix: folder / f"{name}.{suffix}"
    def openssl(*words):
        done = run("openssl", *words)
        must(done.returncode == 0, done.stderr)
    openssl("req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "3650", "-subj",
            f"/CN={name} authority", "-keyout", at("ca.key"), "-out", at("ca.pem"))
    openssl("req", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-subj", "/CN=mail", "-keyout",
            at("key"), "-out", at("csr"))
    at("ext").write_text(f"subjectAltName={host}\n")
    openssl("x509", "-req", "-in", at("csr"), "-CA", at("ca.pem"), "-CAkey", at("ca.key"), "-CAcreateserial", "-days", "3650",
            "-extfile", at("ext"), "-out", at("pem"))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(at("pem"), at("key"))
    return at("ca.pem"), context


def password_is(wanted):
    def check(server, session, envelope, mechanism, data):
        good = getattr(data, "password", b"") == wanted
        return AuthResult(success=good, handled=False)
    return check


class Scripted:
    """Answers its one caller by a list, without TLS, and notes what was said to it."""

    def __init__(self, *replies):
        self.replies, self.said = replies, []
        self.door = socket.create_server(("127.0.0.1", 0))
        self.door.settimeout(60)
        self.url = f"smtp://127.0.0.1:{self.door.getsockname()[1]}"
        self.thread = threading.Thread(target=self.answer)

    def answer(self):
        caller, _ = self.door.accept()
        caller.settimeout(60)
        with caller, caller.makefile("rb") as words:
            try:
                for reply in self.replies:
                    caller.sendall(reply.encode() + b"\r\n")
                    said = words.readline()
                    if not said:
                        return
                    self.said.append(said.split()[0].decode())
            except ConnectionError:
                pass  # the caller has gone

    def __enter__(self):
        self.thread.start()
        return self.url

    def __exit__(self, *_):
        self.thread.join()
        self.door.close()


class Server:
    def __init__(self, box, context=None, at_once=False, password=None):
        options = {"hostname": "127.0.0.1", "port": free_port()}
        if at_once:
            options["ssl_context"] = context
        elif context is not None:
            options.update(tls_context=context, require_starttls=True)
        if password:
            options.update(authenticator=password_is(password), auth_required=True, auth_require_tls=True)
        self.control = Controller(box, **options)
        self.url = f"{'smtps' if at_once else 'smtp'}://127.0.0.1:{options['port']}"

    def __enter__(self):
        self.control.start()
        return self.url

    def __exit__(self, *_):
        self.control.stop()
